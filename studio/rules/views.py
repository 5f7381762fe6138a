"""The studio's own rules: everybody reads them, stewards change them."""

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from studio.access import FormPage, act_required, answer_form, member_of, posted
from studio.rights import Act, may
from studio.rules.forms import BookingRulesForm, RulesForm
from studio.rules.selectors import booking_rules, studio_rules
from studio.rules.services import keep_booking_rules, keep_rules


@act_required(Act.SEE_STUDIO)
def rules(request: HttpRequest) -> HttpResponse:
    """Show the rules to everybody; stewards get them in boxes. What is posted goes to `change_rules`."""
    member = member_of(request)
    if request.method == "POST" or may(member.role, Act.EDIT_RULES):
        return change_rules(request)
    current = studio_rules()
    form = RulesForm(instance=current, units=member.reads_in)
    return render(request, "studio/rules/rules.html", {"form": form, "rules": current})


@act_required(Act.EDIT_RULES)
def change_rules(request: HttpRequest) -> HttpResponse:
    form = RulesForm(posted(request), instance=studio_rules(), units=member_of(request).reads_in)
    page = FormPage(
        "Rules of the studio", "Save", reverse("rules"), "The rules are saved.",
        lede="These figures are the studio's own. Most of those we start with have no published source; replace them "
        "by what you measure. Plans follow the figures of the day; a card keeps those it was printed with.",
        template="studio/rules/rules_form.html", more={"here": "rules"},
    )  # fmt: skip
    return answer_form(request, form, page, lambda values: keep_rules(values=values))


@act_required(Act.SEE_STUDIO)
def booking_rules_page(request: HttpRequest) -> HttpResponse:
    """Show the rules of reserving to everybody, in boxes to stewards."""
    may_edit = may(member_of(request).role, Act.EDIT_RULES)
    if request.method == "POST" and not may_edit:
        raise PermissionDenied(f"The role does not allow to {Act.EDIT_RULES}.")
    form = BookingRulesForm(posted(request), instance=booking_rules())
    if not may_edit:
        return render(request, "studio/rules/booking_rules.html", {"form": form})
    page = FormPage(
        "Rules of reserving", "Save", reverse("booking-rules"), "The rules are saved.",
        lede="Published policies of studios differ, and none is universal. A refusal names the rule and says what "
        "would be allowed. What is reserved already stays as it is.",
        template="studio/rules/rules_form.html", more={"here": "booking-rules"},
    )  # fmt: skip
    return answer_form(request, form, page, lambda values: keep_booking_rules(values=values))
