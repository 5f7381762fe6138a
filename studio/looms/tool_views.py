"""Reeds and winding stations: lists for everybody, forms for stewards."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from studio.access import FormPage, act_required, answer_form, member_of, posted
from studio.looms import selectors, services
from studio.looms.forms import ReedForm, StationForm
from studio.models import Reed, Station
from studio.rights import Act, may


@require_safe
@act_required(Act.SEE_STUDIO)
def reed_list(request: HttpRequest) -> HttpResponse:
    may_edit = may(member_of(request).role, Act.EDIT_LOOMS)
    return render(request, "studio/looms/reed_list.html", {"reeds": selectors.reeds(), "may_edit": may_edit})


@act_required(Act.EDIT_LOOMS)
def reed_new(request: HttpRequest) -> HttpResponse:
    form = ReedForm(posted(request), units=member_of(request).reads_in)
    page = FormPage("New reed", "Add the reed", reverse("reeds"), "The reed is on the register.")
    return answer_form(request, form, page, lambda values: services.keep_reed(reed=None, values=values))


@act_required(Act.EDIT_LOOMS)
def reed_edit(request: HttpRequest, pk: int) -> HttpResponse:
    reed = get_object_or_404(Reed, pk=pk)
    form = ReedForm(posted(request), instance=reed, units=member_of(request).reads_in)
    page = FormPage(f"Change reed: {reed}", "Save", reverse("reeds"), "The changes are saved.")
    return answer_form(request, form, page, lambda values: services.keep_reed(reed=reed, values=values))


@require_safe
@act_required(Act.SEE_STUDIO)
def station_list(request: HttpRequest) -> HttpResponse:
    may_edit = may(member_of(request).role, Act.EDIT_LOOMS)
    return render(request, "studio/looms/station_list.html", {"stations": selectors.stations(), "may_edit": may_edit})


@act_required(Act.EDIT_LOOMS)
def station_new(request: HttpRequest) -> HttpResponse:
    form = StationForm(posted(request), units=member_of(request).reads_in)
    page = FormPage("New station", "Add the station", reverse("stations"), "The station is on the register.")
    return answer_form(request, form, page, lambda values: services.keep_station(station=None, values=values))


@act_required(Act.EDIT_LOOMS)
def station_edit(request: HttpRequest, pk: int) -> HttpResponse:
    station = get_object_or_404(Station, pk=pk)
    form = StationForm(posted(request), instance=station, units=member_of(request).reads_in)
    page = FormPage(f"Change station: {station}", "Save", reverse("stations"), "The changes are saved.")
    return answer_form(request, form, page, lambda values: services.keep_station(station=station, values=values))
