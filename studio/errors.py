"""Refusals: what a service raises when the studio says no; each door turns it into a sentence."""


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
    """Something cannot be deleted because other things hang on it; the message names them."""
