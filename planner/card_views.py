"""Pages of cards: choose looms and print, look one up (also by its QR code), its PDF and its print page."""

from __future__ import annotations

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from planner.card_forms import CardForm
from planner.card_selectors import LoomFit, card_figures, card_state, card_words, fits_of
from planner.card_services import issue_card, keep_pdf
from planner.cards import card_html
from planner.models import IssuedCard, Project
from planner.reading import Reader
from planner.showing import show_plan
from studio.doors import member_of, needs, posted, signed_in
from studio.models import Member
from studio.paper import PaperUnavailable, render_pdf
from studio.rights import Act


@needs(Act.PRINT_CARD)
def issue(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose looms and paper; each chosen loom gets its own card."""
    project, member = get_object_or_404(Project.objects.select_related("owner"), pk=pk), member_of(request)
    fits = fits_of(project, member)
    start = {"beams": [str(project.beam_id)], "paper": member.paper}
    form = CardForm(posted(request), fits=fits, initial=start)
    if form.is_bound and form.is_valid():
        chosen, paper = set(form.cleaned_data["beams"]), form.cleaned_data["paper"]
        cards = [_issue(project, member, paper, fit) for fit in fits if str(fit.beam.pk) in chosen]
        _announce(request, cards)
        return redirect(cards[0] if len(cards) == 1 else project)
    context = {"project": project, "form": form, "fits": fits, "chosen": form["beams"].value() or []}
    return render(request, "planner/cards_issue.html", context, status=422 if form.is_bound else 200)


def _issue(project: Project, member: Member, paper: str, fit: LoomFit) -> IssuedCard:
    """Give one loom its card, and its paper where this computer can make it."""
    brief, plan = fit.brief, fit.plan
    assert brief is not None and plan is not None  # noqa: S101, PT018 the form offers no other loom
    shown = show_plan(brief, plan, Reader(member.reads_in))
    card = issue_card(
        project=project,
        brief=brief,
        plan=plan,
        by=member,
        loom_name=fit.label,
        paper=paper,
        lay_out=lambda card: card_html(card_words(card), shown),
    )
    return _with_paper(card) or card


def _with_paper(card: IssuedCard) -> IssuedCard | None:
    """Give the card with its PDF, made now if it was not yet; None where no PDF can be made."""
    if card.pdf is not None:
        return card
    try:
        return keep_pdf(card=card, pdf=render_pdf(card.html))
    except PaperUnavailable:
        return None


def _announce(request: HttpRequest, cards: list[IssuedCard]) -> None:
    numbers = ", ".join(str(card.number) for card in cards)
    word = "Card" if len(cards) == 1 else "Cards"
    messages.success(request, f"{word} {numbers} issued.")


@signed_in
@require_GET
def card(request: HttpRequest, number: int) -> HttpResponse:
    """Show a card and say whether it is still the latest; the QR code on paper leads here."""
    found = get_object_or_404(_cards().defer("pdf", "html"), number=number)
    context = {"card": found, "state": card_state(found), "figures": card_figures(found)}
    return render(request, "planner/card.html", context)


@signed_in
@require_GET
def card_pdf(request: HttpRequest, number: int) -> HttpResponse:
    """Give the paper of a card, the same to the byte each time; without Pango lead to the print page."""
    found = get_object_or_404(_cards(), number=number)
    try:
        kept = found if found.pdf is not None else keep_pdf(card=found, pdf=render_pdf(found.html))
    except PaperUnavailable as refused:
        messages.warning(request, refused.message)
        return redirect("card-print", number=number)
    answer = HttpResponse(bytes(kept.pdf or b""), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="warping-card-{number}.pdf"'
    return answer


@signed_in
@require_GET
def card_print(request: HttpRequest, number: int) -> HttpResponse:
    """Show the card as a page for the browser's own printing."""
    found = get_object_or_404(_cards().defer("pdf"), number=number)
    return HttpResponse(found.html)


def _cards() -> QuerySet[IssuedCard]:
    return IssuedCard.objects.select_related("project", "project__owner", "issued_by")
