"""Which packages get a label, and when each was weighed last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Max, Q, QuerySet

from inventory.ledger.selectors import Kind
from inventory.models import Move, Package, Yarn
from inventory.scale.selectors import packages_holding

MOST_LABELS = 200
"""More than this at once is a mistake; the paper is made in a few seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelQuery:
    """Which packages are asked for; each part that is filled narrows the choice, and with none there is no choice."""

    numbers: tuple[int, ...] = ()
    words: str = ""
    bin_name: str = ""
    yarn: Yarn | None = None
    newest: int | None = None

    @property
    def anything(self) -> bool:
        """Whether any part is filled."""
        return bool(self.numbers or self.words or self.bin_name or self.yarn or self.newest)


def packages_to_label(query: LabelQuery) -> tuple[Package, ...]:
    """Give the packages asked for by number, one more at most than there may be; by number also those now empty."""
    if not query.anything:
        return ()
    packages: QuerySet[Package] = Package.objects.select_related("yarn", "owner")
    packages = packages.filter(Q(pk__in=query.numbers) if query.numbers else Q(on_hand_ug__gt=0))
    if query.bin_name:
        packages = packages.filter(bin_name__iexact=query.bin_name)
    if query.yarn is not None:
        packages = packages.filter(yarn=query.yarn)
    if query.words:
        packages = packages_holding(query.words, packages)
    most = min(query.newest or MOST_LABELS + 1, MOST_LABELS + 1)
    latest = packages.order_by("-pk") if query.newest else packages.order_by("pk")
    return tuple(sorted(latest[:most], key=lambda package: package.pk))


def weighed_last(packages: Iterable[Package]) -> dict[int, datetime]:
    """Give when each package was last on the scale by a move that stands, by its key; one query."""
    readings = Move.objects.filter(package__in=[one.pk for one in packages], scale_text__isnull=False, reversed_by=None)
    return dict(readings.exclude(kind=Kind.REVERSE).order_by().values_list("package").annotate(when=Max("made_at")))
