"""One record written: lock the row, set its fields, let it check itself, save."""

from collections.abc import Mapping
from typing import Any, TypeVar

from django.db import models

Kept = TypeVar("Kept", bound=models.Model)


Values = Mapping[str, Any]


def write(thing: Kept, values: Values) -> Kept:
    for name, value in values.items():
        setattr(thing, name, value)
    thing.full_clean()
    thing.save()
    return thing


def lock(thing: Kept) -> Kept:
    """Take the row as it is now, and hold it until the deed is done."""
    return type(thing)._default_manager.select_for_update().get(pk=thing.pk)


def change(thing: Kept, values: Values) -> Kept:
    return write(lock(thing) if thing.pk else thing, values)
