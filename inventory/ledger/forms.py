"""Forms of the ledger."""

from django import forms

from inventory.models.moves import LONGEST_REASON
from studio.fields import PlainWords


class ReasonForm(PlainWords, forms.Form):
    """Why something is done, for whoever reads the ledger later."""

    said_why = forms.CharField(
        label="Why", required=False, max_length=LONGEST_REASON, help_text="Such as: typed 300 for 30."
    )
