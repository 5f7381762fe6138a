"""Forms of the house. Each reads a member's units and says every mistake in a sentence beside its field."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.contrib.admin.forms import AdminAuthenticationForm
from django.contrib.auth import get_user_model, password_validation
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm, UsernameField
from django.core.exceptions import ValidationError
from django.forms import BoundField
from django.http import HttpRequest
from django.utils import timezone

from studio.brake_services import forget_wrong_passwords, note_wrong_password, time_to_wait
from studio.fields import HeddlesField, NumberField, PlainWords, QuantityField
from studio.models import ApiKey, Beam, BeamRound, Briefing, Loom, Member, Reed, Station, StudioRules
from studio.units import Units

Groups = tuple[tuple[str, tuple[str, ...]], ...]
MOST_CM = Decimal(100_000)
WIDEST_CM = Decimal(2_000)
"""Twenty metres: wider than any handloom, so a wrong unit is caught."""

OWN_ADDRESSES = frozenset({"", "127.0.0.1", "::1"})
"""A request from here comes through the studio's own proxy; on a Unix socket there is no address at all."""

DIRECTIONS = ((True, "clockwise"), (False, "anticlockwise"))
DATE = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def a_length(kind: str = "length", **options: Any) -> QuantityField:
    """Make a field for a length of a tool; each form gets its own."""
    return QuantityField(kind, **{"most": WIDEST_CM, **options})


class Grouped(PlainWords):
    """A form whose fields stand in named groups, in the order of the bench."""

    groups: ClassVar[Groups] = ()
    segmented: ClassVar[frozenset[str]] = frozenset()

    def fieldsets(self) -> Iterator[tuple[str, list[BoundField]]]:
        """Give each group's legend and its fields, where it has any."""
        for legend, names in self.groups:
            asked = [self[name] for name in names if name in self.fields]
            if asked:
                yield legend, asked

    @property
    def asks_quantities(self) -> bool:
        """True when some box takes a measure, so that the page says how to write one."""
        return any(isinstance(made, QuantityField) for made in self.fields.values())

    def _read_in(self, units: Units) -> None:
        for name, made in self.fields.items():
            if isinstance(made, QuantityField):
                made.units = units
            made.segmented = name in self.segmented  # type: ignore[attr-defined]


class LoomForm(Grouped, forms.ModelForm[Loom]):
    weaving_width_cm = a_length(label="Weaving width", help_text="The widest cloth that the reed and beater take.")
    heddles = HeddlesField(
        label="Heddles on each shaft", required=False, help_text="Front shaft first, such as 100, 100, 100, 100."
    )
    waste_cm = a_length(
        label="Loom waste, measured here", above_zero=False,
        help_text="Warp that cannot be woven on this loom, knots at both ends included.",
    )  # fmt: skip
    groups = (
        ("Which loom", ("number", "nickname")),
        ("What it can take", ("weaving_width_cm", "shafts", "treadles", "heddles")),
        ("Measured here", ("waste_cm", "notes", "retired")),
    )

    class Meta:
        model = Loom
        fields = (
            "number", "nickname", "weaving_width_cm", "shafts", "treadles", "heddles", "waste_cm", "notes", "retired",
        )  # fmt: skip
        labels: ClassVar = {"number": "Loom number", "treadles": "Treadles (0 on a table loom)"}
        widgets: ClassVar = {"notes": forms.Textarea(attrs={"rows": 4})}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)


class BeamForm(Grouped, forms.ModelForm[Beam]):
    usable_width_cm = a_length(label="Usable width", help_text="Between the outermost rakes or the beam's ends.")
    pitch_cm = a_length(
        label="Section width", required=False,
        help_text="From the middle of one divider to the middle of the next.",
    )  # fmt: skip
    divider_cm = a_length(label="Thickness of a divider", required=False, above_zero=False)
    rake_height_cm = a_length(label="Rake height above the bar", required=False)
    leader_cm = a_length(label="Leader, from where it is fastened to its loop", required=False)
    leader_offset_cm = a_length(
        label="Fastened past its bar by", required=False, above_zero=False,
        help_text="Along the round, the way it winds, to its hole; empty where it is tied to the bar.",
    )  # fmt: skip
    leader_knot_cm = a_length(
        label="Knot and loop at its end", required=False, above_zero=False,
        help_text="Their length along the round, beyond the leader’s end.",
    )  # fmt: skip
    clockwise = forms.TypedChoiceField(
        label="Winds, seen from the crank side", choices=DIRECTIONS, coerce=lambda word: word == "True",
        widget=forms.RadioSelect, initial=True,
    )  # fmt: skip
    groups = (
        ("The beam", ("name", "kind", "circumference_cm", "measured_on", "usable_width_cm")),
        ("Its sections (leave empty on a plain beam)",
         ("pitch_cm", "divider_cm", "sections", "rake_height_cm")),
        ("Bars and leaders", ("bars", "leader_cm", "leader_offset_cm", "leader_knot_cm")),
        ("The way it turns", ("clockwise", "turning")),
    )  # fmt: skip
    segmented = frozenset({"kind", "clockwise", "turning"})

    class Meta:
        model = Beam
        fields: tuple[str, ...] = (
            "name", "kind", "usable_width_cm", "pitch_cm", "divider_cm", "sections", "rake_height_cm",
            "bars", "leader_cm", "leader_offset_cm", "leader_knot_cm", "clockwise", "turning",
        )  # fmt: skip
        labels: ClassVar = {"kind": "Plain or sectional", "bars": "Number of bars"}
        help_texts: ClassVar = {
            "bars": "Bars the empty beam is made of; 0 for a solid roller.",
            "sections": "An odd number has a section at the middle of the beam, an even number a divider.",
        }
        widgets: ClassVar = {"kind": forms.RadioSelect, "turning": forms.RadioSelect}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["sections"].required = False
        self._read_in(units)

    def clean(self) -> dict[str, Any]:
        """A plain beam has no sections, whatever is left in those boxes."""
        values = super().clean() or {}
        if values.get("kind") == Beam.Kind.PLAIN:
            values |= {"pitch_cm": None, "rake_height_cm": None, "sections": 0}
        for name in ("divider_cm", "leader_offset_cm", "leader_knot_cm"):
            values[name] = values.get(name) or Decimal(0)
        values["sections"] = values.get("sections") or 0
        return values


class NewBeamForm(BeamForm):
    circumference_cm = a_length(
        label="Circumference, empty",
        help_text="Pull a paper strip round the bars inside one section, and measure the strip.",
    )  # fmt: skip
    measured_on = forms.DateField(label="Measured on", widget=DATE, initial=timezone.localdate)

    class Meta(BeamForm.Meta):
        fields = ("circumference_cm", *BeamForm.Meta.fields)


class MeasureForm(Grouped, forms.ModelForm[BeamRound]):
    circumference_cm = a_length(
        label="Circumference, empty",
        help_text="Pull a paper strip round the bars inside one section, and measure the strip.",
    )  # fmt: skip
    measured_on = forms.DateField(label="Measured on", widget=DATE, initial=timezone.localdate)
    groups = (("", ("circumference_cm", "measured_on", "note")),)

    class Meta:
        model = BeamRound
        fields = ("circumference_cm", "measured_on", "note")

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)


class ReedForm(Grouped, forms.ModelForm[Reed]):
    dents = NumberField(label="Dents", help_text="As stamped on the reed: 12, or 50 for a 50/10 reed.")
    reed_length_cm = a_length(label="Reed length", help_text="The width it can fill with ends.")
    reed_height_cm = a_length(label="Reed height", required=False)
    groups = (
        ("The reed", ("dents", "per", "reed_length_cm", "reed_height_cm")),
        ("Where it is", ("kept_with", "mark", "retired")),
    )
    segmented = frozenset({"per"})

    class Meta:
        model = Reed
        fields = ("dents", "per", "reed_length_cm", "reed_height_cm", "kept_with", "mark", "retired")
        labels: ClassVar = {"kept_with": "Kept with a loom"}
        widgets: ClassVar = {"per": forms.RadioSelect}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["kept_with"].empty_label = "none: on the reed rack"  # type: ignore[attr-defined]
        self._read_in(units)


class StationForm(Grouped, forms.ModelForm[Station]):
    path_longest_cm = a_length("distance", label="Longest path", required=False, most=MOST_CM)
    path_step_cm = a_length("distance", label="Paths change by", required=False, most=MOST_CM)
    comb_dents = NumberField(label="Dents of the exit comb", required=False)
    raddle_space_cm = a_length(label="Raddle space", required=False)
    groups = (
        ("The station", ("kind", "name", "training_needed")),
        ("A board or mill", ("path_longest_cm", "path_step_cm", "ends_at_once")),
        ("A rack or tension box", ("rack_spools", "comb_dents", "comb_per")),
        ("A raddle", ("raddle_space_cm",)),
        ("Notes", ("notes", "retired")),
    )
    segmented = frozenset({"comb_per"})

    class Meta:
        model = Station
        fields = ("kind", "name", "training_needed", "path_longest_cm", "path_step_cm", "ends_at_once", "rack_spools",
                  "comb_dents", "comb_per", "raddle_space_cm", "notes", "retired")  # fmt: skip
        labels: ClassVar = {"comb_per": "Comb counted"}
        widgets: ClassVar = {"comb_per": forms.RadioSelect, "notes": forms.Textarea(attrs={"rows": 4})}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)


class RulesForm(Grouped, forms.ModelForm[StudioRules]):
    mismatch_note = QuantityField("share", label="Length between sections: note at", most=Decimal("0.9"))
    mismatch_warn = QuantityField("share", label="Warn at", most=Decimal("0.9"))
    mismatch_stop = QuantityField("share", label="Never silent at", most=Decimal("0.9"))
    sett_error = QuantityField("share", label="Sett error still called good", above_zero=False, most=Decimal("0.9"))
    sett_share = QuantityField("share", label="Working sett, share of the greatest", most=Decimal("0.9"))
    rake_clearance_cm = a_length(label="Rake kept clear above the yarn", above_zero=False)
    section_waste_cm = a_length(label="Yarn lost per end and section", above_zero=False)
    box_lead_cm = a_length("distance", label="Box lead lost per end and re-thread", above_zero=False)
    spool_reserve = QuantityField("share", label="More yarn on each spool", above_zero=False, most=Decimal("0.9"))
    spool_step_cm = a_length("distance", label="Spools are wound in steps of", most=MOST_CM)
    tie_every_cm = a_length("distance", label="Choke ties every", most=MOST_CM)
    groups = (
        ("The studio", ("name", "units", "local_rules")),
        ("When sections differ in length", ("mismatch_note", "mismatch_warn", "mismatch_stop")),
        ("Sett", ("sett_share", "sett_error")),
        ("On the beam", ("rake_clearance_cm", "section_waste_cm")),
        ("Spools, box and chains", ("box_lead_cm", "spool_reserve", "spool_step_cm", "tie_every_cm")),
    )
    segmented = frozenset({"units"})

    class Meta:
        model = StudioRules
        fields = ("name", "units", "local_rules", "mismatch_note", "mismatch_warn", "mismatch_stop", "sett_error",
                  "sett_share", "rake_clearance_cm", "section_waste_cm", "box_lead_cm", "spool_reserve",
                  "spool_step_cm", "tie_every_cm")  # fmt: skip
        help_texts: ClassVar = {"local_rules": "Printed on every card, beside the line about the maker's manual."}
        widgets: ClassVar = {"units": forms.RadioSelect, "local_rules": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, units: Units, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(units)

    def clean(self) -> dict[str, Any]:
        """Each bound warns louder than the one before, or the middle one would never be heard."""
        values = super().clean() or {}
        for lower, higher in (("mismatch_note", "mismatch_warn"), ("mismatch_warn", "mismatch_stop")):
            low, high = values.get(lower), values.get(higher)
            if low is not None and high is not None and low > high:
                self.add_error(higher, "This must not be less than the bound before it.")
        return values


class SettingsForm(Grouped, forms.ModelForm[Member]):
    groups = (("", ("name", "units", "paper")),)
    segmented = frozenset({"units", "paper"})

    class Meta:
        model = Member
        fields = ("name", "units", "paper")
        labels: ClassVar = {"units": "Measures I read"}
        widgets: ClassVar = {"units": forms.RadioSelect, "paper": forms.RadioSelect}

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(Units.INCH)


class KeyForm(Grouped, forms.ModelForm[ApiKey]):
    groups = (("", ("name",)),)

    class Meta:
        model = ApiKey
        fields = ("name",)
        labels: ClassVar = {"name": "What the key is for"}
        help_texts: ClassVar = {"name": "One program, one key, such as: spreadsheet of the class."}


class MemberForm(Grouped, forms.ModelForm[Member]):
    may_sign_in = forms.BooleanField(
        label="May sign in", required=False,
        help_text="Take the tick away when a member leaves: the warps and cards stay, and the door is shut at once.",
    )  # fmt: skip
    groups: ClassVar[Groups] = (("The member", ("name", "role", "may_sign_in")),)

    class Meta:
        model = Member
        fields = ("name", "role")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.instance.pk and "may_sign_in" in self.fields:
            self.fields["may_sign_in"].initial = self.instance.user.is_active


class NewMemberForm(MemberForm):
    may_sign_in = None  # type: ignore[assignment]  # Django's own way to leave a field out
    username = UsernameField(label="User name", max_length=150, widget=forms.TextInput(attrs={"autocomplete": "off"}))
    password = forms.CharField(
        label="First password", strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least 8 characters. Ask the member to change it under Settings.",
    )  # fmt: skip
    groups = (("The member", ("name", "role")), ("Signing in", ("username", "password")))

    def clean_username(self) -> str:
        """Say at once that a name is taken, beside its box."""
        username: str = self.cleaned_data["username"]
        users = get_user_model()
        try:
            users.username_validator(username)
        except ValidationError as trouble:
            raise forms.ValidationError("A user name has letters, digits and @ . + - _ only, no spaces.") from trouble
        if users.objects.filter(username__iexact=username).exists():
            raise forms.ValidationError("Somebody already signs in with this name.")
        return username

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        password_validation.validate_password(password)
        return password


class BriefingForm(Grouped, forms.ModelForm[Briefing]):
    done_on = forms.DateField(label="Done on", widget=DATE, initial=timezone.localdate)
    groups = (("", ("tool", "done_on")),)

    class Meta:
        model = Briefing
        fields = ("tool", "done_on")


class Braked(PlainWords, AuthenticationForm):
    """A way in that slows down whoever guesses: passwords are not even looked at before the wait is over."""

    def clean(self) -> dict[str, Any]:
        who = {"username": self.cleaned_data.get("username", ""), "address": address_of(self.request)}
        wait = time_to_wait(**who)
        if wait:
            raise ValidationError(wait_in_words(wait), code="wait")
        try:
            values: dict[str, Any] = super().clean()
        except ValidationError:
            note_wrong_password(**who)
            raise
        forget_wrong_passwords(**who)
        return values


def address_of(request: HttpRequest | None) -> str:
    """Give the address that asks. A proxy on this computer adds the visitor's own as the last one of its header."""
    meta = request.META if request else {}
    address: str = meta.get("REMOTE_ADDR", "")
    if address in OWN_ADDRESSES:
        address = meta.get("HTTP_X_FORWARDED_FOR", "").rsplit(",", 1)[-1].strip() or address
    return address


def wait_in_words(wait: timedelta) -> str:
    """Say how long to wait, rounded up to whole minutes."""
    minutes = -(-wait // timedelta(minutes=1))
    return f"Too many wrong passwords. Wait {minutes} minute{'' if minutes == 1 else 's'}, then try again."


class SignInForm(Braked):
    """Our words for a wrong name or password."""

    error_messages = {
        "invalid_login": "That user name and password do not go together. Passwords mind capital letters.",
        "inactive": "This account is closed. Ask a steward.",
    }


class BackRoomForm(Braked, AdminAuthenticationForm):
    """The admin's own door, with the same brake."""


class MyPasswordForm(PlainWords, PasswordChangeForm):
    """Django's own, in our words."""

    error_messages = {
        "password_incorrect": "That is not your present password.",
        "password_mismatch": "The two new passwords differ; type the new one twice.",
    }
