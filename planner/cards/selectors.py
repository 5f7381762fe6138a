"""Questions asked of cards: what a brief becomes on each loom, and whether a card is still the latest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from django.conf import settings
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from planner.brief.document import read_brief
from planner.brief.sheet_input import KnownFacts, document_of
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Severity, WarpPlan
from planner.calc.worksheet.work_out import work_out
from planner.models import IssuedCard, Project
from planner.plan.as_data import plan_as_data
from planner.plan.card_digest import card_digest
from planner.plan.formatter import Formatter
from planner.warps.from_database import loom_facts, reeds_in_use
from planner.warps.selectors import beams_offered, cards_of, facts_for
from studio.models import Beam, Member, Reed
from studio.rules.selectors import studio_rules
from studio.units import Units


@dataclass(frozen=True, slots=True)
class LoomFit:
    """What a brief becomes on one beam: a plan, or the reasons why not."""

    beam: Beam
    brief: WarpBrief | None
    plan: WarpPlan | None
    figures: str
    refusal: str

    @property
    def label(self) -> str:
        """The loom and its beam, as people say it."""
        return f"{self.beam.loom}, {self.beam.name}"

    @property
    def key(self) -> str:
        """The beam's key, as the form says it."""
        return str(self.beam.pk)

    @property
    def has_warnings(self) -> bool:
        """It can be woven here once something was seen to, such as heddles put on."""
        return self.plan is not None and any(remark.severity is Severity.WARN for remark in self.plan.remarks)

    @property
    def sentence(self) -> str:
        """Its figures as a sentence; a warning has brought its own full stop."""
        return f"{self.figures.rstrip('.')}."


@dataclass(frozen=True, slots=True)
class CardState:
    """Whether a card still says what is to be done at the loom, and which card does."""

    current: bool
    newest: IssuedCard | None = None
    reason: str = ""

    @property
    def sentence(self) -> str:
        """What someone who scans the card must know."""
        if self.current:
            return "This card is the latest for its loom."
        if self.newest is not None:
            return f"Superseded: card {self.newest.number} has taken its place."
        return f"Superseded: {self.reason}"


CHANGED = "the warp, or a measurement it rests on, was changed after this card was printed; no new card is printed yet."
IN_THE_MAKING = "the warp is being changed and has no plan at the moment."
NO_BEAM = "the beam it was printed for is no longer in use."


def fits_of(project: Project, member: Member, beams: Iterable[Beam]) -> list[LoomFit]:
    """Work a warp out for each of these beams; those it fits first."""
    facts, reeds, formatter = facts_for(project.typed, project), reeds_in_use(), Formatter(member.reads_in)
    fits = [_fit(_Asked(project, beam, facts, reeds), formatter) for beam in beams]
    return sorted(fits, key=lambda fit: bool(fit.refusal))


def beams_for_cards(project: Project, keys: Iterable[str] | None = None) -> list[Beam]:
    """Give the beams a card can be printed for, the warp's own first; only those of `keys` when given."""
    beams = sorted(beams_offered(), key=lambda beam: beam.pk != project.beam_id)
    return beams if keys is None else [beam for beam in beams if str(beam.pk) in set(keys)]


@dataclass(frozen=True, slots=True)
class _Asked:
    """A warp and a beam it is asked about, with the figures of today."""

    project: Project
    beam: Beam
    facts: KnownFacts
    reeds: list[Reed]

    def brief(self) -> tuple[WarpBrief | None, str]:
        """Read the warp for the beam: the brief, or why there is none."""
        loom = loom_facts(self.beam.loom, self.beam, self.reeds)
        reading = read_brief(document_of(self.project.typed, replace(self.facts, loom=loom)))
        return reading.brief, " ".join(problem.message for problem in reading.problems)


def _fit(asked: _Asked, formatter: Formatter) -> LoomFit:
    beam = asked.beam
    brief, wrong = asked.brief()
    if brief is None:
        return LoomFit(beam, None, None, "", wrong)
    plan = work_out(brief)
    refusal = " ".join(formatter.sentence(remark).text for remark in plan.stops)
    return LoomFit(beam, brief, plan, _figures(plan, formatter), refusal)


def _figures(plan: WarpPlan, formatter: Formatter) -> str:
    """Say in a few words what the warp becomes here, and the first thing to take care of."""
    parts = [
        f"{plan.cloth.ends_here} of {plan.cloth.ends} ends"
        if plan.cloth.ends_elsewhere
        else f"{plan.cloth.ends_here} ends"
    ]
    if plan.winding.sections:
        parts.append(f"{len(plan.winding.sections)} sections")
    if plan.beam.turns is not None:
        parts.append(f"{plan.beam.turns} turns")
    warnings = [formatter.sentence(remark).text for remark in plan.remarks if remark.severity is Severity.WARN]
    if warnings:
        count = "1 warning" if len(warnings) == 1 else f"{len(warnings)} warnings, first"
        parts.append(f"{count}: {warnings[0]}")
    return ", ".join(parts)


def card_state(card: IssuedCard) -> CardState:
    """Say whether a card is the latest for its beam and still says what is to be done."""
    return next(state for other, state in cards_with_state(card.project) if other.pk == card.pk)


def cards_with_state(project: Project) -> list[tuple[IssuedCard, CardState]]:
    """Give the cards of a warp, latest first, each with its state; each beam is worked out once."""
    facts, reeds = facts_for(project.typed, project), reeds_in_use()

    @cache
    def done_now(beam: Beam) -> str:
        brief, _ = _Asked(project, beam, facts, reeds).brief()
        return card_digest(plan_as_data(work_out(brief), Units.METRIC)) if brief else ""

    cards = list(cards_of(project))
    return [(card, _state(card, cards, done_now(card.beam) if card.beam else None)) for card in cards]


def _state(card: IssuedCard, cards: list[IssuedCard], done_now: str | None) -> CardState:
    """Hold a card against what is to be done now on its beam; a reprint of the same plan takes no card's place."""
    if done_now is None:
        return CardState(current=False, reason=NO_BEAM)
    if done_now == "":
        return CardState(current=False, reason=IN_THE_MAKING)
    newest = next((other for other in cards if (other.beam_id, other.digest) == (card.beam_id, done_now)), None)
    return CardState(current=done_now == card.digest, newest=newest, reason=CHANGED)


def card_figures(card: IssuedCard) -> list[tuple[str, str]]:
    """Give the big figures of a card as they were printed."""
    shown = card.plan.get("shown", {})
    setts = "setts" if "setts" in shown else "sett"  # the first cards know one sett alone
    wanted = ((setts, "Sett"), ("width_in_reed", "Width in reed"), ("warp_length", "Warp length"))
    ends, other = card.plan["ends"], card.plan.get("ends_elsewhere", 0)  # the first cards do not say
    said = f"{ends} of {ends + other}" if other else str(ends)
    figures = [("Ends", said), *((label, shown[key]) for key, label in wanted if key in shown)]
    return [*figures, ("Turns", str(card.plan["turns"]))] if card.plan.get("turns") is not None else figures


@dataclass(frozen=True, slots=True)
class CardWords:
    """What stands on a card besides the plan."""

    name: str
    version: int
    title: str
    studio: str
    owner: str
    date: str
    paper: str
    url: str
    local_rules: str

    def numbered(self, number: int) -> CardWords:
        """Give the words with the card's number and its address, which goes into the QR code."""
        url = f"{settings.BASE_URL}{reverse('card', args=[number])}"
        return replace(self, name=f"Warping card {number}", url=url)


def card_words(project: Project, paper: str) -> CardWords:
    """Gather what stands on the cards of a warp besides the plan, but for their number."""
    rules = studio_rules()
    return CardWords(
        name="",
        version=project.version,
        title=project.title,
        studio=rules.name,
        owner=project.owner.name,
        date=date_format(timezone.localdate(), "j F Y"),
        paper=paper,
        url="",
        local_rules=rules.local_rules,
    )
