"""Twelve members of the invented studio, by role; none has a name."""

from dataclasses import dataclass

from studio.models import Briefing
from studio.rights import Role
from studio.units import Units

PASSWORD = "quayside-demo"  # noqa: S105 - printed on purpose, and good for nothing but the demo
STUDIO_NAME = "Quayside Weaving Room"
LOCAL_RULES = (
    "Two people wind a sectional beam: one at the crank, one at the box. Brake on before you let go. "
    "Report a bent rake the same day."
)


@dataclass(frozen=True, slots=True)
class DemoMember:
    """One person of the studio and what they were shown."""

    username: str
    name: str
    role: Role
    units: Units = Units.INCH
    briefed: tuple[str, ...] = ()


_ALL_TOOLS = tuple(Briefing.Tool.values)
_BEAM_AND_BOX = (Briefing.Tool.SECTIONAL.value, Briefing.Tool.BOX.value)

MEMBERS = (
    DemoMember("steward", "Steward", Role.STEWARD, briefed=_ALL_TOOLS),
    DemoMember("teacher", "Teacher", Role.TEACHER, briefed=_ALL_TOOLS),
    DemoMember("evening", "Teacher of the evening class", Role.TEACHER, Units.METRIC, _ALL_TOOLS),
    DemoMember("trained", "Trained member A", Role.TRAINED, briefed=_ALL_TOOLS),
    DemoMember("trained-b", "Trained member B", Role.TRAINED, briefed=_BEAM_AND_BOX),
    DemoMember("trained-c", "Trained member C", Role.TRAINED, Units.METRIC, _BEAM_AND_BOX),
    DemoMember("trained-d", "Trained member D", Role.TRAINED, briefed=_BEAM_AND_BOX),
    DemoMember("member", "Member A", Role.MEMBER, briefed=(Briefing.Tool.MILL.value,)),
    DemoMember("member-b", "Member B", Role.MEMBER),
    DemoMember("newmember", "New member", Role.MEMBER),
    DemoMember("guest", "Guest", Role.GUEST),
    DemoMember("student", "Student of the evening class", Role.GUEST, Units.METRIC),
)
