"""Guards inside the database: what it refuses whoever writes, put up by a migration and in each engine's own words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field

from django.apps.registry import Apps
from django.db import transaction
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.base.schema import BaseDatabaseSchemaEditor


@dataclass(frozen=True)
class Guards:
    """Triggers of SQLite by name, and for PostgreSQL each guard's name with how it is put up and taken down.

    SQLite's are dropped with their table, and Django changes most columns by making a table anew: a migration of a
    guarded table begins with `RunPython(guards.down, guards.up)` and ends with `RunPython(guards.up, guards.down)`.
    """

    sqlite: Mapping[str, str]
    postgres: Mapping[str, tuple[str, str]]
    first: tuple[str, ...] = field(default=())
    """What PostgreSQL needs before any of them, such as a function or an extension."""
    last: tuple[str, ...] = field(default=())
    """What PostgreSQL takes away after all of them are down."""

    def put_up(self, connection: BaseDatabaseWrapper) -> None:
        """Put them up; those that stand are put up anew."""
        self.take_down(connection)
        if connection.vendor == "sqlite":
            lines = tuple(self.sqlite.values())
        elif connection.vendor == "postgresql":
            lines = (*self.first, *(up for up, _ in self.postgres.values()))
        else:
            raise NotImplementedError(f"there are no guards for {connection.vendor}")
        _run(connection, lines)

    def take_down(self, connection: BaseDatabaseWrapper) -> None:
        """Take them down, for a migration of their tables or a restored backup; then put them up again."""
        if connection.vendor == "sqlite":
            _run(connection, tuple(f"DROP TRIGGER IF EXISTS {name}" for name in self.sqlite))
        else:
            _run(connection, (*(down for _, down in self.postgres.values()), *self.last))

    def up(self, _: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
        """Put them up, in a migration."""
        self.put_up(schema_editor.connection)

    def down(self, _: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
        """Take them down, in a migration."""
        self.take_down(schema_editor.connection)

    @contextmanager
    def lifted(self, connection: BaseDatabaseWrapper) -> Iterator[None]:
        """Do without them for a moment, whole or not at all."""
        with transaction.atomic(using=connection.alias):
            self.take_down(connection)
            yield
            self.put_up(connection)

    def names(self, connection: BaseDatabaseWrapper) -> set[str]:
        """Give the names of all that should stand."""
        return set(self.sqlite if connection.vendor == "sqlite" else self.postgres)


def standing(connection: BaseDatabaseWrapper) -> set[str]:
    """Give the names of the guards that stand in a database: triggers, and on PostgreSQL exclusions too."""
    triggers, exclusions = _ASK[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(f"{triggers} UNION {exclusions}")
        return {name for (name,) in cursor.fetchall()}


_ASK: Mapping[str, tuple[str, str]] = {
    "sqlite": ("SELECT name FROM sqlite_master WHERE type = 'trigger'", "SELECT name FROM sqlite_master WHERE 0"),
    "postgresql": (
        "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal",
        "SELECT conname FROM pg_constraint WHERE contype = 'x'",
    ),
}


def _run(connection: BaseDatabaseWrapper, lines: tuple[str, ...]) -> None:
    with connection.cursor() as cursor:
        for line in lines:
            cursor.execute(line)
