"""Today, search and the frame of every page: they need every package, and none imports them."""

from fractions import Fraction
from operator import itemgetter
from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from inventory.models import Yarn
from inventory.shelf.selectors import yarns_matching
from inventory.shelf.stock import running_low
from planner.handbook.questions import find_questions
from planner.handbook.rulebook import find_rules, plain
from planner.warps.selectors import find_warps, warps_to_show
from studio.access import member_of, member_required
from studio.calendar.weeks import hours_of, my_reservations, now_and_next, queue_places_of
from studio.care.upkeep_selectors import upkeep_due
from studio.looms import selectors
from studio.models import Loom, Member
from studio.notices.selectors import unseen
from studio.people.selectors import find_people
from studio.rights import Act, may
from studio.rules.selectors import studio_rules
from studio.synonyms import LONGEST_SEARCH, terms_for
from studio.units import Units, show

ROOMS = (
    ("Today", "today"),
    ("Looms", "looms"),
    ("Week", "week"),
    ("Yarn room", "yarn-room"),
    ("Warps", "warps"),
    ("People", "people"),
)
STEWARDS_ROOM = ("Rules", "rules")
MOST_FOUND = 12
"""Rows of one kind on the search page; who needs more types another word."""
RECENT = 6
Found = tuple[str, list[tuple[str, str, str]]]
"""A kind of thing, and its rows of a name, what it is, and where it stands."""
NOON, EVENING = 12, 18


def chrome(request: HttpRequest) -> dict[str, Any]:
    """Give every page its frame: the studio's name, the rooms, the search box, whose page it is."""
    member = _member_or_none(request)
    frame: dict[str, Any] = {"studio_name": studio_rules().name, "member": member}
    if member is not None:
        frame |= {
            "navigation": navigation(member, request.path),
            "search_url": reverse("search"),
            "member_name": member.name,
            "settings_url": reverse("my-settings"),
            "sign_out_url": reverse("sign-out"),
        }
    return frame


def _member_or_none(request: HttpRequest) -> Member | None:
    """Error pages have a frame too, and may come before anybody was asked who they are."""
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return None
    return getattr(user, "member", None)


def navigation(member: Member, path: str) -> list[tuple[str, str, bool]]:
    """Give the rooms a member may enter, with the one they stand in."""
    rooms = (*ROOMS, STEWARDS_ROOM) if may(member.role, Act.EDIT_RULES) else ROOMS
    links = [(label, reverse(name)) for label, name in rooms]
    here = max((url for _, url in links if path == url or (url != "/" and path.startswith(url))), key=len, default="")
    return [(label, url, url == here) for label, url in links]


@require_safe
@member_required
def today(request: HttpRequest) -> HttpResponse:
    """Show what a member comes for: the looms at a glance and the warps she is at."""
    member = member_of(request)
    warps = warps_to_show(member=member, whose="mine", text="")[:RECENT]
    may_edit_yarn = may(member.role, Act.EDIT_YARN)
    shown = {
        "greeting": greeting(timezone.localtime().hour),
        "day": timezone.localdate(),
        "looms": now_and_next(Loom.objects.in_use(), timezone.localdate()),
        "warps": warps,
        "notices": unseen(member),
        "may_edit_looms": may(member.role, Act.EDIT_LOOMS),
        "may_edit_yarn": may_edit_yarn,
        "may_reserve": may(member.role, Act.RESERVE_LOOM),
        "yarns_low": running_low().count() if may_edit_yarn else 0,
        "upkeep_due": len(upkeep_due(timezone.localdate())) if may(member.role, Act.LOG_UPKEEP) else 0,
        "mine": my_reservations(member, timezone.localdate()),
        "queue_places": queue_places_of(member),
        "hours": hours_of(member, timezone.now()),
    }
    return render(request, "planner/today/home.html", shown)


def greeting(hour: int) -> str:
    """Give the greeting of the hour."""
    if hour < NOON:
        return "Good morning"
    return "Good afternoon" if hour < EVENING else "Good evening"


@require_safe
@member_required
def search(request: HttpRequest) -> HttpResponse:
    """Look through everything for a word, under every name the trade has for it."""
    text = " ".join(request.GET.get("q", "").replace("\x00", "").split())[:LONGEST_SEARCH]
    member = member_of(request)
    shown = {"search_words": text, "terms": terms_for(text), "found": found_for(text, member) if text else []}
    return render(request, "planner/today/search.html", shown)


def found_for(text: str, member: Member) -> list[Found]:
    """Give what was found, kind by kind: rows of a name, what it is, and where it stands."""
    units = member.reads_in
    looms = [(str(loom), loom_words(loom, units), loom.get_absolute_url()) for loom in selectors.find_looms(text)]
    stations = [(row.name, row.get_kind_display(), reverse("stations")) for row in selectors.find_stations(text)]
    yarns = [(str(yarn), yarn.count_text or yarn.grist_text, yarn.get_absolute_url()) for yarn in _yarns(text)]
    warps = [(warp.title, f"of {warp.owner}", warp.get_absolute_url()) for warp in find_warps(text)[:MOST_FOUND]]
    people = [(row.name, row.get_role_display(), row.get_absolute_url()) for row in find_people(text)]
    asked = [(one.title, one.about, reverse("how-ask", args=[one.key])) for one in find_questions(text)]
    rules = [(one.title, plain(one.purpose), reverse("how-one", args=[one.slug])) for one in find_rules(text)]
    kinds = (
        ("Looms", looms),
        ("Stations", stations),
        ("Yarns", yarns),
        ("Warps", warps),
        ("People", people),
        ("Questions to ask", asked),
        ("How it is worked out", rules),
    )
    return exact_first(text, [(kind, rows) for kind, rows in kinds if rows])


def exact_first(text: str, found: list[Found]) -> list[Found]:
    """Put the loom or person of exactly this name before all that only has it somewhere."""
    wanted = text.casefold()
    in_order: list[tuple[bool, Found]] = []
    for kind, rows in found:
        exact = [row for row in rows if wanted in _names_of(kind, row[0])]
        rest = [row for row in rows if row not in exact]
        in_order.append((not exact, (kind, [*exact, *rest][:MOST_FOUND])))
    return [kind_and_rows for _, kind_and_rows in sorted(in_order, key=itemgetter(0))]


def _names_of(kind: str, title: str) -> set[str]:
    """Give the whole names a loom goes by (number, nickname, both) or a person; other things wait their turn."""
    names = {"Looms": {title, *title.split(" ", 1)}, "People": {title}}.get(kind, set())
    return {name.casefold() for name in names}


def loom_words(loom: Loom, units: Units) -> str:
    """Say in a few words what a loom is."""
    beams = " and ".join(dict.fromkeys(f"{beam.get_kind_display()} beam" for beam in loom.beams.all()))
    known = (f"{loom.shafts} shafts", show(Fraction(loom.weaving_width_cm), "length", units), beams)
    return ", ".join(words for words in known if words)


def _yarns(text: str) -> QuerySet[Yarn]:
    return yarns_matching(words=text, retired=True)[:MOST_FOUND]
