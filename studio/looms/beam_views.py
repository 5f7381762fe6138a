"""Beams of a loom: new, changed, measured again, removed. Stewards only."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from studio.access import FormPage, act_required, answer_form, member_of, posted
from studio.errors import StudioError
from studio.looms import selectors, services
from studio.looms.forms import BeamForm, MeasureForm, NewBeamForm
from studio.models import Beam, Loom
from studio.rights import Act

EMPTY = {"sections": None, "divider_cm": None, "leader_offset_cm": None, "leader_knot_cm": None}
"""A new beam's sections and leaders are measured, so their boxes do not start with a nought."""


def _beam(pk: int) -> Beam:
    return get_object_or_404(Beam.objects.select_related("loom"), pk=pk)


@act_required(Act.EDIT_LOOMS)
def beam_new(request: HttpRequest, loom_pk: int) -> HttpResponse:
    member, loom = member_of(request), get_object_or_404(Loom, pk=loom_pk)
    start = Beam(loom=loom, usable_width_cm=loom.weaving_width_cm)
    form = NewBeamForm(posted(request), instance=start, initial=EMPTY, units=member.reads_in)
    page = FormPage(
        f"New beam for loom {loom}", "Add the beam", loom.get_absolute_url(), "The beam is on the register."
    )
    return answer_form(
        request, form, page, lambda values: services.keep_beam(beam=None, loom=loom, values=values, by=member)
    )


@act_required(Act.EDIT_LOOMS)
def beam_edit(request: HttpRequest, pk: int) -> HttpResponse:
    beam = _beam(pk)
    form = BeamForm(posted(request), instance=beam, units=member_of(request).reads_in)
    page = FormPage(
        f"Change the {beam.name} of loom {beam.loom}", "Save", beam.loom.get_absolute_url(),
        "The changes are saved.", lede="The circumference is kept with its date: measure it again on the loom's page.",
    )  # fmt: skip
    return answer_form(request, form, page, lambda values: services.keep_beam(beam=beam, loom=beam.loom, values=values))


@act_required(Act.EDIT_LOOMS)
def beam_measure(request: HttpRequest, pk: int) -> HttpResponse:
    member, beam = member_of(request), _beam(pk)
    form = MeasureForm(posted(request), initial={"circumference_cm": beam.circumference_cm}, units=member.reads_in)
    page = FormPage(
        f"Measure the {beam.name} of loom {beam.loom}", "Save", beam.loom.get_absolute_url(),
        "The measurement is saved with its date.",
        lede="Earlier measurements stay, because cards already printed were counted on them.",
    )  # fmt: skip
    return answer_form(request, form, page, lambda values: services.measure_beam(beam=beam, by=member, **values))


@act_required(Act.EDIT_LOOMS)
def beam_delete(request: HttpRequest, pk: int) -> HttpResponse:
    beam = _beam(pk)
    if request.method == "POST":
        try:
            services.remove_beam(beam=beam)
        except StudioError as refused:
            messages.error(request, refused.message)
        else:
            messages.success(request, f"The {beam.name} is off the register.")
        return redirect(beam.loom)
    return render(request, "remove_page.html", selectors.going_with_beam(beam))
