"""Chains off the board or mill: how many, how many passes, how they are counted, tied and spread."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate, groupby, pairwise
from math import ceil

from studio.quantities import Cm, Ends, Passes, Spaces


def chain_sizes(ends: Ends, at_once: Ends, most: Ends) -> tuple[Ends, ...]:
    """Part a warp into chains of nearly the same size, each of whole passes.

    From the seat's left; an odd pass stands in the last. Passes are shared by the running total, so chains differ by
    one pass at most. Where fewer ends may lie in a chain than are wound together, a pass takes no more than the chain
    may hold.
    Source: plain arithmetic. Raises ValueError if any number is below one.

    >>> chain_sizes(282, 2, 100), chain_sizes(5, 4, 2)
    ((94, 94, 94), (2, 2, 1))
    """
    if ends < 1 or at_once < 1 or most < 1:
        raise ValueError(f"ends {ends}, at_once {at_once} and most {most} must be above zero")
    at_once = min(at_once, most)
    passes = ceil(Fraction(ends, at_once))
    chains = ceil(Fraction(passes, most // at_once))
    stops = [min(ends, at_once * ((2 * passes * k + chains) // (2 * chains))) for k in range(chains + 1)]
    return tuple(stop - start for start, stop in pairwise(stops))


def passes_of(ends: Ends, at_once: Ends) -> tuple[Passes, Ends]:
    """Give the full passes of a chain and the ends of one last, smaller pass.

    Source: plain arithmetic. Raises ValueError if `ends` is below zero or `at_once` below one.

    >>> passes_of(94, 2), passes_of(1072, 5)
    ((47, 0), (214, 2))
    """
    if ends < 0 or at_once < 1:
        raise ValueError(f"ends {ends} must not be below zero and at_once {at_once} must be above")
    return divmod(ends, at_once)


def as_groups(spaces: Sequence[Ends]) -> tuple[tuple[Spaces, Ends], ...]:
    """Write raddle spaces shortly: how many in a row have how many ends.

    Empty spaces at the end are left out.
    Source: plain arithmetic. Raises ValueError if a space holds fewer than no ends.

    >>> as_groups([10, 10, 10, 2])
    ((3, 10), (1, 2))
    """
    if any(ends < 0 for ends in spaces):
        raise ValueError("a space must not hold fewer than no ends")
    pairs = tuple((len(tuple(same)), ends) for ends, same in groupby(spaces))
    return pairs[:-1] if pairs and not pairs[-1][1] else pairs


def groups_of_chains(spaces: Sequence[Ends], sizes: Sequence[Ends]) -> tuple[tuple[tuple[Spaces, Ends], ...], ...]:
    """Cut the raddle spaces of the whole warp where one chain ends and the next begins.

    A space that lies across two chains is counted in two parts, one in each.
    Source: plain arithmetic. Raises ValueError if spaces and chains do not hold the same number of ends.

    >>> groups_of_chains([10, 10, 10], [14, 16])
    (((1, 10), (1, 4)), ((1, 6), (1, 10)))
    """
    if sum(spaces) != sum(sizes):
        raise ValueError(f"spaces hold {sum(spaces)} ends and chains {sum(sizes)}")
    stops = sorted({*accumulate(spaces), *accumulate(sizes)})
    chains: list[list[int]] = [[] for _ in sizes]
    index, ends_of_chain, start = 0, tuple(accumulate(sizes)), 0
    for stop in stops:
        while ends_of_chain[index] < stop:
            index += 1
        chains[index].append(stop - start)
        start = stop
    return tuple(as_groups([part for part in parts if part]) for parts in chains)


def tie_distances(warp_length: Cm, every: Cm) -> tuple[Cm, ...]:
    """Give the places of the choke ties, from the end of the chain that goes to the beam.

    None stands at the very end. A tie every yard is common in teaching; many tie less.
    Source: common practice, no source. Raises ValueError if `warp_length` or `every` is not above zero.

    Ten yards, a tie every yard:
    >>> len(tie_distances(Fraction(10), Fraction(1)))
    9
    """
    if warp_length <= 0 or every <= 0:
        raise ValueError(f"warp_length {warp_length} and every {every} must be above zero")
    return tuple(every * number for number in range(1, ceil(warp_length / every)))


def even_spaces(width: Cm, space: Cm) -> tuple[Cm, ...]:
    """Give the bounds of equal raddle spaces from the left edge of a warp, the last one as it falls.

    Source: plain geometry. Raises ValueError if `width` or `space` is not above zero.

    >>> [str(place) for place in even_spaces(Fraction(5, 4), Fraction(1, 2))]
    ['0', '1/2', '1', '5/4']
    """
    if width <= 0 or space <= 0:
        raise ValueError(f"width {width} and space {space} must be above zero")
    return (*(space * k for k in range(ceil(width / space))), width)
