"""How the yarn room's figures read: weights, lengths and finenesses in the reader's own units."""

from fractions import Fraction

from django import template

from inventory.calc.count import metres_per_kilogram, yards_per_pound
from inventory.intake.selectors import TareFigures
from inventory.shelf.forms import GRIST_NAME
from studio.units import Number, Units, exact_text, in_units, rounded, show, usual

register = template.Library()


@register.filter
def as_yarn_length(length_cm: Number, units: Units) -> str:
    """Write the length on a package to the whole yard or metre; no scale knows it better."""
    return f"{rounded(in_units(length_cm, 'distance', units), 0)} {usual('distance', units)}"


@register.filter
def as_grist(tex: Fraction, units: Units) -> str:
    """Write how much length a weight holds, such as 3360 yd/lb or 6774 m/kg."""
    if units is Units.INCH:
        return f"{rounded(yards_per_pound(tex), 0)} yd/lb"
    return f"{rounded(metres_per_kilogram(tex), 0)} m/kg"


@register.filter
def as_other_grist(tex: Fraction, units: Units) -> str:
    """Write the same in the other units, for a label from elsewhere."""
    return as_grist(tex, Units.METRIC if units is Units.INCH else Units.INCH)


@register.filter
def grist_name(units: Units) -> str:
    """Name what `as_grist` writes."""
    return GRIST_NAME[units]


@register.filter
def as_tex(tex: Fraction) -> str:
    """Write the mass of a kilometre, such as 147.6 tex."""
    return f"{rounded(tex, 1)} tex"


@register.filter
def as_wraps(wraps: Number, units: Units) -> str:
    """Write wraps as measured, such as 28/in."""
    return show(wraps, "wraps", units)


@register.filter
def as_scale(text_or_grams: tuple[str, Number], units: Units) -> str:
    """Write a weight in the scale's own words, or in the reader's units where it came without words."""
    text, grams = text_or_grams
    return text or f"{exact_text(Fraction(grams), 'mass', units)} {usual('mass', units)}"


@register.filter
def as_change(grams: Fraction, units: Units) -> str:
    """Write what a move changed, always with its sign; nothing where it changed nothing."""
    if not grams:
        return ""
    sign = "+" if grams > 0 else "−"
    return f"{sign}{show(abs(grams), 'mass', units)}"


@register.filter
def number_of(shown: str) -> str:
    """Give the number of a written measure, for a figure that sets its unit small."""
    return shown.rpartition(" ")[0]


@register.filter
def unit_of(shown: str) -> str:
    """Give the unit of a written measure."""
    return shown.rpartition(" ")[2]


@register.inclusion_tag("components/figure.html")
def figure(label: str, measure: str) -> dict[str, str]:
    """Draw a written measure large, its unit small."""
    return {"label": label, "value": number_of(measure), "unit": unit_of(measure)}


@register.simple_tag
def spread(empties: TareFigures, units: Units) -> str:
    """Write what a sort of empty weighs, with how far single ones were from it."""
    return empties.spread_words(units)
