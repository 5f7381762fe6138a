"""The files of the handbook: TOML beside the code, read once; a unit stands in brackets at the end of a text."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


@cache
def read_toml(name: str) -> dict[str, Any]:
    """Read a file of this folder."""
    with (HERE / name).open("rb") as file:
        return tomllib.load(file)


def with_unit(text: str) -> tuple[str, str]:
    """Part a text and the unit in brackets at its end; one line, however the file wraps it.

    Examples
    --------
    >>> with_unit("Width of the reed. [cm]"), with_unit("Key of the fibre.")
    (('Width of the reed.', 'cm'), ('Key of the fibre.', ''))
    """
    words, _, unit = text.removesuffix("]").rpartition(" [") if text.endswith("]") else (text, "", "")
    return one_line(words), unit


def one_line(text: str) -> str:
    """Join lines that the file wraps."""
    return text.replace("\n", " ")
