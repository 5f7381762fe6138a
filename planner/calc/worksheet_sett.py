"""The worksheet's page of the sett: what each yarn and weave propose."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from planner.calc import sett
from planner.calc.brief import WarpBrief, YarnChoice
from planner.calc.plan import Sum
from planner.calc.sums import line, of


def sett_advice(brief: WarpBrief, yarns: Sequence[YarnChoice]) -> tuple[Mapping[str, Fraction], tuple[Sum, ...]]:
    """Give the greatest sett by each yarn's thickness, the lines once for yarns of one thickness.

    Parameters
    ----------
    brief : WarpBrief
        A brief without problems. [-]
    yarns : Sequence[YarnChoice]
        Yarns of the cloth. [-]

    Returns
    -------
    advice : tuple[Mapping[str, Fraction], tuple[Sum, ...]]
        Code of each yarn to its greatest sett in this weave [ends/cm], and the sums. [-]

    Notes
    -----
    Hands plain values to `sett`.

    Examples
    --------
    >>> from planner.calc.brief import BeamFacts, BeamKind, LoomFacts
    >>> beam = BeamFacts(BeamKind.PLAIN, Fraction(90), Fraction(100))
    >>> loom = LoomFacts("Loom", Fraction(100), beam, Fraction(90))
    >>> yarns = (YarnChoice("A", "8/2 cotton", Fraction(148)),)
    >>> greatest, sums = sett_advice(WarpBrief("Cloth", loom, yarns, Fraction(8), ends=400, turns=5), yarns)
    >>> list(greatest), [line.key for line in sums]
    (['A'], ['diameters', 'greatest_sett', 'working_sett'])
    """
    weave = sett.WEAVES.get(brief.weave, sett.WEAVES["plain"])
    kinds: dict[tuple[Fraction, Fraction, Fraction | None], list[YarnChoice]] = {}
    for yarn in yarns:
        kinds.setdefault((yarn.tex, sett.yarn_constant(yarn.fibre), yarn.wraps), []).append(yarn)
    greatest: dict[str, Fraction] = {}
    sums: list[Sum] = []
    for (tex, constant, _), alike in kinds.items():
        found = sett.greatest_sett(sett.diameters(tex, constant), weave.ends, weave.intersections)
        greatest |= {yarn.code: found for yarn in alike}
        about = names_of_yarns(alike) if len(kinds) > 1 else ""
        sums += _sett_sums(alike[0], weave, found, brief.tolerances.sett_share, about)
    return greatest, tuple(sums)


def names_of_yarns(yarns: Sequence[YarnChoice]) -> str:
    """Name yarns that are alike but for their colour.

    Parameters
    ----------
    yarns : Sequence[YarnChoice]
        The yarns. [-]

    Returns
    -------
    names : str
        Code, name and colour of one; codes and names of several. [-]

    Notes
    -----
    Plain words; no arithmetic happens here.

    Examples
    --------
    >>> blue = YarnChoice("A", "8/2 cotton", Fraction(148), colour_name="blue")
    >>> white = YarnChoice("B", "8/2 cotton", Fraction(148), colour_name="white")
    >>> names_of_yarns([blue]), names_of_yarns([blue, white])
    ('A 8/2 cotton blue', 'A, B 8/2 cotton')
    """
    if len(yarns) == 1:
        yarn = yarns[0]
        return " ".join(word for word in (yarn.code, yarn.name, yarn.colour_name) if word)
    codes, names = ", ".join(yarn.code for yarn in yarns), dict.fromkeys(yarn.name for yarn in yarns if yarn.name)
    return " ".join(word for word in (codes, ", ".join(names)) if word)


def _sett_sums(yarn: YarnChoice, weave: sett.Weave, greatest: Fraction, share: Fraction, about: str) -> Iterator[Sum]:
    """Show the greatest sett, and beside it what wraps, when measured, propose.

    Wraps round a ruler lie far looser than yarns side by side in the rule of diameters: half the wraps of 8/2 cotton
    is 14 to the inch where charts print 20. So wraps propose a sett and never say which is too close.
    """
    crossing = {"ends": of(weave.ends, "count"), "intersections": of(weave.intersections, "count")}
    constant = sett.yarn_constant(yarn.fibre)
    side_by_side = sett.diameters(yarn.tex, constant)
    yield _diameter_sum(yarn, constant, side_by_side, about)
    yield line("greatest_sett", of(greatest, "sett"), {"diameters": of(side_by_side, "wraps"), **crossing}, about)
    put_in = {"greatest": of(greatest, "sett"), "share": of(share, "share")}
    yield line("working_sett", of(sett.working_sett(greatest, share), "sett"), put_in, about)
    if yarn.wraps is not None:
        by_wraps = sett.sett_from_wraps(yarn.wraps, weave.ends, weave.intersections)
        yield line("sett_from_wraps", of(by_wraps, "sett"), {"wraps": of(yarn.wraps, "wraps"), **crossing}, about)


def _diameter_sum(yarn: YarnChoice, constant: Fraction, result: Fraction, about: str) -> Sum:
    put_in = {
        "constant": of(constant / sett.CM_IN_INCH, "sett"),  # K is printed for the inch; a metric reader needs its own
        "tex_yards": of(sett.TEX_YARDS_PER_POUND, "ratio"),
        "count": of(yarn.tex, "tex"),
    }
    return line("diameters", of(result, "wraps"), put_in, about)
