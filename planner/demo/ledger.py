"""What happened in the invented yarn room of late: yarn set aside, taken, brought back, sold, frozen, and one mistake.

Only yarns that no warp of the demo is planned with, so that the plans stay those that were worked by hand.
"""

from collections.abc import Mapping
from fractions import Fraction

from inventory.calc.ledger import price_of
from inventory.ledger.quarantine import quarantine
from inventory.ledger.services import reverse_move
from inventory.ledger.set_aside import allocate_many, open_set_aside
from inventory.ledger.taking import Sale, issue_yarn, return_yarn, sell_yarn
from inventory.ledger.weighing import weigh_package
from inventory.models import Package, Yarn
from studio.models import Member

Members = Mapping[str, Member]
Yarns = Mapping[tuple[str, str], Yarn]


def keep_ledger(members: Members, yarns: Yarns) -> None:
    """Let a few weeks happen in the yarn room."""
    _scarves(members, list(yarns["2/8 wool", "grey fleece"].packages.order_by("pk")))
    _towels(members, list(yarns["2/8 cottolin", "oat"].packages.order_by("pk")))
    _sale(members, yarns["8/2 lyocell", "pewter"])
    for yarn in (yarns["Nm 30/2 silk", "undyed"], yarns["2/8 wool", "dark fleece"]):
        words = "Donated, bag was open"
        quarantine(package=yarn.packages.get(), by=members["steward"], temperature_text="−24 °C", said_why=words)


def _scarves(members: Members, packages: list[Package]) -> None:
    weaver, first, second = members["trained"], *packages
    scarves = open_set_aside(title="Two scarves", for_member=weaver, by=weaver)
    allocate_many(set_aside=scarves, shares=[(first, Fraction(300)), (second, Fraction(120))], by=weaver)
    issue_yarn(package=first, by=weaver, set_aside=scarves, gross_text="327 g", said_why="First warp")
    return_yarn(package=first, by=weaver, set_aside=scarves, mass_g=Fraction(22))
    weigh_package(package=first, by=members["steward"], gross_text="347 g", said_why="Stocktaking")


def _towels(members: Members, packages: list[Package]) -> None:
    weaver, cone = members["member"], packages[0]
    towels = open_set_aside(title="Towels for the kitchen", for_member=weaver, by=weaver)
    allocate_many(set_aside=towels, shares=[(one, Fraction(90)) for one in packages], by=weaver)
    mistake = issue_yarn(package=cone, by=weaver, set_aside=towels, mass_g=Fraction(85))
    reverse_move(move=mistake, by=weaver, said_why="Typed 85 for 58")
    issue_yarn(package=cone, by=weaver, set_aside=towels, mass_g=Fraction(58))


def _sale(members: Members, yarn: Yarn) -> None:
    price, mass = yarn.price_per_100g or 0, Fraction(84)
    paid = price_of(mass, Fraction(price))
    sale = Sale(unit_price_text=f"{price} for 100 g", amount=paid, buyer=members["member-b"])
    sell_yarn(package=yarn.packages.get(), by=members["teacher"], sale=sale, mass_g=mass)
