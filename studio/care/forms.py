"""Forms of check lists, faults and upkeep."""

from collections.abc import Iterator, Sequence
from typing import Any, ClassVar

from django import forms
from django.forms import BoundField
from django.utils import timezone

from studio.care.check_services import PointAnswer
from studio.fields import DATE, Grouped, Groups, PhotoField
from studio.models import CheckPoint, Fault, UpkeepDone, UpkeepJob
from studio.models.reservations import LONGEST_NOTE
from studio.models.upkeep import LONGEST_POINT

LONGEST_FAULT = LONGEST_NOTE - LONGEST_POINT - 2
"""A fault is kept with its point before it: “Brake holds: slips when it is damp”."""


class CheckForm(Grouped, forms.Form):
    """One list to fill in: each point ticked, or what is wrong written beside it."""

    note = forms.CharField(label="Note", required=False, max_length=LONGEST_NOTE, widget=forms.Textarea({"rows": 2}))
    photo = PhotoField(label="Photo of the loom")
    groups = (("", ("note", "photo")),)

    points: ClassVar[Sequence[CheckPoint]] = ()

    def rows(self) -> Iterator[tuple[BoundField, BoundField]]:
        """Give each point's tick and the box beside it."""
        for point in self.points:
            yield self[f"fine_{point.pk}"], self[f"fault_{point.pk}"]

    def clean(self) -> dict[str, Any]:
        """Gather the answers; a point is looked at, or the list is not filled in."""
        values = super().clean() or {}
        answers = []
        for point in self.points:
            fine, fault = values.get(f"fine_{point.pk}"), values.get(f"fault_{point.pk}") or ""
            if f"fault_{point.pk}" in self.errors:
                continue
            if fine and fault:
                self.add_error(f"fault_{point.pk}", "It cannot be in order and have a fault: take the tick away.")
            elif not fine and not fault:
                self.add_error(f"fine_{point.pk}", "Tick it if it is in order, or write what is wrong.")
            answers.append(PointAnswer(point.text, fault))
        return {**values, "answers": answers}


def form_asking(points: Sequence[CheckPoint]) -> type[CheckForm]:
    """Make the form of one list, with two boxes for each of its points."""
    boxes = {name: box for point in points for name, box in _asked(point).items()}
    return type("CheckForm", (CheckForm,), {**boxes, "points": points})


def _asked(point: CheckPoint) -> dict[str, forms.Field]:
    return {
        f"fine_{point.pk}": forms.BooleanField(label=point.text, required=False),
        f"fault_{point.pk}": forms.CharField(label="What is wrong", required=False, max_length=LONGEST_FAULT),
    }


class PointForm(Grouped, forms.ModelForm[CheckPoint]):
    moment = forms.ChoiceField(label="Asked", choices=CheckPoint.Moment.choices, widget=forms.RadioSelect)
    groups: ClassVar[Groups] = (("", ("moment", "text", "place", "retired")),)
    segmented = frozenset({"moment"})

    class Meta:
        model = CheckPoint
        fields = ("moment", "text", "place", "retired")


class FaultForm(Grouped, forms.ModelForm[Fault]):
    photo = PhotoField(label="Photo")
    groups: ClassVar[Groups] = (("", ("text", "photo")),)

    class Meta:
        model = Fault
        fields = ("text",)
        widgets: ClassVar = {"text": forms.Textarea(attrs={"rows": 3})}


class MendedForm(Grouped, forms.ModelForm[Fault]):
    mended_on = forms.DateField(label="Mended on", widget=DATE, initial=timezone.localdate)
    groups: ClassVar[Groups] = (("", ("mended_on", "mended_how")),)

    class Meta:
        model = Fault
        fields = ("mended_how",)
        labels: ClassVar = {"mended_how": "How it was mended"}
        widgets: ClassVar = {"mended_how": forms.Textarea(attrs={"rows": 2})}


class JobForm(Grouped, forms.ModelForm[UpkeepJob]):
    groups: ClassVar[Groups] = (("", ("text", "every_days", "retired")),)

    class Meta:
        model = UpkeepJob
        fields = ("text", "every_days", "retired")
        labels: ClassVar = {"every_days": "Every so many days"}
        help_texts: ClassVar = {"every_days": "Such as 120 for each term, 365 for each year. Empty: after each warp."}


class LogForm(Grouped, forms.ModelForm[UpkeepDone]):
    done_on = forms.DateField(label="Done on", widget=DATE, initial=timezone.localdate)
    groups: ClassVar[Groups] = (("", ("done_on", "note")),)

    class Meta:
        model = UpkeepDone
        fields = ("done_on", "note")
        labels: ClassVar = {"note": "What was found"}
        widgets: ClassVar = {"note": forms.Textarea(attrs={"rows": 2})}
