"""How long the server takes for the plan that follows each keystroke: 200 requests, the sett changed in each.

Run by hand: python -m tests.bench live_plan. Whole requests through Django's test client: session, member, form,
facts from the database, the plan and its page.
"""

from fractions import Fraction
from functools import partial

from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from planner.models import Project
from studio.units import read
from tests.bench.clock import HEAD, joined, queries_of, say, say_table, share, taken

BUDGET_MS = 40
SETTS = 20
"""Different setts for each of the ten warps."""


def typed_with_sett(project: Project, change: int) -> dict[str, str]:
    """Give the sheet as posted, its sett changed by so many fiftieths."""
    typed = project.typed
    per_cm = Fraction(read(typed["form"]["sett"], "sett", None)) if " " in typed["form"]["sett"] else None
    assert per_cm, "the demo writes its setts with their unit"
    changed = per_cm * (1 + Fraction(change, 50))
    return {**typed["form"], "units": typed["units"], "sett": f"{float(changed * 10):.3f} /10 cm"}


def plan_once(browser: Client, data: dict[str, str]) -> HttpResponse:
    """Ask as htmx does, and insist on a plan: an answer without one would be quick for the wrong reason."""
    answer = browser.post(reverse("warp-plan"), data, headers={"HX-Request": "true", "HX-Target": "plan"})
    assert answer.status_code == 200
    assert "plan-figures" in answer.text, f"no plan for {data['title']!r} at {data['sett']}"
    return answer


def main() -> None:
    """Measure each demo warp, then all together."""
    rows, all_times, every = [], [], []
    for project in Project.objects.select_related("owner__user").order_by("pk"):
        browser = Client()
        browser.force_login(project.owner.user)
        sheets = [typed_with_sett(project, change - SETTS // 2) for change in range(SETTS)]
        ask = [partial(plan_once, browser, sheet) for sheet in sheets]
        answer = plan_once(browser, typed_with_sett(project, SETTS))  # warm, and a sett of its own
        queries = queries_of(ask[0])
        times = taken(ask)
        all_times.append(times)
        every.append(len(sheets))
        rows.append((project.title, project.ends, queries, f"{len(answer.content) / 1024:.0f}", *times.row()))
    total = joined(all_times)
    rows.append((f"all {sum(every)} requests", "", "", "", *total.row()))
    say_table("Live plan, POST warps/plan/", ("warp", "ends", "queries", "KB", *HEAD), rows)
    say(f"budget {BUDGET_MS} ms at p95; measured {share(total.wall, 95):.1f} wall, {share(total.work, 95):.1f} work")
