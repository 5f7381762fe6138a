"""What a piece of work did with each package of yarn."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from django.db.models import Q, Sum

from inventory.calc.ledger import grams
from inventory.models import Move, Package, SetAside, Yarn
from inventory.shelf.selectors import free_weight
from planner.models import Project


@dataclass(frozen=True, slots=True)
class Moved:
    """What one piece of work did with one package [ug]; moves that were reversed do not count."""

    set_aside_ug: int = 0
    taken_ug: int = 0
    back_ug: int = 0

    @property
    def used_ug(self) -> int:
        """Taken out and not brought back; damp wool can bring back more than went out."""
        return max(0, self.taken_ug - self.back_ug)

    def had_of(self, package: Package) -> int:
        """What the work has of this package [ug]: set aside where it can be taken, or out already.

        One microgram more where nothing else is free, since the ledger rounds: what was set aside must suffice for
        what it was set aside for.
        """
        had = (0 if package.quarantined else self.set_aside_ug) + self.used_ug
        return had + 1 if had and not package.free_ug else had

    @property
    def any(self) -> bool:
        """Something is set aside, or was taken."""
        return bool(self.set_aside_ug or self.taken_ug or self.back_ug)


def moved_for(works: Iterable[SetAside | None]) -> dict[tuple[int, int], Moved]:
    """Give what pieces of work did with each package, by the keys of both; one question, however many."""
    keys = [work.pk for work in works if work is not None]
    if not keys:
        return {}
    sums = (
        Move.objects.filter(set_aside__in=keys)
        .order_by()
        .values_list("set_aside", "package")
        .annotate(
            held=Sum("promised_ug"),
            taken=Sum("on_hand_ug", filter=Q(kind=Move.Kind.ISSUE, reversed_by=None)),
            back=Sum("on_hand_ug", filter=Q(kind=Move.Kind.RETURN, reversed_by=None)),
        )
    )
    return {
        (work, package): Moved(int(held or 0), -int(taken or 0), int(back or 0))
        for work, package, held, taken, back in sums
    }


def moved_of(warp: Project) -> dict[int, Moved]:
    """Give what a warp did with each package, by the key of the package."""
    return {package: moved for (_, package), moved in moved_for([warp.set_aside]).items()}


def had_by(warp: Project, yarns: Sequence[Yarn]) -> dict[int, Fraction]:
    """Give what a warp could have of each yarn [g]: free, its owner's own, set aside for it, or out for it already.

    What is set aside on a package in quarantine does not count: it cannot be taken out.
    """
    free = free_weight(yarns, for_member=warp.owner)
    moved = moved_of(warp)
    for package in Package.objects.filter(pk__in=moved, yarn__in=free) if moved else ():
        free[package.yarn_id] += grams(moved[package.pk].had_of(package))
    return free
