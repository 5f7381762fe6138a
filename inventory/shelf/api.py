"""The yarn room for other programs: to read only; whole numbers and exact decimals, units in the names."""

from fractions import Fraction
from typing import Any

from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404
from rest_framework.decorators import api_view
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.calc.count import metres_per_kilogram, yards_per_pound
from inventory.calc.ledger import grams
from inventory.models import Yarn
from inventory.shelf.filters import ShelfFilter
from inventory.shelf.selectors import PackageRow, ShelfRow, packages_of, shelf, yarns_matching
from inventory.shelf.stock import narrowed, with_enough
from studio.access import member_of
from studio.units import to_decimal

ROWS_IN_AN_ANSWER = 100


@api_view(["GET"])
def yarns(request: Request) -> Response:
    """List yarns; `words`, `fibre`, `colour`, `weight`, `bin_name`, `low`, `retired` and `page` narrow the list.

    With `length_cm` and `tex` (and `within`, in per cent) come only yarns of like fineness that have so much free.
    """
    member_of(request)
    form = ShelfFilter(request.query_params)
    among = with_enough(form.enough) if form.enough is not None else None
    matching = narrowed(yarns_matching(**form.criteria()), low=form.wants_low, among=among)
    page = Paginator(matching, ROWS_IN_AN_ANSWER).get_page(request.query_params.get("page"))
    rows = [yarn_data(row) for row in shelf(page.object_list)]
    return Response({"count": page.paginator.count, "pages": page.paginator.num_pages, "yarns": rows})


@api_view(["GET"])
def yarn(request: Request, pk: int) -> Response:
    """Give one yarn with its packages."""
    member_of(request)
    one = get_object_or_404(Yarn, pk=pk)
    data = yarn_data(shelf([one])[0])
    return Response({**data, "packages": [package_data(row) for row in packages_of(one)]})


def yarn_data(row: ShelfRow) -> dict[str, Any]:
    """Write a yarn and what is on the shelf of it; exact numbers as text."""
    yarn = row.yarn
    return {
        "id": yarn.pk,
        "name": yarn.name,
        "fibre": yarn.fibre,
        "colour_name": yarn.colour_name,
        "colour": yarn.colour,
        "colour_family": yarn.colour_family,
        "count": yarn.count_text,
        "grist": yarn.grist_text,
        "tex": str(to_decimal(row.tex)),
        "yards_per_pound": str(to_decimal(yards_per_pound(row.tex), places=3)),
        "metres_per_kilogram": str(to_decimal(metres_per_kilogram(row.tex), places=3)),
        "wound_density_g_per_cm3": None if yarn.wound_density is None else str(yarn.wound_density),
        "price_per_100g": None if yarn.price_per_100g is None else str(yarn.price_per_100g),
        "keep_at_least_g": None if yarn.keep_at_least_ug is None else _grams(yarn.keep_at_least_ug),
        "retired": yarn.retired,
        "on_hand_g": str(to_decimal(row.net_g, places=3)),
        "promised_g": str(to_decimal(row.promised_g, places=3)),
        "free_g": str(to_decimal(row.free_g, places=3)),
        "on_hand_cm": str(to_decimal(row.length_cm, places=3)),
        "packages_on_hand": row.packages,
    }


def _grams(amount_ug: int) -> str:
    return str(to_decimal(grams(amount_ug), places=3))


def package_data(row: PackageRow) -> dict[str, Any]:
    """Write a package."""
    package = row.package
    return {
        "id": package.pk,
        "kind": package.kind,
        "gross_g": str(to_decimal(Fraction(package.gross_g), places=3)),
        "tare_g": str(to_decimal(Fraction(package.tare_g), places=3)),
        "net_g": str(to_decimal(row.net_g, places=3)),
        "on_hand_g": str(to_decimal(row.net_g, places=3)),
        "promised_g": str(to_decimal(row.promised_g, places=3)),
        "free_g": str(to_decimal(row.free_g, places=3)),
        "length_cm": str(to_decimal(row.length_cm, places=3)),
        "dye_lot": package.dye_lot,
        "bin": package.bin_name,
        "owner": package.owner_id,
        "source": package.source,
        "quarantined": package.quarantined,
        "received_on": package.received_on,
    }
