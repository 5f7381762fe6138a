"""Pages of cards: choose looms and print, look one up (also by its QR code), its PDF and its print page."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html, format_html_join
from django.views.decorators.http import require_GET

from planner.cards.forms import CardForm
from planner.cards.render import card_html
from planner.cards.selectors import CardWords, LoomFit, beams_for_cards, card_figures, card_state, card_words, fits_of
from planner.cards.services import issue_card, keep_pdf
from planner.models import IssuedCard, Project
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from planner.plan.presenter_waiting import WantedYarn, waiting_parts
from planner.yarn.awaited import wanted_yarns_of
from studio.access import act_required, member_of, member_required, posted, submit
from studio.files.pdf import PaperUnavailable, render_pdf
from studio.models import Member
from studio.rights import Act

AT_ONCE = 4
"""Papers made along with their numbers; of a larger set each is made when it is first opened."""


@act_required(Act.PRINT_CARD)
def issue(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose looms and paper; each chosen loom gets its own card."""
    project, member = get_object_or_404(Project.objects.select_related("owner"), pk=pk), member_of(request)
    form = CardForm(posted(request), project=project, initial={"paper": member.paper})
    if form.is_bound and form.is_valid():
        cards = submit(form, lambda chosen: _issue_all(project, member, **chosen))
        if cards:
            for card in cards[:AT_ONCE]:
                _with_paper(card)
            _announce(request, cards)
            return redirect(cards[0] if len(cards) == 1 else project)
    fits = fits_of(project, member, beams_for_cards(project))
    chosen = form["beams"].value() or [str(project.beam_id)]
    context = {"project": project, "form": form, "fits": fits, "chosen": chosen}
    return render(request, "planner/cards/cards_issue.html", context, status=422 if form.is_bound else 200)


def _issue_all(project: Project, member: Member, *, beams: list[str], paper: str) -> list[IssuedCard]:
    """Give each chosen loom its card."""
    words, wanted_yarns = card_words(project, paper), wanted_yarns_of(project)
    fits = fits_of(project, member, beams_for_cards(project, beams))
    return [_issue(project, member, paper, fit, words, _shown(fit, wanted_yarns, member)) for fit in fits]


def _issue(
    project: Project, member: Member, paper: str, fit: LoomFit, words: CardWords, shown: PlanView | None
) -> IssuedCard:
    def lay_out(number: int) -> str:
        return card_html(words.numbered(number), shown) if shown else ""

    waits = shown.waits if shown else ()
    return issue_card(project=project, fit=fit, by=member, paper=paper, lay_out=lay_out, waits=waits)


def _shown(fit: LoomFit, wanted_yarns: Sequence[WantedYarn], member: Member) -> PlanView | None:
    """Write a plan for its card, with the sections that wait for yarn; there is none where there is no plan."""
    if fit.brief is None or fit.plan is None:
        return None
    awaited = waiting_parts(wanted_yarns, fit.plan, timezone.localdate())
    return PlanView(fit.brief, fit.plan, Formatter(member.reads_in), awaited)


def _announce(request: HttpRequest, cards: list[IssuedCard]) -> None:
    links = format_html_join(", ", '<a href="{}">card {}</a>', [(_pdf_url(card), card.number) for card in cards])
    messages.success(request, format_html("Ready to print: {}.", links))


def _pdf_url(card: IssuedCard) -> str:
    return reverse("card-pdf", args=[card.number])


def _with_paper(card: IssuedCard) -> IssuedCard | None:
    """Give the card with its PDF, made now if it was not yet; None where no PDF can be made."""
    if card.pdf is not None:
        return card
    try:
        return keep_pdf(card=card, pdf=render_pdf(card.html))
    except PaperUnavailable:
        return None


@member_required
@require_GET
def card(request: HttpRequest, number: int) -> HttpResponse:
    """Show a card and say whether it is still the latest; the QR code on paper leads here."""
    found = get_object_or_404(_cards().defer("pdf", "html", "brief"), number=number)
    context = {"card": found, "state": card_state(found), "figures": card_figures(found)}
    return render(request, "planner/cards/card.html", context)


@member_required
@require_GET
def card_pdf(request: HttpRequest, number: int) -> HttpResponse:
    """Give the paper of a card, always the same; without Pango say what to install."""
    found = get_object_or_404(_cards(), number=number)
    try:
        kept = found if found.pdf is not None else keep_pdf(card=found, pdf=render_pdf(found.html))
    except PaperUnavailable as refused:
        messages.warning(request, refused.message)
        return redirect("card", number=number)
    answer = HttpResponse(bytes(kept.pdf or b""), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="warping-card-{number}.pdf"'
    return answer


@member_required
@require_GET
def card_print(request: HttpRequest, number: int) -> HttpResponse:
    """Show the card as a page for the browser's own printing."""
    found = get_object_or_404(_cards().defer("pdf"), number=number)
    return HttpResponse(found.html)


def _cards() -> QuerySet[IssuedCard]:
    return IssuedCard.objects.select_related("project", "project__owner", "issued_by")
