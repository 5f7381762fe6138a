"""The marks on a sheet that say which yarns lie on the other warp beam, and the sheet of that beam."""

from __future__ import annotations

from collections.abc import Mapping

from planner.brief.sheet_input import rows_used

Form = Mapping[str, str]


def _marks(form: Form) -> dict[str, bool]:
    names = (f"yarns-{row}-elsewhere" for row in rows_used(form))
    return {name: bool(form.get(name, "").strip()) for name in names}


def on_two_beams(form: Form) -> bool:
    """Say whether some yarn of a sheet is marked as lying on the other warp beam."""
    return any(_marks(form).values())


def with_beams_swapped(form: Form) -> dict[str, str]:
    """Give the sheet of the other beam: the yarns marked there lie here, and those that lay here are marked.

    Examples
    --------
    >>> with_beams_swapped({"yarns-0-yarn": "thin", "yarns-1-yarn": "thick", "yarns-1-elsewhere": "on"})
    {'yarns-0-yarn': 'thin', 'yarns-1-yarn': 'thick', 'yarns-0-elsewhere': 'on'}
    """
    marks = _marks(form)
    rest = {name: text for name, text in form.items() if name not in marks}
    return {**rest, **{name: "on" for name, marked in marks.items() if not marked}}
