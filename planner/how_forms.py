"""The one form of every direct question, made from the question's own data."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from inventory.yarn_count import read_grist
from planner.questions import Ask, CannotAnswer, Line, Question
from planner.reading import Reader
from studio.units import KINDS, LONGEST_TEXT, UnitError, Units, read, read_number, usual

MOST_WHOLE = 100_000
LONGEST_WORDS = 20_000
LONGEST_QUANTITY = Fraction(10**9)


class AskedField(forms.CharField):
    """What one question asks for, read as its kind; empty is None where it may be left out."""

    def __init__(self, ask: Ask, units: Units) -> None:
        words = ask.kind == "words"
        widget = forms.Textarea(attrs={"rows": 3}) if words else forms.TextInput()
        widget.attrs |= {"autocomplete": "off"} | ({} if words else {"maxlength": str(LONGEST_TEXT)})
        super().__init__(label=ask.label, help_text=ask.hint, required=ask.needed, widget=widget)
        self.ask, self.units = ask, units
        self.error_messages["required"] = "This is still needed."

    @property
    def unit(self) -> str:
        """The unit of a bare number."""
        return usual(self.ask.kind, self.units) if self.ask.kind in KINDS else ""

    def clean(self, value: Any) -> Any:
        """Read what was typed; the sentence of a refusal stands beside the field."""
        text = super().clean(value)
        if not text:
            return None
        try:
            found = _READERS.get(self.ask.kind, _quantity)(text, self.ask, self.units)
        except UnitError as wrong:
            raise ValidationError(wrong.message, code=wrong.code) from wrong
        if isinstance(found, Fraction | int) and (found < 0 or (found == 0 and not self.ask.zero)):
            raise ValidationError("This must be above zero.", code="not_above_zero")
        return found


def _quantity(text: str, ask: Ask, units: Units) -> Fraction:
    found = read(text, ask.kind, units)
    if found > LONGEST_QUANTITY:
        raise UnitError("too_large", "That number is too large.")
    return found


def _whole(text: str, _ask: Ask, _units: Units) -> int:
    found = read_number(text)
    if found.denominator != 1 or found > MOST_WHOLE:
        raise UnitError("not_whole", f"Write a whole number up to {MOST_WHOLE}.")
    return int(found)


def _words(text: str, _ask: Ask, _units: Units) -> str:
    if len(text) > LONGEST_WORDS:
        raise UnitError("too_long", "That is too long for one repeat.")
    return text


_READERS: Mapping[str, Callable[[str, Ask, Units], Any]] = {
    "whole": _whole,
    "words": _words,
    "number": lambda text, _ask, _units: read_number(text),
    "grist": lambda text, _ask, units: read_grist(text, units),
}


class QuestionForm(forms.Form):
    """One direct question: asked in the address, so that an answer can be kept as a bookmark."""

    def __init__(self, question: Question, units: Units, asked: Mapping[str, Any]) -> None:
        mine = asked.get("ask") == question.key
        super().__init__(data=asked if mine else None, auto_id=f"id_{question.key}_%s")
        self.question, self.reader = question, Reader(units)
        for ask in question.asks:
            self.fields[ask.name] = _choice(ask) if ask.kind == "choice" else AskedField(ask, units)

    def answer(self) -> tuple[Line, ...]:
        """Give the lines of the answer; none where nothing was asked or something is wrong."""
        if not self.is_valid():
            return ()
        try:
            return self.question.answer(self.cleaned_data, self.reader)
        except CannotAnswer as wrong:
            self.add_error(wrong.field, wrong.message)
        return ()


def _choice(ask: Ask) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=ask.label, help_text=ask.hint, choices=ask.choices, error_messages={"required": "Choose one."}
    )
