"""Pages of the ledger: what happened to one package, and the reversal of a move."""

from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from inventory.ledger.forms import ReversalForm
from inventory.ledger.selectors import (
    history_of,
    history_rows,
    may_reverse,
    promises_on,
    quarantine_of,
    what_reversal_does,
    why_not_reversible,
)
from inventory.ledger.services import reverse_move
from inventory.models import Move, Package
from studio.access import FormPage, act_required, answer_form, member_of, member_required, posted
from studio.rights import Act, may

MOVES_ON_A_PAGE = 50


@member_required
def package_history(request: HttpRequest, pk: int) -> HttpResponse:
    """Show every move of a package, latest first, with what it left on hand and set aside."""
    member = member_of(request)
    package = get_object_or_404(Package.objects.select_related("yarn", "owner", "pictured__photo"), pk=pk)
    page = Paginator(history_of(package), MOVES_ON_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "package": package,
        "page": page,
        "rows": history_rows(page.object_list, member),
        "promises": promises_on(package) if package.promised_ug else (),
        "quarantine": quarantine_of(package) if package.quarantined else None,
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
    }
    return render(request, "inventory/ledger/package_history.html", context)


@act_required(Act.TAKE_YARN)
def move_reverse(request: HttpRequest, pk: int) -> HttpResponse:
    """Say what a reversal would do, and do it once that is confirmed."""
    member = member_of(request)
    links = ("package__yarn", "package__owner", "set_aside__for_member", "made_by")
    move = get_object_or_404(Move.objects.select_related(*links), pk=pk)
    if not may_reverse(move, member):
        raise PermissionDenied("Another member made this move.")
    page = FormPage(
        title="Reverse this move?",
        button="Reverse it",
        cancel_url=move.package.get_absolute_url(),
        done="The move is reversed; it stays in the history, marked.",
        template="inventory/ledger/move_reverse.html",
        more={
            "move": move,
            "happens": what_reversal_does(move, member.reads_in),
            "refusal": why_not_reversible(move, move.package, member.reads_in),
            "units": member.reads_in,
        },
    )
    form = ReversalForm(posted(request))
    return answer_form(request, form, page, lambda values: reverse_move(move=move, by=member, **values))
