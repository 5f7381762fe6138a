"""The bench of direct questions: calculators that stand alone, asked with a few typed quantities.

Each part of the bench has a module of questions; here they come together, and are found by words.
Numbers come from the calculators, `Reader` writes them; nothing is worked out in any of these modules.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from types import MappingProxyType

from planner.handbook.question import Question
from planner.handbook.questions_beam import BEAM_QUESTIONS
from planner.handbook.questions_board import BOARD_QUESTIONS
from planner.handbook.questions_cloth import CLOTH_QUESTIONS
from planner.handbook.questions_reach import REACH_QUESTIONS
from planner.handbook.questions_reed import REED_QUESTIONS
from planner.handbook.questions_sett import SETT_QUESTIONS
from planner.handbook.questions_yarn import YARN_QUESTIONS
from studio.synonyms import names_meant

QUESTIONS: Mapping[str, Question] = MappingProxyType({
    question.key: question
    for question in (
        *YARN_QUESTIONS, *SETT_QUESTIONS, *REED_QUESTIONS, *BEAM_QUESTIONS, *BOARD_QUESTIONS, *CLOTH_QUESTIONS,
        *REACH_QUESTIONS,
    )
})  # fmt: skip
"""Every direct question by key, in the order of the bench."""

_WORD = re.compile(r"[\w’'-]+")


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
