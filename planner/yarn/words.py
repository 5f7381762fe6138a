"""Set-aside yarn of a warp, in words."""

from planner.models import Project
from planner.yarn.shelf_selectors import SetAsideYarn, set_aside_for
from studio.models import Member
from studio.units import Units, show


def set_aside_words(warp: Project, member: Member) -> str:
    """Say what is set aside for a warp, such as "783 g of 8/2 cotton, natural"; nothing where nothing is."""
    yarns, units = set_aside_for(warp), member.reads_in
    return "; ".join(f"{show(one.mass_g, 'mass', units)} of {one.yarn}{_in_quarantine(one, units)}" for one in yarns)


def set_aside_note(one: SetAsideYarn, units: Units) -> str:
    return f"{show(one.mass_g, 'mass', units)} set aside for this warp{_in_quarantine(one, units)}"


def _in_quarantine(one: SetAsideYarn, units: Units) -> str:
    if not one.quarantined_g:
        return ""
    return f", of that {show(one.quarantined_g, 'mass', units)} in quarantine until it is checked"
