"""What the database itself refuses, whoever writes: triggers that keep every balance the sum of its moves.

A service locks, looks and says no in a sentence. Behind it stand these: an import, a second program or a line of SQL
typed by hand can neither change a move, nor promise yarn twice, nor set a balance to what the moves do not say. The
columns' own checks refuse what would go below nothing.

On SQLite Django changes most columns by making the table anew, and SQLite stops at a trigger that names a table which
is gone for a moment. So a migration of packages, moves or set-asides begins with `RunPython(down, up)` and ends with
`RunPython(up, down)`; without them it stops with "error in trigger", and nothing is changed.
"""

from __future__ import annotations

from studio.guards import Guards

NEVER_CHANGED = "a move of yarn is never changed or deleted; reverse it"
NOT_FROM_QUARANTINE = "yarn in quarantine is neither promised nor taken"
NOT_TO_CLOSED = "nothing is promised to work that is closed"
NOT_PROMISED = "work cannot give back more than it holds of a package"
NOT_MIRRORED = "a reversal takes back exactly what its move did, once, and is not itself reversed"
NOT_THE_SUM = "a balance is the sum of its moves and is written by them alone"

_QUARANTINED = """
    EXISTS (SELECT 1 FROM inventory_package p WHERE p.id = NEW.package_id AND p.quarantined)
    AND (NEW.promised_ug > 0 OR NEW.kind IN ('issue', 'sell'))"""
_CLOSED = """
    NEW.promised_ug > 0
    AND EXISTS (SELECT 1 FROM inventory_setaside s WHERE s.id = NEW.set_aside_id AND s.closed_at IS NOT NULL)"""
_UNPROMISED = """
    NEW.promised_ug < 0
    AND (SELECT SUM(m.promised_ug) FROM inventory_move m
         WHERE m.set_aside_id = NEW.set_aside_id AND m.package_id = NEW.package_id) < 0"""
_UNMIRRORED = """
    NEW.kind = 'reverse'
    AND NOT EXISTS (
        SELECT 1 FROM inventory_move m
        WHERE m.id = NEW.reverses_id AND m.kind <> 'reverse' AND m.package_id = NEW.package_id
        AND m.on_hand_ug = -NEW.on_hand_ug AND m.promised_ug = -NEW.promised_ug
        AND COALESCE(m.set_aside_id, 0) = COALESCE(NEW.set_aside_id, 0))"""
_NOT_SUM = """
    NEW.on_hand_ug <> (SELECT COALESCE(SUM(m.on_hand_ug), 0) FROM inventory_move m WHERE m.package_id = NEW.id)
    OR NEW.promised_ug <> (SELECT COALESCE(SUM(m.promised_ug), 0) FROM inventory_move m WHERE m.package_id = NEW.id)"""
REFUSED = (
    (NOT_FROM_QUARANTINE, _QUARANTINED),
    (NOT_TO_CLOSED, _CLOSED),
    (NOT_PROMISED, _UNPROMISED),
    (NOT_MIRRORED, _UNMIRRORED),
)
"""What is refused of a new move, looked at when its package is locked and its balance written."""

# Counted anew each time: PostgreSQL looks at many new moves only when all of them are in. Its first line waits for the
# package, so that the next sees what others wrote meanwhile.
_LOCK = "PERFORM 1 FROM inventory_package WHERE id = NEW.package_id FOR NO KEY UPDATE;"
_BALANCE = """
    UPDATE inventory_package
    SET on_hand_ug = (SELECT SUM(m.on_hand_ug) FROM inventory_move m WHERE m.package_id = NEW.package_id),
        promised_ug = (SELECT SUM(m.promised_ug) FROM inventory_move m WHERE m.package_id = NEW.package_id)
    WHERE id = NEW.package_id;"""
# The latest standing move of quarantine says whether the package is in it, so that a reversal leaves the truth.
_STATE = """
    UPDATE inventory_package
    SET quarantined = COALESCE((
        SELECT m.kind = 'quarantine_in' FROM inventory_move m
        WHERE m.package_id = NEW.package_id AND m.kind IN ('quarantine_in', 'quarantine_out')
        AND NOT EXISTS (SELECT 1 FROM inventory_move r WHERE r.reverses_id = m.id)
        ORDER BY m.id DESC LIMIT 1), {no})
    WHERE id = NEW.package_id AND NEW.kind IN ('quarantine_in', 'quarantine_out', 'reverse');"""

_SQLITE_REFUSALS = "".join(f"\n    SELECT RAISE(ABORT, '{words}') WHERE {wrong};" for words, wrong in REFUSED)
SQLITE = {
    "move_not_changed": (
        f"CREATE TRIGGER move_not_changed BEFORE UPDATE ON inventory_move BEGIN "
        f"SELECT RAISE(ABORT, '{NEVER_CHANGED}'); END"
    ),
    "move_not_deleted": (
        f"CREATE TRIGGER move_not_deleted BEFORE DELETE ON inventory_move BEGIN "
        f"SELECT RAISE(ABORT, '{NEVER_CHANGED}'); END"
    ),
    # INSERT OR REPLACE would take the old row away without the trigger on deletion.
    "move_not_replaced": (
        f"CREATE TRIGGER move_not_replaced BEFORE INSERT ON inventory_move "  # noqa: S608 - our own words
        f"WHEN EXISTS (SELECT 1 FROM inventory_move m WHERE m.id = NEW.id) BEGIN "
        f"SELECT RAISE(ABORT, '{NEVER_CHANGED}'); END"
    ),
    "move_counted": (
        f"CREATE TRIGGER move_counted AFTER INSERT ON inventory_move BEGIN"
        f"{_BALANCE}{_SQLITE_REFUSALS}{_STATE.format(no=0)} END"
    ),
    "package_begins_empty": (
        f"CREATE TRIGGER package_begins_empty AFTER INSERT ON inventory_package "
        f"WHEN {_NOT_SUM} BEGIN SELECT RAISE(ABORT, '{NOT_THE_SUM}'); END"
    ),
    "package_balanced": (
        f"CREATE TRIGGER package_balanced AFTER UPDATE OF on_hand_ug, promised_ug ON inventory_package "
        f"WHEN {_NOT_SUM} BEGIN SELECT RAISE(ABORT, '{NOT_THE_SUM}'); END"
    ),
}
"""Name and text of each trigger on SQLite."""


def _refuse(words: str) -> str:
    return f"RAISE EXCEPTION USING ERRCODE = 'integrity_constraint_violation', MESSAGE = '{words}';"


def _function(name: str, body: str) -> str:
    return (
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN {body} RETURN NULL; END $$"
    )


_POSTGRES_REFUSALS = "".join(f"\n    IF {wrong} THEN {_refuse(words)} END IF;" for words, wrong in REFUSED)
POSTGRES_FUNCTIONS = {
    "inventory_move_kept": _refuse(NEVER_CHANGED),
    "inventory_move_counted": f"{_LOCK}{_BALANCE}{_POSTGRES_REFUSALS}{_STATE.format(no='false')}",
    "inventory_package_balanced": f"IF {_NOT_SUM} THEN {_refuse(NOT_THE_SUM)} END IF;",
}
_POSTGRES_TRIGGERS = {
    "move_kept": (
        "inventory_move",
        "BEFORE UPDATE OR DELETE ON inventory_move FOR EACH ROW EXECUTE FUNCTION inventory_move_kept()",
    ),
    "move_not_emptied": (
        "inventory_move",
        "BEFORE TRUNCATE ON inventory_move FOR EACH STATEMENT EXECUTE FUNCTION inventory_move_kept()",
    ),
    "move_counted": (
        "inventory_move",
        "AFTER INSERT ON inventory_move FOR EACH ROW EXECUTE FUNCTION inventory_move_counted()",
    ),
    "package_balanced": (
        "inventory_package",
        (
            "AFTER INSERT OR UPDATE OF on_hand_ug, promised_ug ON inventory_package "
            "FOR EACH ROW EXECUTE FUNCTION inventory_package_balanced()"
        ),
    ),
}
POSTGRES = {
    name: (f"CREATE TRIGGER {name} {text}", f"DROP TRIGGER IF EXISTS {name} ON {table}")
    for name, (table, text) in _POSTGRES_TRIGGERS.items()
}
"""How each trigger is put up and taken down on PostgreSQL."""

GUARDS = Guards(
    sqlite=SQLITE,
    postgres=POSTGRES,
    first=tuple(_function(name, body) for name, body in POSTGRES_FUNCTIONS.items()),
    last=tuple(f"DROP FUNCTION IF EXISTS {name}()" for name in POSTGRES_FUNCTIONS),
)
"""All must stand after every migration. Whoever lifts them asks `ledger_faults` afterwards."""
up, down, lifted = GUARDS.up, GUARDS.down, GUARDS.lifted
