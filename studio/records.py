"""One record written: lock the row, set its fields, let it check itself, save."""

from collections.abc import Mapping
from typing import Any, TypeVar

from django.db import models

ModelT = TypeVar("ModelT", bound=models.Model)


Values = Mapping[str, Any]


def write(instance: ModelT, values: Values) -> ModelT:
    for name, value in values.items():
        setattr(instance, name, value)
    instance.full_clean()
    instance.save()
    return instance


def lock(instance: ModelT) -> ModelT:
    """Take the row as it is now, and keep it until the work is done."""
    return type(instance)._default_manager.select_for_update().get(pk=instance.pk)


def change(instance: ModelT, values: Values) -> ModelT:
    return write(lock(instance) if instance.pk else instance, values)
