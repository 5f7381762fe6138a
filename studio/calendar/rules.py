"""What the rules of the studio say to a reservation. A refusal names the rule and what would be allowed."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from django.utils import timezone

from studio.calendar.selectors import (
    between,
    in_the_way,
    last_allowed,
    late_on,
    looms_at_once,
    openings,
    tool_in_the_way,
    who_waits,
)
from studio.dates import day_words, days_words, hours_words, span_words
from studio.errors import LoomTaken, NotTrained, RuleSaysNo, StudioError
from studio.loom_states import LoomState
from studio.models import Beam, BookingRules, Briefing, Loom, LoomOccupancy, Member, Reed, Station
from studio.rights import Act, Role, may

Kind = LoomOccupancy.Kind
TRAINED = frozenset({Role.TRAINED, Role.TEACHER, Role.STEWARD})
"""Who may use the risky tools alone by their role; others need the briefing in the book."""
BRIEFED_FOR = {
    Station.Kind.BOX: Briefing.Tool.BOX,
    Station.Kind.RACK: Briefing.Tool.BOX,
    Station.Kind.MILL: Briefing.Tool.MILL,
    Station.Kind.WINDER: Briefing.Tool.WINDER,
}
RIGHT_FOR = {Kind.WARP: Act.RESERVE_LOOM, Kind.CLASS: Act.RESERVE_FOR_OTHERS, Kind.OUT: Act.CLOSE_LOOM}


def refuse_who_may_not(kind: str, member: Member, by: Member) -> None:
    """Refuse what the role does not allow."""
    act = RIGHT_FOR[Kind(kind)]
    if not may(by.role, act):
        raise RuleSaysNo("not_your_role", f"The role of {by} does not allow to {act}.")
    if member.pk != by.pk and not may(by.role, Act.RESERVE_FOR_OTHERS):
        raise RuleSaysNo("not_for_others", "You can reserve for yourself; a teacher or a steward does it for others.")


def refuse_by_rules(
    rules: BookingRules, loom: Loom, member: Member, kind: str, starts_on: date, ends_before: date, today: date
) -> None:
    """Refuse what a rule stands against, before anybody looks whether the loom is free."""
    if loom.retired:
        raise RuleSaysNo("loom_retired", f"Loom {loom} is no longer in use.")
    if kind == Kind.OUT:
        return
    if starts_on < today:
        raise RuleSaysNo("in_the_past", f"That day is past. The first day can be today, {day_words(today)}, or later.")
    ahead = today + timedelta(days=rules.ahead_days)
    if starts_on > ahead:
        sentence = f"A reservation begins at most {days_words(rules.ahead_days)} ahead: by {day_words(ahead)}."
        raise RuleSaysNo("too_far_ahead", sentence)
    if kind == Kind.CLASS:
        return
    _refuse_too_long(rules, starts_on, ends_before)
    refuse_too_many(rules, member, starts_on, ends_before)
    _refuse_untrained(rules, loom, member)


def _refuse_too_long(rules: BookingRules, starts_on: date, ends_before: date) -> None:
    latest = last_allowed(starts_on, rules.longest_days)
    if ends_before > latest:
        last = day_words(latest - timedelta(days=1))
        sentence = f"A reservation is for {days_words(rules.longest_days)} at most: from that day until {last}."
        raise RuleSaysNo("too_long", sentence)


def refuse_too_many(rules: BookingRules, member: Member, starts_on: date, ends_before: date, besides: int = 0) -> None:
    """Refuse one loom more than a role has at once; what stands over its time counts on any day."""
    most = int(getattr(rules, f"looms_{member.role}"))
    count = looms_at_once(member, starts_on, ends_before, besides)
    if count >= most:
        name = Role(member.role).label
        sentence = f"A {name} has {most} loom{'' if most == 1 else 's'} at once at most"
        instead = "Give one back first, or choose other days." if most else "Ask a teacher."
        raise RuleSaysNo("too_many_looms", f"{sentence}, and {member} has {count} in those days. {instead}")


def _refuse_untrained(rules: BookingRules, loom: Loom, member: Member) -> None:
    if not rules.briefing_for_sectional or member.role in TRAINED:
        return
    kinds = {beam.kind for beam in loom.beams.all()}
    if kinds == {Beam.Kind.SECTIONAL} and not _briefed(member, Briefing.Tool.SECTIONAL):
        sentence = f"Loom {loom} has a sectional beam: the safety briefing on crank and brake comes first."
        raise NotTrained("not_briefed", f"{sentence} Ask a teacher for it; a loom with a plain beam needs none.")


def refuse_untrained_at(rules: BookingRules, station: Station, member: Member) -> None:
    """Refuse a station that needs a safety briefing to whoever has not had it."""
    tool = BRIEFED_FOR.get(Station.Kind(station.kind))
    needs_briefing = rules.briefing_for_stations and station.training_needed and member.role not in TRAINED
    if needs_briefing and (tool is None or not _briefed(member, tool)):
        sentence = f"{station} is only for those who had its safety briefing, and for {member} none is recorded."
        raise NotTrained("not_briefed", f"{sentence} Ask a teacher for it.")


def _briefed(member: Member, tool: str) -> bool:
    return member.briefings.filter(tool=tool).exists()


def refuse_taken(loom: Loom, starts_on: date, ends_before: date, besides: int = 0) -> None:
    """Refuse a loom that somebody has in that span, and say when it is free."""
    other = in_the_way(loom, starts_on, ends_before, besides)
    if other is None:
        return
    (opening,) = openings([loom], (ends_before - starts_on).days, starts_on)
    free = f"Free for {days_words((ends_before - starts_on).days)} from {day_words(opening.starts_on)}."
    why = "out of order" if other.kind == Kind.OUT else f"taken by {other.member}"
    raise LoomTaken("loom_taken", f"Loom {loom} is {why}, {span_words(other.starts_on, other.ends_before)}. {free}")


def refuse_closed(loom: Loom, starts_on: date, ends_before: date) -> None:
    """Refuse to close a loom twice."""
    other = between(starts_on, ends_before).filter(loom=loom, kind=Kind.OUT).order_by("starts_on").first()
    if other is not None:
        span = span_words(other.starts_on, other.ends_before)
        raise LoomTaken("loom_closed", f"Loom {loom} is out of order already, {span}.")


def refuse_still_dressed(loom: Loom, starts_on: date, ends_before: date, today: date, besides: int = 0) -> None:
    """Refuse to begin today on a loom that another's work keeps over its time; a later day can be reserved."""
    late = late_on(loom, today, besides) if starts_on <= today else None
    if late is None:
        return
    (opening,) = openings([loom], (ends_before - starts_on).days, starts_on)
    sentence = f"Loom {loom} is not given back: the time of {late.member} ended with {day_words(late.last_day)}."
    raise LoomTaken("loom_taken", f"{sentence} It can be reserved from {day_words(opening.starts_on)}.")


def refuse_tool_taken(
    tool: Station | Reed, starts_at: datetime, ends_at: datetime, besides: Iterable[int] = ()
) -> None:
    """Refuse a tool that somebody has in those hours, and say who."""
    other = tool_in_the_way(tool, starts_at, ends_at, besides)
    if other is not None:
        span = hours_words(timezone.localtime(other.starts_at), timezone.localtime(other.ends_at))
        raise LoomTaken("tool_taken", f"{tool_name(tool)} is with {other.member}, {span}.")


def tool_name(tool: Station | Reed) -> str:
    """Call a tool by what it is."""
    return f"The reed {tool}" if isinstance(tool, Reed) else str(tool)


def refuse_extension(rules: BookingRules, occupancy: LoomOccupancy, ends_before: date, by: Member) -> None:
    """Refuse to lengthen what others wait for, or by more than the rules allow."""
    if ends_before <= occupancy.ends_before or occupancy.kind != Kind.WARP:
        return
    if occupancy.called_back_by is not None:
        raise RuleSaysNo(
            "called_back", f"This loom was called back by {occupancy.called_back_by}; its time stays as it is."
        )
    first = who_waits(occupancy.loom, besides=occupancy.member).first()
    if first is not None and rules.extension_only_if_nobody_waits:
        sentence = f"{first.member} has waited for this loom since {day_words(first.asked_at.date())}"
        raise RuleSaysNo("others_wait", f"{sentence}, and a reservation is extended only while nobody waits.")
    latest = last_allowed(occupancy.ends_before, rules.extension_days)
    if ends_before > latest and not may(by.role, Act.RESERVE_FOR_OTHERS):
        last = day_words(latest - timedelta(days=1))
        sentence = f"A reservation is extended by {days_words(rules.extension_days)} at a time: until {last}."
        raise RuleSaysNo("extension_too_long", sentence)


def refuse_not_begun(occupancy: LoomOccupancy, today: date) -> None:
    """Refuse to note work on a loom before its time begins: until then it is another's, or anybody's."""
    if occupancy.starts_on > today:
        sentence = f"It begins on {day_words(occupancy.starts_on)}: the work is noted from that day on"
        raise RuleSaysNo("not_begun", f"{sentence}. To begin today, change its first day, if the loom is free.")


def refuse_ended(occupancy: LoomOccupancy) -> None:
    """Refuse to touch what is over."""
    if not occupancy.stands:
        raise StudioError("cancelled", "This reservation was cancelled.")
    if occupancy.state == LoomState.DONE:
        raise StudioError("given_back", "This loom was given back already.")
