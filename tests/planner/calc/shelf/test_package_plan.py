"""Packages to spools: the fewest joins, against trying every way; every use given once, none from an empty package."""

from collections import Counter
from fractions import Fraction
from itertools import groupby, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.calc.shelf import package_plan
from planner.calc.shelf.package_plan import fewest_joins, uses_of_package

SMALL = st.lists(st.integers(1, 6), min_size=1, max_size=4)
OFFERED = st.lists(st.integers(0, 9), min_size=1, max_size=4)


def partitions(things):
    """Give every way to part a list into groups."""
    if not things:
        yield []
        return
    first, rest = things[0], things[1:]
    for parts in partitions(rest):
        yield [[first], *parts]
        for at in range(len(parts)):
            yield [*parts[:at], [first, *parts[at]], *parts[at + 1 :]]


def fits(spools, rooms):
    """Say whether spools can be shared among rooms, each whole in one, by trying every share."""
    if not spools:
        return True
    return any(
        room >= spools[0] and fits(spools[1:], [*rooms[:at], room - spools[0], *rooms[at + 1 :]])
        for at, room in enumerate(rooms)
    )


def by_trying_every_way(spools, packages):
    """Give the fewest joins by plain definition: every parting of every choice of packages, every share of spools."""
    best = None
    for chosen in partitions(list(range(len(packages)))):
        for kept in range(1 << len(chosen)):
            groups = [group for at, group in enumerate(chosen) if kept >> at & 1]
            joins = sum(len(group) - 1 for group in groups)
            rooms = [sum(packages[at] for at in group) for group in groups]
            if (best is None or joins < best) and fits(sorted(spools, reverse=True), rooms):
                best = joins
    return best


@settings(max_examples=150, deadline=None)
@given(spools=SMALL, packages=OFFERED)
def test_there_are_never_fewer_joins_than_it_says(spools, packages):
    found, least = fewest_joins(spools, packages), by_trying_every_way(spools, packages)
    assert (found.missing > 0) == (least is None)
    if least is not None:
        assert (found.joins, found.fewest) == (least, True)


@given(
    spools=st.lists(st.integers(1, 40), min_size=1, max_size=30),
    packages=st.lists(st.integers(0, 200), min_size=1, max_size=12),
)
def test_every_use_is_given_once_and_no_package_gives_more_than_it_has(spools, packages):
    found = fewest_joins(spools, packages)
    given_by, given_to = Counter(), Counter()
    for piece in found.pieces:
        assert piece.uses > 0
        given_by[piece.package] += piece.uses
        given_to[piece.spool] += piece.uses
    assert all(given_by[at] <= uses for at, uses in enumerate(packages))
    assert all(given_to[at] <= uses for at, uses in enumerate(spools))
    assert sum(spools) - sum(given_to.values()) == found.missing == max(0, sum(spools) - sum(packages))
    assert found.joins == sum(count - 1 for count in Counter(piece.spool for piece in found.pieces).values())
    assert len({(piece.package, piece.spool) for piece in found.pieces}) == len(found.pieces)


def assert_wound_off(found, packages):
    """Each package is taken up once, and is empty where the next one goes on with its spool."""
    order = [package for package, _ in groupby(piece.package for piece in found.pieces)]
    assert len(set(order)) == len(order)
    given = Counter()
    for piece in found.pieces:
        given[piece.package] += piece.uses
    for piece, after in pairwise(found.pieces):
        if piece.spool == after.spool:
            assert given[piece.package] == packages[piece.package]


@given(spools=st.lists(st.integers(1, 12), min_size=1, max_size=8), packages=st.lists(st.integers(0, 30), max_size=6))
def test_each_package_is_wound_off_before_the_next_is_begun(spools, packages):
    assert_wound_off(fewest_joins(spools, packages), packages)


def test_what_is_left_of_a_package_begins_the_next_spool():
    """By hand: the cone of 8 fills a spool and begins the next, a cone of 4 ends that one and begins the third."""
    found = fewest_joins([5, 5, 5], [4, 4, 8])
    assert [(piece.package, piece.spool, piece.uses) for piece in found.pieces] == [
        (2, 0, 5), (2, 1, 3), (0, 1, 2), (0, 2, 2), (1, 2, 3),
    ]  # fmt: skip


def test_a_short_package_fills_the_spools_that_may_be_short():
    """Stripes of 9.3: seven spools serve 36 sections, the eighth 18. A package of twenty uses is for the eighth."""
    found = fewest_joins([36] * 7 + [18], [260, 20])
    assert (found.joins, found.missing) == (0, 0)
    assert [piece.package for piece in found.pieces if piece.spool == 7] == [1]


def test_a_cone_of_the_hand_dyed_stripe_gives_23_ends():
    """trade.md 9.5: 311.1 yd; 12.73 yd a use with 3 % in reserve; 36 ends are asked, 13 are missing."""
    use = Fraction("12.73") * Fraction("1.03")
    cone = uses_of_package(Fraction("311.1"), use)
    found = fewest_joins([1] * 36, [cone])
    assert (cone, found.missing, found.joins) == (23, 13, 0)


def test_when_the_search_is_too_long_the_plain_way_does_and_says_so(monkeypatch):
    monkeypatch.setattr(package_plan, "MOST_LOOKS", 1)
    found = fewest_joins([5, 5, 5], [7, 6, 4])
    assert (found.missing, found.fewest) == (0, False)


@pytest.mark.parametrize(("spools", "packages"), [([0], [1]), ([1], [-1])])
def test_what_is_no_spool_or_no_package_is_refused(spools, packages):
    with pytest.raises(ValueError, match="spools"):
        fewest_joins(spools, packages)


@pytest.mark.parametrize(("length", "use"), [(1, 0), (-1, 1)])
def test_what_is_no_length_is_refused(length, use):
    with pytest.raises(ValueError, match="use"):
        uses_of_package(Fraction(length), Fraction(use))
