"""Yarns that were in the book before the colour wall find their place on it."""

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

pytestmark = pytest.mark.django_db(transaction=True)

BEFORE, AFTER = [("inventory", "0004_guards_of_the_ledger")], [("inventory", "0005_shelves_seen")]


def go(target):
    """Migrate, and give the tables as that state knows them."""
    MigrationExecutor(connection).migrate(target)
    return MigrationExecutor(connection).loader.project_state(target).apps.get_model("inventory", "Yarn")


@pytest.fixture
def old_book():
    """Give the tables of before; whatever happens, those of today stand again afterwards."""
    yield go(BEFORE)
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())


def test_yarns_hang_by_their_colour_there_and_back(old_book):
    for colour in ("#2f4a78", "#efe5cf", "#a9483c", "#A9483C"):
        old_book.objects.create(name=colour, count_text="8/2 cotton", colour=colour)
    hung = go(AFTER).objects.order_by("wall_place", "name").values_list("name", "colour_family")
    unread = ("#A9483C", "grey")  # never written so by a form; nobody guesses
    assert list(hung) == [("#efe5cf", "natural"), ("#a9483c", "red"), ("#2f4a78", "blue"), unread]
    assert go(BEFORE).objects.count() == 4
