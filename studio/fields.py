"""Form fields for what weavers type: quantities with their units, and heddles shaft by shaft.

What is typed goes through `studio.units` as an exact fraction and only then becomes the Decimal a column
keeps. On a mistake the box keeps the words that were typed.
"""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import ProhibitNullCharactersValidator
from django.forms import BoundField

from studio.files.image_cleaning import PictureRefused
from studio.files.photo_storage import made_anew
from studio.models.looms import MOST_HEDDLES
from studio.units import KINDS, LONGEST_TEXT, UnitError, Units, in_units, read, read_number, rounded, to_decimal, usual

PLACES = 6
"""Decimals of a canonical column."""

SHORT_DECIMALS = 4
SMALLEST_PART = 64
"""Rulers are marked down to sixty-fourths; a finer fraction is shown in the unit the column keeps instead."""

CANONICAL_LABELS = {"centimeter": "cm", "gram": "g", "1/centimeter": "/cm", "gram/centimeter**3": "g/cm3"}


OUR_WORDS: Mapping[str, str] = MappingProxyType({
    "required": "Fill in this box.",
    "invalid_choice": "Choose one of those offered.",
    "min_value": "This must be at least %(limit_value)s.",
    "max_value": "This must be at most %(limit_value)s.",
    "max_length": "Write at most %(limit_value)s characters; these are %(show_value)s.",
    "max_digits": "Write at most %(max)s digits.",
    "max_decimal_places": "Write at most %(max)s digits after the point.",
    "max_whole_digits": "Write at most %(max)s digits before the point.",
    "null_characters_not_allowed": "There is a sign in it that cannot be kept; type it anew.",
})  # fmt: skip
"""What is wrong, by Django's codes: said to a weaver and not to a programmer."""

WRONG_KIND: tuple[tuple[type[forms.Field], str], ...] = (
    (forms.IntegerField, "Write a whole number, such as 8."),
    (forms.DecimalField, "Write a number, such as 2.5."),
    (forms.DateField, "Write the day as year, month and day, such as 2026-03-02."),
)
"""The more special kind comes later, and wins."""


class PlainWords(forms.BaseForm):
    """A form that says every mistake in our words, save where a field has words of its own."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for box in self.fields.values():
            say_it_plainly(box)


def say_it_plainly(box: forms.Field) -> None:
    """Give one field our words for every mistake; a field that a form adds later needs it by itself."""
    plain = dict(OUR_WORDS)
    plain.update(("invalid", words) for kind, words in WRONG_KIND if isinstance(box, kind))
    usual_words: dict[str, Any] = {}
    for kind in reversed(type(box).__mro__):
        usual_words |= getattr(kind, "default_error_messages", {})
    for code, words in plain.items():
        current = box.error_messages.get(code)
        if current is None or current == usual_words.get(code):
            box.error_messages[code] = words
    if isinstance(box, forms.ModelChoiceField):  # it asks this one aside, past its own words
        no_such_sign = ProhibitNullCharactersValidator(message=OUR_WORDS["null_characters_not_allowed"])
        box.validate_no_null_characters = no_such_sign  # type: ignore[method-assign]


def text_for(value: Decimal, kind: str, units: Units) -> str:
    """Write a kept number for a form box, so that sending it back unchanged keeps the very same number.

    An inch reader sees inches where a short decimal or a ruler's fraction is exact, and otherwise the
    centimetres that were measured: "5 cm" says more than 1 123/127 in.

    Examples
    --------
    >>> text_for(Decimal("91.44"), "length", Units.INCH), text_for(Decimal("0.846667"), "length", Units.INCH)
    ('36 in', '1/3 in')
    >>> text_for(Decimal(5), "length", Units.INCH), text_for(Decimal("91.44"), "length", Units.METRIC)
    ('5 cm', '91.44 cm')
    """
    label = usual(kind, units)
    for words in _candidates(Fraction(value), kind, units):
        text = f"{words} {label}"
        if to_decimal(read(text, kind, None), PLACES) == value:
            return text
    return f"{value.normalize():f} {CANONICAL_LABELS[KINDS[kind].canonical]}"


def _candidates(value: Fraction, kind: str, units: Units) -> Iterator[str]:
    asked = in_units(value, kind, units)
    yield from (rounded(asked, places) for places in range(SHORT_DECIMALS + 1))
    near = asked.limit_denominator(SMALLEST_PART)
    whole, rest = divmod(near, 1)
    yield f"{whole} {rest}" if whole and rest else str(near)


class QuantityField(forms.CharField):
    """One quantity as people write it: 36, 36 1/2, 36 in or 91.44 cm. Gives the canonical Decimal, or None."""

    def __init__(self, kind: str, *, above_zero: bool = True, most: Decimal | None = None, **options: Any) -> None:
        super().__init__(max_length=LONGEST_TEXT, **options)
        self.kind = kind
        self.above_zero = above_zero
        self.most = most
        self.units = Units.INCH
        self.widget.attrs |= {"autocomplete": "off"}

    def prepare_value(self, value: Any) -> Any:
        """Show a kept number in the member's units, and typed words as they are."""
        return text_for(value, self.kind, self.units) if isinstance(value, Decimal) else value

    def clean(self, value: Any) -> Any:
        """Read what was typed, exactly, then give the Decimal that is kept."""
        text = super().clean(value)
        if not text:
            return None
        try:
            amount = read(text, self.kind, self.units)
        except UnitError as trouble:
            raise ValidationError(trouble.message, code=trouble.code) from trouble
        return self._within_bounds(to_decimal(amount, PLACES))

    def _within_bounds(self, amount: Decimal) -> Decimal:
        if self.above_zero and amount == 0:
            raise ValidationError("This must be more than 0.", code="not_above_zero")
        if self.most is not None and amount > self.most:
            most = text_for(self.most, self.kind, self.units)
            raise ValidationError(f"This is more than {most}; check the unit.", code="too_large")
        return amount

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Say whether another number was meant; "36" and "36 in" are one to an inch reader."""
        try:
            return bool(self.clean(data) != (initial or None))
        except ValidationError:
            return True


class NumberField(forms.CharField):
    """A plain number as people write it, such as 12, 12,5 or 7 1/2, kept to three decimals."""

    def __init__(self, **options: Any) -> None:
        super().__init__(max_length=LONGEST_TEXT, **options)
        self.widget.attrs |= {"autocomplete": "off"}

    def prepare_value(self, value: Any) -> Any:
        return f"{value.normalize():f}" if isinstance(value, Decimal) else value

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return None
        try:
            number = read_number(text)
        except UnitError as trouble:
            raise ValidationError(trouble.message, code=trouble.code) from trouble
        return self._kept(number)

    def _kept(self, number: Fraction) -> Decimal:
        if number == 0:
            raise ValidationError("This must be more than 0.", code="not_above_zero")
        if number >= 10_000 or (number * 1000).denominator != 1:  # noqa: PLR2004 - what the column holds
            raise ValidationError("Give a number below 10000 with at most three decimals.", code="not_kept")
        return to_decimal(number, 3)


class HeddlesField(forms.CharField):
    """Heddles on each shaft, front shaft first: 100, 100, 100, 100."""

    def __init__(self, **options: Any) -> None:
        super().__init__(max_length=600, **options)
        self.widget.attrs |= {"autocomplete": "off"}

    def prepare_value(self, value: Any) -> Any:
        return ", ".join(map(str, value)) if isinstance(value, list) else value

    def clean(self, value: Any) -> Any:
        words = [word for word in re.split(r"[\s,;]+", super().clean(value)) if word]
        if not all(word.isascii() and word.isdigit() and len(word) < 6 for word in words):  # noqa: PLR2004
            raise ValidationError("Write one whole number for each shaft, such as 100, 100, 100, 100.", code="heddles")
        counts = [int(word) for word in words]
        if max(counts, default=0) > MOST_HEDDLES:
            raise ValidationError(f"No shaft carries more than {MOST_HEDDLES} heddles.", code="heddles")
        return counts


class PhotoField(forms.FileField):
    """A photo, made anew before anybody sees it: gives bytes to keep, or None."""

    widget = forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp"})

    def __init__(self, **options: Any) -> None:
        help_text = "A JPEG, PNG or WebP picture. Where and with what it was taken is left out."
        super().__init__(**{"required": False, "help_text": help_text, **options})

    def clean(self, data: Any, initial: Any = None) -> bytes | None:
        """Give the photo made anew; a file that is none is refused beside its box."""
        sent = super().clean(data, initial)
        if not sent:
            return None
        try:
            return made_anew(sent.file, sent.size)
        except PictureRefused as refused:
            raise ValidationError(refused.message) from refused


Groups = tuple[tuple[str, tuple[str, ...]], ...]


MOST_CM = Decimal(100_000)


WIDEST_CM = Decimal(2_000)
"""Twenty metres: wider than any handloom, so a wrong unit is caught."""


DATE = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def a_length(kind: str = "length", **options: Any) -> QuantityField:
    """Make a field for a length of a tool; each form gets its own."""
    return QuantityField(kind, **{"most": WIDEST_CM, **options})


class Grouped(PlainWords):
    """A form whose fields stand in named groups, in the order of the bench."""

    groups: ClassVar[Groups] = ()
    segmented: ClassVar[frozenset[str]] = frozenset()

    def fieldsets(self) -> Iterator[tuple[str, list[BoundField]]]:
        """Give each group's legend and its fields, where it has any."""
        for legend, names in self.groups:
            asked = [self[name] for name in names if name in self.fields]
            if asked:
                yield legend, asked

    @property
    def asks_quantities(self) -> bool:
        """True when some box takes a measure, so that the page says how to write one."""
        return any(isinstance(box, QuantityField) for box in self.fields.values())

    def _read_in(self, units: Units) -> None:
        for name, box in self.fields.items():
            if isinstance(box, QuantityField):
                box.units = units
            box.segmented = name in self.segmented  # type: ignore[attr-defined]
