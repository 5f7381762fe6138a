"""Tell people what they should know, each thing once: the key of a notice says what makes it one.

Some are written by the action itself (a loom called back, freed, offered), the rest by `make_notices`, as often as it
is run and by as many at once as like.
"""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from studio.calendar import notice_words as words
from studio.calendar.selectors import overdue, to_look_at
from studio.calendar.to_tell import ending, looms_waited_for, next_to_tell, stewards, waiting_besides
from studio.models import Fault, Loom, LoomOccupancy, Member, Notice, SeatTime
from studio.rules.selectors import booking_rules

Kind = Notice.Kind


def tell(*, member: Member, kind: str, key: str, text: str, loom: Loom, occupancy: LoomOccupancy | None = None) -> bool:
    """Write a notice unless it was written before; say whether it is new. The database holds its key once."""
    facts = {"member": member, "kind": kind, "text": text, "loom": loom, "occupancy": occupancy}
    return Notice.objects.get_or_create(key=f"{kind}:{key}", defaults=facts)[1]


def make_notices(*, today: date) -> int:
    """Write what is to be told on a day and was not yet; give how many are new."""
    rules = booking_rules()
    count = 0
    for occupancy in ending(today, rules):
        count += _about(
            occupancy, occupancy.member, Kind.ENDING, f"{occupancy.pk}:{occupancy.ends_before}", words.ending(occupancy)
        )
    for occupancy in to_look_at(today):
        count += _about(
            occupancy, occupancy.member, Kind.REVIEW, f"{occupancy.pk}:{occupancy.review_on}", words.review(occupancy)
        )
    everybody = stewards()
    for occupancy in overdue(today):
        cut_off_on = occupancy.ends_before + timedelta(days=rules.overdue_days)
        for reader in {occupancy.member, *everybody}:
            key = f"{occupancy.pk}:{occupancy.ends_before}:{reader.pk}"
            count += _about(occupancy, reader, Kind.OVERDUE, key, words.overdue(occupancy, reader, cut_off_on))
    return count + sum(tell_who_waits(loom=loom, today=today) for loom in looms_waited_for())


def _about(occupancy: LoomOccupancy, reader: Member, kind: str, key: str, text: str) -> bool:
    return tell(member=reader, kind=kind, key=key, text=text, loom=occupancy.loom, occupancy=occupancy)


def _tell_owner(occupancy: LoomOccupancy, kind: str, key: str, text: str) -> bool:
    return _about(occupancy, occupancy.member, kind, key, text)


@transaction.atomic
def tell_who_waits(*, loom: Loom, today: date) -> bool:
    """Tell the next in the queue that a loom is free, if it is and nobody else has the choice just now."""
    locked, rules = Loom.objects.select_for_update().get(pk=loom.pk), booking_rules()
    place = next_to_tell(locked, today, rules)
    if place is None:
        return False
    place.told_at = timezone.now()
    place.save(update_fields=["told_at"])
    text = words.free(place, today + timedelta(days=rules.queue_days))
    return tell(member=place.member, kind=Kind.FREE, key=f"{place.pk}:{today}", text=text, loom=locked)


def tell_called_back(*, occupancy: LoomOccupancy, by: Member, note: str) -> None:
    """Tell who has a loom that it is called back."""
    if occupancy.member_id != by.pk:
        _about(
            occupancy,
            occupancy.member,
            Kind.CALLED,
            f"{occupancy.pk}:{occupancy.ends_before}",
            words.called(occupancy, by, note),
        )


def tell_offered(*, occupancy: LoomOccupancy) -> None:
    """Tell who waits for a loom that a warp on it is open to take over."""
    for place in waiting_besides(occupancy):
        _about(occupancy, place.member, Kind.OFFERED, f"{occupancy.pk}:{place.member_id}", words.offered(occupancy))


def take_offer_back(*, occupancy: LoomOccupancy) -> None:
    """Take the notices of an offer back when it no longer stands; a new offer is told anew."""
    Notice.objects.filter(occupancy=occupancy, kind=Kind.OFFERED).delete()


def tell_taken_over(*, occupancy: LoomOccupancy, taker: Member) -> None:
    """Tell the former owner who took her loom over."""
    _tell_owner(occupancy, Kind.TAKEN, str(occupancy.pk), words.taken(occupancy, taker))


def tell_hours_lost(*, seat: SeatTime, by: Member) -> None:
    """Tell who booked hours at a class warp that they are cancelled, for the warp is gone by then."""
    if seat.member_id != by.pk:
        _about(seat.occupancy, seat.member, Kind.HOURS, str(seat.pk), words.hours_lost(seat, by))


def tell_out_of_order(*, occupancy: LoomOccupancy, by: Member, fault: Fault | None, why: str) -> None:
    """Tell who has a loom that it is out of order; the fault that stands open makes it one notice."""
    if fault is not None and occupancy.member_id != by.pk:
        _about(
            occupancy,
            occupancy.member,
            Kind.BROKEN,
            f"{fault.pk}:{occupancy.pk}",
            words.out_of_order(occupancy, by, why),
        )
