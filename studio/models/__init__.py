"""The house: who works here, on which looms, with which tools."""

from studio.models.booking_rules import BookingRules
from studio.models.looms import Beam, BeamRound, Loom, Reed, Station
from studio.models.members import ApiKey, Briefing, Member, WrongPasswords
from studio.models.reservations import LoomOccupancy, LoomStep, QueuePlace, SeatTime, ToolBooking
from studio.models.rules import StudioRules

__all__ = [
    "ApiKey",
    "Beam",
    "BeamRound",
    "BookingRules",
    "Briefing",
    "Loom",
    "LoomOccupancy",
    "LoomStep",
    "Member",
    "QueuePlace",
    "Reed",
    "SeatTime",
    "Station",
    "StudioRules",
    "ToolBooking",
    "WrongPasswords",
]
