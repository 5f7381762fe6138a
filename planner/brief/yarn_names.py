"""Which yarn of the yarn room somebody means by what she typed, and when it is a yarn of her own instead.

Four ways lead to a yarn: its label in the list, "8/2 cotton, navy (yarn 12)"; the same as a plan prints it,
"8/2 cotton, navy"; the beginning of that or some words of it, when no other yarn has them; and no yarn at all, but a
count such as "8/2 cotton", which is then a yarn of one's own. A yarn whose count was typed beside it is always one's
own.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from inventory.calc.count import read_grist
from studio.units import UnitError

MOST_NAMED = 3
_STROKE = re.compile(r"\d/\d", re.ASCII)
_LABEL = re.compile(r"\(yarn (\d{1,9})\)\s*\Z", re.ASCII)


def yarn_label(name: str, colour_name: str, key: int) -> str:
    """Name a yarn of the yarn room so that it can be found by typing and told from its neighbours.

    Examples
    --------
    >>> yarn_label("8/2 cotton", "navy", 12)
    '8/2 cotton, navy (yarn 12)'
    """
    return f"{printed(name, colour_name)} (yarn {key})"


def printed(name: str, colour_name: str) -> str:
    """Name a yarn as plans and cards print it.

    Examples
    --------
    >>> printed("8/2 cotton", "navy"), printed("jute", "")
    ('8/2 cotton, navy', 'jute')
    """
    return f"{name}, {colour_name}" if colour_name else name


def yarn_key(label: str) -> int | None:
    """Give the yarn that a label names; None for a name that is not of the yarn room.

    Examples
    --------
    >>> yarn_key("8/2 cotton, navy (yarn 12)"), yarn_key("handspun")
    (12, None)
    """
    match = _LABEL.search(label)
    return int(match[1]) if match else None


def is_count(text: str) -> bool:
    """Say whether a text alone tells how fine a yarn is.

    Examples
    --------
    >>> is_count("8/2 cotton"), is_count("3360 yd/lb"), is_count("handspun")
    (True, True, False)
    """
    try:
        read_grist(text, None)
    except UnitError:
        return False
    return True


def with_count(yarn: Mapping[str, Any], grist: str) -> dict[str, Any]:
    """Keep a count as it was typed where the name does not say it: 4/2 and 8/4 cotton hold one length in a pound.

    Examples
    --------
    >>> with_count({"name": "rug warp"}, "4/2 cotton"), with_count({"name": "4/2 cotton, red"}, "4/2 cotton")
    ({'name': 'rug warp', 'count': '4/2 cotton'}, {'name': '4/2 cotton, red'})
    >>> with_count({"name": "rug warp", "count": "4/2 cotton"}, "900 yd/lb")
    {'name': 'rug warp'}
    """
    kept = {part: value for part, value in yarn.items() if part != "count" or not grist}
    tells = _STROKE.search(grist) and is_count(grist) and grist not in yarn["name"]
    return {**kept, "count": grist} if tells else kept


def meant(text: str, names: Mapping[int, str]) -> tuple[int, ...]:
    """Give the yarns that may be meant: those called exactly so, else, unless it is a count, those that begin so.

    Where none begins so, those that have every word of it, be it the colour alone.

    Examples
    --------
    >>> shelf = {12: "8/2 cotton, navy", 13: "8/2 cotton, natural", 14: "jute"}
    >>> meant("8/2 Cotton,  navy", shelf), meant("8/2 cotton, na", shelf), meant("8/2 cotton", shelf), meant("j", shelf)
    ((12,), (12, 13), (), (14,))
    >>> meant("Navy", shelf), meant("navy cotton", shelf), meant("navy jute", shelf)
    ((12,), (12,), ())
    """
    name_typed = _plain(text)
    exactly = tuple(key for key, name in names.items() if _plain(name) == name_typed)
    if exactly or is_count(text):
        return exactly
    begins = tuple(key for key, name in names.items() if _plain(name).startswith(name_typed))
    return begins or tuple(key for key, name in names.items() if _has_words(name_typed, name))


def _has_words(typed: str, name: str) -> bool:
    """Say whether every word that was typed begins a word of the name."""
    words = words_of(name)
    asked = words_of(typed)
    return bool(asked) and all(any(word.startswith(one) for word in words) for one in asked)


def words_of(text: str) -> list[str]:
    """Part a name into its words, without the commas between.

    Examples
    --------
    >>> words_of("8/4 cotton, cochineal, hand-dyed")
    ['8/4', 'cotton', 'cochineal', 'hand-dyed']
    """
    return _plain(text).replace(",", " ").split()


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def which_one(names: Mapping[int, str]) -> str:
    """Ask which of several yarns is meant.

    Examples
    --------
    >>> which_one({12: "jute", 13: "jute, dark"})
    'There are 2 yarns called so: jute; jute, dark. Type more of the name, or choose one from the list.'
    """
    named = [name if list(names.values()).count(name) == 1 else f"{name} (yarn {key})" for key, name in names.items()]
    more = f" and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
    listed = "; ".join(named[:MOST_NAMED]) + more
    return f"There are {len(named)} yarns called so: {listed}. Type more of the name, or choose one from the list."
