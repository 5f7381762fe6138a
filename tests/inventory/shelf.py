"""Plain factories of the yarn room, made by the same deeds that pages use."""

from inventory.services import PackageFacts, YarnFacts, keep_yarn, receive_package


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
