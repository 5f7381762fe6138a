"""Facts of the database as parts of a brief: exact, in a constant number of queries."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.calc.count import tex_of_yards_per_pound
from inventory.ledger.set_aside import open_set_aside
from inventory.models import Yarn
from planner.brief.document import read_brief
from planner.warps.from_database import beam_facts, bench_part, loom_facts, read_document, rules_part, yarn_part
from studio.models import Beam, Loom, Reed, Station, StudioRules
from tests import cast, factories
from tests.inventory.stock import a_package, allocate

pytestmark = pytest.mark.django_db

WARP = {"title": "Towels", "sett": "20 /in", "width_in_reed": "24 in", "warp_length": "10 yd"}


@pytest.fixture
def heron() -> Loom:
    loom = Loom.objects.create(
        number=3, nickname="Heron", weaving_width_cm=Decimal("114.3"), shafts=4, heddles=[150] * 4
    )
    Beam.objects.create(
        loom=loom, name="warp beam", circumference_cm=Decimal("91.44"), usable_width_cm=Decimal("116.84"),
        pitch_cm=Decimal("5.08"), sections=22, rake_height_cm=Decimal("5.08"),
    )  # fmt: skip
    Beam.objects.create(
        loom=loom, name="second beam", kind="plain", circumference_cm=Decimal(40), usable_width_cm=Decimal(110)
    )
    Reed.objects.create(dents=Decimal(10), reed_length_cm=Decimal("116.84"), kept_with=loom)
    return loom


@pytest.fixture
def cotton() -> Yarn:
    yarn = Yarn.objects.create(
        name="8/2 cotton", count_text="8/2 cotton", colour_name="natural", colour="#e8dfc8", wraps_text="32 /in",
        wound_density=Decimal("0.45"), price_per_100g=Decimal("2.40"),
    )  # fmt: skip
    a_package(yarn, gross_text="500 g", tare_text="40 g")
    a_package(yarn, gross_text="300 g", tare_text="40 g")
    return yarn


def brief_of(document):
    reading = read_document(document)
    assert reading.problems == ()
    return reading.brief


def problems_of(document) -> set[str]:
    return {problem.field for problem in read_document(document).problems}


def test_a_loom_reads_back_with_its_own_figures(heron, cotton):
    loom = loom_facts(heron, heron.beams.first())
    assert (loom.name, loom.weaving_width, loom.heddles) == ("Heron", Fraction("114.3"), (150,) * 4)
    assert (loom.beam.circumference, loom.beam.pitch) == (Fraction("91.44"), Fraction("5.08"))


def test_reeds_stamped_alike_are_told_apart_by_their_length(heron):
    Reed.objects.all().delete()
    for length in (36, 62, 62):
        factories.a_reed(dents=12, reed_length_cm=factories.inches(length))
    reeds = loom_facts(heron, heron.beams.first()).reeds
    assert [reed.name for reed in reeds] == ["12 dents to the inch, 36 in long", "12 dents to the inch, 62 in long"]


def test_reeds_are_those_of_the_loom_and_of_the_house(heron):
    other = Loom.objects.create(number=4, nickname="Tern", weaving_width_cm=Decimal(100), shafts=4)
    Reed.objects.create(dents=Decimal(12), reed_length_cm=Decimal(100), kept_with=other)
    Reed.objects.create(dents=Decimal(50), per=Reed.Per.TEN_CM, reed_length_cm=Decimal(100))
    Reed.objects.create(dents=Decimal(8), reed_length_cm=Decimal(100), retired=True)
    assert [reed.dents for reed in loom_facts(heron, heron.beams.first()).reeds] == [10 / Fraction("2.54"), 5]


def test_a_beam_not_measured_everywhere_says_less(heron):
    plain = heron.beams.get(name="second beam")
    beam = beam_facts(plain)
    assert (beam.pitch, beam.rake_height, beam.leader, beam.leader_offset, beam.leader_knot) == (None, None, None, 0, 0)


def test_a_leader_at_a_hole_reads_back_with_hole_and_knot(heron):
    beam = heron.beams.first()
    beam.leader_offset_cm, beam.leader_knot_cm = Decimal("5.08"), Decimal("2.5")
    read = beam_facts(beam)
    assert (read.leader_offset, read.leader_knot) == (Fraction("5.08"), Fraction("2.5"))


def test_a_yarn_carries_its_label_its_price_and_its_shelf(cotton):
    assert yarn_part(cotton, Fraction(720)) == {
        "name": "8/2 cotton", "grist": tex_of_yards_per_pound(Fraction(3360)), "fibre": "cotton", "count": None,
        "colour_name": "natural", "colour": "#e8dfc8", "yarn_id": cotton.pk, "wound_density": Fraction("0.45"),
        "wraps": 32 / Fraction("2.54"), "on_hand": 720, "price": Fraction("0.024"),
    }  # fmt: skip


def test_a_yarn_by_its_bare_label_says_no_more():
    yarn = Yarn.objects.create(name="rug wool", grist_text="900 yd/lb", fibre="wool")
    part = yarn_part(yarn)
    assert [part[name] for name in ("wound_density", "wraps", "price", "on_hand")] == [None] * 4


def test_control_signs_in_a_name_do_not_spoil_the_brief(cotton):
    cotton.name = "8/2\tcotton\x01"
    assert yarn_part(cotton)["name"] == "8/2 cotton"


def test_the_rules_of_the_studio_read_as_the_default_brief():
    # The columns' defaults and the dataclasses' defaults are written in two places; they must agree.
    document = rules_part(StudioRules())
    yarns, loom = [{"code": "A", "grist": "30 tex"}], {"name": "x", "weaving_width": "1 m", "waste": "0 cm"}
    loom["beam"] = {"kind": "plain", "circumference": "40 cm", "usable_width": "1 m"}
    plain = {**WARP, "loom": loom, "yarns": yarns, "method": "chain"}
    assert read_brief({**plain, **document}).brief == read_brief(plain).brief is not None


def test_the_bench_takes_the_longest_board_and_the_largest_rack():
    stations = [
        Station(kind="board", name="a", path_longest_cm=Decimal(500), path_step_cm=Decimal(50)),
        Station(kind="mill", name="b", path_longest_cm=Decimal(1500), ends_at_once=4),
        Station(kind="rack", name="c", rack_spools=40),
        Station(kind="rack", name="d", rack_spools=60, retired=True),
        Station(kind="box", name="e", comb_dents=Decimal(20)),
        Station(kind="raddle", name="f", raddle_space_cm=Decimal("1.27")),
    ]
    assert bench_part(stations) == {
        "board_path_max": 1500, "ends_at_once": 4, "rack_spools": 40, "comb_dents": 20 / Fraction("2.54"),
        "raddle_space": Fraction("1.27"),
    }  # fmt: skip


def test_an_empty_studio_has_no_bench():
    assert bench_part([]) == {}


def test_a_loom_by_number_and_a_yarn_by_its_key_are_filled_in(heron, cotton):
    brief = brief_of({**WARP, "loom": {"number": 3}, "yarns": [{"code": "A", "yarn_id": cotton.pk}]})
    assert (brief.loom.name, brief.loom.beam.kind) == ("Heron", "sectional")
    assert (brief.yarns[0].name, brief.yarns[0].on_hand) == ("8/2 cotton", 720)


def test_yarn_set_aside_for_one_warp_is_not_there_for_another(heron, cotton):
    someone = cast.new_member()
    towels = open_set_aside(title="Towels", for_member=someone, by=someone)
    allocate(set_aside=towels, package=cotton.packages.first(), mass_g=Fraction(450), by=someone)
    brief = brief_of({**WARP, "loom": {"number": 3}, "yarns": [{"code": "A", "yarn_id": cotton.pk}]})
    assert brief.yarns[0].on_hand == 720 - 450


def test_what_the_document_says_wins(heron, cotton):
    brief = brief_of({
        **WARP, "loom": {"number": 3, "waste": "20 in"}, "allowances": {"box_lead": "1 yd"},
        "yarns": [{"code": "A", "yarn_id": cotton.pk, "name": "the old cone", "on_hand": "5 g"}],
    })  # fmt: skip
    assert (brief.allowances.waste, brief.allowances.box_lead) == (Fraction("50.8"), Fraction("91.44"))
    assert (brief.yarns[0].name, brief.yarns[0].on_hand) == ("the old cone", 5)


def test_a_loom_by_number_brings_the_rules_of_the_studio(heron):
    StudioRules.objects.create(pk=1, spool_reserve=Decimal("0.05"))
    Station.objects.create(kind="rack", name="rack", rack_spools=48)
    brief = brief_of({**WARP, "loom": {"number": 3}, "yarns": [{"code": "A", "grist": "30 tex"}]})
    assert (brief.allowances.spool_reserve, brief.bench.rack_spools) == (Fraction(1, 20), 48)


def test_another_beam_is_picked_by_name(heron):
    document = {**WARP, "loom": {"number": 3, "beam": "second beam"}, "yarns": [{"code": "A", "grist": "30 tex"}]}
    assert brief_of({**document, "method": "chain"}).loom.beam.circumference == 40


def test_a_beam_nobody_knows_is_refused_beside_its_field(heron):
    document = {**WARP, "loom": {"number": 3, "beam": "third"}, "yarns": [{"code": "A", "grist": "30 tex"}]}
    assert problems_of(document) == {"loom.beam"}


def test_a_loom_without_a_beam_cannot_take_a_warp():
    Loom.objects.create(number=9, nickname="Bare", weaving_width_cm=Decimal(100), shafts=4)
    assert problems_of({**WARP, "loom": {"number": 9}, "yarns": [{"code": "A", "grist": "30 tex"}]}) == {"loom.beam"}


@pytest.mark.parametrize("number", [4, 0, -1, True, 2.5, "3", 2**70, None, [3], {}])
def test_a_loom_that_is_not_there_is_refused_beside_its_field(heron, number):
    document = {**WARP, "loom": {"number": number}, "yarns": [{"code": "A", "grist": "30 tex"}]}
    assert problems_of(document) == {"loom.number"}


@pytest.mark.parametrize("key", [10**6, -1, True, 2**70, "1"])
def test_a_yarn_that_is_not_there_is_refused_beside_its_field(heron, key):
    document = {**WARP, "loom": {"number": 3}, "yarns": [{"code": "A", "yarn_id": key}], "weft": {"yarn_id": key}}
    assert problems_of(document) == {"yarns.0.yarn_id", "weft.yarn_id"}


@pytest.mark.parametrize(
    "document",
    [None, [], "x", {}, {"loom": [], "yarns": 3, "weft": []}, {"loom": {"number": 3}, "bench": 3, "yarns": [[], None]}],
)
def test_an_odd_document_goes_through_unharmed(heron, document):
    assert read_document(document).brief is None


def test_queries_do_not_grow_with_the_yarns(heron, cotton, django_assert_num_queries):
    document = {**WARP, "loom": {"number": 3}, "yarns": [{"code": code, "yarn_id": cotton.pk} for code in "ABCDEFGH"]}
    document |= {"weft": {"yarn_id": cotton.pk}, "colour_order": "8 A, 4 B"}
    StudioRules.objects.create(pk=1)
    with django_assert_num_queries(8):  # loom, beams, reeds, rules, stations, yarns, packages, calibrations
        assert read_document(document).brief is not None


def test_a_document_without_references_asks_nothing(django_assert_num_queries):
    with django_assert_num_queries(0):
        read_document({**WARP, "loom": {"name": "x"}, "yarns": [{"code": "A", "grist": "30 tex", "yarn_id": 1}]})
