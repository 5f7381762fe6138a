"""What the database refuses by itself, from whoever writes past the services."""

from datetime import UTC, datetime
from fractions import Fraction

import pytest
from django.core.management.color import no_style
from django.db import IntegrityError, connection, models, transaction

from inventory.ledger import guards as ledger_guards
from inventory.ledger.quarantine import quarantine
from inventory.ledger.selectors import ledger_faults
from inventory.ledger.set_aside import close_set_aside
from inventory.ledger.taking import issue_yarn
from inventory.models import Move, Package, SetAside
from studio.guards import standing
from tests.cast import steward
from tests.inventory.stock import a_package, balance, promise, some_work

pytestmark = pytest.mark.django_db

INSERT = """
    INSERT INTO inventory_move (package_id, kind, on_hand_ug, promised_ug, made_by_id, made_at, set_aside_id,
        reverses_id, said_why, unit_price_text, temperature_text, round_number, amount)
    VALUES (%s, %s, %s, %s, %s, %s, %s, %s, '', '', '', %s, %s)"""
GRAM = 1_000_000


def type_in(sql, *values):
    """Run a line of SQL as somebody at the database's own prompt would."""
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(sql, values)
        return cursor.rowcount


def insert(package, kind, on_hand=0, promised=0, *, by=None, work=None, of=None, round_number=None, amount=None):
    """Write a move by raw SQL, in grams."""
    return type_in(
        INSERT, package.pk, kind, on_hand * GRAM, promised * GRAM, by and by.pk, datetime.now(UTC), work and work.pk,
        of and of.pk, round_number, amount,
    )  # fmt: skip


def refused(words):
    return pytest.raises(IntegrityError, match=words)


@pytest.fixture
def keeper():
    return steward()


@pytest.fixture
def package(keeper):
    return a_package()


def test_all_guards_stand_after_the_migrations():
    assert standing(connection) >= ledger_guards.GUARDS.names(connection)


def test_a_move_written_by_hand_is_counted(package, keeper):
    insert(package, "issue", -100, by=keeper)
    assert balance(package) == (400, 0)


@pytest.mark.parametrize("column", ["on_hand_ug", "promised_ug", "made_by_id", "package_id"])
def test_a_move_is_never_changed(package, column):
    with refused(ledger_guards.NEVER_CHANGED):
        type_in(f"UPDATE inventory_move SET {column} = 1")
    assert balance(package) == (500, 0)


def test_a_move_is_never_changed_by_django_either(package):
    move = package.moves.get()
    move.said_why = "something else"
    with refused(ledger_guards.NEVER_CHANGED), transaction.atomic():
        move.save()


def test_a_move_is_never_deleted(package):
    with refused(ledger_guards.NEVER_CHANGED):
        type_in("DELETE FROM inventory_move")
    assert balance(package) == (500, 0)


def test_a_move_is_never_deleted_by_django_either(package):
    with refused(ledger_guards.NEVER_CHANGED), transaction.atomic():
        package.moves.all().delete()


@pytest.mark.skipif("connection.vendor != 'sqlite'", reason="only SQLite knows this line")
def test_a_move_is_never_replaced(package, keeper):
    known = package.moves.get().pk
    line = INSERT.replace("INSERT INTO inventory_move (", "INSERT OR REPLACE INTO inventory_move (id, ")
    line = line.replace("VALUES (", "VALUES (%s, ")
    with refused(ledger_guards.NEVER_CHANGED):
        type_in(line, known, package.pk, "receive", 0, 0, None, datetime.now(UTC), None, None, None, None)


@pytest.mark.skipif("connection.vendor != 'postgresql'", reason="only PostgreSQL knows this line")
def test_the_moves_are_never_emptied_at_once(package):
    connection.check_constraints()  # or what this test wrote would be in the way
    with refused(ledger_guards.NEVER_CHANGED):
        type_in("TRUNCATE inventory_move CASCADE")


def test_nothing_goes_below_nothing(package, keeper):
    with refused("package_promises_what_it_holds"):
        insert(package, "issue", -501, by=keeper)
    assert balance(package) == (500, 0)


def test_what_is_promised_to_one_cannot_be_taken_by_another(package, keeper):
    promise(package, 450, keeper)
    with refused("package_promises_what_it_holds"):
        insert(package, "issue", -51, by=keeper)


def test_nothing_is_promised_twice(package, keeper):
    promise(package, 450, keeper)
    with refused("package_promises_what_it_holds"):
        insert(package, "allocate", 0, 51, by=keeper, work=some_work(keeper))


def test_one_work_cannot_give_back_what_another_holds(package, keeper):
    promise(package, 200, keeper)
    mine = promise(package, 100, keeper)
    with refused(ledger_guards.NOT_PROMISED):
        insert(package, "release", 0, -101, by=keeper, work=mine)


def test_nothing_is_promised_to_closed_work(package, keeper):
    work = close_set_aside(set_aside=some_work(keeper), by=keeper)
    with refused(ledger_guards.NOT_TO_CLOSED):
        insert(package, "allocate", 0, 1, by=keeper, work=work)


@pytest.mark.parametrize(("kind", "on_hand", "promised"), [("allocate", 0, 1), ("issue", -1, 0)])
def test_nothing_leaves_quarantine(package, keeper, kind, on_hand, promised):
    quarantine(package=package, by=keeper)
    with refused(ledger_guards.NOT_FROM_QUARANTINE):
        insert(package, kind, on_hand, promised, by=keeper, work=some_work(keeper))


def test_spoilt_yarn_in_quarantine_can_be_written_off(package, keeper):
    quarantine(package=package, by=keeper)
    insert(package, "write_off", -500, by=keeper)
    assert balance(package) == (0, 0)


def test_a_reversal_takes_back_exactly_what_was_done(package, keeper):
    move = issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    with refused(ledger_guards.NOT_MIRRORED):
        insert(package, "reverse", 99, by=keeper, of=move)
    with refused(ledger_guards.NOT_MIRRORED):
        insert(a_package(), "reverse", 100, by=keeper, of=move)
    insert(package, "reverse", 100, by=keeper, of=move)
    assert balance(package) == (500, 0)


def test_a_move_is_reversed_once_and_a_reversal_never(package, keeper):
    move = issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    insert(package, "reverse", 100, by=keeper, of=move)
    with pytest.raises(IntegrityError):
        insert(package, "reverse", 100, by=keeper, of=move)
    with refused(ledger_guards.NOT_MIRRORED):
        insert(package, "reverse", -100, by=keeper, of=Move.objects.get(reverses=move))


@pytest.mark.parametrize(
    ("kind", "on_hand", "promised", "more"),
    [
        ("receive", -1, 0, {}),
        ("weigh", 0, 1, {}),
        ("allocate", 1, 1, {}),
        ("release", 0, 1, {}),
        ("issue", 1, 0, {}),
        ("issue", -1, -2, {}),
        ("return", -1, 0, {}),
        ("return", 1, 1, {}),
        ("sell", -1, 0, {}),
        ("sell", -1, 0, {"amount": -1}),
        ("write_off", 1, 0, {}),
        ("weigh", 1, 0, {"amount": 1}),
        ("quarantine_in", 1, 0, {"round_number": 1}),
        ("quarantine_in", 0, 0, {}),
        ("weigh", 1, 0, {"round_number": 1}),
        ("reverse", 0, 0, {}),
        ("given away", -1, 0, {}),
    ],
)
def test_each_kind_changes_only_what_it_may(package, keeper, kind, on_hand, promised, more):
    with refused("move_"):
        insert(package, kind, on_hand, promised, by=keeper, work=some_work(keeper), **more)


def test_a_promise_is_to_some_work(package, keeper):
    with refused("move_"):
        insert(package, "allocate", 0, 1, by=keeper)


def test_only_what_was_there_before_the_ledger_has_nobodys_name(package):
    insert(package, "receive", 1)
    with refused("move_says_who_made_it"):
        insert(package, "issue", -1)


@pytest.mark.parametrize("column", ["on_hand_ug", "promised_ug"])
def test_a_balance_is_never_set_by_hand(package, column):
    with refused(ledger_guards.NOT_THE_SUM):
        type_in(f"UPDATE inventory_package SET {column} = 1000000")


def test_a_new_package_is_empty_until_it_is_received(package):
    with refused(ledger_guards.NOT_THE_SUM), transaction.atomic():
        Package.objects.bulk_create([Package(yarn=package.yarn, gross_g=500, on_hand_ug=1)])


def test_a_package_read_before_a_move_saves_no_old_balance(package, keeper):
    old = Package.objects.get(pk=package.pk)
    issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    old.bin_name = "shelf 4"
    old.save()
    assert (Package.objects.get(pk=package.pk).bin_name, *balance(package)) == ("shelf 4", 400, 0)


def test_many_moves_in_one_line_are_all_counted(package, keeper):
    moves = [Move(package=package, kind="issue", on_hand_ug=-GRAM, made_by=keeper) for _ in range(20)]
    Move.objects.bulk_create(moves)
    assert balance(package) == (480, 0)


def test_a_refused_line_leaves_nothing_of_itself(package, keeper):
    moves = [Move(package=package, kind="issue", on_hand_ug=-300 * GRAM, made_by=keeper) for _ in range(2)]
    with refused("package_promises_what_it_holds"), transaction.atomic():
        Move.objects.bulk_create(moves)
    assert (balance(package), package.moves.count()) == ((500, 0), 1)


@pytest.mark.parametrize(
    ("model", "name"), [(Package, "bin_name"), (Move, "temperature_text"), (SetAside, "title")], ids=str
)
@pytest.mark.django_db(transaction=True)
def test_a_migration_can_remake_the_tables_with_the_guards_down(model, name):
    keeper = steward()
    package = a_package()
    promise(package, 100, keeper)
    old = model._meta.get_field(name)
    new = models.CharField(max_length=old.max_length + 1, blank=True)
    new.set_attributes_from_name(name)
    new.model = model
    with connection.schema_editor() as editor:
        ledger_guards.down(None, editor)
        editor.alter_field(model, old, new)
        editor.alter_field(model, new, old)
        ledger_guards.up(None, editor)
    test_all_guards_stand_after_the_migrations()
    assert (balance(package), ledger_faults()) == ((500, 100), ())


def test_emptying_the_tables_is_nobodys_action(package):
    connection.check_constraints()  # or what this test wrote would be in the way
    lines = connection.ops.sql_flush(no_style(), [Move._meta.db_table], allow_cascade=True)
    with refused(ledger_guards.NEVER_CHANGED):
        for line in lines:
            type_in(line)
    assert package.moves.count() == 1
