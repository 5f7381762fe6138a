"""How deep yarn winds on a beam: what was measured, one more measurement, one taken back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from planner.calibration.forms import CalibrationForm
from planner.calibration.selectors import calibrations_of, measured_on
from planner.calibration.services import record_calibration, remove_calibration
from planner.calibration.words import shown_calibrations, shown_density
from planner.models import Calibration
from planner.plan.formatter import Formatter
from studio.access import FormPage, act_required, answer_form, member_of, member_required, posted
from studio.errors import StudioError
from studio.models import Beam
from studio.rights import Act, may

GOES = ("What its two circumferences say about this yarn on this beam; plans count by what is left, or by a default.",)
STAYS = ("Cards already printed, and warps as they were saved.",)


def _beam(pk: int) -> Beam:
    return get_object_or_404(Beam.objects.select_related("loom"), pk=pk, kind=Beam.Kind.SECTIONAL)


@require_safe
@member_required
def calibrations(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what was measured on a beam, and what plans take from it."""
    beam, member = _beam(pk), member_of(request)
    formatter = Formatter(member.reads_in)
    context = {
        "beam": beam,
        "densities": [shown_density(one, formatter) for one in measured_on(beam.pk).values()],
        "rows": shown_calibrations(
            calibrations_of(beam), formatter, by=member.pk, removes_all=may(member.role, Act.EDIT_LOOMS)
        ),
        "may_measure": may(member.role, Act.MEASURE_BEAM),
    }
    return render(request, "planner/calibration/calibrations.html", context)


@act_required(Act.MEASURE_BEAM)
def calibration_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Enter two circumferences and the turns between them."""
    beam, member = _beam(pk), member_of(request)
    form = CalibrationForm(posted(request), beam=beam, units=member.reads_in)
    page = FormPage(
        f"Calibrate the {beam.name} of loom {beam.loom}", "Save",
        reverse("calibrations", args=[beam.pk]), "Saved. Plans on this beam with this yarn are counted by it now.",
        lede="Tape one section before winding and again after some turns. Hold the handle before you let off the "
        "brake, and keep fingers clear of rakes; this studio’s rules and the loom maker’s manual come first.",
    )  # fmt: skip
    return answer_form(
        request, form, page,
        lambda said: record_calibration(beam=beam, yarn=said["yarn"], by=member, values=_values(said)),
    )  # fmt: skip


def _values(said: dict[str, object]) -> dict[str, object]:
    return {name: value for name, value in said.items() if name != "yarn"}


@act_required(Act.MEASURE_BEAM)
def calibration_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask, then take a measurement back."""
    found = get_object_or_404(Calibration.objects.select_related("beam__loom"), pk=pk)
    back = reverse("calibrations", args=[found.beam_id])
    if request.method != "POST":
        title = f"Take back the measurement of {found.measured_on:%d %B %Y} with {found.yarn_name}?"
        return render(request, "remove_page.html", {"title": title, "back": back, "goes": GOES, "stays": STAYS})
    try:
        remove_calibration(calibration=found, by=member_of(request))
    except StudioError as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, "The measurement is taken back.")
    return redirect(back)
