"""The bench of direct questions: calculators that stand alone, asked with a few typed quantities.

`questions.toml` holds them. A field is told in a line: its label; its kind in brackets, and there whether it may be
zero or left empty; its hint. Numbers come from the calculators; no module of answers works anything out itself.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

from inventory.calc.package_length import USUAL_TARES
from planner.calc.cloth.sett import WEAVES
from planner.calc.reed import reed_systems
from planner.handbook.answers.beam import BEAM_ANSWERS
from planner.handbook.answers.board import BOARD_ANSWERS
from planner.handbook.answers.cloth import CLOTH_ANSWERS
from planner.handbook.answers.reach import REACH_ANSWERS
from planner.handbook.answers.reed import REED_ANSWERS
from planner.handbook.answers.sett import SETT_ANSWERS
from planner.handbook.answers.yarn import YARN_ANSWERS
from planner.handbook.question import Answers, Ask, Choices, Question
from planner.handbook.toml import one_line, read_toml
from studio.synonyms import names_meant

ANSWERS: Answers = {
    **YARN_ANSWERS, **SETT_ANSWERS, **REED_ANSWERS, **BEAM_ANSWERS, **BOARD_ANSWERS, **CLOTH_ANSWERS, **REACH_ANSWERS,
}  # fmt: skip

CHOICES: Mapping[str, Choices] = {
    "packages": tuple((key, key.capitalize()) for key in USUAL_TARES),
    "weaves": tuple((key, weave.name) for key, weave in WEAVES.items()),
    "reed-systems": tuple((key, system.name) for key, system in reed_systems.SYSTEMS.items()),
    "fibres": (
        ("cotton", "cotton"), ("worsted", "worsted wool"), ("wool", "woollen"), ("linen", "linen"), ("silk", "silk"),
    ),
}  # fmt: skip
"""Choices that several questions share or that calculators know."""

_FIELD = re.compile(r"(?P<label>[^[]+) \[(?P<kind>\w+)(?P<zero> or 0)?(?P<empty>, or empty)?\] ?(?P<hint>.*)")
_WORD = re.compile(r"[\w’'-]+")


def _question(key: str, told: Mapping[str, Any]) -> Question:
    title, about, words = (one_line(told[name]) for name in ("title", "about", "words"))
    return Question(key, title, about, words, tuple(_asks(told)), tuple(told["rules"]), told["example"], ANSWERS[key])


def _asks(told: Mapping[str, Any]) -> Iterator[Ask]:
    part_of = {name: part for part, names in told.get("parts", {}).items() for name in names}
    for name, text in told["asks"].items():
        field = _FIELD.fullmatch(one_line(text))
        if field is None:
            raise ValueError(f"no field: {text}")
        chosen = told.get("choices", {}).get(name, {})
        yield Ask(
            name,
            field["label"],
            field["kind"],
            hint=field["hint"],
            needed=not field["empty"],
            zero=bool(field["zero"]),
            choices=CHOICES[chosen] if isinstance(chosen, str) else tuple(chosen.items()),
            usual=told.get("usual", {}).get(name, ""),
            part=part_of.get(name, ""),
        )


QUESTIONS: Mapping[str, Question] = MappingProxyType(
    {key: _question(key, told) for key, told in read_toml("questions.toml").items()}
)
"""Every direct question by key, in the order of the bench."""


def questions_on(rule: str) -> tuple[Question, ...]:
    """Give the questions that a rule helps to answer."""
    return tuple(question for question in QUESTIONS.values() if rule in question.rules)


def questions_in(rules: Collection[str]) -> tuple[Question, ...]:
    """Give the questions that belong to a part of the bench, by the first rule of each."""
    return tuple(question for question in QUESTIONS.values() if question.rules[0] in rules)


def find_questions(text: str) -> tuple[Question, ...]:
    """Give the questions that a text may mean, under every name the trade has for it; by their titles first.

    Examples
    --------
    >>> [question.key for question in find_questions("leader knot")]
    ['knot']
    """
    names = [name.split() for name in names_meant(text)]
    by_title = [one for one in QUESTIONS.values() if _means(names, one.title)]
    by_words = [one for one in QUESTIONS.values() if _means(names, one.title, one.words)]
    by_all = [one for one in QUESTIONS.values() if _means(names, one.title, one.words, one.about, *_labels(one))]
    known = {one.key: one for one in (*by_title, *by_words, *by_all)}
    return tuple(known.values())


def _labels(question: Question) -> Iterable[str]:
    return (ask.label for ask in question.asks)


def _means(names: Iterable[list[str]], *texts: str) -> bool:
    """Tell whether every word of one of the names begins a word of the texts; an s at its end makes no difference."""
    known = _WORD.findall(" ".join(texts).casefold())
    return any(all(any(word.startswith(part.removesuffix("s")) for word in known) for part in name) for name in names)
