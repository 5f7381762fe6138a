"""Refusals: what a service raises when the studio says no; pages and API turn it into a sentence."""


class StudioError(Exception):
    """An act was refused. `code` is a constant word, `message` one sentence for the person asking."""

    def __init__(self, code: str, message: str, fields: dict[str, list[str]] | None = None) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.fields = fields or {}


class CardRefused(StudioError):
    """The plan cannot go on the loom as it is, so no card is issued for it."""


class StillInUse(StudioError):
    """Something cannot be deleted because other records refer to it; the message names them."""


class NotEnoughYarn(StudioError):
    """Less yarn is there than was asked for; the message says how much is, and how much would be allowed."""


class YarnInQuarantine(StudioError):
    """The package is in quarantine, or must stay in it a while longer."""


class NotReversible(StudioError):
    """A move cannot be reversed, or not any more; the message says why."""


class LoomTaken(StudioError):
    """Somebody has the loom, the seat or the tool at that time; the message says until when."""


class RuleSaysNo(StudioError):
    """A rule of the studio stands against it; the message names the rule and what would be allowed."""


class NotTrained(StudioError):
    """A safety briefing comes first."""
