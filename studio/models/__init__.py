"""The house: who works here, on which looms, with which tools."""

from studio.models.looms import Beam, BeamRound, Loom, Reed, Station
from studio.models.members import ApiKey, Briefing, Member, WrongPasswords
from studio.models.rules import StudioRules

__all__ = [
    "ApiKey",
    "Beam",
    "BeamRound",
    "Briefing",
    "Loom",
    "Member",
    "Reed",
    "Station",
    "StudioRules",
    "WrongPasswords",
]
