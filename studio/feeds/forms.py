"""Forms of private calendars."""

from typing import Any

from django import forms

from studio.fields import Grouped
from studio.models import Loom


class FeedForm(Grouped, forms.Form):
    loom = forms.ModelChoiceField(
        Loom.objects.none(), label="Which calendar", required=False, empty_label="my own times",
        help_text="A calendar has one address of yours: a new one takes the place of the old.",
    )  # fmt: skip
    groups = (("", ("loom",)),)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["loom"].queryset = Loom.objects.in_use()  # type: ignore[attr-defined]
