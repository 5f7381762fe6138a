"""Who may do what: one table, asked by pages and API alike (the usual split; trade habit, no source)."""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType


class Role(StrEnum):
    """Roles of a studio, in rising order of trust."""

    GUEST = "guest"
    MEMBER = "member"
    TRAINED = "trained"
    TEACHER = "teacher"
    STEWARD = "steward"

    @property
    def label(self) -> str:
        """The role as people say it."""
        return {"guest": "guest or student", "trained": "trained member"}.get(self.value, self.value)


class Act(StrEnum):
    """Things that are done in the studio and need a right."""

    SEE_STUDIO = "see looms, yarn and warps"
    PLAN_WARP = "plan a warp"
    PRINT_CARD = "print a card"
    EDIT_LOOMS = "change looms, reeds and stations"
    EDIT_YARN = "change yarns and packages"
    MEASURE_BEAM = "calibrate a beam with the tape"
    TAKE_YARN = "set yarn aside, take it out and bring it back"
    TAKE_YARN_FOR_OTHERS = "set aside or take out yarn for another member"
    ADJUST_STOCK = "sell, write off or quarantine yarn, or reverse another's move of it"
    RESERVE_LOOM = "reserve a loom or a tool"
    BOOK_SEAT = "book time at a class warp"
    RESERVE_FOR_OTHERS = "reserve for another member, block a loom for a class, call a loom back"
    CLOSE_LOOM = "close a loom that is out of order"
    CUT_OFF_OTHERS = "cut off another member's warp"
    LOG_UPKEEP = "log upkeep and mended faults"
    SET_UPKEEP = "set the rhythm of upkeep and the check lists"
    EDIT_PEOPLE = "change members and their roles"
    EDIT_RULES = "change the studio's rules and tolerances"
    OPEN_OTHERS_WARPS = "change another member's warp"


_EVERYONE = frozenset(Role)
_MEMBERS = _EVERYONE - {Role.GUEST}
_TEACHERS = frozenset({Role.TEACHER, Role.STEWARD})
_STEWARDS = frozenset({Role.STEWARD})

RIGHTS: Mapping[Act, frozenset[Role]] = MappingProxyType({
    Act.SEE_STUDIO: _EVERYONE,
    Act.PLAN_WARP: _EVERYONE,
    Act.PRINT_CARD: _EVERYONE,
    Act.EDIT_LOOMS: _STEWARDS,
    Act.EDIT_YARN: _TEACHERS | {Role.TRAINED},  # the book of yarns, and receiving and weighing packages for it
    Act.TAKE_YARN: _MEMBERS,
    Act.TAKE_YARN_FOR_OTHERS: _TEACHERS,
    Act.ADJUST_STOCK: _TEACHERS,
    Act.MEASURE_BEAM: _TEACHERS | {Role.TRAINED},
    Act.RESERVE_LOOM: _MEMBERS,
    Act.BOOK_SEAT: _EVERYONE,
    Act.RESERVE_FOR_OTHERS: _TEACHERS,
    Act.CLOSE_LOOM: _STEWARDS,
    Act.CUT_OFF_OTHERS: _STEWARDS,
    Act.LOG_UPKEEP: _TEACHERS,
    Act.SET_UPKEEP: _STEWARDS,
    Act.EDIT_PEOPLE: _STEWARDS,
    Act.EDIT_RULES: _STEWARDS,
    Act.OPEN_OTHERS_WARPS: _TEACHERS,
})  # fmt: skip


def may(role: str, act: Act) -> bool:
    """Say whether a role may do a thing.

    Examples
    --------
    >>> may("steward", Act.EDIT_LOOMS), may("member", Act.EDIT_LOOMS)
    (True, False)
    """
    return Role(role) in RIGHTS[act]
