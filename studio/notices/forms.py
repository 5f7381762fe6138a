"""Forms of a member's own: which calendar to give an address, and which notices come by mail."""

from typing import Any

from django import forms

from studio.fields import Grouped
from studio.models import ALWAYS_BY_MAIL, Member, Notice


class NoticesForm(Grouped, forms.Form):
    """Where mail goes, and what comes by it; the kinds that are rules of the house are no choice."""

    email = forms.EmailField(
        label="Mail address", required=False, max_length=254,
        widget=forms.EmailInput(attrs={"autocomplete": "email"}),
        help_text="Only for notices of this studio; nobody else here sees it. Leave it empty and none is sent.",
        error_messages={"invalid": "Write a mail address, such as weaver@example.org."},
    )  # fmt: skip
    wanted = forms.MultipleChoiceField(
        label="Send me by mail when", required=False, widget=forms.CheckboxSelectMultiple,
        choices=[(kind.value, kind.label) for kind in Notice.Kind if kind not in ALWAYS_BY_MAIL],
    )  # fmt: skip
    groups = (("", ("email", "wanted")),)

    def __init__(self, *args: Any, member: Member, **options: Any) -> None:
        off = set(member.no_mail_for)
        wanted = [kind for kind, _ in self.base_fields["wanted"].choices if kind not in off]  # type: ignore[attr-defined]
        super().__init__(*args, initial={"email": member.user.email, "wanted": wanted}, **options)

    def clean(self) -> dict[str, Any]:
        """Turn what is wanted into what is not: a kind that comes later is wanted until somebody says no."""
        values = super().clean() or {}
        wanted = values.pop("wanted", [])
        kinds = [kind for kind, _ in self.fields["wanted"].choices]  # type: ignore[attr-defined]
        return {**values, "no_mail_for": [kind for kind in kinds if kind not in wanted]}
