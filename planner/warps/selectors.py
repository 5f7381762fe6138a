"""Questions asked of warps: the brief of a sheet with the studio's facts, and lists of warps."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import Any

from django.db.models import Count, Q, QuerySet

from inventory.models import Yarn
from planner.brief.document import Reading, read_brief
from planner.brief.sheet_input import (
    Document,
    KnownFacts,
    document_of,
    field_of_problem,
    names_typed,
    still_needed,
    yarn_keys,
)
from planner.brief.yarn_names import meant, printed, which_one, words_of, yarn_label
from planner.calc.terms.problems import Problem
from planner.calibration.selectors import with_densities
from planner.models import IssuedCard, Project
from planner.warps.from_database import bench_part, loom_facts, rules_part, yarn_for, yarn_part
from studio.models import Beam, Loom, Member, Station
from studio.rights import Act, may
from studio.rules.selectors import studio_rules

MOST_YARNS_OFFERED = 600
"""Labels sent with a sheet; a larger yarn room is still reached by typing a label in full."""

MOST_DIGITS = 15
NO_COUNT = "Give the count of this yarn, such as 8/2 cotton, or choose one of the yarn room."
RACKS = (Station.Kind.RACK, Station.Kind.BOX)
BOARDS = (Station.Kind.BOARD, Station.Kind.MILL)


@dataclass(frozen=True, slots=True)
class Fault:
    """One mistake of a sheet: the field it stands beside, and a sentence."""

    field: str
    text: str


def facts_for(typed: Mapping[str, Any], warp: Project | None = None) -> KnownFacts:
    """Give what the studio's tables know about a sheet; as many queries for a large warp as for a small one.

    A saved warp can count on its owner's own yarn too, and on what is set aside for it.
    """
    form = typed["form"]
    beam = _beam(form.get("beam", ""))
    called = {label: next(iter(found)) for label, found in _called(form).items() if len(found) == 1}
    return KnownFacts(
        loom=loom_facts(beam.loom, beam) if beam else None,
        yarns=_yarns(yarn_keys(form) | set(called.values()), warp),
        meant=called,
        rules=rules_part(studio_rules()),
        bench=_bench(form),
    )


def _key(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS else None


def _beam(text: str) -> Beam | None:
    key = _key(text)
    return Beam.objects.select_related("loom").filter(pk=key).first() if key is not None else None


def _yarns(keys: set[int], warp: Project | None) -> dict[int, Document]:
    """Give the yarns a sheet names, with what of each this warp could have."""
    found = list(Yarn.objects.filter(pk__in=keys)) if keys else []
    free = yarn_for(warp, found) if found else {}
    return {yarn.pk: yarn_part(yarn, free[yarn.pk]) for yarn in found}


def _called(form: Mapping[str, str]) -> dict[str, dict[int, str]]:
    """Give the yarns that each typed name may mean, in one question for all; a comma comes after a yarn's name."""
    labels = set(names_typed(form).values())
    if not labels:
        return {}
    some = (Q(name__istartswith=label.partition(",")[0].strip()) | _has_first_word(label) for label in labels)
    kept = Yarn.objects.filter(reduce(or_, some), retired=False).values_list("pk", "name", "colour_name")
    names = {key: printed(name, colour_name) for key, name, colour_name in kept[:MOST_YARNS_OFFERED]}
    return {label: {key: names[key] for key in meant(label, names)} for label in labels}


def _has_first_word(label: str) -> Q:
    """Ask for the yarns that hold the first word; which of them has all of them is looked at afterwards."""
    word = next(iter(words_of(label)), label)
    return Q(name__icontains=word) | Q(colour_name__icontains=word)


def _bench(form: Mapping[str, str]) -> Document:
    """Give what the winding tools allow: those chosen, and where none was chosen the studio's best."""
    rack, board = _key(form.get("rack", "")), _key(form.get("board", ""))
    usable = []
    for station in Station.objects.filter(retired=False):
        chosen = rack if station.kind in RACKS else board if station.kind in BOARDS else None
        if chosen is None or station.pk == chosen:
            usable.append(station)
    return bench_part(usable)


def beam_of(typed: Mapping[str, Any]) -> Beam | None:
    """Give the beam a sheet names, with its loom."""
    return _beam(typed["form"].get("beam", ""))


def other_beam(beam: Beam | None) -> Beam | None:
    """Give another warp beam of the same loom, the first there is."""
    return None if beam is None else Beam.objects.filter(loom=beam.loom_id).exclude(pk=beam.pk).order_by("pk").first()


def read_sheet(typed: Mapping[str, Any], warp: Project | None = None) -> Reading:
    """Read a sheet, of a saved warp or of none yet: the complete brief, or everything that is wrong with it."""
    beam = _key(typed["form"].get("beam", ""))
    document = document_of(typed, facts_for(typed, warp))
    return read_brief(document, measured=lambda brief: with_densities(brief, beam))


def _fault(field: str, problem: Problem) -> Fault:
    """Say a mistake to someone at the sheet; the document's own words are for those who write JSON."""
    if problem.code == "not_whole":
        return Fault(field, "Give a whole number, such as 8.")
    if problem.code == "missing" and field.endswith("-grist"):
        return Fault(field, NO_COUNT)
    return Fault(field, problem.message)


def faults_of(reading: Reading, typed: Mapping[str, Any]) -> tuple[Fault, ...]:
    """Give each mistake beside its field, in the order of the document; what is only missing is no mistake."""
    form = typed["form"]
    missing = set(still_needed(form))
    found = [_fault(field_of_problem(problem.field, form), problem) for problem in reading.problems]
    unclear = _unclear(form) if any(fault.text == NO_COUNT for fault in found) else {}
    said = (unclear.get(fault.field, fault) for fault in found if fault.field not in missing)
    return tuple(dict.fromkeys(said))


def _unclear(form: Mapping[str, str]) -> dict[str, Fault]:
    """Ask which yarn is meant, in place of asking for the count of a name that several yarns share."""
    called = _called(form)
    several = {prefix: called[label] for prefix, label in names_typed(form).items() if len(called[label]) > 1}
    return {f"{prefix}grist": Fault(f"{prefix}yarn", which_one(names)) for prefix, names in several.items()}


def may_change(project: Project, member: Member) -> bool:
    """Say whether a member may change a warp: her own, or anybody's for those who look after others."""
    return project.owner_id == member.pk or may(member.role, Act.OPEN_OTHERS_WARPS)


def _holds(word: str) -> Q:
    """Ask members and looms once for all, not once for each warp."""
    members = Member.objects.filter(name__icontains=word).order_by().values("pk")
    looms = Loom.objects.filter(nickname__icontains=word).order_by().values("pk")
    said = Q(title__icontains=word) | Q(words__icontains=word)
    return said | Q(owner__in=members) | Q(loom__in=looms)


def find_warps(text: str) -> QuerySet[Project]:
    """Give the warps in which every word is found: title, owner, loom or yarns."""
    found = Project.objects.select_related("owner", "loom").defer("typed", "complete")
    for word in text.replace("\x00", "").split()[:8]:
        found = found.filter(_holds(word))
    return found


def warps_to_show(*, member: Member, whose: str, text: str) -> QuerySet[Project]:
    """Give the warps of a list: mine, everyone's, or the archived ones."""
    # A list of one value reads as an equation, which an index can answer; Django's "NOT archived" cannot.
    found = find_warps(text).filter(archived__in=[whose == "away"])
    return found.filter(owner=member) if whose == "mine" else found


def warps_in_order(keys: Iterable[int]) -> list[Project]:
    """Give the warps of one page in its order; their keys were counted off without a look at the rows."""
    wanted = list(keys)
    found = {project.pk: project for project in find_warps("").filter(pk__in=wanted)}
    return [found[key] for key in wanted if key in found]


def cards_issued(projects: Iterable[Project]) -> dict[int, int]:
    """Count the cards of each warp of a page, in one question."""
    keys = [project.pk for project in projects]
    counted = IssuedCard.objects.filter(project__in=keys).order_by().values("project").annotate(n=Count("pk"))
    return dict(counted.values_list("project", "n"))


def cards_of(project: Project) -> QuerySet[IssuedCard]:
    """Give the cards of one warp, latest first, without their heavy parts."""
    found = IssuedCard.objects.filter(project=project).select_related("issued_by", "beam__loom")
    return found.defer("brief", "plan", "html", "pdf")


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


def first_beam() -> str:
    """Give the only beam there is, so that a studio of one loom need not choose."""
    keys = list(beams_offered().values_list("pk", flat=True)[:2])
    return str(keys[0]) if len(keys) == 1 else ""
