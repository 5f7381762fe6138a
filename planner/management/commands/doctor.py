"""`manage.py doctor`: recount the yarn and look for anything booked twice, such as after a backup was restored."""

from typing import Any

from django.core.management import BaseCommand, CommandError
from django.db.models import Exists, OuterRef

from inventory.ledger.selectors import ledger_faults
from studio.models import LoomOccupancy, SeatTime, ToolBooking

BOOKED_ONCE = (
    (LoomOccupancy, "loom", "starts_on", "ends_before"),
    (SeatTime, "occupancy", "starts_at", "ends_at"),
    (ToolBooking, "station", "starts_at", "ends_at"),
    (ToolBooking, "reed", "starts_at", "ends_at"),
)


class Command(BaseCommand):
    help = "Say where a balance is not the sum of its moves, or a loom, seat or tool is booked twice at one time."

    def handle(self, *args: Any, **options: Any) -> None:
        """Say all that is wrong, and end with exit code 1 where anything is."""
        balances = [f"Package {one.package_id}, {one.what}: {one.kept}, by its moves {one.summed}."
                    for one in ledger_faults()]  # fmt: skip
        twice = [f"{row.__name__} {pk}: {thing} {key} is booked twice at one time."
                 for row, thing, start, end in BOOKED_ONCE
                 for pk, key in self._overlapping(row, thing, start, end)]  # fmt: skip
        if balances or twice:
            raise CommandError("\n".join((*balances, *twice)))
        self.stdout.write("Every balance is the sum of its moves, and nothing is booked twice.")

    def _overlapping(self, row: Any, thing: str, start: str, end: str) -> Any:
        standing = row.objects.filter(cancelled_at=None)
        same = {thing: OuterRef(thing), f"{start}__lt": OuterRef(end), f"{end}__gt": OuterRef(start)}
        earlier = standing.filter(pk__lt=OuterRef("pk"), **same)
        return standing.filter(Exists(earlier)).order_by("pk").values_list("pk", thing)
