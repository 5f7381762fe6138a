"""How long a warping card takes with the worker warm, and how long when it is printed again.

Run by hand: python -m tests.bench card. Each demo warp gets its card: the PDF alone is drawn, then all of it from the
button to the paper, a new card each time, then the stored PDF is fetched again.
"""

from functools import partial
from io import BytesIO

from django.http import HttpResponse
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from planner.models import IssuedCard, Project
from studio.files.pdf import render_pdf
from tests.bench.clock import Taken, say, say_table, share, taken

BUDGET_MS, AGAIN_MS = 350, 10
ROUNDS, AGAIN = 7, 50
PAGES = 2


def issue(browser: Client, project: Project) -> HttpResponse:
    """Press the button: one card, for the warp's own loom."""
    address = reverse("cards-issue", args=[project.pk])
    answer = browser.post(address, {"beams": [project.beam_id], "paper": "A4"})
    assert answer.status_code == 302, f"no card for {project.title!r}"
    return answer


def fetch(browser: Client, card: IssuedCard) -> HttpResponse:
    """Print again."""
    answer = browser.get(reverse("card-pdf", args=[card.number]))
    assert answer["Content-Type"] == "application/pdf"
    return answer


def print_anew(browser: Client, project: Project) -> HttpResponse:
    """Press the button and open the paper, as if no card of this warp had ever been made."""
    IssuedCard.objects.filter(project=project).delete()
    issue(browser, project)
    return fetch(browser, IssuedCard.objects.get(project=project))


def both(times: Taken) -> tuple[str, str]:
    """Give the least work, to which others on the machine add nothing, and the median on the wall."""
    return f"{min(times.work):.1f}", f"{share(times.wall, 50):.1f}"


def measured(project: Project) -> tuple[int, tuple[object, ...], Taken, Taken]:
    """Give the pages of one warp's card, its row, and the times of the button and of printing again."""
    browser = Client()
    browser.force_login(project.owner.user)
    issue(browser, project)  # warm: fonts found, templates read
    button = taken([partial(print_anew, browser, project)] * ROUNDS)
    card = IssuedCard.objects.get(project=project)
    paper = fetch(browser, card).content
    drawn = taken([partial(render_pdf, card.html)] * ROUNDS)
    again = taken([partial(fetch, browser, card)] * AGAIN)
    pages = len(PdfReader(BytesIO(paper)).pages)
    row = (project.title, pages, f"{len(paper) / 1024:.0f}", *both(drawn), *both(button), *both(again))
    return pages, row, button, again


def main() -> None:
    """Measure the card of each demo warp that can have one."""
    projects = Project.objects.exclude(digest="").select_related("owner__user", "loom").order_by("pk")
    found = [measured(project) for project in projects if may_print(project)]
    head = ("card of", "pages", "KB", "draw least", "p50", "all least", "p50", "again least", "p50")
    say_table("Warping cards: draw the PDF; all, from button to paper; print again", head, [f[1] for f in found])
    worst = [button for pages, _, button, _ in found if pages == PAGES]
    least, usual = max(min(times.work) for times in worst), max(share(times.wall, 50) for times in worst)
    say(f"budget {BUDGET_MS} ms for a card of two pages, button to paper; slowest {least:.0f} least, {usual:.0f} p50")
    again = max(share(times.wall, 50) for *_, times in found)
    say(f"budget {AGAIN_MS} ms for printing again; slowest {again:.1f} p50")


def may_print(project: Project) -> bool:
    """Leave out a warp that its loom refuses."""
    browser = Client()
    browser.force_login(project.owner.user)
    answer = browser.post(reverse("cards-issue", args=[project.pk]), {"beams": [project.beam_id], "paper": "A4"})
    return answer.status_code == 302
