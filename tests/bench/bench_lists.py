"""How the list pages grow: 50 rows of each kind against a studio of many years.

Run by hand: python -m tests.bench lists. Machines differ, so the ratio within one run is the budget. The ledger
of moves and the bookings are not there yet; when they are, 50,000 and 20,000 of them belong in `fill`.
"""

from collections.abc import Iterable, Iterator
from copy import copy
from dataclasses import dataclass
from functools import partial
from itertools import cycle, islice

from django.contrib.auth import get_user_model
from django.db import models, transaction
from django.http import HttpResponse
from django.test import Client

from inventory.models import Package, Yarn
from planner.models import Project
from studio.models import Beam, Loom, Member
from tests.bench.clock import queries_of, say, say_table, share, taken

BUDGET = 2
ROUNDS = 15
PER_YARN = 4
"""Packages of each yarn in both studios, so that a row is the same work."""


@dataclass(frozen=True, slots=True)
class Size:
    """How much a studio holds."""

    projects: int
    packages: int
    others: int
    """Looms, and people, each."""


SMALL = Size(50, 50 * PER_YARN, 50)
LARGE = Size(10_000, 2_000, 300)

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
    ("search, a word found in all", "/search/?q=copy"),
    ("API yarns", "/api/yarns/"),
    ("one warp's sheet", "/warps/1/"),
    ("looms *", "/looms/"),
    ("people *", "/people/"),
    ("API looms *", "/api/looms/"),
)


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
    steward = Member.objects.get(user__username="steward")
    projects = list(copies(Project.objects.order_by("pk")[:10], size.projects - Project.objects.count()))
    for at, project in enumerate(projects):
        project.title = f"{project.title[:80]}, copy {at}"
        project.owner = steward if at % 2 else project.owner
        project.archived = at % 5 == 0
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
    for package, yarn in zip(added, lacking, strict=True):
        package.yarn = yarn
    Package.objects.bulk_create(added)


def ask(browser: Client, address: str) -> HttpResponse:
    """Fetch one page."""
    answer = browser.get(address)
    assert answer.status_code == 200, address
    return answer


def measured(size: Size) -> dict[str, tuple[float, int, int]]:
    """Give the work [ms], the queries and the bytes of each page in a studio of this size."""
    fill(size)
    browser = Client()
    browser.force_login(get_user_model().objects.get(username="steward"))
    found = {}
    for name, address in PAGES:
        once = partial(ask, browser, address)
        length = len(once().content)
        found[name] = share(taken([once] * ROUNDS).work, 50), queries_of(once), length
    return found


def main() -> None:
    """Measure both studios one after the other, in one run."""
    small, large = measured(SMALL), measured(LARGE)
    rows, over = [], []
    for name, _ in PAGES:
        (few, asked, length), (many, asked_then, length_then) = small[name], large[name]
        ratio = many / few
        within = ratio <= BUDGET and asked == asked_then
        over += [] if within else [name]
        rows.append((name, f"{few:.1f}", f"{many:.1f}", f"{ratio:.2f}", asked, asked_then,
                     f"{length / 1024:.0f}", f"{length_then / 1024:.0f}", "" if within else "over"))  # fmt: skip
    head = ("page", "50 rows", "large", "ratio", "queries", "large", "KB", "large", f"budget {BUDGET}")
    say_table(f"List pages, median work: {SMALL}, then {LARGE}", head, rows)
    say("* one page however many there are: 300 looms or people are beyond the budget's own list")
    say(f"over the budget: {', '.join(over) or 'none'}")
