"""Forms of the calendar: days as people speak of them, first and last included; kept half-open."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils import timezone

from studio.calendar.loom_weeks import FIRST_DAY, LAST_DAY
from studio.calendar.services import ReservationRequest
from studio.calendar.tool_weeks import reed_words, tool_key, tool_words
from studio.calendar.weeks import may_be_reserved_for, reeds_in_use, stations_in_use
from studio.fields import DATE, Grouped, a_length, say_it_plainly
from studio.models import Beam, Loom, LoomOccupancy, Member, Reed, Station
from studio.models.reservations import LONGEST_NOTE, LONGEST_TITLE
from studio.rights import Act, may
from studio.units import Units

Kind = LoomOccupancy.Kind
DAY = timedelta(days=1)
TIME = forms.TimeInput(attrs={"type": "time"}, format="%H:%M")
NO_TIME = "Write the hour as hours and minutes, such as 09:30."
MOST_WEEKS = 52


def a_day(**options: Any) -> forms.DateField:
    """Make a field for a day of the calendar; each form gets its own."""
    bounds = [MinValueValidator(FIRST_DAY), MaxValueValidator(LAST_DAY)]
    return forms.DateField(widget=DATE, validators=bounds, **options)


def an_hour(**options: Any) -> forms.TimeField:
    """Make a field for a time of day."""
    return forms.TimeField(widget=TIME, error_messages={"invalid": NO_TIME}, **options)


def a_note(label: str = "Note", *, required: bool = False, help_text: str = "") -> forms.CharField:
    """Make a field for a note."""
    return forms.CharField(label=label, required=required, max_length=LONGEST_NOTE, help_text=help_text)


def a_title() -> forms.CharField:
    """Make a field for the name of the work."""
    words = "What goes on the loom, such as Eight towels."
    return forms.CharField(label="Work", max_length=LONGEST_TITLE, help_text=words)


def a_person(by: Member, label: str = "For whom") -> forms.ModelChoiceField[Member]:
    """Make a field for whom it is; only teachers and stewards are asked."""
    return forms.ModelChoiceField(may_be_reserved_for(), label=label, initial=by.pk, empty_label=None)


def all_tools() -> dict[str, Station | Reed]:
    """Give every tool that can be booked, by its key, boards first."""
    tools: Iterable[Station | Reed] = (*stations_in_use(), *reeds_in_use())
    return {tool_key(tool): tool for tool in tools}


def tools_for(loom: Loom) -> dict[str, Station | Reed]:
    """Give the tools that can go along with a loom: a reed that is kept with another stays there."""
    return {
        key: tool
        for key, tool in all_tools().items()
        if isinstance(tool, Station) or tool.kept_with_id in {None, loom.pk}
    }


def half_open(form: forms.Form, values: dict[str, Any], *, last: str = "last_day") -> None:
    """Turn the last day into the day that is free again; the last may not come before the first."""
    starts, ends = values.get("starts_on"), values.get(last)
    if starts and ends and ends < starts:
        form.add_error(last, ValidationError("The last day comes before the first.", code="order"))
    elif ends:
        values["ends_before"] = ends + DAY


class ReserveForm(Grouped, forms.Form):
    """Days of a loom, for what and whom, and what goes along."""

    starts_on = a_day(label="First day")
    last_day = a_day(label="Last day")
    title = a_title()
    note = a_note()
    groups = (
        ("When", ("starts_on", "last_day")),
        ("What for", ("title", "kind", "member", "note")),
        ("Also reserved", ("tools",)),
    )

    def __init__(self, *args: Any, by: Member, loom: Loom, **options: Any) -> None:
        super().__init__(*args, **options)
        self.by, self.tools_by_key = by, tools_for(loom)
        kinds = self._kinds()
        if len(kinds) > 1:
            self.fields["kind"] = forms.ChoiceField(
                label="For", choices=kinds, widget=forms.RadioSelect, initial=Kind.WARP
            )
        if may(by.role, Act.RESERVE_FOR_OTHERS):
            self.fields["member"] = a_person(by)
        if self.tools_by_key:
            self.fields["tools"] = forms.MultipleChoiceField(
                label="Reeds and stations", required=False, widget=forms.CheckboxSelectMultiple,
                choices=self._tool_choices(),
                help_text="They are yours for the same days, all of them or none. A board or box that you need for a "
                "few hours only is booked by the hour, from the page of tools.",
            )  # fmt: skip
        for box in self.fields.values():
            say_it_plainly(box)

    def _tool_choices(self) -> list[tuple[str, list[tuple[str, str]]]]:
        """Offer reeds and stations apart; a group that has none is not named."""
        tools = self.tools_by_key.items()
        groups = (
            ("Reeds", [(key, reed_words(tool)) for key, tool in tools if isinstance(tool, Reed)]),
            ("Stations", [(key, str(tool)) for key, tool in tools if isinstance(tool, Station)]),
        )
        return [group for group in groups if group[1]]

    def _kinds(self) -> list[tuple[str, str]]:
        allowed = {Kind.CLASS: Act.RESERVE_FOR_OTHERS, Kind.OUT: Act.CLOSE_LOOM}
        return [(kind.value, kind.label) for kind in Kind if kind not in allowed or may(self.by.role, allowed[kind])]

    def clean(self) -> dict[str, Any]:
        values = super().clean() or {}
        half_open(self, values)
        return values

    def forget_all_but_days(self) -> None:
        """Say nothing yet of boxes that are still empty when somebody only looks at the days."""
        for name in self.errors.keys() - {"starts_on", "last_day"}:
            del self.errors[name]

    @property
    def has_days(self) -> bool:
        """The days can be read, whatever else is wrong."""
        self.is_valid()
        return {"starts_on", "ends_before"} <= self.cleaned_data.keys() and "last_day" not in self.errors

    def reservation_request(self) -> ReservationRequest:
        """Say what is wanted, as far as it can be read."""
        values = self.cleaned_data
        return ReservationRequest(
            member=values.get("member") or self.by,
            title=values.get("title", ""),
            starts_on=values["starts_on"],
            ends_before=values["ends_before"],
            kind=values.get("kind") or Kind.WARP,
            tools=[self.tools_by_key[key] for key in values.get("tools", [])],
            note=values.get("note", ""),
        )


class FreeForm(Grouped, forms.Form):
    """What loom is looked for, and from when."""

    starts_on = a_day(label="From")
    many = forms.IntegerField(label="For how long", min_value=1, max_value=366, initial=4,
                              widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 4}))  # fmt: skip
    per = forms.ChoiceField(label="Weeks or days", choices=(("week", "weeks"), ("day", "days")), initial="week")
    beam = forms.ChoiceField(label="Warp beam", required=False, choices=(("", "any"), *Beam.Kind.choices))
    width_cm = a_length(label="Weaving width at least", required=False)
    shafts = forms.IntegerField(label="Shafts at least", required=False, min_value=1, max_value=64,
                                widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 4}))  # fmt: skip

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)

    def clean(self) -> dict[str, Any]:
        values = super().clean() or {}
        many = values.get("many")
        if many and values.get("per") == "week" and many > MOST_WEEKS:
            self.add_error("many", f"This must be at most {MOST_WEEKS} weeks.")
        elif many:
            values["days"] = many * 7 if values.get("per") == "week" else many
        starts_on = values.get("starts_on")
        if starts_on and starts_on < timezone.localdate():
            self.add_error("starts_on", "That day is past; look from today on.")
        return values


class DaysForm(Grouped, forms.Form):
    starts_on = a_day(label="First day")
    last_day = a_day(label="Last day")
    groups = (("", ("starts_on", "last_day")),)

    def clean(self) -> dict[str, Any]:
        values = super().clean() or {}
        half_open(self, values)
        return values


class NoteForm(Grouped, forms.Form):
    note = a_note(help_text="It stands in the history of this loom.")
    groups = (("", ("note",)),)


class ReasonForm(Grouped, forms.Form):
    note = a_note("Why, and how its weaver was told", required=True)
    groups = (("", ("note",)),)


class SureForm(Grouped, forms.Form):
    """Nothing to fill in: the button is the answer."""


class HoldForm(Grouped, forms.Form):
    review_on = a_day(label="Look at it again on")
    note = a_note("Why it rests", help_text="Such as: waits for yarn, away until May.")
    groups = (("", ("review_on", "note")),)


class CallBackForm(Grouped, forms.Form):
    last_day = a_day(label="New last day")
    note = a_note("What it is needed for", required=True)
    groups = (("", ("last_day", "note")),)

    def clean(self) -> dict[str, Any]:
        values = super().clean() or {}
        half_open(self, values)
        return values


class TakeOverForm(Grouped, forms.Form):
    title = a_title()
    groups = (("", ("title",)),)


class QueueForm(Grouped, forms.Form):
    days = forms.IntegerField(
        label="Days wanted", min_value=1, max_value=366, initial=28,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 4}),
    )  # fmt: skip
    note = a_note()
    groups = (("", ("days", "note")),)


class StepForm(Grouped, forms.Form):
    """A step in the work: the button says which."""

    to = forms.CharField(required=False, max_length=20, widget=forms.HiddenInput)
    note = a_note("Note to the step")


class HoursForm(Grouped, forms.Form):
    """Hours on one day."""

    day = a_day(label="Day")
    begins = an_hour(label="From")
    ends = an_hour(label="Until")
    note = a_note()

    def __init__(self, *args: Any, by: Member, **options: Any) -> None:
        super().__init__(*args, **options)
        self.by = by
        if may(by.role, Act.RESERVE_FOR_OTHERS):
            self.fields["member"] = a_person(by)
            say_it_plainly(self.fields["member"])

    def clean(self) -> dict[str, Any]:
        values = super().clean() or {}
        day, begins, ends = values.get("day"), values.get("begins"), values.get("ends")
        if day and begins is not None and ends is not None:
            self._read_span(values, day, begins, ends)
        return values

    def _read_span(self, values: dict[str, Any], day: date, begins: time, ends: time) -> None:
        zone = timezone.get_current_timezone()
        until = day + DAY if ends == time.min else day
        values["starts_at"] = datetime.combine(day, begins, tzinfo=zone)
        values["ends_at"] = datetime.combine(until, ends, tzinfo=zone)
        if values["ends_at"] <= values["starts_at"]:
            self.add_error("ends", "It ends before it begins.")

    def who(self) -> Member:
        """Say whose hours they are."""
        chosen = self.cleaned_data.get("member")
        return chosen if isinstance(chosen, Member) else self.by


class SeatForm(HoursForm):
    groups = (("", ("day", "begins", "ends", "member", "note")),)


class ToolForm(HoursForm):
    groups = (("", ("tool", "day", "begins", "ends", "member", "note")),)

    def __init__(self, *args: Any, by: Member, **options: Any) -> None:
        super().__init__(*args, by=by, **options)
        self.tools_by_key = all_tools()
        self.fields["tool"] = forms.ChoiceField(
            label="Board, station or reed", choices=[(key, tool_words(tool)) for key, tool in self.tools_by_key.items()]
        )
        say_it_plainly(self.fields["tool"])

    def which(self) -> Station | Reed:
        """Give the tool that was chosen."""
        return self.tools_by_key[self.cleaned_data["tool"]]
