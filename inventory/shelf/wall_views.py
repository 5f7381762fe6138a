"""Ways of looking at the shelf: the colour wall, what runs low, and what stands in each bin."""

from itertools import groupby

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_safe

from inventory.shelf.drawings import WINDINGS, wall_cards
from inventory.shelf.filters import WallFilter
from inventory.shelf.selectors import rows_of, shelf
from inventory.shelf.stock import low_row, running_low
from inventory.shelf.wall import bins, families, family_on_wall, on_the_wall, packages_in_bin, weight_in_bin
from studio.access import member_of, member_required
from studio.rights import Act, may

CARDS_ON_A_PAGE = 50
ROWS_ON_A_PAGE = 50
LONGEST_BIN = 40


@require_safe
@member_required
def colours(request: HttpRequest) -> HttpResponse:
    """Show every yarn on the shelf by its colour; a changed filter fetches the wall alone."""
    form = WallFilter(request.GET)
    criteria = form.criteria()
    page = Paginator(on_the_wall(**criteria), CARDS_ON_A_PAGE).get_page(request.GET.get("page"))
    cards = wall_cards(shelf(page.object_list))
    hung = groupby(cards, key=lambda card: family_on_wall(card.row.yarn))
    context = {
        "form": form,
        "page": page,
        "families": families(fibre=criteria["fibre"]),
        "chosen": criteria["colour"],
        "hung": [(name, tuple(rows)) for name, rows in hung],
        "windings": WINDINGS,
        "units": member_of(request).reads_in,
    }
    part = "_wall" if request.headers.get("HX-Target") == "wall" else "colours"
    response = render(request, f"inventory/shelf/{part}.html", context)
    patch_vary_headers(response, ["HX-Target"])
    return response


@require_safe
@member_required
def low(request: HttpRequest) -> HttpResponse:
    """Show the yarns of which less is free than should be there."""
    member = member_of(request)
    page = Paginator(running_low(), ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "rows": [low_row(yarn) for yarn in page.object_list],
        "units": member.reads_in,
        "may_edit": may(member.role, Act.EDIT_YARN),
    }
    return render(request, "inventory/shelf/low.html", context)


@require_safe
@member_required
def bin_list(request: HttpRequest) -> HttpResponse:
    """Show every bin, with how much is in it."""
    page = Paginator(bins(), ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "inventory/shelf/bins.html", {"page": page, "units": member_of(request).reads_in})


@require_safe
@member_required
def bin_page(request: HttpRequest) -> HttpResponse:
    """Show what is in one bin; without a name, what has no bin written."""
    name = request.GET.get("name", "").replace("\x00", "")[:LONGEST_BIN]
    page = Paginator(packages_in_bin(name), ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "name": name,
        "page": page,
        "rows": rows_of(page.object_list),
        "mass_g": weight_in_bin(name),
        "units": member_of(request).reads_in,
    }
    return render(request, "inventory/shelf/bin.html", context)
