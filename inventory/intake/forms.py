"""Forms of the intake: a cone in under a minute, an empty on the scale, a name for what came in."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import groupby
from types import MappingProxyType
from typing import Any

from django import forms

from inventory.calc.tare import far_off
from inventory.calc.words import with_unit
from inventory.intake.selectors import MOST_NAMED_AT_ONCE, TareFigures, yarn_of_words
from inventory.models import Package, Photo, Yarn
from inventory.models.arrivals import LONGEST_NAME, LONGEST_STAMP
from inventory.models.moves import LONGEST_REASON
from inventory.models.packages import HEAVIEST_G, WEIGH_IT
from inventory.shelf.forms import YarnForm
from inventory.shelf.services import PackageFacts
from studio.fields import PlainWords
from studio.files.image_cleaning import Picture, PictureRefused, made_anew
from studio.models import Member
from studio.rights import Act, may
from studio.units import LONGEST_TEXT, UnitError, Units, read, show, usual

KEPT_FOR_THE_NEXT = ("core", "tare_text", "unit", "bin_name", "source", "owner", "yarn_words", "dye_lot")
"""What the next cone takes over from the last, so that only photo and weight are new."""
DECIMAL: Mapping[str, Any] = MappingProxyType({"inputmode": "decimal", "autocomplete": "off"})
UNITS = [("g", "g"), ("oz", "oz")]
_PARTS = re.compile(
    r"[;\n\r]+|(?<!lb)(?<!lbs)(?<!pound)(?<!pounds),\s+|,\s+(?!\d[\d.,/ ]*(?:oz|ounce))", re.IGNORECASE | re.ASCII
)
"""Where weights are parted; the comma in 2 lb, 3 oz parts none."""
_UNIT_AT_END = re.compile(r"[a-z]+\.?\s*\Z", re.IGNORECASE | re.ASCII)
LONGEST_LIST = 2000
ASKED_ABOVE_G = 20_000
"""A package of more is asked about: a cone weighs a few kilograms at most (common practice, no source)."""


def weight_lines(text: str, unit: str) -> list[str]:
    """Part weights typed one to a line, or with a comma and a space between, and give each its unit.

    A unit that stands once at the end of a line is that of the whole line; else a bare number takes `unit`.
    """
    weights = []
    for line in text.splitlines():
        parts = [part.strip() for part in _PARTS.split(line) if part.strip()]
        unit_at_end = _UNIT_AT_END.search(parts[-1]) if parts else None
        weights += [with_unit(part, unit_at_end.group() if unit_at_end else unit) for part in parts]
    return weights


def trouble_with(text: str) -> str:
    """Say what is wrong with a weight that has its unit; empty when nothing is."""
    try:
        mass = read(text, "mass", None)
    except UnitError as trouble:
        return trouble.message
    if mass > HEAVIEST_G:
        return "No package weighs a tonne; look at the scale again."
    return "" if mass else "It weighs more than nothing; look at the scale again."


def _yarn_meant(words: str) -> Yarn:
    yarn, trouble = yarn_of_words(words)
    if yarn is None:
        raise forms.ValidationError(trouble, code="yarn")
    return yarn


class YarnPhotoField(forms.FileField):
    """A photo, taken now or chosen; comes out as a picture made anew."""

    widget = forms.FileInput({"accept": "image/*", "capture": "environment"})

    def clean(self, data: Any, initial: Any = None) -> Picture | None:
        sent = super().clean(data, initial)
        if not sent:
            return None
        try:
            return made_anew(sent)
        except PictureRefused as refused:
            raise forms.ValidationError(refused.message, code=refused.code) from refused


class PhotoForm(PlainWords, forms.Form):
    """A photo for a package that is on the shelf."""

    photo = YarnPhotoField(
        label="Photo", help_text="Of the yarn and its label. People do not belong in it.",
        error_messages={"required": "Take a photo, or choose one.", "empty": "That file is empty; send it again."},
    )  # fmt: skip


class IntakeForm(PlainWords, forms.Form):
    """One package, or several like it, as it comes out of the bag."""

    unconfirmed = ""
    """What was typed and waits for a second press."""

    stamp = forms.CharField(max_length=LONGEST_STAMP, widget=forms.HiddenInput)
    kept_photo = forms.CharField(required=False, max_length=LONGEST_STAMP, widget=forms.HiddenInput)
    photo = YarnPhotoField(
        label="Photo", required=False, help_text="The yarn with its label or band; no people.",
        error_messages={"empty": "That file is empty; take the photo again."},
    )  # fmt: skip
    gross_text = forms.CharField(
        label="The scale shows", max_length=LONGEST_LIST, error_messages={"required": WEIGH_IT},
        widget=forms.TextInput({**DECIMAL, "enterkeyhint": "done"}),
    )  # fmt: skip
    unit = forms.ChoiceField(label="In", choices=UNITS, widget=forms.RadioSelect)
    others = forms.CharField(
        label="Weights of the others", required=False, max_length=LONGEST_LIST,
        help_text="Each weighed by itself, one to a line: 530, 519. The same photo stands for all.",
        widget=forms.Textarea({"rows": 3, "autocomplete": "off"}),
    )  # fmt: skip
    core = forms.ChoiceField(label="What it is on", error_messages={"required": "Choose what it is on."})
    tare_text = forms.CharField(
        label="Empty weight", required=False, max_length=LONGEST_TEXT, widget=forms.TextInput({**DECIMAL}),
        help_text="Only where the empty is none of those known. Left out, it can be put right once one is weighed.",
    )  # fmt: skip
    bin_name = forms.CharField(
        label="Bin", required=False, max_length=40, widget=forms.TextInput({"autocomplete": "off"})
    )
    yarn_words = forms.CharField(
        label="Yarn, if you know it", required=False, max_length=140,
        help_text="A yarn of the book. Left empty, it is named later.",
        widget=forms.TextInput({"list": "yarns-of-the-book", "autocomplete": "off"}),
    )  # fmt: skip
    source = forms.ChoiceField(label="Where it came from", choices=Package.Source.choices)
    owner: Any = forms.ModelChoiceField(label="Belongs to", required=False, queryset=None, empty_label="the studio")
    dye_lot = forms.CharField(label="Dye lot", required=False, max_length=40)
    notes = forms.CharField(label="Notes", required=False, max_length=200)
    to_quarantine = forms.BooleanField(label="Straight into quarantine: wool, silk or hair", required=False)

    def __init__(self, *args: Any, by: Member, empties: Sequence[TareFigures], **options: Any) -> None:
        super().__init__(*args, **options)
        self.by = by
        self.empties = {f"t{one.tare.pk}": one for one in empties if one.median_g is not None}
        core: Any = self.fields["core"]
        core.choices = [("", "choose"), *_core_choices(self.empties, by.reads_in)]
        owner: Any = self.fields["owner"]
        owner.queryset = Member.objects.filter(user__is_active=True).order_by("name")
        self.initial.setdefault("unit", usual("mass", by.reads_in))
        self.initial.setdefault("source", Package.Source.DONATED)
        self.initial["stamp"] = secrets.token_hex(16)
        if not may(by.role, Act.ADJUST_STOCK):
            del self.fields["to_quarantine"]

    def clean_gross_text(self) -> list[str]:
        return self._weights("gross_text")

    def clean_others(self) -> list[str]:
        return self._weights("others")

    def _weights(self, name: str) -> list[str]:
        lines = weight_lines(self.cleaned_data[name], self._unit())
        if len(lines) >= MOST_NAMED_AT_ONCE:
            raise forms.ValidationError(f"At most {MOST_NAMED_AT_ONCE} at once, please.", code="too_many")
        wrong = [(line, words) for line in lines if (words := trouble_with(line))]
        if wrong:
            messages = [f"{line[:20]}: {words}" if len(lines) > 1 else words for line, words in wrong[:3]]
            raise forms.ValidationError(messages, code="weight")
        return lines

    def clean_tare_text(self) -> str:
        text = with_unit(self.cleaned_data["tare_text"], self._unit())
        try:
            read(text or "0 g", "mass", None)
        except UnitError as trouble:
            raise forms.ValidationError(trouble.message, code=trouble.code) from trouble
        return text

    def clean_yarn_words(self) -> Yarn | None:
        words = self.cleaned_data["yarn_words"]
        return _yarn_meant(words) if words else None

    def clean_kept_photo(self) -> Photo | None:
        """Give the photo of a form that came back with mistakes; nobody else's, and none that is shown."""
        name = self.cleaned_data["kept_photo"]
        return Photo.objects.filter(name=name, made_by=self.by, of_packages=None, of_arrivals=None).first()

    def clean(self) -> dict[str, Any]:
        """Settle kind and tare from what it is on, and weigh each against its empty."""
        values: dict[str, Any] = self.cleaned_data
        chosen = self.empties.get(values.get("core", ""))
        values["kind"] = chosen.tare.kind if chosen else values.get("core")
        if chosen:
            values["tare_text"] = chosen.median_words()
        tare = read(values.get("tare_text") or "0 g", "mass", None)
        for name in ("gross_text", "others"):
            if any(read(text, "mass", None) < tare for text in values.get(name, ())):
                self.add_error(name, f"That is less than the empty alone, {values['tare_text']}.")
        if len(values.get("gross_text", ())) + len(values.get("others", ())) > MOST_NAMED_AT_ONCE:
            self.add_error("others", f"At most {MOST_NAMED_AT_ONCE} at once, please.")
        self._ask_if_so_heavy(values)
        if values.get("to_quarantine") and values.get("yarn_words") is None and "yarn_words" not in self.errors:
            self.add_error(
                "to_quarantine", "Say which yarn it is; what has no name yet goes into quarantine as it is named."
            )
        return values

    def _ask_if_so_heavy(self, values: dict[str, Any]) -> None:
        """Ask once about what no package weighs; sent again as it is, it is believed."""
        typed = [(name, text) for name in ("gross_text", "others") for text in values.get(name, ())]
        heavy = [(name, text) for name, text in typed if read(text, "mass", None) > ASKED_ABOVE_G]
        all_typed = ", ".join(text for _, text in typed)
        if heavy and self.data.get("really") != all_typed:
            self.unconfirmed = all_typed
            shown = ", ".join(text for _, text in heavy[:3])
            self.add_error(heavy[0][0], f"{shown}: does one package weigh so much? Press again if it does.")

    def _unit(self) -> str:
        unit = self.data.get("unit")
        return unit if unit in {"g", "oz"} else usual("mass", self.by.reads_in)

    def facts(self) -> PackageFacts:
        """Give what is said of each of them."""
        values = self.cleaned_data
        names = ("tare_text", "kind", "dye_lot", "bin_name", "owner", "source", "notes")
        return PackageFacts(gross_text=self.grosses()[0], **{name: values[name] for name in names})

    def grosses(self) -> list[str]:
        """Give what the scale showed for each of them."""
        return [*self.cleaned_data["gross_text"], *self.cleaned_data["others"]]

    @property
    def more_open(self) -> bool:
        """Whether the folded part holds a mistake or something that was typed."""
        folded = ("yarn_words", "tare_text", "dye_lot", "notes", "owner", "source", "to_quarantine")
        typed = (name for name in folded if name not in {"source", "owner"} and name in self.fields)
        return bool(set(folded) & set(self.errors)) or any(self[name].value() for name in typed)

    def for_the_next(self) -> dict[str, str]:
        """Give what the next cone takes over, as it was typed."""
        return {name: text for name in KEPT_FOR_THE_NEXT if (text := str(self.data.get(name, "")).strip())}


def _core_choices(empties: Mapping[str, TareFigures], units: Units) -> Iterator[tuple[str, Any]]:
    by_kind = groupby(empties.items(), lambda pair: pair[1].tare.get_kind_display())
    for kind, pairs in by_kind:
        yield f"Empty {kind}s weighed here", [(key, f"{one.tare}, {one.spread_words(units)}") for key, one in pairs]
    yield "Another, its tare typed or not known", list(Package.Kind.choices)


class EmptyForm(PlainWords, forms.Form):
    """An empty cone, tube or spool on the scale."""

    unconfirmed = ""
    """What was typed and waits for a second press."""

    kind = forms.ChoiceField(label="Kind of package", choices=Package.Kind.choices)
    name = forms.CharField(
        label="What you call it", max_length=LONGEST_NAME, help_text="Such as: large cardboard cone.",
        widget=forms.TextInput({"list": "known-empties", "autocomplete": "off"}),
    )  # fmt: skip
    weight_text = forms.CharField(
        label="It weighs", max_length=LONGEST_TEXT, widget=forms.TextInput({**DECIMAL}),
        help_text="One empty, without yarn, as the scale shows it.",
    )  # fmt: skip

    def __init__(self, *args: Any, units: Units, known: Sequence[TareFigures] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        self.units, self.known = units, known
        self.unit = usual("mass", units)
        self.fields["weight_text"].help_text += f" A bare number is in {self.unit}."

    def clean_name(self) -> str:
        return " ".join(self.cleaned_data["name"].split())

    def clean_weight_text(self) -> str:
        text = with_unit(self.cleaned_data["weight_text"], self.unit)
        if wrong := trouble_with(text):
            raise forms.ValidationError(wrong, code="weight")
        return text

    def clean(self) -> dict[str, Any]:
        """Ask once about an empty far off the others of its sort."""
        values: dict[str, Any] = self.cleaned_data
        text, median_g = values.get("weight_text"), self._median_of(values.get("kind"), values.get("name", ""))
        if text and median_g is not None and far_off(read(text, "mass", None), median_g):
            typed = f"{values['kind']}, {values['name']}, {text}"
            if self.data.get("really") != typed:
                self.unconfirmed = typed
                others = show(median_g, "mass", self.units)
                self.add_error("weight_text", f"Others of this sort weigh about {others}. Press again if it is so.")
        return values

    def _median_of(self, kind: str | None, name: str) -> Fraction | None:
        same = (one for one in self.known if one.tare.kind == kind and one.tare.name.casefold() == name.casefold())
        return next((one.median_g for one in same), None)


class NameForm(PlainWords, forms.Form):
    """Which yarn of the book came in."""

    yarn_words = forms.CharField(
        label="Yarn of the book", max_length=140,
        widget=forms.TextInput({"list": "yarns-of-the-book", "autocomplete": "off"}),
        error_messages={"required": "Say which yarn it is, or write a new one below."},
    )  # fmt: skip
    to_quarantine = forms.BooleanField(label="Straight into quarantine: wool, silk or hair", required=False)

    def __init__(self, *args: Any, by: Member, **options: Any) -> None:
        super().__init__(*args, **options)
        if not may(by.role, Act.ADJUST_STOCK):
            del self.fields["to_quarantine"]

    def clean_yarn_words(self) -> Yarn:
        return _yarn_meant(self.cleaned_data["yarn_words"])


class NewYarnForm(YarnForm):
    """A yarn that is not in the book yet, with as much as is known when it comes in."""

    to_quarantine = forms.BooleanField(label="Straight into quarantine: wool, silk or hair", required=False)

    class Meta(YarnForm.Meta):
        fields = ("name", "fibre", "colour_name", "colour", "count_text", "grist_text")  # type: ignore[assignment]

    def __init__(self, *args: Any, by: Member, **options: Any) -> None:
        super().__init__(*args, units=by.reads_in, prefix="new", **options)
        if not may(by.role, Act.ADJUST_STOCK):
            del self.fields["to_quarantine"]


class ThrowOutForm(PlainWords, forms.Form):
    """Why something that came in is not kept."""

    why_out = forms.CharField(
        label="Why it is thrown out", max_length=LONGEST_REASON, help_text="Such as: moth holes; mould; not yarn.",
        error_messages={"required": "Say why, for whoever asks after it."},
    )  # fmt: skip
