"""Filters that show canonical numbers in the reader's units: {{ loom.weaving_width_cm|as_length:member.reads_in }}."""

from decimal import Decimal
from fractions import Fraction

from django import template

from studio.models import Station
from studio.units import Units, show

register = template.Library()
Canonical = Decimal | Fraction | int | str | None


def _shown(value: Canonical, kind: str, units: Units | str | None) -> str:
    """Show nothing for nothing; without a reader's units it is inches."""
    if value is None or value == "":
        return ""
    return show(Fraction(value), kind, Units(units) if units else Units.INCH)


@register.filter
def as_length(value: Canonical, units: Units | str | None = None) -> str:
    """Show a width or another short length, from cm."""
    return _shown(value, "length", units)


@register.filter
def as_distance(value: Canonical, units: Units | str | None = None) -> str:
    """Show a length that is measured off in yards or metres, from cm."""
    return _shown(value, "distance", units)


@register.filter
def as_weight(value: Canonical, units: Units | str | None = None) -> str:
    """Show a weight, from grams."""
    return _shown(value, "mass", units)


@register.filter
def facts_of_station(station: Station, units: Units | str | None = None) -> str:
    """Say in one line what a station can do, from what was measured on it."""
    path, step = (_shown(value, "distance", units) for value in (station.path_longest_cm, station.path_step_cm))
    space = _shown(station.raddle_space_cm, "length", units)
    ends, spools = station.ends_at_once, station.rack_spools
    facts = (
        f"paths to {path}" if path else "",
        f"in steps of {step}" if step else "",
        f"{ends} end{'s' if ends != 1 else ''} at once" if ends else "",
        f"{spools} spool{'s' if spools != 1 else ''}" if spools else "",
        f"comb of {station.comb_words}" if station.comb_words else "",
        f"spaces of {space}" if space else "",
    )
    return ", ".join(fact for fact in facts if fact)
