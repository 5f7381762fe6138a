"""The trade's other names, read from `synonyms.toml`: what people type, and the word this studio uses for it."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

LONGEST_SEARCH = 80
"""Characters of a search that are read; the rest cannot be a trade word or a name."""


@dataclass(frozen=True, slots=True)
class Term:
    """One word of the house, the other names for it, and what it means."""

    word: str
    others: tuple[str, ...]
    meaning: str

    @property
    def family(self) -> frozenset[str]:
        """The word and all its other names."""
        return frozenset({self.word, *self.others})


_FILE = Path(__file__).with_name("synonyms.toml")
TERMS = tuple(
    Term(word, tuple(about["others"]), about["meaning"])
    for word, about in tomllib.loads(_FILE.read_text(encoding="utf-8")).items()
)


def plain_words(text: str) -> str:
    """Give a search as it is compared: lower case, single spaces, not too long."""
    return " ".join(text.replace("\x00", "").lower().split())[:LONGEST_SEARCH].strip()


def _by_name() -> Mapping[str, tuple[Term, ...]]:
    found: dict[str, tuple[Term, ...]] = {}
    for term in TERMS:
        for name in sorted(term.family):
            found[name] = (*found.get(name, ()), term)
    return MappingProxyType(found)


BY_NAME: Mapping[str, tuple[Term, ...]] = _by_name()


def terms_for(text: str) -> tuple[Term, ...]:
    """Give the house words that somebody may mean; an s at the end makes no difference.

    Examples
    --------
    >>> [term.word for term in terms_for("Warping frames")], [term.word for term in terms_for("heald")]
    (['warping board'], ['heddle'])
    """
    words = plain_words(text)
    return BY_NAME.get(words) or BY_NAME.get(words.removesuffix("s"), ())


def names_meant(text: str) -> frozenset[str]:
    """Give every name under which the thing may be found: what was typed, and its whole family.

    Examples
    --------
    >>> sorted(names_meant("peg board"))
    ['peg board', 'warping board', 'warping frame']
    """
    words = plain_words(text)
    family = {name for term in terms_for(words) for name in term.family}
    return frozenset(family | {words}) if words else frozenset()
