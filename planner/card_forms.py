"""Which looms a card is printed for, and on what paper."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from planner.card_selectors import LoomFit
from studio.models import Member


class CardForm(forms.Form):
    """Looms to print for; each gets a card worked out for its own beam."""

    beams = forms.MultipleChoiceField(
        label="Looms",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Choose at least one loom.", "invalid_choice": "That loom cannot take this warp."},
    )
    paper = forms.ChoiceField(label="Paper", choices=Member.Paper.choices, widget=forms.RadioSelect)

    def __init__(self, *args: Any, fits: Iterable[LoomFit], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["beams"]
        assert isinstance(field, forms.MultipleChoiceField)  # noqa: S101 narrows the type
        field.choices = [(str(fit.beam.pk), fit.label) for fit in fits if fit.plan is not None and not fit.refusal]
