"""Who may do what. The table follows the usual split in shared studios (common practice, no source)."""

import pytest

from studio.rights import RIGHTS, Act, Role, may

MEMBERS_AND_MORE = {"guest", "member", "trained", "teacher", "steward"}
TABLE = {
    Act.SEE_STUDIO: MEMBERS_AND_MORE,
    Act.PLAN_WARP: MEMBERS_AND_MORE,
    Act.PRINT_CARD: MEMBERS_AND_MORE,
    Act.EDIT_LOOMS: {"steward"},
    Act.EDIT_YARN: {"trained", "teacher", "steward"},
    Act.MEASURE_BEAM: {"trained", "teacher", "steward"},
    Act.TAKE_YARN: {"member", "trained", "teacher", "steward"},
    Act.TAKE_YARN_FOR_OTHERS: {"teacher", "steward"},
    Act.ADJUST_STOCK: {"teacher", "steward"},
    Act.RESERVE_LOOM: {"member", "trained", "teacher", "steward"},
    Act.BOOK_SEAT: MEMBERS_AND_MORE,
    Act.RESERVE_FOR_OTHERS: {"teacher", "steward"},
    Act.CLOSE_LOOM: {"steward"},
    Act.CUT_OFF_OTHERS: {"steward"},
    Act.LOG_UPKEEP: {"teacher", "steward"},
    Act.SET_UPKEEP: {"steward"},
    Act.EDIT_PEOPLE: {"steward"},
    Act.EDIT_RULES: {"steward"},
    Act.OPEN_OTHERS_WARPS: {"teacher", "steward"},
}


def test_every_act_stands_in_both_tables():
    assert set(TABLE) == set(Act) == set(RIGHTS)


@pytest.mark.parametrize("act", list(Act), ids=lambda act: act.name)
@pytest.mark.parametrize("role", list(Role))
def test_role_by_act(role, act):
    assert may(role, act) is (role.value in TABLE[act])


def test_an_unknown_role_is_an_error_not_a_right():
    with pytest.raises(ValueError, match="visitor"):
        may("visitor", Act.SEE_STUDIO)
