"""The studio: who works here, on which looms, with which tools."""

from studio.models.booking_rules import BookingRules
from studio.models.looms import Beam, BeamRound, Loom, Reed, Station
from studio.models.members import ApiKey, Briefing, Member, WrongPasswords
from studio.models.notices import ALWAYS_BY_MAIL, Feed, Notice
from studio.models.reservations import LoomOccupancy, LoomStep, QueuePlace, SeatTime, ToolBooking
from studio.models.rules import StudioRules
from studio.models.upkeep import CheckPoint, Fault, LoomCheck, UpkeepDone, UpkeepJob

__all__ = [
    "ALWAYS_BY_MAIL",
    "ApiKey",
    "Beam",
    "BeamRound",
    "BookingRules",
    "Briefing",
    "CheckPoint",
    "Fault",
    "Feed",
    "Loom",
    "LoomCheck",
    "LoomOccupancy",
    "LoomStep",
    "Member",
    "Notice",
    "QueuePlace",
    "Reed",
    "SeatTime",
    "Station",
    "StudioRules",
    "ToolBooking",
    "UpkeepDone",
    "UpkeepJob",
    "WrongPasswords",
]
