"""A member's keys for other programs: listed, made, taken back. Nobody sees another's."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from studio.access import member_of, member_required, posted, submit
from studio.people.forms import KeyForm
from studio.people.keys import make_key, take_back_key
from studio.people.selectors import keys_of


@never_cache
@member_required
def keys(request: HttpRequest) -> HttpResponse:
    """List the keys; a new one is shown on the very page that made it, and never again."""
    member, form = member_of(request), KeyForm(posted(request))
    key = submit(form, lambda values: make_key(member=member, name=values["name"]))
    shown = {"form": KeyForm() if key else form, "made": key, "keys": keys_of(member)}
    return render(request, "studio/people/keys.html", shown, status=422 if form.is_bound and key is None else 200)


@require_POST
@member_required
def key_revoke(request: HttpRequest, pk: int) -> HttpResponse:
    take_back_key(member=member_of(request), pk=pk)
    messages.success(request, "The key opens nothing any more.")
    return redirect("my-keys")
