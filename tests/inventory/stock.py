"""Plain factories of the yarn room, made by the same actions that pages use."""

from dataclasses import fields, replace
from fractions import Fraction

from inventory.ledger.set_aside import allocate_many, open_set_aside
from inventory.models import Package
from inventory.shelf.services import PackageFacts, YarnFacts, correct_package, keep_yarn, receive_package


def a_yarn(**known):
    """Give 8/2 cotton in natural, by its count alone."""
    return keep_yarn(
        facts=YarnFacts(**{"name": "8/2 cotton", "count_text": "8/2 cotton", "colour_name": "natural", **known})
    )


def a_package(yarn=None, **known):
    """Give a cone of 525 g on a tare of 25 g."""
    return receive_package(
        yarn=yarn or a_yarn(), facts=PackageFacts(**{"gross_text": "525 g", "tare_text": "25 g", **known})
    )


def some_work(member, title="Towels"):
    """Give a piece of work of this member's that yarn can be set aside for."""
    return open_set_aside(title=title, for_member=member, by=member)


def allocate(*, package, mass_g, **known):
    """Promise yarn of one package to a piece of work."""
    return allocate_many(shares=[(package, mass_g)], **known)[0]


def promise(package, grams, member, title="Towels"):
    """Give new work of this member's that holds so many grams of a package."""
    work = some_work(member, title)
    allocate(set_aside=work, package=package, mass_g=Fraction(grams), by=member)
    return work


def correct_tare(*, package, tare_text, by):
    """Write what the empty package weighs, and nothing else, as its page does."""
    kept = Package.objects.get(pk=package.pk)
    facts = PackageFacts(**{fact.name: getattr(kept, fact.name) for fact in fields(PackageFacts)})
    return correct_package(package=kept, facts=replace(facts, tare_text=tare_text), by=by)


def balance(package):
    """Give what the database says is on hand and promised of a package [g]."""
    on_hand, promised = Package.objects.values_list("on_hand_ug", "promised_ug").get(pk=package.pk)
    return Fraction(on_hand, 1_000_000), Fraction(promised, 1_000_000)
