"""How much is enough: what runs low, what would do for a warp, and the filters of the shelf."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.weight_classes import CLASSES
from inventory.ledger.quarantine import quarantine
from inventory.ledger.taking import issue_yarn
from inventory.models import Yarn
from inventory.shelf.drawings import stock_lines
from inventory.shelf.selectors import shelf, yarns_matching
from inventory.shelf.stock import Enough, low_row, narrowed, running_low, with_enough
from tests.cast import new_member, steward
from tests.inventory.stock import a_package, a_yarn, promise

pytestmark = pytest.mark.django_db

METRE = Fraction(100)


def low():
    return [(row.yarn.colour_name, row.free_g, row.missing_g) for row in map(low_row, running_low())]


def test_a_yarn_runs_low_when_less_is_free_than_should_be_there():
    a_package(a_yarn(colour_name="enough", keep_at_least_text="500 g"))
    a_package(a_yarn(colour_name="low", keep_at_least_text="501 g"))
    a_package(a_yarn(colour_name="nobody said"), gross_text="26 g")
    a_yarn(colour_name="none there", keep_at_least_text="1 kg")
    assert low() == [("low", 500, 1), ("none there", 0, 1000)]


def test_what_is_set_aside_in_quarantine_or_a_members_own_is_not_there_to_keep():
    weaver, keeper = new_member(), steward()
    yarn = a_yarn(keep_at_least_text="600 g")
    promise(a_package(yarn), 100, weaver)
    a_package(yarn, owner=weaver)
    quarantine(package=a_package(yarn), by=keeper)
    assert low() == [("natural", 400, 200)]


def test_what_is_missing_is_said_as_a_length_too():
    a_yarn(grist_text="4000 m/kg", keep_at_least_text="250 g")
    # 250 g at 4000 m/kg: 1000 m.
    assert low_row(running_low().get()).missing_cm == 1000 * METRE


def test_a_yarn_no_longer_kept_never_runs_low():
    a_yarn(keep_at_least_text="1 kg", retired=True)
    assert low() == []


def test_low_narrows_whatever_was_found():
    a_yarn(fibre="wool", keep_at_least_text="1 kg")
    short = a_yarn(keep_at_least_text="1 kg")
    assert list(narrowed(yarns_matching(fibre="cotton"), low=True, among=None)) == [short]


@pytest.mark.parametrize(("needed_m", "found"), [(2000, True), (2001, False)])
def test_enough_is_what_is_free_of_all_its_packages(needed_m, found):
    yarn = a_yarn(grist_text="4000 m/kg")  # 500 g are 2000 m
    a_package(yarn, gross_text="275 g", dye_lot="21B")
    a_package(yarn, gross_text="275 g", dye_lot="23F")
    assert (yarn.pk in with_enough(Enough(needed_m * METRE, Fraction(250)))) is found


def test_enough_says_whether_one_dye_lot_would_do():
    one, two, none = (a_yarn(grist_text="4000 m/kg", colour_name=name) for name in ("one", "two", "no lot"))
    a_package(one, gross_text="525 g", dye_lot="21B")
    for lot in ("21B", "23F"):
        a_package(two, gross_text="275 g", dye_lot=lot)
    a_package(none, gross_text="525 g")
    assert with_enough(Enough(2000 * METRE, Fraction(250))) == {one.pk: True, two.pk: False, none.pk: False}


def test_enough_counts_nothing_that_could_not_be_promised():
    weaver = new_member()
    yarn = a_yarn(grist_text="4000 m/kg")
    promise(a_package(yarn), 1, weaver)
    a_package(yarn, owner=weaver)
    quarantine(package=a_package(yarn), by=steward())
    assert with_enough(Enough(2000 * METRE, Fraction(250))) == {}
    assert list(with_enough(Enough(1996 * METRE, Fraction(250)))) == [yarn.pk]


@pytest.mark.parametrize(
    ("grist", "like"), [("4000 m/kg", True), ("4444 m/kg", True), ("4445 m/kg", False), ("3637 m/kg", True),
                        ("3636 m/kg", False)],
)  # fmt: skip
def test_enough_means_yarn_of_like_fineness(grist, like):
    # 250 tex within 10 %: 225 to 275 tex, which is 4444.4 to 3636.4 m/kg (ISO 1144: tex is grams to a kilometre).
    yarn = a_yarn(grist_text=grist)
    a_package(yarn)
    assert (yarn.pk in with_enough(Enough(METRE, Fraction(250)))) is like


def test_a_yarn_of_the_same_fineness_is_enough_for_exactly_what_it_holds():
    yarn = a_yarn(count_text="8/2 cotton")  # its tex has no end of decimals
    a_package(yarn)
    row = shelf([yarn])[0]
    assert with_enough(Enough(row.free_cm, row.tex, Fraction(0))) == {yarn.pk: False}


def test_every_yarn_is_of_one_weight_and_one_colour_family():
    made = [
        a_yarn(count_text="", grist_text=f"{grist} m/kg", colour=colour)
        for grist, colour in (
            (20000, "#efe5cf"),
            (12500, "#2f4a78"),
            (7000, "#a9483c"),
            (6250, "#6d4c37"),
            (2000, "#5c5d61"),
            (500, "#101010"),
        )
    ]
    by_weight = [list(yarns_matching(weight=one.key)) for one in CLASSES]
    assert [len(found) for found in by_weight] == [1, 2, 1, 1, 1]
    assert sorted(yarn.pk for found in by_weight for yarn in found) == sorted(yarn.pk for yarn in made)
    by_colour = [list(yarns_matching(colour=name)) for name in ("natural", "blue", "red", "brown", "grey", "black")]
    assert by_colour == [[yarn] for yarn in made]


def test_a_weight_nobody_knows_finds_nothing():
    a_yarn()
    assert list(yarns_matching(weight="feather")) == []


def test_a_bin_finds_what_still_stands_in_it():
    there, gone = a_yarn(colour_name="there"), a_yarn(colour_name="gone")
    a_package(there, bin_name="B3")
    issue_yarn(package=a_package(gone, bin_name="B3"), by=steward(), mass_g=Fraction(500))
    assert list(yarns_matching(bin_name="b3")) == [there]


def parts(line):
    return [float(piece.wide.rstrip("%")) if piece else None for piece in (line.free, line.promised, line.held_back)]


def test_the_bars_are_to_the_scale_of_the_fullest():
    weaver = new_member()
    full, half = a_yarn(colour_name="full"), a_yarn(colour_name="half")
    promise(a_package(full), 100, weaver)
    a_package(full, owner=weaver)
    a_package(half)
    lines = stock_lines(shelf([full, half, a_yarn(colour_name="none")]))
    assert [parts(line) for line in lines] == [[40, 10, 50], [50, None, None], [None, None, None]]
    assert [lines[0].free.x, lines[0].promised.x, lines[0].held_back.x] == ["0.00%", "40.00%", "50.00%"]


def test_a_bare_shelf_has_bars_of_nothing():
    assert parts(stock_lines(shelf([a_yarn()]))[0]) == [None, None, None]


@given(st.integers(min_value=1, max_value=10**9), st.fractions(min_value=Fraction(1), max_value=Fraction(2000)))
def test_like_fineness_lies_evenly_round_what_is_asked(length, tex):
    asked = Enough(Fraction(length), tex)
    assert asked.thickest - asked.tex == asked.tex - asked.finest == asked.tex / 10


def test_a_least_stock_must_be_a_weight():
    with pytest.raises(Exception, match="oz"):
        a_yarn(keep_at_least_text="500 m")
    with pytest.raises(Exception, match="Leave it empty"):
        a_yarn(keep_at_least_text="0 g")
    assert Yarn.objects.count() == 0
