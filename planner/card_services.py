"""Deeds with cards: issue one under a number, keep its PDF. A card, once issued, never changes."""

from __future__ import annotations

from collections.abc import Callable

from django.db import transaction
from django.db.models import Max

from planner.brief_text import digest, write_brief
from planner.calc.brief import WarpBrief
from planner.calc.plan import WarpPlan
from planner.models import IssuedCard, Project
from planner.plan_data import plan_as_data
from planner.reading import Reader
from studio.errors import CardRefused
from studio.models import Member, StudioRules
from studio.units import Units


@transaction.atomic
def issue_card(
    *,
    project: Project,
    brief: WarpBrief,
    plan: WarpPlan,
    by: Member,
    loom_name: str,
    paper: str,
    lay_out: Callable[[IssuedCard], str],
) -> IssuedCard:
    """Give a plan the next card number and keep it with its print page.

    `lay_out` writes the page once the number is known; it must not touch the database.

    Raises
    ------
    CardRefused
        If the plan cannot go on the loom as it is.
    """
    if plan.stops:
        reasons = " ".join(Reader(by.reads_in).sentence(remark).text for remark in plan.stops)
        raise CardRefused("card_refused", f"No card for {brief.loom.name}: {reasons}")
    StudioRules.objects.select_for_update().get(pk=1)  # one counter for the house: numbers never meet
    locked = Project.objects.select_for_update().get(pk=project.pk)
    complete = write_brief(brief)
    card = IssuedCard(
        number=(IssuedCard.objects.aggregate(last=Max("number"))["last"] or 0) + 1,
        project=locked,
        version=locked.version,
        digest=digest(complete),
        loom_name=loom_name,
        brief=complete,
        plan=plan_as_data(plan, Units(by.units)),
        units=by.units,
        paper=paper,
        issued_by=by,
    )
    card.html = lay_out(card)
    card.full_clean(exclude=["pdf"])
    card.save(force_insert=True)
    return card


@transaction.atomic
def keep_pdf(*, card: IssuedCard, pdf: bytes) -> IssuedCard:
    """Keep the paper of a card; the first one made stays for ever, so a reprint is the same to the byte."""
    locked = IssuedCard.objects.select_for_update().get(pk=card.pk)
    if locked.pdf is None:
        locked.pdf = pdf
        locked.save(update_fields=["pdf"])
    return locked
