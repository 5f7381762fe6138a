"""No loom, seat or tool twice at one time: what the database refuses by itself, whoever writes.

A service locks, looks and says no in a sentence. Behind it stand exclusion constraints on PostgreSQL and triggers on
SQLite. Spans are half-open: who ends on a day and who begins on it do not meet.
"""

from __future__ import annotations

from studio.guards import Guards

TAKEN = "this is taken at that time"
UNREADABLE = "a time must be written as the database itself writes it"

_DAYS, _HOURS = ("starts_on", "ends_before"), ("starts_at", "ends_at")
_ONE_AT_A_TIME = {
    "loom_taken_once": ("studio_loomoccupancy", "loom_id", _DAYS),
    "seat_taken_once": ("studio_seattime", "occupancy_id", _HOURS),
    "station_taken_once": ("studio_toolbooking", "station_id", _HOURS),
    "reed_taken_once": ("studio_toolbooking", "reed_id", _HOURS),
}
"""Of each guard: its table, what is taken, and from when until when."""


def _sqlite(name: str, table: str, thing: str, span: tuple[str, str], event: str) -> str:
    """Write one trigger. Text is compared, so text that SQLite would not write itself is refused first."""
    start, end = span
    when = "date({0}) IS NOT {0}" if span == _DAYS else "datetime({0}) IS NOT substr({0}, 1, 19)"
    unreadable = " OR ".join(when.format(f"NEW.{column}") for column in span)
    of, other = (f"OF {thing}, {start}, {end}, cancelled_at ", "AND o.id <> NEW.id ") if event == "UPDATE" else ("", "")
    return (
        f"CREATE TRIGGER {name} BEFORE {event} {of}ON {table} WHEN NEW.cancelled_at IS NULL BEGIN "  # noqa: S608 - our own words
        f"SELECT RAISE(ABORT, '{UNREADABLE}') WHERE {unreadable}; "
        f"SELECT RAISE(ABORT, '{TAKEN}') WHERE EXISTS (SELECT 1 FROM {table} o "
        f"WHERE o.{thing} = NEW.{thing} {other}AND o.cancelled_at IS NULL "
        f"AND o.{start} < NEW.{end} AND NEW.{start} < o.{end}); END"
    )


def _postgres(name: str, table: str, thing: str, span: tuple[str, str]) -> tuple[str, str]:
    kind = "daterange" if span == _DAYS else "tstzrange"
    over = f"{thing} WITH =, {kind}({span[0]}, {span[1]}) WITH &&"
    add = f"ALTER TABLE {table} ADD CONSTRAINT {name} EXCLUDE USING gist ({over}) WHERE (cancelled_at IS NULL)"
    return add, f"ALTER TABLE {table} DROP CONSTRAINT IF EXISTS {name}"


GUARDS = Guards(
    sqlite={
        f"{name}_{event.lower()}": _sqlite(f"{name}_{event.lower()}", *facts, event)
        for name, facts in _ONE_AT_A_TIME.items()
        for event in ("INSERT", "UPDATE")
    },
    postgres={name: _postgres(name, *facts) for name, facts in _ONE_AT_A_TIME.items()},
    first=("CREATE EXTENSION IF NOT EXISTS btree_gist",),
)
"""All must stand after every migration."""
