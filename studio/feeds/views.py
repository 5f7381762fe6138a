"""Private calendar addresses: listed and made by their member, read by a program without signing in."""

from hashlib import sha256

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from studio.access import member_of, member_required, posted, submit
from studio.feeds import selectors as feed_selectors
from studio.feeds import services
from studio.feeds.forms import FeedForm
from studio.feeds.ics import write_calendar
from studio.rules.selectors import studio_rules


@require_safe
def feed(request: HttpRequest, secret: str) -> HttpResponse:
    """Give a calendar to whoever knows its address; a program that has it already is told so (304)."""
    found = services.use_feed(secret=secret)
    if found is None:
        raise Http404("No calendar has this address.")
    name = f"{studio_rules().name}: {found}"
    written = write_calendar(feed_selectors.calendar_of(found, timezone.localdate()), name)
    tag = f'"{sha256(written).hexdigest()[:32]}"'
    fresh = HttpResponse(written, content_type="text/calendar; charset=utf-8")
    fresh["Content-Disposition"] = 'inline; filename="warproom.ics"'
    fresh["ETag"] = tag
    answer = get_conditional_response(request, etag=tag, response=fresh) or fresh
    answer["Cache-Control"] = "private, no-cache"
    answer["X-Robots-Tag"] = "noindex, nofollow"
    return answer


@never_cache
@member_required
def feeds(request: HttpRequest) -> HttpResponse:
    """List a member's addresses; a new one is shown on the very page that made it, and never again."""
    member = member_of(request)
    number = request.GET.get("loom", "")
    start = {"loom": number} if number.isascii() and number.isdigit() else {}
    form = FeedForm(posted(request), initial=start)
    secret = submit(form, lambda values: services.make_feed(member=member, loom=values["loom"]))
    address = request.build_absolute_uri(reverse("feed", args=[secret])) if secret else ""
    shown = {"form": form, "address": address, "feeds": feed_selectors.feeds_of(member)}
    return render(request, "studio/feeds/feeds.html", shown, status=422 if form.is_bound and secret is None else 200)


@require_POST
@member_required
def feed_revoke(request: HttpRequest, pk: int) -> HttpResponse:
    services.take_back_feed(member=member_of(request), pk=pk)
    messages.success(request, "That address leads nowhere any more.")
    return redirect("my-feeds")
