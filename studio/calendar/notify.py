"""Tell people what they should know, each thing once: the key of a notice says what makes it one.

Some are written by the deed itself (a loom called back, freed, offered), the rest by `make_notices`, as often as it is
run and by as many at once as like.
"""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from studio.calendar import notice_words as words
from studio.calendar.selectors import booking_rules, overdue, to_look_at
from studio.calendar.to_tell import ending, looms_waited_for, next_to_tell, stewards, waiting_besides
from studio.models import Fault, Loom, LoomOccupancy, Member, Notice, SeatTime

Kind = Notice.Kind


def tell(*, member: Member, kind: str, key: str, text: str, loom: Loom, occupancy: LoomOccupancy | None = None) -> bool:
    """Write a notice unless it was written before; say whether it is new. The database holds its key once."""
    facts = {"member": member, "kind": kind, "text": text, "loom": loom, "occupancy": occupancy}
    return Notice.objects.get_or_create(key=f"{kind}:{key}", defaults=facts)[1]


def make_notices(*, today: date) -> int:
    """Write what is to be told on a day and was not yet; give how many are new."""
    rules = booking_rules()
    made = 0
    for held in ending(today, rules):
        made += _about(held, held.member, Kind.ENDING, f"{held.pk}:{held.ends_before}", words.ending(held))
    for held in to_look_at(today):
        made += _about(held, held.member, Kind.REVIEW, f"{held.pk}:{held.review_on}", words.review(held))
    everybody = stewards()
    for held in overdue(today):
        cut_off_on = held.ends_before + timedelta(days=rules.overdue_days)
        for reader in {held.member, *everybody}:
            key = f"{held.pk}:{held.ends_before}:{reader.pk}"
            made += _about(held, reader, Kind.OVERDUE, key, words.overdue(held, reader, cut_off_on))
    return made + sum(tell_who_waits(loom=loom, today=today) for loom in looms_waited_for())


def _about(held: LoomOccupancy, reader: Member, kind: str, key: str, text: str) -> bool:
    return tell(member=reader, kind=kind, key=key, text=text, loom=held.loom, occupancy=held)


@transaction.atomic
def tell_who_waits(*, loom: Loom, today: date) -> bool:
    """Tell the next in the queue that a loom is free, if it is and nobody else has the choice just now."""
    held, rules = Loom.objects.select_for_update().get(pk=loom.pk), booking_rules()
    place = next_to_tell(held, today, rules)
    if place is None:
        return False
    place.told_at = timezone.now()
    place.save(update_fields=["told_at"])
    text = words.free(place, today + timedelta(days=rules.queue_days))
    return tell(member=place.member, kind=Kind.FREE, key=f"{place.pk}:{today}", text=text, loom=held)


def tell_called_back(*, held: LoomOccupancy, by: Member, note: str) -> None:
    """Tell who has a loom that it is called back."""
    if held.member_id != by.pk:
        _about(held, held.member, Kind.CALLED, f"{held.pk}:{held.ends_before}", words.called(held, by, note))


def tell_offered(*, held: LoomOccupancy) -> None:
    """Tell who waits for a loom that a warp on it is open to take over."""
    for place in waiting_besides(held):
        _about(held, place.member, Kind.OFFERED, f"{held.pk}:{place.member_id}", words.offered(held))


def take_offer_back(*, held: LoomOccupancy) -> None:
    """Take the notices of an offer back when it no longer stands; a new offer is told anew."""
    Notice.objects.filter(occupancy=held, kind=Kind.OFFERED).delete()


def tell_taken_over(*, held: LoomOccupancy, taker: Member) -> None:
    """Tell the former owner who took her loom over."""
    _about(held, held.member, Kind.TAKEN, str(held.pk), words.taken(held, taker))


def tell_hours_lost(*, seat: SeatTime, by: Member) -> None:
    """Tell who booked hours at a class warp that they are cancelled, for the warp is gone by then."""
    if seat.member_id != by.pk:
        _about(seat.occupancy, seat.member, Kind.HOURS, str(seat.pk), words.hours_lost(seat, by))


def tell_out_of_order(*, held: LoomOccupancy, by: Member, fault: Fault | None, why: str) -> None:
    """Tell who has a loom that it is out of order; the fault that stands open makes it one notice."""
    if fault is not None and held.member_id != by.pk:
        _about(held, held.member, Kind.BROKEN, f"{fault.pk}:{held.pk}", words.out_of_order(held, by, why))
