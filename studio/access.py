"""What every view asks first: who is there, may they, and what became of the form."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.contrib.auth.models import User
from django.core.exceptions import NON_FIELD_ERRORS, PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from studio.errors import StudioError
from studio.models import (
    LoomOccupancy,
    Member,
)
from studio.rights import Act, Role, may

Result = TypeVar("Result")
P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]


def member_of(request: HttpRequest) -> Member:
    """Give the member who asks; a user without one has no business in the studio."""
    user = request.user
    if not user.is_authenticated:
        raise PermissionDenied("Sign in first.")
    member = getattr(user, "member", None)
    if isinstance(member, Member):
        return member
    if user.is_superuser:
        return welcome_founder(user=user)
    raise PermissionDenied("This user is not a member of the studio.")


def member_required(view: View[P]) -> View[P]:
    """Let members in; send strangers to sign in first, and back here afterwards."""

    @wraps(view)
    def guarded(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        member_of(request)
        return view(request, *args, **kwargs)

    return login_required(guarded)


def act_required(act: Act) -> Callable[[View[P]], View[P]]:
    """Let in those whose role allows the act; the table is in studio.rights."""

    def decorate(view: View[P]) -> View[P]:
        @wraps(view)
        def guarded(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
            if not may(member_of(request).role, act):
                raise PermissionDenied(f"The role does not allow to {act}.")
            return view(request, *args, **kwargs)

        return login_required(guarded)

    return decorate


def submit(form: forms.BaseForm, action: Callable[[dict[str, Any]], Result]) -> Result | None:
    """Run the action with a form's values; a refusal becomes a sentence on the form, which keeps what was typed."""
    if not form.is_valid():
        return None
    try:
        return action(form.cleaned_data)
    except ValidationError as trouble:
        _beside_fields(form, trouble)
    except StudioError as refused:
        form.add_error(None, refused.message)
    return None


def _beside_fields(form: forms.BaseForm, trouble: ValidationError) -> None:
    if not hasattr(trouble, "error_dict"):
        form.add_error(None, trouble)
        return
    for name, errors in trouble.error_dict.items():
        beside = name in form.fields and name != NON_FIELD_ERRORS
        form.add_error(name if beside else None, errors)


@dataclass(frozen=True)
class FormPage:
    """What stands round a form: its words, where it leads, and what is said when it is done."""

    title: str
    button: str
    cancel_url: str
    done: str
    lede: str = ""
    next_url: str = ""
    template: str = "form_page.html"
    more: Mapping[str, Any] = field(default_factory=dict)


def answer_form(
    request: HttpRequest, form: forms.BaseForm, page: FormPage, action: Callable[[dict[str, Any]], object]
) -> HttpResponse:
    """Show the form, or run the action and lead on; with mistakes the same page comes back (422)."""
    if form.is_bound and submit(form, action) is not None:
        messages.success(request, page.done)
        return redirect(page.next_url or page.cancel_url)
    status = 422 if form.is_bound else 200
    return render(request, page.template, {"form": form, "page": page, **page.more}, status=status)


def posted(request: HttpRequest) -> Any:
    """Give what was posted, or None for a page that is only looked at (which leaves a form unbound)."""
    return request.POST if request.method == "POST" else None


def welcome_founder(*, user: User) -> Member:
    """Make the superuser of the command line a steward, so that somebody can sign in."""
    name = user.get_username()[:60]
    return Member.objects.get_or_create(user=user, defaults={"name": name, "role": Role.STEWARD})[0]


def refuse_not_yours(occupancy: LoomOccupancy, by: Member) -> None:
    """Refuse to touch another's reservation, unless one may reserve for others."""
    if occupancy.member_id != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise StudioError("not_yours", f"{occupancy.member} has this loom; a teacher or a steward can change it.")
