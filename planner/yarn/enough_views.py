"""From a warp to the shelf: which yarn would be enough. The yarn room knows no warps, so the question goes along."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from inventory.calc.count import length_of_mass
from inventory.models import Yarn
from planner.calc.shelf.need import YarnAsked
from planner.models import Project
from planner.warps.selectors import warps_to_show
from planner.yarn.shelf_selectors import asked_by
from studio.access import member_of, member_required
from studio.units import to_decimal

MOST_WARPS = 50


@require_safe
@member_required
def warps_enough(request: HttpRequest) -> HttpResponse:
    """Ask for which warp of one's own the yarn should be enough."""
    member = member_of(request)
    warps = [warp for warp in warps_to_show(member=member, whose="mine", text="")[:MOST_WARPS] if not warp.is_draft]
    return render(request, "planner/yarn/warps_enough.html", {"warps": warps, "units": member.reads_in})


@require_safe
@member_required
def warp_enough(request: HttpRequest, pk: int) -> HttpResponse:
    """Lead to the shelf with what one yarn of a warp must be; of several, ask which."""
    warp = get_object_or_404(Project.objects.select_related("owner"), pk=pk)
    asked = [one for one in asked_by(warp) if request.GET.get("yarn", str(one.yarn_id)) == str(one.yarn_id)]
    if len(asked) == 1:
        return redirect(_door(warp, asked[0]))
    yarns = Yarn.objects.in_bulk([one.yarn_id for one in asked])
    rows = [(yarns[one.yarn_id], length_of_mass(one.mass, one.tex), _door(warp, one)) for one in asked]
    context = {"warp": warp, "rows": rows, "units": member_of(request).reads_in}
    return render(request, "planner/yarn/warp_enough.html", context)


def _door(warp: Project, asked: YarnAsked) -> str:
    """Give the address of the shelf, seen with what this yarn must hold."""
    length = to_decimal(length_of_mass(asked.mass, asked.tex), places=2)
    said = {"length_cm": length, "tex": to_decimal(asked.tex, places=3), "work": warp.title}
    return f"{reverse('yarn-room')}?{urlencode(said)}"
