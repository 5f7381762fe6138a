"""What a notice says: one or two sentences with the loom, the day, and what to do."""

from __future__ import annotations

from datetime import date

from django.utils import timezone

from studio.calendar.words import day_words, days_words, hours_words
from studio.models import LoomOccupancy, Member, QueuePlace, SeatTime


def ending(held: LoomOccupancy) -> str:
    """Say that a time is about to end."""
    said = f"Your time on loom {held.loom} with “{held.title}” ends with {day_words(held.last_day)}."
    return f"{said} Give the loom back by then, or ask for more days while nobody waits."


def overdue(held: LoomOccupancy, reader: Member, cut_off_on: date) -> str:
    """Say that a loom was to be free, to who has it or to a steward."""
    whose = "Your" if reader.pk == held.member_id else f"{held.member}’s"
    said = f"{whose} time on loom {held.loom} with “{held.title}” ended with {day_words(held.last_day)}"
    return f"{said}, and the loom was not given back. From {day_words(cut_off_on)} a steward may cut the warp off."


def free(place: QueuePlace, keep_until: date) -> str:
    """Say that a loom somebody waits for is free."""
    said = f"Loom {place.loom} is free for the {days_words(place.days)} you wait for. You are the first who is told"
    return f"{said}; from {day_words(keep_until)} the next is told too."


def called(held: LoomOccupancy, by: Member, note: str) -> str:
    """Say that a loom is called back."""
    said = f"{by} calls loom {held.loom} back: your time with “{held.title}” ends with {day_words(held.last_day)}."
    return f"{said} {note}".strip()


def review(held: LoomOccupancy) -> str:
    """Say that work on hold is to be looked at again."""
    said = f"“{held.title}” on loom {held.loom} is on hold, to be looked at again on {day_words(held.review_on)}."  # type: ignore[arg-type]
    return f"{said} Take the work up again, or offer the loom to whoever wants it."


def offered(held: LoomOccupancy) -> str:
    """Say that a dressed loom can be taken over."""
    said = f"Loom {held.loom}, for which you wait, is open to take over with “{held.title}” on it"
    return f"{said}: {held.get_state_display()}, until {day_words(held.last_day)}."


def taken(held: LoomOccupancy, taker: Member) -> str:
    """Say that somebody took a loom over."""
    return f"{taker} took over loom {held.loom} with “{held.title}”. What went along went with the loom."


def hours_lost(seat: SeatTime, by: Member) -> str:
    """Say that hours at a class warp are cancelled."""
    span = hours_words(timezone.localtime(seat.starts_at), timezone.localtime(seat.ends_at))
    warp = f"“{seat.occupancy.title}” is not on loom {seat.occupancy.loom} then"
    return f"Your hours of {span}, are cancelled by {by}: {warp}."


def out_of_order(held: LoomOccupancy, by: Member, why: str) -> str:
    """Say that a loom one has is out of order; the days stay."""
    said = f"Loom {held.loom}, which you have for “{held.title}”, is out of order: {why} (noted by {by})."
    return f"{said} Your days stay yours. Do not use the loom until it is mended; ask what to do with a warp on it."
