"""Questions asked of cards: what a brief becomes on each loom, and whether a card is still the latest."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.conf import settings
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from planner.brief_text import read_brief
from planner.calc.brief import WarpBrief
from planner.calc.plan import Severity, WarpPlan
from planner.calc.worksheet import work_out
from planner.facts import loom_document
from planner.models import IssuedCard, Project
from planner.reading import Reader
from planner.selectors import beams_offered, cards_of, facts_for
from planner.typed_brief import KnownFacts, document_of
from studio.models import Beam, Member
from studio.selectors import rules


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


@dataclass(frozen=True, slots=True)
class CardState:
    """Whether a card still says what the warp is, and which card does."""

    current: bool
    newest: IssuedCard | None

    @property
    def sentence(self) -> str:
        """What someone who scans the card must know."""
        if self.current:
            return "This card is the latest for its loom."
        if self.newest is not None:
            return f"Superseded: card {self.newest.number} has taken its place."
        return "Superseded: the warp was changed after this card was printed, and no new card has been printed yet."


def fits_of(project: Project, member: Member) -> list[LoomFit]:
    """Work a warp out for every beam of the looms in use, the warp's own beam first."""
    facts, reader = facts_for(project.typed), Reader(member.reads_in)
    beams = sorted(beams_offered(), key=lambda beam: beam.pk != project.beam_id)
    fits = [_fit(project, beam, facts, reader) for beam in beams]
    return sorted(fits, key=lambda fit: bool(fit.refusal))


def _fit(project: Project, beam: Beam, facts: KnownFacts, reader: Reader) -> LoomFit:
    reading = read_brief(document_of(project.typed, replace(facts, loom=loom_document(beam.loom, beam))))
    if reading.brief is None:
        return LoomFit(beam, None, None, "", " ".join(problem.message for problem in reading.problems))
    plan = work_out(reading.brief)
    refusal = " ".join(reader.sentence(remark).text for remark in plan.stops)
    return LoomFit(beam, reading.brief, plan, _figures(plan), refusal)


def _figures(plan: WarpPlan) -> str:
    """Say in a few words what the warp becomes here."""
    parts = [f"{plan.ends} ends"]
    if plan.sections:
        parts.append(f"{len(plan.sections)} sections")
    if plan.turns is not None:
        parts.append(f"{plan.turns} turns")
    warnings = sum(remark.severity is Severity.WARN for remark in plan.remarks)
    if warnings:
        parts.append("1 warning" if warnings == 1 else f"{warnings} warnings")
    return ", ".join(parts)


def card_state(card: IssuedCard) -> CardState:
    """Say whether a card is the latest for its loom and its warp unchanged since."""
    latest = card.project.cards.filter(loom_name=card.loom_name).order_by("-number").first()
    current = latest is not None and latest.pk == card.pk and card.version == card.project.version
    newest = latest if latest is not None and latest.pk != card.pk else None
    return CardState(current, newest)


def card_figures(card: IssuedCard) -> list[tuple[str, str]]:
    """Give the big figures of a card as they were printed."""
    shown = card.plan.get("shown", {})
    wanted = (("sett", "Sett"), ("width_in_reed", "Width in reed"), ("warp_length", "Warp length"))
    figures = [("Ends", str(card.plan["ends"])), *((label, shown[key]) for key, label in wanted if key in shown)]
    return [*figures, ("Turns", str(card.plan["turns"]))] if card.plan.get("turns") is not None else figures


def cards_with_state(project: Project) -> list[tuple[IssuedCard, bool]]:
    """Give the cards of a warp, latest first, each with whether it is current."""
    seen: set[str] = set()
    found = []
    for card in cards_of(project):
        found.append((card, card.version == project.version and card.loom_name not in seen))
        seen.add(card.loom_name)
    return found


@dataclass(frozen=True, slots=True)
class CardWords:
    """What stands on a card besides the plan."""

    name: str
    number: int
    version: int
    title: str
    studio: str
    owner: str
    date: str
    paper: str
    url: str
    local_rules: str


def card_words(card: IssuedCard) -> CardWords:
    """Gather what stands on a card besides the plan; its address goes into the QR code."""
    house = rules()
    return CardWords(
        name=f"Warping card {card.number}",
        number=card.number,
        version=card.version,
        title=card.project.title,
        studio=house.name,
        owner=card.project.owner.name,
        date=date_format(timezone.localdate(), "j F Y"),
        paper=card.paper,
        url=f"{settings.BASE_URL}{reverse('card', args=[card.number])}",
        local_rules=house.local_rules,
    )
