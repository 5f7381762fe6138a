"""Questions of a warp whose yarn is short: what it lacks, which sections wait, and what else could be done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from inventory.calc.count import length_of_mass
from planner.brief.colour_order import with_whole_order, write_order
from planner.brief.document import read_brief
from planner.brief.sheet_input import KnownFacts, document_of
from planner.brief.yarn_names import printed
from planner.calc.shelf.awaited import Reach, ends_kept, ground_for, reach_of, with_ground
from planner.calc.terms.brief import YarnChoice
from planner.calc.terms.plan import ColourRun, WarpPlan
from planner.models import Project, Wanted
from planner.plan.presenter_waiting import WantedYarn
from planner.warps.selectors import facts_for
from planner.yarn.filling import Amount
from planner.yarn.shelf_selectors import ShelfPlan, Worked, YarnLine


@dataclass(frozen=True, slots=True)
class OwnYarn:
    """A yarn of a warp that stands in no book of the yarn room, and all that is needed of it."""

    key: str
    name: str
    tex: Fraction
    amount: Amount


@dataclass(frozen=True, slots=True)
class Narrower:
    """A colour kept in fewer ends and filled up with ground; with no end kept, the stripe is dropped."""

    kept: int
    ground_ends: int
    ground: str
    more: Amount
    ground_there: bool | None
    """The shelf has so much more of the ground; None where it is not of the yarn room."""
    asked: str
    """How the sheet is asked for it; empty where it would not read it."""


@dataclass(frozen=True, slots=True)
class ShortageOptions:
    """What can be done about one yarn that is short, side by side."""

    line: YarnLine
    reach: Reach
    end: Amount
    bare_end: Amount
    there: Amount
    narrower: Narrower | None
    dropped: Narrower | None

    @property
    def bare_suffices(self) -> bool:
        """Without any reserve there is yarn for every end."""
        return self.reach.bare >= self.line.asked.ends

    @property
    def bare_helps(self) -> bool:
        """Without any reserve the yarn serves more ends."""
        return self.reach.bare > self.reach.served


def lacking(line: YarnLine) -> Fraction:
    """Give what a warp lacks of a yarn [g]: by weight, or as whole ends where the packages are too small."""
    return max(line.short.mass_g, line.ends_missing * line.asked.least_end_mass)


def own_yarns(plan: WarpPlan) -> tuple[OwnYarn, ...]:
    """Give the yarns of a warp that are in no book, those of one name and fineness together."""
    masses: Counter[tuple[str, Fraction]] = Counter()
    for need in plan.yarn.needs:
        mass, yarn = Fraction(need.warp_mass) + Fraction(need.weft_mass), need.yarn
        if yarn.yarn_id is None and mass:
            masses[printed(yarn.name, yarn.colour_name), yarn.tex] += mass  # type: ignore[assignment]
    return tuple(
        OwnYarn(f"own-{place}", name, tex, _amount(Fraction(mass), tex))
        for place, ((name, tex), mass) in enumerate(masses.items(), 1)
    )


def _amount(mass: Fraction, tex: Fraction) -> Amount:
    return Amount(mass, length_of_mass(mass, tex))


def wanted_yarns_of(warp: Project) -> tuple[WantedYarn, ...]:
    """Give what a warp has on the wanted list and has not got; one question."""
    rows = Wanted.objects.filter(project=warp).exclude(state=Wanted.State.COME).order_by("pk")
    return tuple(WantedYarn(one.yarn_id, one.yarn_name, one.expected_on) for one in rows)


def options_for(warp: Project, worked: Worked, plan: ShelfPlan) -> tuple[ShortageOptions, ...]:
    """Give what can be done about each warp yarn that is short."""
    short = [line for line in plan.lines if line.ends_missing and not line.left_out]
    if not short:
        return ()
    sheet = _Sheet(warp.typed, facts_for(warp.typed, warp), worked, {line.yarn.pk: line for line in plan.lines})
    return tuple(_options(line, sheet) for line in short)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A saved sheet with what follows from it, to try another colour order on."""

    typed: Mapping[str, Any]
    facts: KnownFacts
    worked: Worked
    lines: Mapping[int, YarnLine]

    def reads(self, order: str) -> bool:
        """Say whether the sheet would still be sound."""
        form = with_whole_order(self.typed["form"], order)
        return read_brief(document_of({**self.typed, "form": form}, self.facts)).brief is not None

    def ground(self, codes: tuple[str, ...]) -> YarnChoice | None:
        """Give the yarn that has most of the other ends."""
        ends: Counter[str] = Counter()
        for run in self.worked.plan.cloth.pattern:
            ends[run.code] += run.ends
        others = [yarn for yarn in self.worked.brief.yarns if yarn.code not in codes and not yarn.elsewhere]
        best = max(others, key=lambda yarn: ends[yarn.code], default=None)
        return best if best is not None and ends[best.code] else None


def _options(line: YarnLine, sheet: _Sheet) -> ShortageOptions:
    asked = line.asked
    reach = reach_of(line.masses, asked.least_end_mass, asked.bare_end_mass)
    ground = sheet.ground(asked.codes) if len(asked.codes) == 1 else None
    stripes = [run.ends for run in sheet.worked.plan.cloth.pattern if run.code in asked.codes]
    kept = ends_kept(stripes, reach.served)
    return ShortageOptions(
        line=line,
        reach=reach,
        end=_amount(asked.least_end_mass, asked.tex),
        bare_end=_amount(asked.bare_end_mass, asked.tex),
        there=_amount(sum(line.masses, Fraction(0)), asked.tex),
        narrower=_narrower(line, sheet, ground, kept) if ground is not None and any(kept) else None,
        dropped=_narrower(line, sheet, ground, (0,) * len(stripes)) if ground is not None else None,
    )


def _narrower(line: YarnLine, sheet: _Sheet, ground: YarnChoice, kept: tuple[int, ...]) -> Narrower:
    asked = line.asked
    order: tuple[ColourRun, ...] = with_ground(sheet.worked.plan.cloth.pattern, asked.codes[0], ground.code, kept)
    order_text = write_order(order)
    replaced = asked.ends - sum(kept)
    more = ground_for(replaced, asked.least_end_mass, asked.tex, ground.tex)
    other = sheet.lines.get(ground.yarn_id or 0)
    spare = (
        None if other is None else other.set_aside.mass_g + other.out.mass_g + other.free.mass_g - other.needed.mass_g
    )
    return Narrower(
        kept=sum(kept),
        ground_ends=replaced,
        ground=printed(ground.name, ground.colour_name),
        more=_amount(more, ground.tex),
        ground_there=None if spare is None else spare >= more,
        asked=order_text if sheet.reads(order_text) else "",
    )
