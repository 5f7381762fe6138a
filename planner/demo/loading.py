"""Load the invented studio through the same deeds that pages use, so that the demo can hold nothing they refuse."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.contrib.auth import get_user_model
from django.contrib.auth.hashers import make_password
from django.db import transaction
from django.utils import timezone

from inventory.models import Yarn
from inventory.shelf.services import YarnFacts, keep_yarn, receive_package
from planner.brief.sheet_input import typed_from_document
from planner.calibration.services import record_calibration
from planner.demo.arrivals import take_in_a_donation
from planner.demo.calendar import keep_calendar
from planner.demo.care import keep_looms_sound
from planner.demo.data import (
    CALIBRATIONS,
    LOOMS,
    REEDS,
    STATIONS,
    WARPS,
    YARNS,
    DemoBeam,
    DemoCalibration,
    DemoLoom,
    DemoWarp,
    DemoYarn,
)
from planner.demo.ledger import keep_ledger
from planner.demo.people import LOCAL_RULES, MEMBERS, PASSWORD, STUDIO_NAME, DemoMember
from planner.models import Project
from planner.sheet.services import save_project
from planner.yarn.wanted_services import WantedDetails, order_yarn, want_yarn
from studio.looms.services import keep_beam, keep_loom, keep_reed, keep_station, measure_beam
from studio.models import Beam, Loom, Member, Station
from studio.people.services import record_briefing
from studio.rules.services import keep_rules
from studio.units import read, to_decimal

LENGTHS = frozenset({
    "weaving_width", "waste", "circumference", "usable_width", "pitch", "divider", "rake_height", "leader",
    "path_longest", "path_step", "raddle_space", "width", "start", "end", "tape",
})  # fmt: skip
DAYS_SINCE_MEASURED = 60
WAITING = ("One hand-dyed stripe", ("8/4 cotton", "cochineal, hand-dyed"))
DAYS_TO_WAIT = 20


@dataclass(frozen=True, slots=True)
class Loaded:
    """What the demo studio holds."""

    looms: int
    yarns: int
    packages: int
    members: int
    warps: int


@transaction.atomic
def load_studio() -> bool:
    """Load the invented studio into an empty database, whole or not at all; a studio that is there stays as it is."""
    if Member.objects.exists() or Loom.objects.exists():
        return False
    keep_rules(values={"name": STUDIO_NAME, "local_rules": LOCAL_RULES})
    members = _members()
    steward = members[MEMBERS[0].username]
    beams = {beam for demo in LOOMS for beam in _loom(demo, steward)}
    _tools()
    yarns = {(demo.name, demo.colour_name): _yarn(demo, steward) for demo in YARNS}
    for taped in CALIBRATIONS:
        _calibration(taped, steward, beams, yarns)
    for planned in WARPS:
        _warp(planned, members[planned.owner], beams, yarns)
    keep_ledger(members, yarns)
    take_in_a_donation(members)
    _wanted(yarns, members)
    keep_looms_sound(members)
    keep_calendar(members)
    return True


def _wanted(yarns: Mapping[tuple[str, str], Yarn], members: Mapping[str, Member]) -> None:
    """Let the hand-dyed stripe wait for the rest of its yarn, which was ordered from the dyer."""
    warp = Project.objects.get(title=WAITING[0])
    which, asked = (
        str(yarns[WAITING[1]].pk),
        WantedDetails(expected_on=_days_ago(-DAYS_TO_WAIT), note="Pot 7, same recipe"),
    )
    wanted = want_yarn(warp=warp, which=which, by=warp.owner, asked=asked)
    order_yarn(wanted=wanted, by=members["steward"], expected_on=asked.expected_on, note=asked.note)


def _members() -> dict[str, Member]:
    """Let everybody in; one hash does for all, since hashing twelve times would keep the visitor waiting."""
    hashed = make_password(PASSWORD)
    members = {demo.username: _member(demo, hashed) for demo in MEMBERS}
    steward = members[MEMBERS[0].username]
    for demo in MEMBERS:
        for tool in demo.briefed:
            record_briefing(member=members[demo.username], tool=tool, done_on=_days_ago(90), by=steward)
    return members


def _member(demo: DemoMember, hashed: str) -> Member:
    user = get_user_model()(username=demo.username, password=hashed)
    user.full_clean()
    user.save()
    member = Member(user=user, name=demo.name, role=demo.role, units=demo.units)
    member.full_clean()
    member.save()
    return member


def _loom(demo: DemoLoom, steward: Member) -> list[Beam]:
    known = {"number": demo.number, "nickname": demo.nickname, "heddles": list(demo.heddles)}
    loom = keep_loom(loom=None, values=known | _columns(demo.facts))
    return [_beam(loom, beam, steward) for beam in demo.beams]


def _beam(loom: Loom, demo: DemoBeam, steward: Member) -> Beam:
    values = {"name": demo.name, "measured_on": _days_ago(DAYS_SINCE_MEASURED), **_columns(demo.facts)}
    beam = keep_beam(beam=None, loom=loom, values=values, by=steward)
    for text, days, note in demo.before:
        measure_beam(beam=beam, circumference_cm=_cm(text), measured_on=_days_ago(days), by=steward, note=note)
    return beam


def _tools() -> None:
    looms = {loom.number: loom for loom in Loom.objects.all()}
    for dents, per, length, number in REEDS:
        kept_with = looms[number] if number else None
        values = {"dents": Decimal(dents), "per": per, "reed_length_cm": _cm(length), "kept_with": kept_with}
        mark = f"loom {number}" if number else ""
        keep_reed(reed=None, values={**values, "mark": mark})
    for station in STATIONS:
        keep_station(station=None, values=_columns(station))


def _yarn(demo: DemoYarn, steward: Member) -> Yarn:
    label = demo.label
    density = label.get("density")
    facts = YarnFacts(
        name=demo.name,
        fibre=demo.fibre,
        count_text=label.get("count", ""),
        grist_text=label.get("grist", ""),
        wraps_text=label.get("wraps", ""),
        colour_name=demo.colour_name,
        colour=demo.colour,
        wound_density=Decimal(density) if density else None,
        price_per_100g=Decimal(demo.price),
        keep_at_least_text=demo.keep_at_least,
    )
    yarn = keep_yarn(facts=facts)
    for package in demo.packages:
        receive_package(yarn=yarn, facts=package, by=steward)
    return yarn


def _calibration(
    demo: DemoCalibration, steward: Member, beams: set[Beam], yarns: Mapping[tuple[str, str], Yarn]
) -> None:
    beam = next(beam for beam in beams if (beam.loom.number, beam.name) == (demo.loom, demo.beam))
    yarn = next(yarn for (name, _colour), yarn in yarns.items() if name == demo.yarn)
    values = {**_columns(demo.facts), "measured_on": _days_ago(demo.days_ago)}
    record_calibration(beam=beam, yarn=yarn, values=values, by=steward)


def _warp(demo: DemoWarp, owner: Member, beams: set[Beam], yarns: Mapping[tuple[str, str], Yarn]) -> Project:
    beam = next(beam for beam in beams if (beam.loom.number, beam.name) == (demo.loom, demo.beam))
    document: dict[str, Any] = {**demo.brief, "units": demo.units.value}
    document["yarns"] = [
        {"code": code, **_named(yarns[name]), "sett": demo.setts.get(code)} for code, name in demo.yarns.items()
    ]
    if demo.weft:
        document["weft"] = _named(yarns[demo.weft])
    typed = typed_from_document(document, beam.pk)
    typed["form"] |= _winding(demo.brief["method"])
    return save_project(owner=owner, typed=typed, by=owner)


def _named(yarn: Yarn) -> dict[str, Any]:
    return {"name": yarn.name, "colour_name": yarn.colour_name, "yarn_id": yarn.pk}


def _winding(method: str) -> dict[str, str]:
    """Choose the big box or the board, as the sheet's own lists would."""
    field, kind = ("rack", Station.Kind.BOX) if method == "box" else ("board", Station.Kind.BOARD)
    return {field: str(Station.objects.get(kind=kind).pk)}


def _columns(facts: Mapping[str, Any]) -> dict[str, Any]:
    return {f"{name}_cm" if name in LENGTHS else name: _cm(v) if name in LENGTHS else v for name, v in facts.items()}


def _cm(text: str) -> Decimal:
    return to_decimal(Fraction(read(text, "length", None)))


def _days_ago(days: int) -> date:
    return timezone.localdate() - timedelta(days=days)
