"""Faults and upkeep of the looms."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from studio.access import FormPage, act_required, answer_form, member_of, posted
from studio.care import check_selectors, check_services, upkeep_selectors, upkeep_services
from studio.care.forms import FaultForm, JobForm, LogForm, MendedForm
from studio.files.photo_storage import answer_photo
from studio.models import Fault, Loom, UpkeepJob
from studio.rights import Act, may

LOG_SHOWN = 60
FAULTS_SHOWN = 60


@require_safe
@act_required(Act.SEE_STUDIO)
def loom_care(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a loom's faults, its jobs with what is due, and the log."""
    member, loom = member_of(request), get_object_or_404(Loom, pk=pk)
    shown = {
        "loom": loom,
        "faults": check_selectors.faults_of(loom)[:FAULTS_SHOWN],
        "jobs": upkeep_selectors.upkeep_of(loom, timezone.localdate()),
        "log": upkeep_selectors.upkeep_log(loom)[:LOG_SHOWN],
        "may_log": may(member.role, Act.LOG_UPKEEP),
        "may_set": may(member.role, Act.SET_UPKEEP),
    }
    return render(request, "studio/care/loom_care.html", shown)


def care_page(loom: Loom, title: str, button: str, done: str, lede: str = "") -> FormPage:
    """Give what stands round a form that leads back to a loom's care."""
    return FormPage(title, button, reverse("loom-care", args=[loom.pk]), done, lede=lede)


@act_required(Act.SEE_STUDIO)
def fault_new(request: HttpRequest, pk: int) -> HttpResponse:
    member, loom = member_of(request), get_object_or_404(Loom, pk=pk)
    form = FaultForm(posted(request), request.FILES or None)
    lede = "Anybody can note one. If somebody could be hurt, stop, leave a note on the loom and tell a steward now."
    page = care_page(loom, f"Note a fault of loom {loom}", "Note the fault", "The fault is noted. Thank you.", lede)
    return answer_form(
        request, form, page,
        lambda values: check_services.note_fault(loom=loom, by=member, text=values["text"], photo=values["photo"]),
    )  # fmt: skip


@act_required(Act.LOG_UPKEEP)
def fault_mended(request: HttpRequest, pk: int) -> HttpResponse:
    member, fault = member_of(request), get_object_or_404(Fault.objects.select_related("loom"), pk=pk)
    form = MendedForm(posted(request))
    page = care_page(fault.loom, "Mended?", "It is mended", "Recorded as mended.", fault.text)
    return answer_form(
        request, form, page,
        lambda values: check_services.mend_fault(
            fault=fault, by=member, mended_on=values["mended_on"], how=values["mended_how"]
        ),
    )  # fmt: skip


@require_safe
@act_required(Act.SEE_STUDIO)
def fault_photo(request: HttpRequest, pk: int) -> HttpResponse:
    return answer_photo(get_object_or_404(Fault, pk=pk).photo)


@require_safe
@act_required(Act.LOG_UPKEEP)
def upkeep(request: HttpRequest) -> HttpResponse:
    """Show what is wrong and what is due on any loom."""
    due = upkeep_selectors.upkeep_due(timezone.localdate())
    shown = {"upkeep_due": due, "open_faults": check_selectors.open_faults()[:FAULTS_SHOWN]}
    return render(request, "studio/care/upkeep.html", shown)


@act_required(Act.SET_UPKEEP)
def job_new(request: HttpRequest, pk: int) -> HttpResponse:
    member, loom = member_of(request), get_object_or_404(Loom, pk=pk)
    page = care_page(loom, f"New job on loom {loom}", "Add job", "The job is on the loom.")
    form = JobForm(posted(request), instance=UpkeepJob(loom=loom))
    return answer_form(
        request, form, page,
        lambda values: upkeep_services.keep_job(job=None, loom=loom, values=values, by=member),
    )  # fmt: skip


@act_required(Act.SET_UPKEEP)
def job_edit(request: HttpRequest, pk: int) -> HttpResponse:
    member, job = member_of(request), get_object_or_404(UpkeepJob.objects.select_related("loom"), pk=pk)
    page = care_page(job.loom, f"Change a job on loom {job.loom}", "Save", "The changes are saved.")
    form = JobForm(posted(request), instance=job)
    return answer_form(
        request, form, page,
        lambda values: upkeep_services.keep_job(job=job, loom=job.loom, values=values, by=member),
    )  # fmt: skip


@require_POST
@act_required(Act.SET_UPKEEP)
def usual_jobs(request: HttpRequest, pk: int) -> HttpResponse:
    loom = get_object_or_404(Loom, pk=pk)
    upkeep_services.set_usual_rhythm(loom=loom, by=member_of(request))
    messages.success(request, "The usual jobs are on the loom. Change them as its maker’s manual says.")
    return redirect("loom-care", pk=loom.pk)


@act_required(Act.LOG_UPKEEP)
def job_done(request: HttpRequest, pk: int) -> HttpResponse:
    member, job = member_of(request), get_object_or_404(UpkeepJob.objects.select_related("loom"), pk=pk)
    page = care_page(job.loom, f"Done on loom {job.loom}", "Record", "It is in the log.", job.text)
    form = LogForm(posted(request))
    return answer_form(
        request, form, page,
        lambda values: upkeep_services.log_upkeep(
            job=job, by=member, done_on=values["done_on"], note=values["note"]
        ),
    )  # fmt: skip
