"""Issue a card under a number, keep its PDF. A card, once issued, never changes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from django.db import transaction
from django.db.models import Max

from planner.brief.document import write_brief
from planner.cards.selectors import LoomFit
from planner.models import IssuedCard, Project
from planner.plan.as_data import plan_as_data
from planner.plan.card_digest import card_digest
from planner.warps.selectors import may_change
from studio.errors import CardRefused, StudioError
from studio.models import Member, StudioRules
from studio.units import Units


def issue_card(
    *,
    project: Project,
    fit: LoomFit,
    by: Member,
    paper: str,
    lay_out: Callable[[int], str],
    waits: Sequence[str] = (),
) -> IssuedCard:
    """Give what a warp becomes on one beam the next card number, and keep it with its print page.

    Where the very same card was issued before, that one is given back: a reprint needs no new number. `waits` says
    which sections wait for yarn: a card that says so is another one than a card that does not.
    `lay_out` writes the page once the number is known; it must not touch the database.

    Raises
    ------
    CardRefused
        If the warp cannot go on the loom as it is, or was changed since the plan was worked out.
    StudioError
        If the warp is another member's.
    """
    if not may_change(project, by):
        raise StudioError("not_yours", "This warp belongs to another member; copy it to print a card of your own.")
    if fit.brief is None or fit.plan is None or fit.refusal:
        raise CardRefused("card_refused", f"No card for {fit.label}: {fit.refusal}")
    plan, brief = plan_as_data(fit.plan, Units(by.units)), write_brief(fit.brief)
    same = {"beam": fit.beam, "digest": card_digest(plan), "units": by.units, "paper": paper, "loom_name": fit.label}
    if waits:
        plan["waits"] = list(waits)
    before = IssuedCard.objects.filter(project=project, version=project.version, **same).first()
    if before is not None and before.brief == brief and before.plan.get("waits", []) == list(waits):
        return before
    card = IssuedCard(
        project=project,
        version=project.version,
        brief=brief,
        plan=plan,
        issued_by=by,
        **same,
    )
    return _numbered(card, lay_out)


@transaction.atomic
def _numbered(card: IssuedCard, lay_out: Callable[[int], str]) -> IssuedCard:
    """Give the card the studio's next number, unless its warp was saved anew meanwhile."""
    StudioRules.objects.select_for_update().get(pk=1)  # one counter for the studio: numbers never meet
    if Project.objects.select_for_update().get(pk=card.project_id).stamp != card.project.stamp:
        raise CardRefused(
            "changed_meanwhile", "The warp was saved anew while the card was made. Look again, then print."
        )
    card.number = (IssuedCard.objects.aggregate(last=Max("number"))["last"] or 0) + 1
    card.html = lay_out(card.number)
    card.full_clean(exclude=["pdf"])
    card.save(force_insert=True)
    return card


@transaction.atomic
def keep_pdf(*, card: IssuedCard, pdf: bytes) -> IssuedCard:
    """Keep the paper of a card; the first one made stays for ever, so a reprint is the same paper."""
    locked = IssuedCard.objects.select_for_update().get(pk=card.pk)
    if locked.pdf is None:
        locked.pdf = pdf
        locked.save(update_fields=["pdf"])
    return locked
