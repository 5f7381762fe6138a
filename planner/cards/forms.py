"""Which looms a card is printed for, and on what paper."""

from __future__ import annotations

from typing import Any

from django import forms

from planner.cards.selectors import beams_for_cards
from planner.models import Project
from studio.models import Member

MOST_LOOMS = 12
"""Looms of one printing: a class fits, and no request takes so long that a server gives up on it."""


class CardForm(forms.Form):
    """Looms to print for; each gets a card worked out for its own beam."""

    beams = forms.MultipleChoiceField(
        label="Looms",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Choose at least one loom.", "invalid_choice": "That loom is not in use."},
    )
    paper = forms.ChoiceField(label="Paper", choices=Member.Paper.choices, widget=forms.RadioSelect)

    def __init__(self, *args: Any, project: Project, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["beams"]
        assert isinstance(field, forms.MultipleChoiceField)  # noqa: S101 narrows the type
        field.choices = [(str(beam.pk), str(beam)) for beam in beams_for_cards(project)]

    def clean_beams(self) -> list[str]:
        """Refuse more looms than one request can print for."""
        chosen: list[str] = self.cleaned_data["beams"]
        if len(chosen) > MOST_LOOMS:
            raise forms.ValidationError(f"Print for at most {MOST_LOOMS} looms at once.")
        return chosen
