"""The wanted list as one reader sees it: what she may do with each request, and its form."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.yarn.shelf_forms import WantForm
from planner.yarn.wanted_selectors import WantedGroup, WantedRow, may_mark
from studio.models import Member
from studio.rights import Act, may


@dataclass(frozen=True, slots=True)
class ListRow:
    """One request with its form; none for those who may only look."""

    row: WantedRow
    form: WantForm | None
    may_order: bool
    failed: bool


@dataclass(frozen=True, slots=True)
class ListGroup:
    """One yarn of the list with its requests."""

    group: WantedGroup
    rows: tuple[ListRow, ...]


def pages_of(groups: Iterable[WantedGroup], member: Member, failed: Mapping[int, WantForm]) -> tuple[ListGroup, ...]:
    """Say of each request what this reader may do; `failed` has the form that came back with mistakes."""
    return tuple(ListGroup(group, tuple(_row(row, member, failed) for row in group.rows)) for group in groups)


def _row(row: WantedRow, member: Member, failed: Mapping[int, WantForm]) -> ListRow:
    one = row.wanted
    form = None
    if may_mark(one, member):
        said = {"expected_on": one.expected_on, "note": one.note}
        form = failed.get(one.pk) or WantForm(initial=said, auto_id=f"wanted-{one.pk}-%s")
    may_order = form is not None and may(member.role, Act.EDIT_YARN)
    return ListRow(row, form, may_order, one.pk in failed)
