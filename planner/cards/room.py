"""How much of two pages a card has filled, in millimetres, so that remarks never push it on to a third.

Paper is laid out by WeasyPrint, which tells how high a thing is only when all is done. These are the heights of
`card.css`, measured on paper and rounded up; the tests print the fullest cards and count the pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from planner.cards.chains import ChainKind, chain_kinds, ties_line
from planner.cards.selectors import CardWords
from planner.plan.plan_view import ChainView, YarnView
from planner.plan.presenter import PlanView

PAGES = 2
ROOM_FOR_A_REMARK = 13.0
"""Height of a remark of two lines; a card with less room leaves out the lines for faults. [mm]"""
PAGE = {"A4": 297 - 25, "Letter": 279 - 25}
BLANK_LINES = 3
MOST_IN_TWO = 16
"""Groups of spools listed two to a line with their colours; more stand three to a line, by their codes."""
LONGEST_ROW = 38
"""Characters of colour runs that fit one line of the section table; longer ones refer to their set-up instead."""

HEAD, FIGURES, STRIP, TOTAL, HEADING = 34.0, 17.0, 30.0, 10.0, 10.0
TABLE_HEAD, BREAK, FAULTS, END = 10.7, 14.0, 41.0, 6.0
ROW, ROW_LINE, LINE, SMALL_LINE, SPOOL, KEY = 8.3, 5.6, 6.1, 4.4, 6.4, 6.1
"""Heights of the parts of a card. [mm]"""
SAVED_BY_A_ROW = 2.1
"""Height a row of sections gives up on a card that would else need a third page. [mm]"""

TITLE_SIGNS, LINE_SIGNS, SMALL_SIGNS, REMARK_SIGNS, KEY_SIGNS = 34, 92, 108, 96, 94
"""Characters in a line of each kind, counted low."""
SWATCH_SIGNS, PASSES_SIGNS, GROUPS_SIGNS = 9, 8, 22
BOXES = 3
"""Boxes to tick side by side, beside the colours of a chain."""


def lines_of(text: str, signs: int) -> int:
    """Count the lines a text takes.

    Examples
    --------
    >>> lines_of("", 10), lines_of("ten signs.", 10), lines_of("eleven sign", 10)
    (1, 1, 2)
    """
    return max(1, ceil(len(text) / signs))


def remark_height(text: str) -> float:
    """Give how high a remark is on paper, in mm."""
    return 2.8 + 5.0 * lines_of(text, REMARK_SIGNS)


def room_for_remarks(
    words: CardWords, plan: PlanView, lines: tuple[tuple[str, str], ...], rows: Sequence[str], *, by_setup: bool
) -> float:
    """Give the height left for remarks when everything else stands on two pages, in mm; below zero, it does not."""
    *above, (_, cautions) = lines
    used = HEAD + FIGURES + STRIP + TOTAL + BREAK + FAULTS + END + HEADING
    used += 9.5 * (lines_of(words.title, TITLE_SIGNS) - 1)
    used += sum(LINE * lines_of(f"{name} {text}", LINE_SIGNS) for name, text in above)
    used += KEY * _key_lines([_key_words(yarn) for yarn in plan.yarns])
    used += SMALL_LINE * (lines_of(plan.part_sections, SMALL_SIGNS) if plan.part_sections else 0)
    used += _tables(plan, rows, by_setup=by_setup)
    used += SMALL_LINE * lines_of(cautions, SMALL_SIGNS)
    return PAGES * PAGE[words.paper] - used


def _lines_of_chain(chain: ChainView) -> int:
    """Count the lines of a row of the chain table: its longest cell, or the boxes to tick."""
    cells = ((chain.seat_text, LONGEST_ROW // 2), (chain.passes, PASSES_SIGNS), (chain.groups, GROUPS_SIGNS))
    count: int = chain.count
    return max(*(lines_of(text, signs) for text, signs in cells), ceil(count / BOXES))


def _key_words(yarn: YarnView) -> str:
    return f"{yarn.code} {yarn.name} {yarn.colour_name}{', on the other beam (low stripes)' if yarn.elsewhere else ''}"


def _key_lines(names: list[str]) -> int:
    """Count the lines of the key, whose entries are never parted."""
    beside = max(1, KEY_SIGNS // (SWATCH_SIGNS + max(map(len, names), default=0)))
    return ceil(len(names) / beside)


def _tables(plan: PlanView, rows: Sequence[str], *, by_setup: bool) -> float:
    """Give the height of the tables of sections, chains, set-ups and spools, in mm."""
    used = sum(ROW + ROW_LINE * (lines_of(text, LONGEST_ROW) - 1) for text in rows) + 2 * TABLE_HEAD if rows else 0.0
    used += _chains(plan)
    used += (
        HEADING + sum(LINE * lines_of(s.seat_text + s.slots, LINE_SIGNS - (50 if s.slots else 20)) for s in plan.setups)
        if by_setup
        else 0.0
    )
    beside = 3 if len(plan.spools) > MOST_IN_TWO else 2
    used += HEADING + SPOOL * ceil(len(plan.spools) / beside) if plan.spools else 0.0
    return used


def _chains(plan: PlanView) -> float:
    """Give the height of the chains and their ties: a list on a sectional beam, a table on a plain one, in mm."""
    if not plan.chains:
        return 0.0
    marks = SMALL_LINE * lines_of(plan.tie_marks, SMALL_SIGNS) if plan.tie_marks else 0.0
    if plan.sections:
        ties = SMALL_LINE * lines_of(f"Choke ties {ties_line(plan)}", SMALL_SIGNS)
        return HEADING + sum(map(_kind, chain_kinds(plan))) + marks + ties
    used = HEADING + TABLE_HEAD + sum(ROW + ROW_LINE * (_lines_of_chain(chain) - 1) for chain in plan.chains)
    return used + marks + SMALL_LINE * lines_of("; ".join(plan.ties), SMALL_SIGNS)


def _kind(kind: ChainKind) -> float:
    head = LINE * lines_of(f"Each {kind.head}:", LINE_SIGNS) if kind.head else 0.0
    if kind.beside > 1:
        return head + SPOOL * ceil(len(kind.entries) / kind.beside)
    return head + sum(SPOOL + LINE * (ceil(entry.signs / LINE_SIGNS) - 1) for entry in kind.entries)
