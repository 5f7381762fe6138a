"""What a member was told: the list, and what of it comes by mail."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from studio.access import FormPage, answer_form, member_of, member_required, posted
from studio.models import ALWAYS_BY_MAIL
from studio.notices.forms import NoticesForm
from studio.notices.selectors import notices_of, unseen
from studio.notices.services import choose_mail, see_all, see_notice

ROWS = 30


@require_safe
@member_required
def notices(request: HttpRequest) -> HttpResponse:
    told = Paginator(notices_of(member_of(request)), ROWS)
    return render(request, "studio/notices/notices.html", {"page": told.get_page(request.GET.get("page"))})


@require_POST
@member_required
def notice_seen(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that one was seen; a live page gets the little list of Today anew."""
    member = member_of(request)
    see_notice(member=member, pk=pk)
    if request.headers.get("HX-Request"):
        return render(request, "studio/notices/_notices.html", {"notices": unseen(member)})
    return redirect("notices" if request.POST.get("back") == "notices" else "today")


@require_POST
@member_required
def all_seen(request: HttpRequest) -> HttpResponse:
    see_all(member=member_of(request))
    return redirect("notices")


@member_required
def my_notices(request: HttpRequest) -> HttpResponse:
    """Let a member say where mail goes, and which notices come by it."""
    member = member_of(request)
    always = " and ".join(kind.label for kind in sorted(ALWAYS_BY_MAIL))
    page = FormPage(
        "Notices by mail", "Save", reverse("my-settings"), "Your choice is saved.", next_url=reverse("my-notices"),
        lede=f"All notices stand on Today. Two always come by mail too, as rules of the house: {always}.",
    )  # fmt: skip
    form = NoticesForm(posted(request), member=member)
    return answer_form(request, form, page, lambda values: choose_mail(member=member, **values))
