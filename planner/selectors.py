"""Questions asked of warps: the brief of a sheet with the studio's facts, and lists of warps."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.db.models import Count, Q, QuerySet

from inventory.models import Yarn
from planner.brief_text import Reading, read_brief
from planner.facts import bench_document, loom_document, rules_document, yarn_documents
from planner.models import IssuedCard, Project
from planner.typed_brief import Document, KnownFacts, document_of, field_of_problem, yarn_keys, yarn_label
from studio.models import Beam, Member, Station
from studio.rights import Act, may
from studio.selectors import rules

MOST_YARNS_OFFERED = 600
"""Labels sent with a sheet; a larger yarn room is still reached by typing a label in full."""

MOST_DIGITS = 15
RACKS = (Station.Kind.RACK, Station.Kind.BOX)
BOARDS = (Station.Kind.BOARD, Station.Kind.MILL)
NEEDED: Mapping[str, str] = {
    "loom": "Choose the loom and its beam.",
    "title": "Give the warp a name.",
    "sett": "Say how many ends lie on an inch or a centimetre.",
    "yarns": "Choose the warp yarn.",
}


def facts_for(typed: Mapping[str, Any]) -> KnownFacts:
    """Give what the studio's tables know about a sheet; as many queries for a large warp as for a small one."""
    form = typed["form"]
    beam = _beam(form.get("beam", ""))
    return KnownFacts(
        loom=loom_document(beam.loom, beam) if beam else None,
        yarns=yarn_documents(Yarn.objects.filter(pk__in=yarn_keys(form))),
        rules=rules_document(rules()),
        bench=_bench(form),
    )


def _key(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS else None


def _beam(text: str) -> Beam | None:
    key = _key(text)
    return Beam.objects.select_related("loom").filter(pk=key).first() if key is not None else None


def _bench(form: Mapping[str, str]) -> Document:
    keys = [key for key in (_key(form.get("rack", "")), _key(form.get("board", ""))) if key is not None]
    return bench_document(Station.objects.filter(pk__in=keys)) if keys else {}


def beam_of(typed: Mapping[str, Any]) -> Beam | None:
    """Give the beam a sheet names, with its loom."""
    return _beam(typed["form"].get("beam", ""))


def document_of_sheet(typed: Mapping[str, Any]) -> Document:
    """Give the brief document of a sheet, with the studio's facts in it."""
    return document_of(typed, facts_for(typed))


def read_sheet(typed: Mapping[str, Any]) -> Reading:
    """Read a sheet: the complete brief, or everything that is wrong with it."""
    return read_brief(document_of_sheet(typed))


def mistakes_of(reading: Reading, typed: Mapping[str, Any]) -> dict[str, list[str]]:
    """Give each mistake beside the field of the sheet it belongs to, in the order of the document."""
    found: dict[str, list[str]] = {}
    for problem in reading.problems:
        sentences = found.setdefault(field_of_problem(problem.field, typed["form"]), [])
        sentence = NEEDED.get(problem.field, problem.message) if problem.code == "missing" else problem.message
        if sentence not in sentences:
            sentences.append(sentence)
    return found


def may_change(project: Project, member: Member) -> bool:
    """Say whether a member may change a warp: her own, or anybody's for those who look after others."""
    return project.owner_id == member.pk or may(member.role, Act.OPEN_OTHERS_WARPS)


def find_warps(text: str) -> QuerySet[Project]:
    """Give the warps in which every word is found: title, owner, loom or yarns."""
    found = Project.objects.select_related("owner", "loom").defer("typed", "complete")
    for word in text.replace("\x00", "").split()[:8]:
        places = ("title", "owner__name", "loom__nickname", "words")
        wanted = Q()
        for place in places:
            wanted |= Q(**{f"{place}__icontains": word})
        found = found.filter(wanted)
    return found


def warps_to_show(*, member: Member, whose: str, text: str) -> QuerySet[Project]:
    """Give the warps of a list: mine, everyone's, or those put away."""
    found = find_warps(text)
    if whose == "away":
        return found.filter(archived=True)
    found = found.filter(archived=False)
    return found if whose == "all" else found.filter(owner=member)


def cards_issued(projects: Iterable[Project]) -> dict[int, int]:
    """Count the cards of each warp of a page, in one question."""
    keys = [project.pk for project in projects]
    counted = IssuedCard.objects.filter(project__in=keys).order_by().values("project").annotate(n=Count("pk"))
    return dict(counted.values_list("project", "n"))


def cards_of(project: Project) -> QuerySet[IssuedCard]:
    """Give the cards of one warp, latest first, without their heavy parts."""
    light = ("number", "project", "version", "digest", "loom_name", "issued_by", "issued_at")
    return IssuedCard.objects.filter(project=project).select_related("issued_by").only(*light, "issued_by__name")


def beams_offered() -> QuerySet[Beam]:
    """Give the beams of the looms in use, by loom number."""
    return Beam.objects.select_related("loom").filter(loom__retired=False).order_by("loom__number", "pk")


def stations_offered() -> QuerySet[Station]:
    """Give the stations that matter to a plan: racks, boxes, boards and mills."""
    return Station.objects.filter(kind__in=(*RACKS, *BOARDS), retired=False)


def yarn_labels() -> list[str]:
    """Give the labels of the yarn room, to be found by typing."""
    kept = Yarn.objects.filter(retired=False).values_list("name", "colour_name", "pk")[:MOST_YARNS_OFFERED]
    return [yarn_label(name, colour_name, key) for name, colour_name, key in kept]
