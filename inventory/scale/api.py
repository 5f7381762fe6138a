"""The ledger for other programs, such as a scale that writes by itself: the same movements, by the same form."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404
from rest_framework.decorators import api_view
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.calc.ledger import grams
from inventory.ledger.forms import ReversalForm
from inventory.ledger.selectors import HistoryRow, history_of, history_rows, may_see_sale, promises_on
from inventory.ledger.services import reverse_move
from inventory.models import Move, Package
from inventory.scale.forms import ScaleForm
from inventory.scale.selectors import actions_on, latest_move_of, may_do, with_latest_move
from inventory.scale.services import PriceToConfirm, record_movement
from inventory.shelf.api import ROWS_IN_AN_ANSWER, package_data
from inventory.shelf.selectors import rows_of
from studio.access import member_of
from studio.models import Member
from studio.rights import Act, may
from studio.units import to_decimal


@api_view(["GET"])
def package(request: Request, pk: int) -> Response:
    """Give one package: its balance, what it is set aside for, and what the asker may do with it."""
    member = member_of(request)
    one = get_object_or_404(with_latest_move(), pk=pk)
    return Response({
        **package_data(rows_of([one])[0]),
        "yarn": one.yarn_id,
        "set_aside": [
            {"id": promise.set_aside.pk, "title": promise.set_aside.title, "for": promise.set_aside.for_member_id,
             "mass_g": _text(promise.mass_g)}
            for promise in promises_on(one)
        ],
        "actions": list(actions_on(one, member)),
        "seen": latest_move_of(one),
    })  # fmt: skip


@api_view(["GET", "POST"])
def moves(request: Request, pk: int) -> Response:
    """Give the moves of a package, latest first; or write one down, as at the scale.

    A movement has the names of the scale's boxes: `kind`, and `gross_text` ("525 g") or `mass` of the yarn alone, with
    `set_aside`, `for_member`, `price`, `buyer`, `reason`. With `seen` from the package, one sent twice is written once.
    """
    member = member_of(request)
    one = get_object_or_404(with_latest_move(), pk=pk)
    if request.method == "POST":
        return _record(one, member, _words(request.data))
    page = Paginator(history_of(one), ROWS_IN_AN_ANSWER).get_page(request.query_params.get("page"))
    rows = [_history_data(row) for row in history_rows(page.object_list, member)]
    return Response({"count": page.paginator.count, "pages": page.paginator.num_pages, "moves": rows})


@api_view(["POST"])
def reversal(request: Request, pk: int) -> Response:
    """Reverse a move, with `said_why`."""
    member = member_of(request)
    if not may(member.role, Act.TAKE_YARN):
        raise PermissionDenied(f"The role does not allow to {Act.TAKE_YARN}.")
    move = get_object_or_404(Move.objects.select_related("package__yarn", "package__owner", "set_aside"), pk=pk)
    form = ReversalForm(_words(request.data))
    if not form.is_valid():
        raise ValidationError({name: [str(line) for line in lines] for name, lines in form.errors.items()})
    return _answer(reverse_move(move=move, by=member, **form.cleaned_data), member)


def _record(package: Package, member: Member, words: dict[str, str]) -> Response:
    """Ask the scale's own form what was meant, and do it."""
    if not may_do(words.get("kind", ""), member):
        raise PermissionDenied("The role does not allow this stock movement at the scale.")
    promises = promises_on(package) if package.promised_ug else ()
    form = ScaleForm(words, package=package, by=member, promises=promises)
    if not form.is_valid():
        raise ValidationError({name: [str(line) for line in lines] for name, lines in form.errors.items()})
    try:
        result = record_movement(package=package, by=member, movement=form.movement())
    except PriceToConfirm as asked:
        asked.fields = {"agreed": [str(asked.amount)]}
        raise
    return _answer(result.package.moves.latest("pk") if result.move is None else result.move, member)


def _answer(move: Move, member: Member) -> Response:
    package = Package.objects.select_related("yarn", "owner").get(pk=move.package_id)
    answer = {"move": move_data(move, sale=may_see_sale(move, member)), "package": package_data(rows_of([package])[0])}
    return Response(answer, status=201)


def _words(data: Any) -> dict[str, str]:
    """Give what was sent as a page would send it; a float is refused, since no scale shows one."""
    if not isinstance(data, Mapping):
        raise ValidationError({"non_field_errors": ["Send an object with the kind of stock movement and its figures."]})
    wrong = {
        str(name): ["Write it as text, such as “525 g”, or as a whole number."]
        for name, value in data.items()
        if isinstance(value, bool) or not isinstance(value, str | int | None)
    }
    if wrong:
        raise ValidationError(wrong)
    return {str(name): str(value) for name, value in data.items() if value is not None}


def move_data(move: Move, *, sale: bool) -> dict[str, Any]:
    """Write one move and what it changed; who bought for how much only where the asker may know."""
    return {
        "id": move.pk,
        "kind": move.kind,
        "made_at": move.made_at,
        "made_by": move.made_by_id,
        "change_g": _text(grams(move.on_hand_ug)),
        "set_aside_change_g": _text(grams(move.promised_ug)),
        "scale": move.scale_text,
        "tare": move.tare_text,
        "why": move.said_why,
        "set_aside": move.set_aside_id,
        "for": move.for_member_id,
        "buyer": move.buyer_id if sale else None,
        "amount": str(move.amount) if sale and move.amount is not None else None,
        "reverses": move.reverses_id,
    }


def _history_data(row: HistoryRow) -> dict[str, Any]:
    """Write a move with what it left."""
    return {
        **move_data(row.move, sale=row.may_see_sale),
        "on_hand_g": _text(row.on_hand_g),
        "set_aside_g": _text(row.promised_g),
        "reversed_by": None if row.reversed_by is None else row.reversed_by.pk,
    }


def _text(mass: Fraction) -> str:
    """Write grams with all the digits of a microgram, so that a ledger kept elsewhere sums to the same."""
    return str(to_decimal(mass, places=6))
