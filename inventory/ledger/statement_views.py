"""A member's statement of yarn: her own for everybody, another's for those who keep the people's book."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from inventory.ledger.forms import PeriodForm
from inventory.ledger.statement import MOST_LINES, moves_of, statement_lines, totals_of
from studio.access import member_of, member_required
from studio.models import Member
from studio.rights import Act, may


@require_safe
@member_required
def my_statement(request: HttpRequest) -> HttpResponse:
    """Show one's own statement."""
    return _statement(request, member_of(request))


@require_safe
@member_required
def statement(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the statement of a member; what others paid is nobody else's business but a steward's."""
    asker = member_of(request)
    if asker.pk != pk and not may(asker.role, Act.EDIT_PEOPLE):
        raise PermissionDenied("Only a steward sees what others bought and took.")
    return _statement(request, get_object_or_404(Member, pk=pk))


def _statement(request: HttpRequest, person: Member) -> HttpResponse:
    form = PeriodForm(request.GET)
    since, until = form.period()
    moves = moves_of(person, since, until)
    lines = statement_lines(moves)
    context = {
        "person": person,
        "own": person == member_of(request),
        "form": form,
        "since": since,
        "until": until,
        "lines": lines,
        "totals": totals_of(moves),
        "cut": len(lines) == MOST_LINES,
        "printed": timezone.localdate(),
        "units": member_of(request).reads_in,
    }
    return render(request, "inventory/ledger/statement.html", context)
