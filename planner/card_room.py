"""How much of two pages a card has filled, in millimetres, so that remarks never push it on to a third.

Paper is laid out by WeasyPrint, which tells how high a thing is only when all is done. These are the heights of
`card.css`, measured on paper and rounded up; the tests print the fullest cards and count the pages.
"""

from __future__ import annotations

from math import ceil

from planner.card_selectors import CardWords
from planner.shown import ShownChain, ShownPlan, ShownYarn

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
TABLE_HEAD, BREAK, FAULTS, END = 10.5, 24.0, 41.0, 6.0
ROW, ROW_LINE, LINE, SMALL_LINE, SPOOL, KEY = 7.7, 5.2, 6.1, 4.3, 6.2, 6.0
"""Heights of the parts of a card. [mm]"""

TITLE_SIGNS, LINE_SIGNS, SMALL_SIGNS, REMARK_SIGNS, KEY_SIGNS = 34, 92, 108, 96, 94
"""Characters in a line of each kind, counted low."""
SWATCH_SIGNS, PASSES_SIGNS, GROUPS_SIGNS = 9, 8, 22
BOXES, BOXES_WIDE = 3, 7
"""Boxes to tick side by side: beside the colours of a chain, and where these stand with the sections."""


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


def room_for_remarks(words: CardWords, plan: ShownPlan, lines: tuple[tuple[str, str], ...], *, by_setup: bool) -> float:
    """Give the height left for remarks when everything else stands on two pages, in mm; below zero, it does not."""
    *above, (_, cautions) = lines
    used = HEAD + FIGURES + STRIP + TOTAL + BREAK + FAULTS + END + HEADING
    used += 9.5 * (lines_of(words.title, TITLE_SIGNS) - 1)
    used += sum(LINE * lines_of(f"{name} {text}", LINE_SIGNS) for name, text in above)
    used += KEY * _key_lines([_key_words(yarn) for yarn in plan.yarns])
    used += SMALL_LINE * (lines_of(plan.part_sections, SMALL_SIGNS) if plan.part_sections else 0)
    used += _tables(plan, by_setup=by_setup)
    used += SMALL_LINE * lines_of(cautions, SMALL_SIGNS)
    return PAGES * PAGE[words.paper] - used


def _lines_of_chain(chain: ShownChain, beside: int) -> int:
    """Count the lines of a row of the chain table: its longest cell, or the boxes to tick."""
    cells = ((chain.seat_text, LONGEST_ROW // 2), (chain.passes, PASSES_SIGNS), (chain.groups, GROUPS_SIGNS))
    return max(*(lines_of(text, signs) for text, signs in cells), ceil(chain.count / beside))


def _key_words(yarn: ShownYarn) -> str:
    return f"{yarn.code} {yarn.name} {yarn.colour_name}{', on the other beam (low stripes)' if yarn.elsewhere else ''}"


def _key_lines(names: list[str]) -> int:
    """Count the lines of the key, whose entries are never parted."""
    beside = max(1, KEY_SIGNS // (SWATCH_SIGNS + max(map(len, names), default=0)))
    return ceil(len(names) / beside)


def _tables(plan: ShownPlan, *, by_setup: bool) -> float:
    """Give the height of the tables of sections, chains, set-ups and spools, in mm."""
    codes = [min((", ".join(run.text for run in row.seat), row.seat_text), key=len) for row in plan.sections]
    rows = [1 if by_setup else lines_of(text, LONGEST_ROW) for text in codes]
    used = sum(ROW + ROW_LINE * (count - 1) for count in rows) + 2 * TABLE_HEAD if rows else 0.0
    beside = BOXES_WIDE if plan.sections else BOXES
    chains = [_lines_of_chain(chain, beside) for chain in plan.chain_kinds]
    used += HEADING + TABLE_HEAD + sum(ROW + ROW_LINE * (count - 1) for count in chains) if chains else 0.0
    used += HEADING + sum(LINE * lines_of(s.seat_text, LINE_SIGNS - 20) for s in plan.setups) if by_setup else 0.0
    beside = 3 if len(plan.spools) > MOST_IN_TWO else 2
    used += HEADING + SPOOL * ceil(len(plan.spools) / beside) if plan.spools else 0.0
    marks = SMALL_LINE * lines_of(plan.tie_marks, SMALL_SIGNS) if plan.tie_marks else 0.0
    return used + marks + SMALL_LINE * lines_of("; ".join(plan.ties), SMALL_SIGNS)
