"""What a notice says: one or two sentences with the loom, the day, and what to do."""

from __future__ import annotations

from datetime import date

from django.utils import timezone

from studio.dates import day_words, days_words, hours_words
from studio.models import LoomOccupancy, Member, QueuePlace, SeatTime


def ending(occupancy: LoomOccupancy) -> str:
    """Say that a time is about to end."""
    sentence = f"Your time on loom {occupancy.loom} with “{occupancy.title}” ends with {day_words(occupancy.last_day)}."
    return f"{sentence} Give the loom back by then, or ask for more days while nobody waits."


def overdue(occupancy: LoomOccupancy, reader: Member, cut_off_on: date) -> str:
    """Say that a loom was to be free, to who has it or to a steward."""
    whose = "Your" if reader.pk == occupancy.member_id else f"{occupancy.member}’s"
    sentence = (
        f"{whose} time on loom {occupancy.loom} with “{occupancy.title}” ended with {day_words(occupancy.last_day)}"
    )
    return f"{sentence}, and the loom was not given back. From {day_words(cut_off_on)} a steward may cut the warp off."


def free(place: QueuePlace, keep_until: date) -> str:
    """Say that a loom somebody waits for is free."""
    sentence = f"Loom {place.loom} is free for the {days_words(place.days)} you wait for. You are the first who is told"
    return f"{sentence}; from {day_words(keep_until)} the next is told too."


def called(occupancy: LoomOccupancy, by: Member, note: str) -> str:
    """Say that a loom is called back."""
    sentence = f"{by} calls loom {occupancy.loom} back: your time with “{occupancy.title}” ends"
    return f"{sentence} with {day_words(occupancy.last_day)}. {note}".strip()


def review(occupancy: LoomOccupancy) -> str:
    """Say that work on hold is to be looked at again."""
    day = day_words(occupancy.review_on)  # type: ignore[arg-type]
    sentence = f"“{occupancy.title}” on loom {occupancy.loom} is on hold, to be looked at again on {day}."
    return f"{sentence} Take the work up again, or offer the loom to whoever wants it."


def offered(occupancy: LoomOccupancy) -> str:
    """Say that a dressed loom can be taken over."""
    sentence = f"Loom {occupancy.loom}, for which you wait, is open to take over with “{occupancy.title}” on it"
    return f"{sentence}: {occupancy.get_state_display()}, until {day_words(occupancy.last_day)}."


def taken(occupancy: LoomOccupancy, taker: Member) -> str:
    """Say that somebody took a loom over."""
    sentence = f"{taker} took over loom {occupancy.loom} with “{occupancy.title}”"
    return f"{sentence}. Everything reserved with it went with the loom."


def hours_lost(seat: SeatTime, by: Member) -> str:
    """Say that hours at a class warp are cancelled."""
    span = hours_words(timezone.localtime(seat.starts_at), timezone.localtime(seat.ends_at))
    warp = f"“{seat.occupancy.title}” is not on loom {seat.occupancy.loom} then"
    return f"Your hours of {span}, are cancelled by {by}: {warp}."


def out_of_order(occupancy: LoomOccupancy, by: Member, why: str) -> str:
    """Say that a loom one has is out of order; the days stay."""
    sentence = f"Loom {occupancy.loom}, which you have for “{occupancy.title}”, is out of order: {why} (noted by {by})."
    return f"{sentence} Your days stay yours. Do not use the loom until it is mended; ask what to do with a warp on it."
