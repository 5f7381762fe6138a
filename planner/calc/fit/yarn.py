"""The yarn against the shelf. Advice, never refusal.

Codes and their values (words: `planner.plan.remarks`):
yarn_short {yarn, short, needed, held}; yarn_close {yarn, needed, held}; yarn_unknown {yarn, needed}; yarn_for_fewer
{yarn, ends, all, bare}; chart_misprint {yarn, source, misprint}.
"""

from __future__ import annotations

from fractions import Fraction

from planner.calc.terms.plan import Quantity, Remark, Severity, YarnNeed
from studio.quantities import Ends

NOTE, WARN = Severity.NOTE, Severity.WARN

Values = dict[str, Quantity | str]
"""What a sentence needs, by name."""

CLOSE = Fraction(105, 100)
"""Yarn on the shelf below this many times the need is called close. Common practice, no source."""


def yarn_remarks(
    need: YarnNeed, name: str, fewer: tuple[Ends, Ends] | None, *, in_yarn_room: bool
) -> tuple[Remark, ...]:
    """Set one yarn against the shelf.

    WARN when it is short, notes when it is close or not weighed; `fewer` are the ends that what is held suffices for,
    with the reserve and without.
    Source: plain comparison of masses. Raises ValueError if the need is below zero.

    >>> from planner.calc.terms.brief import YarnChoice
    >>> yarn = YarnChoice("H", "hand-dyed", Fraction(100), on_hand=Fraction(84))
    >>> need = YarnNeed(yarn, 36, 0, 0, Fraction(127), 0, 0, Fraction(43), None)
    >>> [remark.code for remark in yarn_remarks(need, "hand-dyed", (23, 24), in_yarn_room=True)]
    ['yarn_short', 'yarn_for_fewer']
    """
    mass = Fraction(need.warp_mass) + Fraction(need.weft_mass)
    if mass < 0:
        raise ValueError(f"need of {need.code} must not be below zero")
    values: Values = {"yarn": name, "needed": Quantity(mass, "mass")}
    if need.on_hand is None:
        return (Remark("yarn_unknown", NOTE, values),) if in_yarn_room else ()
    values["held"] = Quantity(need.on_hand, "mass")
    if need.short:
        said = [Remark("yarn_short", WARN, {**values, "short": Quantity(need.short, "mass")})]
        if fewer is not None:
            counted = {"ends": Quantity(fewer[0], "ends"), "bare": Quantity(fewer[1], "count")}
            said.append(Remark("yarn_for_fewer", NOTE, {"yarn": name, "all": Quantity(need.ends, "count"), **counted}))
        return tuple(said)
    return (Remark("yarn_close", NOTE, values),) if mass and need.on_hand < CLOSE * mass else ()


def chart_remarks(yarn: str, source: str, misprint: str) -> tuple[Remark, ...]:
    """Say what is doubtful in the row of a chart that a yarn was held against.

    The row stays as it was printed.
    Source: plain reading.

    >>> [remark.code for remark in chart_remarks("4/2 cotton", "A chart", "840 yd/lb is printed")]
    ['chart_misprint']
    """
    if not misprint:
        return ()
    values: Values = {"yarn": yarn, "source": f"{source[:1].lower()}{source[1:]}", "misprint": misprint}
    return (Remark("chart_misprint", NOTE, values),)
