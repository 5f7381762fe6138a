"""How the list pages grow: 50 rows of each kind against a studio of many years.

Run by hand: python -m tests.bench lists. Machines differ, so the ratio within one run is the budget.
"""

from collections.abc import Iterable, Iterator
from copy import copy
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from functools import partial
from itertools import chain, cycle, islice, product

from django.contrib.auth import get_user_model
from django.db import models, transaction
from django.http import HttpResponse
from django.test import Client
from django.utils import timezone

from inventory.models import Arrival, Move, Package, Yarn
from planner.models import Project
from studio.models import Beam, Loom, LoomOccupancy, Member, Station, ToolBooking
from tests.bench.clock import queries_of, say, say_table, taken

BUDGET = 2
ROUNDS = 15
MOVES_OF_ONE = 60
"""Moves of the first package at least, so that its history fills a page in both studios."""
SALES = 50
"""Lines of one statement in both studios; what grows is what others moved."""
PER_YARN = 4
"""Packages of each yarn in both studios, so that a row is the same work."""


@dataclass(frozen=True, slots=True)
class Size:
    """How much a studio holds."""

    projects: int
    packages: int
    moves: int
    bookings: int
    """Reservations of looms, and a fifth as many of tools."""
    others: int
    """Looms, and people, each."""
    arrivals: int


Pages = tuple[tuple[str, str], ...]
Found = tuple[float, int, int]

SMALL = Size(110, 50 * PER_YARN, 50 * PER_YARN + MOVES_OF_ONE + SALES, 50, 50, 60)
"""The ten demo warps, 50 more on every list, and 50 put away: a whole page of each."""
LARGE = Size(10_000, 2_000, 50_000, 20_000, 50, 500)
CROWD = Size(10_000, 2_000, 50_000, 20_000, 300, 500)
"""Beyond the budget's own list: no studio has 300 looms, but the pages that show them all should know."""

PAGES = (
    ("today", "/"),
    ("warps, mine", "/warps/"),
    ("warps, everyone's", "/warps/?whose=all"),
    ("warps, everyone's, last page", "/warps/?whose=all&page=9999"),
    ("warps, a word found in all", "/warps/?whose=all&q=copy"),
    ("warps, a word found nowhere", "/warps/?whose=all&q=zzz"),
    ("warps, put away", "/warps/?whose=away"),
    ("yarn room", "/yarn/"),
    ("yarn room, a word found nowhere", "/yarn/?words=zzz"),
    ("yarn room, a fibre, a colour and a weight", "/yarn/?fibre=cotton&colour=natural&weight=fine"),
    ("yarn room, only what runs low", "/yarn/?low=on"),
    ("yarn room, enough for a warp", "/yarn/?length_cm=1000&tex=148"),
    ("colour wall", "/yarn/colours/"),
    ("colour wall, last page", "/yarn/colours/?page=9999"),
    ("running low", "/yarn/low/"),
    ("bins", "/yarn/bins/"),
    ("packages without a bin", "/yarn/bins/one/"),
    ("labels, the newest 50", "/yarn/labels/?newest=50"),
    ("labels, words", "/yarn/labels/?words=natural+29&newest=50"),
    ("labels, print page of 24", "/yarn/labels/print/?newest=24"),
    ("one's yarn statement", "/yarn/statement/?since=1970-01-01"),
    ("one yarn", "/yarn/1/"),
    ("one package's history", "/yarn/ledger/1/"),
    ("not yet named", "/yarn/intake/waiting/"),
    ("take in yarn", "/yarn/intake/"),
    ("search, a word found in all", "/search/?q=copy"),
    ("API yarns", "/api/yarns/"),
    ("one warp's sheet", "/warps/1/"),
    ("looms", "/looms/"),
    ("week", "/looms/week/"),
    ("month", "/looms/month/"),
    ("month, a year ago", f"/looms/month/?from={timezone.localdate() - timedelta(days=365)}"),
    ("free looms", "/looms/free/"),
    ("week of tools", "/stations/week/"),
    ("one loom", "/looms/12/"),
    ("reserve a loom", "/looms/12/reserve/"),
    ("one reservation", "/reservations/3/"),
    ("people", "/people/"),
    ("API looms", "/api/looms/"),
)
SHOW_ALL = {"today", "one warp's sheet", "looms", "week", "month", "free looms", "people", "API looms"}
CROWDED = tuple(page for page in PAGES if page[0] in SHOW_ALL)
SPAN = timedelta(days=14)
TWO_WEEKS_OF_TOOLS = 300
"""So that the week of tools is full in both studios."""
AHEAD = 10
"""Spans that lie ahead on each loom; all others are past and given back, as after many years."""


def copies(things: Iterable[models.Model], many: int) -> Iterator[models.Model]:
    """Give so many unsaved copies, turn by turn."""
    for thing in islice(cycle(list(things)), max(0, many)):
        another = copy(thing)
        another.pk = None
        another._state = copy(thing._state)
        another._state.adding = True
        yield another


@transaction.atomic
def fill(size: Size) -> None:
    """Add to each table what it lacks. Straight into the tables: 10,000 saved sheets would take an hour."""
    fill_looms(size.others)
    fill_people(size.others)
    fill_yarns(size.packages)
    fill_sales()
    fill_moves(size.moves)
    fill_arrivals(size.arrivals)
    fill_bookings(size.bookings)
    fill_tools(max(size.bookings // 5, TWO_WEEKS_OF_TOOLS))
    steward = Member.objects.get(user__username="steward")
    projects = list(copies(Project.objects.order_by("pk")[:10], size.projects - Project.objects.count()))
    for at, project in enumerate(projects):
        project.title = f"{project.title[:80]}, copy {at}"
        project.owner = steward
        project.archived = at % 2 == 0
    Project.objects.bulk_create(projects, batch_size=500)


def fill_looms(many: int) -> None:
    """Add looms, each with one beam."""
    start = Loom.objects.count()
    looms = list(copies(Loom.objects.order_by("pk")[:8], many - start))
    for at, loom in enumerate(looms, start):
        loom.number, loom.nickname = 1000 + at, f"loom copy {at}"
    Loom.objects.bulk_create(looms)
    beams = list(copies(Beam.objects.order_by("pk")[:8], len(looms)))
    for beam, loom in zip(beams, looms, strict=True):
        beam.loom = loom
    Beam.objects.bulk_create(beams)


def fill_people(many: int) -> None:
    """Add members who cannot sign in."""
    start, user = Member.objects.count(), get_user_model()
    users = [user(username=f"copy{at}", password="!") for at in range(start, many)]
    user.objects.bulk_create(users)
    Member.objects.bulk_create(Member(user=one, name=f"Member copy {one.username}") for one in users)


def fill_yarns(packages: int) -> None:
    """Add yarns until each has its packages."""
    start = Yarn.objects.count()
    yarns = list(copies(Yarn.objects.order_by("pk")[:start], packages // PER_YARN - start))
    for at, yarn in enumerate(yarns):
        yarn.colour_name = f"copy {at}"
    Yarn.objects.bulk_create(yarns)
    lacking = [yarn for yarn in Yarn.objects.all() for _ in range(PER_YARN - yarn.packages.count())]
    added = list(copies(Package.objects.order_by("pk")[:10], len(lacking)))
    for at, (package, yarn) in enumerate(zip(added, lacking, strict=True)):
        package.bin_name = f"bin {yarn.pk}" if at % 2 else ""
        package.yarn, package.on_hand_ug, package.promised_ug = yarn, 0, 0
    received = [
        Move(package=package, kind=Move.Kind.RECEIVE, on_hand_ug=package.net_by_scale_ug)
        for package in Package.objects.bulk_create(added)
    ]
    Move.objects.bulk_create(received, batch_size=500)
    Yarn.objects.update(keep_at_least_text="900 kg", keep_at_least_ug=900_000_000_000)  # all run low


def fill_sales() -> None:
    """Let the steward buy a little of the first package, as often as a statement has lines."""
    steward, package = Member.objects.get(user__username="steward"), Package.objects.order_by("pk")[0]
    sale = {"kind": Move.Kind.SELL, "on_hand_ug": -1000, "amount": Decimal("0.10"), "buyer": steward}
    known = Move.objects.filter(buyer=steward).count()
    sales = [Move(package=package, made_by=steward, **sale) for _ in range(known, SALES)]
    Move.objects.bulk_create(sales)


def fill_moves(many: int) -> None:
    """Add readings of the scale, to the first package more than to the others."""
    keys = list(Package.objects.order_by("pk").values_list("pk", flat=True))
    steward = Member.objects.get(user__username="steward")
    turn = chain([keys[0]] * MOVES_OF_ONE, cycle(keys))
    moves = [
        Move(package_id=key, kind=Move.Kind.WEIGH, made_by=steward, scale_text="525 g")
        for key in islice(turn, max(0, many - Move.objects.count()))
    ]
    Move.objects.bulk_create(moves, batch_size=500)


def fill_arrivals(many: int) -> None:
    """Add packages that wait for their names."""
    waiting = Arrival.objects.filter(closed_at=None)
    Arrival.objects.bulk_create(copies(waiting[:4], many - waiting.count()))


def fill_bookings(many: int) -> None:
    """Lay spans end to end on each loom without the demo's own: some ahead, the others back through the years."""
    people = cycle(Member.objects.filter(name__startswith="Member copy"))
    looms = list(Loom.objects.filter(number__gte=1000).order_by("pk")[:42])
    lacking = many - LoomOccupancy.objects.count()
    per_loom = -(-lacking // len(looms))
    LoomOccupancy.objects.filter(loom__in=looms).delete()
    first = timezone.localdate() - timedelta(days=3) + SPAN * min(per_loom - 1, AHEAD)
    made = []
    for loom, back in product(looms, range(per_loom)):
        starts = first - back * SPAN
        state = "reserved" if starts + SPAN > timezone.localdate() else "done"
        person = next(people)
        made.append(
            LoomOccupancy(
                loom=loom, member=person, made_by=person, title=f"Work {back}", starts_on=starts,
                ends_before=starts + SPAN, state=state,
            )
        )  # fmt: skip
    LoomOccupancy.objects.bulk_create(made[: max(lacking, len(looms))], batch_size=500)


def fill_tools(many: int) -> None:
    """Book stations by the hour, three times a day, back through the years."""
    person = Member.objects.filter(name__startswith="Member copy").order_by("pk")[0]
    ToolBooking.objects.filter(member=person).delete()
    stations = list(Station.objects.order_by("pk"))
    midnight = timezone.localtime().replace(hour=0, minute=0, second=0, microsecond=0) + timedelta(days=5)
    made = []
    for at in range(max(0, many - ToolBooking.objects.count())):
        turn, station = divmod(at, len(stations))
        starts = midnight - timedelta(days=turn // 3) + timedelta(hours=18 + turn % 3)
        made.append(
            ToolBooking(
                station=stations[station], member=person, made_by=person, starts_at=starts,
                ends_at=starts + timedelta(hours=1),
            )
        )  # fmt: skip
    ToolBooking.objects.bulk_create(made, batch_size=500)


def ask(browser: Client, address: str) -> HttpResponse:
    """Fetch one page."""
    answer = browser.get(address)
    assert answer.status_code == 200, address
    return answer


def measured(pages: Pages) -> dict[str, Found]:
    """Give the work [ms], the queries and the bytes of each page; the quickest round, since others only add."""
    browser = Client()
    browser.force_login(get_user_model().objects.get(username="steward"))
    found = {}
    for name, address in pages:
        once = partial(ask, browser, address)
        length = len(once().content)
        found[name] = min(taken([once] * ROUNDS).work), queries_of(once), length
    return found


def compare(title: str, pages: Pages, small: dict[str, Found], large: dict[str, Found]) -> None:
    """Say how each page grew, and which are over the budget."""
    rows, over = [], []
    for name, _ in pages:
        (few, asked, length), (many, asked_then, length_then) = small[name], large[name]
        within = many / few <= BUDGET and asked == asked_then
        over += [] if within else [name]
        times = (f"{few:.1f}", f"{many:.1f}", f"{many / few:.2f}")
        sizes = (f"{length / 1024:.0f}", f"{length_then / 1024:.0f}")
        rows.append((name, *times, asked, asked_then, *sizes, "" if within else "over"))
    head = ("page", "small", "large", "ratio", "queries", "then", "KB", "then", f"budget {BUDGET}")
    say_table(title, head, rows)
    say(f"over the budget: {'; '.join(over) or 'none'}")


def main() -> None:
    """Measure one studio as it grows, in one run."""
    fill(SMALL)
    small = measured(PAGES)
    fill(LARGE)
    large = measured(PAGES)
    compare(f"List pages, least work: {SMALL}, then {LARGE}", PAGES, small, large)
    fill(CROWD)
    compare(f"Pages that show every loom or person: {LARGE}, then {CROWD}", CROWDED, large, measured(CROWDED))
