"""Box and chains in one warp: how long the chains must be, and what to know about them. Advice, never refusal.

Codes and their values (words: `planner.plan.remarks`):
mixed_winding {chains, box, turns}; chain_length_reckoned {}; all_sections_as_chains {}; chain_sections_empty {places}.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from planner.calc.terms.plan import Quantity, Remark, Severity
from studio.quantities import Cm, CmFloat, Turns

STEP_TOLERANCE = 1e-9
"""Share by which a float length may pass a whole step of the board and still be rounded to it."""


def chain_length(taken: CmFloat, step: Cm) -> Cm:
    """Give the length of a chain for a section that winds on so much: up to the next step of the board.

    `taken` is what the section takes on at the planned turns, with its build-up; the answer is never shorter. Beside
    sections from the box a chain gets their turns, so its length follows from the turns: T (C0 + pi b T) for its own
    depth b, see `turns.length_of_turns`. It is tied on by its end loops, so it bears none of the waste that cutting and
    tying costs the box. A length that passes a step by no more than `STEP_TOLERANCE` of itself counts as that step,
    since it comes from a circle.
    Source: plain arithmetic. Raises ValueError if `taken` or `step` is not above zero.

    Thirteen turns take on 474.6 in; a board winds in steps of nine:
    >>> chain_length(474.6, Fraction(9))
    Fraction(477, 1)
    """
    if taken <= 0 or step <= 0:
        raise ValueError(f"taken {taken} and step {step} must be above zero")
    return ceil(Fraction(taken * (1 - STEP_TOLERANCE)) / step) * step


def mixed_remarks(chains: str, box: str, turns: Turns, *, measured: bool) -> tuple[Remark, ...]:
    """Say how a warp is wound of which some sections come from the box and the others as chains.

    `chains` and `box` are positions. Same mark, same turns, same pull, and the tape before anything is cut, unless the
    depth was measured on this beam with this yarn.
    Source: common practice, no source. Raises ValueError if `turns` is below one, or one of the ways has no section.

    >>> [remark.code for remark in mixed_remarks("5", "1-4", 11, measured=False)]
    ['mixed_winding', 'chain_length_reckoned']
    """
    if turns < 1 or not chains or not box:
        raise ValueError(f"turns {turns}, chains {chains} and box {box} are no mixed warp")
    values: dict[str, Quantity | str] = {"chains": chains, "box": box, "turns": Quantity(turns, "turns")}
    said = [Remark("mixed_winding", Severity.NOTE, values)]
    return tuple(said if measured else [*said, Remark("chain_length_reckoned", Severity.NOTE, {})])


def named_remarks(empty: str, *, all_chains: bool) -> tuple[Remark, ...]:
    """Say what came of the sections that were named to be chains.

    `empty` are positions that were named and hold no ends of the warp; with `all_chains` every one that holds ends was.
    Source: plain comparison.

    >>> [remark.code for remark in named_remarks("1-3", all_chains=False)]
    ['chain_sections_empty']
    """
    said = [Remark("all_sections_as_chains", Severity.NOTE, {})] if all_chains else []
    return tuple([*said, Remark("chain_sections_empty", Severity.NOTE, {"places": empty})] if empty else said)
