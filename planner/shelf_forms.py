"""What a weaver chooses herself of the packages proposed for her warp, and what she knows of the weeks left."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from django import forms
from django.http import QueryDict

from planner.shelf_selectors import Wish
from studio.fields import NumberField, PlainWords

LONGEST_KEY = 18
MOST_CHOSEN = 500
MOST_SESSIONS = 500
MOST_A_WEEK = 14
FARTHEST = timedelta(days=5 * 366)


def wish_in(said: QueryDict) -> Wish:
    """Read which packages are insisted on (`with`) and left out (`without`); what is both is left out."""
    left_out = _keys(said.getlist("without"))
    return Wish(_keys(said.getlist("with")) - left_out, left_out)


def _keys(texts: Iterable[str]) -> frozenset[int]:
    good = (text for text in texts if text.isascii() and text.isdecimal() and len(text) <= LONGEST_KEY)
    return frozenset(int(text) for text, _ in zip(good, range(MOST_CHOSEN), strict=False))
