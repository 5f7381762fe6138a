"""People of the studio, each member's own settings, and the studio's rules."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from studio.access import FormPage, act_required, answer_form, member_of, member_required, posted
from studio.models import Member
from studio.people import selectors, services
from studio.people.forms import BriefingForm, MemberForm, NewMemberForm, SettingsForm
from studio.rights import Act, may
from studio.rules.selectors import studio_rules


@require_safe
@act_required(Act.SEE_STUDIO)
def people(request: HttpRequest) -> HttpResponse:
    may_edit = may(member_of(request).role, Act.EDIT_PEOPLE)
    return render(request, "studio/people/people.html", {"people": selectors.people(), "may_edit": may_edit})


@require_safe
@act_required(Act.SEE_STUDIO)
def person(request: HttpRequest, pk: int) -> HttpResponse:
    asker, shown = member_of(request), get_object_or_404(Member, pk=pk)
    may_edit = may(asker.role, Act.EDIT_PEOPLE)
    briefings = selectors.briefings_of(shown) if may_edit or asker == shown else None
    return render(request, "studio/people/person.html", {"person": shown, "briefings": briefings, "may_edit": may_edit})


@act_required(Act.EDIT_PEOPLE)
def person_new(request: HttpRequest) -> HttpResponse:
    form = NewMemberForm(posted(request))
    page = FormPage("New member", "Add member", reverse("people"), "The member can sign in now.")
    return answer_form(request, form, page, _add_member)


def _add_member(values: dict[str, str]) -> Member:
    fields = {"name": values["name"], "role": values["role"], "units": studio_rules().units}
    return services.add_member(username=values["username"], password=values["password"], values=fields)


@act_required(Act.EDIT_PEOPLE)
def person_edit(request: HttpRequest, pk: int) -> HttpResponse:
    member = get_object_or_404(Member, pk=pk)
    form = MemberForm(posted(request), instance=member)
    page = FormPage(f"Change {member}", "Save", member.get_absolute_url(), "The changes are saved.")
    return answer_form(request, form, page, lambda values: services.change_member(member=member, values=values))


@act_required(Act.EDIT_PEOPLE)
def briefing_new(request: HttpRequest, pk: int) -> HttpResponse:
    steward, member = member_of(request), get_object_or_404(Member, pk=pk)
    form = BriefingForm(posted(request))
    page = FormPage(
        f"Safety briefing given to {member}", "Note the briefing", member.get_absolute_url(), "The briefing is noted.",
        lede="A briefing follows this studio's rules and the maker's manual. Only the tool and the day are kept: "
        "write nothing about anybody's health.",
    )  # fmt: skip
    return answer_form(
        request, form, page, lambda values: services.record_briefing(member=member, by=steward, **values)
    )


@member_required
def my_settings(request: HttpRequest) -> HttpResponse:
    member = member_of(request)
    form = SettingsForm(posted(request), instance=member)
    page = FormPage(
        "My settings", "Save", reverse("my-settings"), "Your settings are saved.",
        template="studio/people/my_settings.html", more={"briefings": selectors.briefings_of(member)},
    )  # fmt: skip
    return answer_form(request, form, page, lambda values: services.change_my_settings(member=member, values=values))
