"""The one form of every direct question, made from the question's own data."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from itertools import groupby
from types import MappingProxyType
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from inventory.calc.count import read_grist
from inventory.calc.grist_text import Thread, threads_of_label
from planner.handbook.question import Ask, Asked, CannotAnswer, Line, Question
from studio.units import KINDS, LONGEST_TEXT, UnitError, Units, read, read_number, usual

MOST_WHOLE = 100_000
LONGEST_WORDS = 20_000
LONGEST_LIST = 400
MOST_LISTED = 40
MOST_DENTS, MOST_IN_DENT = 64, 64
SHORT = frozenset({"whole", "number", "money"})
"""Kinds without a unit whose boxes are as short as the others'."""

LARGEST: Mapping[str, Fraction] = MappingProxyType({
    "length": Fraction(10**7), "distance": Fraction(10**7), "depth": Fraction(10**3), "mass": Fraction(10**7),
    "sett": Fraction(10**3), "picks": Fraction(10**3), "wraps": Fraction(10**3), "dents": Fraction(10**3),
    "density": Fraction(10**2), "share": Fraction(10), "price": Fraction(10**6), "money": Fraction(10**6),
    "number": Fraction(10**6),
})  # fmt: skip
"""Largest number of a kind: a hundred kilometres, ten tonnes, a thousand ends to the centimetre. More is a slip."""

SMALLEST = Fraction(1, 10**6)
"""Smallest number above nothing; a hundredth of a thousandth of a millimetre is a slip as well."""


class AskedField(forms.CharField):
    """What one question asks for, read as its kind; empty is None where it may be left out."""

    def __init__(self, ask: Ask, units: Units) -> None:
        words = ask.kind == "words"
        longest = LONGEST_LIST if ask.kind == "lengths" else LONGEST_TEXT
        widget = forms.Textarea(attrs={"rows": 3}) if words else forms.TextInput()
        widget.attrs |= {"autocomplete": "off"} | ({} if words else {"maxlength": str(longest)})
        if ask.kind in SHORT:
            widget.attrs["class"] = "how-short"
        super().__init__(label=ask.label, help_text=ask.hint, required=ask.needed, widget=widget)
        self.ask, self.units = ask, units
        self.error_messages["required"] = "This is still needed."

    @property
    def unit(self) -> str:
        """The unit of a bare number."""
        return usual(self.ask.kind, self.units) if self.ask.kind in KINDS else ""

    def clean(self, value: Any) -> Any:
        """Read what was typed; the sentence of a refusal stands beside the field."""
        text = super().clean(value) or self.ask.usual
        if not text:
            return None
        try:
            found = READERS.get(self.ask.kind, _quantity)(text, self.ask, self.units)
        except UnitError as wrong:
            raise ValidationError(wrong.message, code=wrong.code) from wrong
        if isinstance(found, Fraction | int) and (found < 0 or (found == 0 and not self.ask.zero)):
            raise ValidationError("This must be above zero.", code="not_above_zero")
        return found


class ChosenField(forms.ChoiceField):
    """One of a few words; where it must be one, the first of them until another is chosen."""

    def __init__(self, ask: Ask) -> None:
        choices = ask.choices if ask.needed else (("", "not asked"), *ask.choices)
        super().__init__(label=ask.label, help_text=ask.hint, choices=choices, required=ask.needed)
        self.ask, self.unit = ask, ""
        self.error_messages["invalid_choice"] = "Choose one of the list."

    def clean(self, value: Any) -> Any:
        """Give the key chosen, or None where nothing was and nothing need be."""
        first = self.ask.choices[0][0] if self.ask.needed else None
        return super().clean(value) if value else first


def _sized(found: Fraction, kind: str) -> Fraction:
    if found > LARGEST.get(kind, found):
        raise UnitError("too_large", "That number is too large.")
    if 0 < found < SMALLEST:
        raise UnitError("too_small", "That number is too small.")
    return found


def _quantity(text: str, ask: Ask, units: Units) -> Fraction:
    return _sized(read(text, ask.kind, units), ask.kind)


def _number(text: str, ask: Ask, _units: Units) -> Fraction:
    return _sized(read_number(text), ask.kind)


def _whole(text: str, _ask: Ask, _units: Units) -> int:
    found = read_number(text)
    if found.denominator != 1 or found > MOST_WHOLE:
        raise UnitError("not_whole", f"Write a whole number up to {MOST_WHOLE}.")
    return int(found)


def _words(text: str, _ask: Ask, _units: Units) -> str:
    if len(text) > LONGEST_WORDS:
        raise UnitError("too_long", "That is too long for one repeat.")
    return text


def _singles(text: str, _ask: Ask, _units: Units) -> tuple[Thread, ...]:
    return threads_of_label(text)


_SLEY = re.compile(r"\d{1,3}(?:[-–, ]+\d{1,3})*", re.ASCII)


def _sley(text: str, _ask: Ask, _units: Units) -> tuple[int, ...]:
    """Read a sley order; it must hold an end, and no dent more than a reed could."""
    found = tuple(map(int, re.findall(r"\d+", text))) if _SLEY.fullmatch(text) else ()
    if not found or len(found) > MOST_DENTS or max(found) > MOST_IN_DENT:
        raise UnitError("not_sley", "Write the ends in each dent, joined by dashes, such as 1-1-2.")
    if not sum(found):
        raise UnitError("not_sley", "At least one dent must hold an end.")
    return found


_BETWEEN = re.compile(r"[;\n]|,\s|\band\b")


def _lengths(text: str, _ask: Ask, units: Units) -> tuple[Fraction, ...]:
    """Read several lengths. A comma parts two only before a space, since 7,5 is a number too."""
    parts = [part for part in _BETWEEN.split(text[:LONGEST_LIST]) if part.strip()]
    if not parts or len(text) > LONGEST_LIST or len(parts) > MOST_LISTED:
        raise UnitError("not_lengths", "Write lengths with a semicolon between two, such as 5 yd; 8 yd.")
    found = tuple(_sized(read(part, "distance", units), "distance") for part in parts)
    if not min(found):
        raise UnitError("not_above_zero", "Every length must be above zero.")
    return found


READERS: Mapping[str, Callable[[str, Ask, Units], Any]] = MappingProxyType({
    "whole": _whole,
    "words": _words,
    "number": _number,
    "money": _number,
    "grist": lambda text, _ask, units: read_grist(text, units),
    "singles": _singles,
    "sley": _sley,
    "lengths": _lengths,
})  # fmt: skip
"""How each kind that is no single quantity is read; the others are kinds of `studio.units`."""


class QuestionForm(forms.Form):
    """One direct question: asked in the address, so that an answer can be kept as a bookmark."""

    def __init__(self, question: Question, units: Units, asked: Mapping[str, Any]) -> None:
        mine = any(ask.name in asked for ask in question.asks)
        super().__init__(data=asked if mine else None)
        self.question, self.units = question, units
        for ask in question.asks:
            self.fields[ask.name] = ChosenField(ask) if ask.kind == "choice" else AskedField(ask, units)

    def parts(self) -> list[tuple[str, list[forms.BoundField]]]:
        """Give the fields under their headings, in the order they are asked."""
        parted = groupby(self.question.asks, key=lambda ask: ask.part)
        return [(part, [self[ask.name] for ask in asks]) for part, asks in parted]

    def answer(self) -> tuple[Line, ...]:
        """Give the lines of the answer; none where nothing was asked or something is wrong."""
        if not self.is_valid():
            return ()
        try:
            return self.question.answer(Asked(self.question.asks, self.cleaned_data, self.units))
        except CannotAnswer as wrong:
            self.add_error(wrong.field, wrong.message)
        return ()
