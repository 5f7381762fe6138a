"""Forms of the scale: find the package, then say what the scale shows and what is done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from django import forms

from inventory.calc.words import with_unit
from inventory.ledger.selectors import Promise
from inventory.models import Move, Package, SetAside
from inventory.models.moves import LONGEST_REASON
from inventory.models.packages import HEAVIEST_G, WEIGH_IT
from inventory.scale.selectors import ACTIONS, actions_on, set_asides_to_take_for
from inventory.scale.services import StockMovement
from studio.fields import PlainWords
from studio.models import Member
from studio.rights import Act, may
from studio.units import LONGEST_TEXT, UnitError, Units, read, show, usual

Kind = Move.Kind
BY_WEIGHT_TOO = frozenset({Kind.ISSUE, Kind.RETURN, Kind.SELL, Kind.WRITE_OFF})
DEAREST_100G = 10_000
LONGEST_KEY = 18
PRICE_FOR = MappingProxyType({Units.INCH: "/oz", Units.METRIC: "/100 g"})
SAY_THE_PRICE = "Write the price and what it is for, such as 3.10 /100 g or 0.90 /oz."
SAY_HOW_MUCH = "Give what the scale shows, or the weight of the yarn."
ACTION_WORDS: Mapping[str, str] = MappingProxyType({
    Kind.WEIGH: "It weighs this now",
    Kind.ISSUE: "Take out",
    Kind.RETURN: "Bring back",
    Kind.SELL: "Sell",
    Kind.WRITE_OFF: "Write off",
    Kind.QUARANTINE_IN: "Into quarantine",
    Kind.QUARANTINE_OUT: "Out of quarantine",
})  # fmt: skip
DECIMAL: Mapping[str, Any] = MappingProxyType({"inputmode": "decimal", "autocomplete": "off"})


class FindForm(PlainWords, forms.Form):
    """Which package stands on the scale."""

    words = forms.CharField(
        label="Package",
        required=False,
        max_length=80,
        help_text="Its number, such as 12 or cone 12. Or words: yarn, colour, dye lot, bin.",
        widget=forms.TextInput({"type": "search", "autocomplete": "off", "autofocus": True, "enterkeyhint": "go"}),
    )
    kind = forms.CharField(required=False, widget=forms.HiddenInput)

    def search_words(self) -> str:
        """Give the words as far as they were understood."""
        return str(self.cleaned_data.get("words", "")) if self.is_valid() else ""

    @property
    def next_kind(self) -> str:
        """Give the action that the next package waits for; nothing where it is none of ours."""
        kind = self.data.get("kind", "")
        return kind if kind in ACTIONS else ""


class WorkField(forms.ModelChoiceField):  # type: ignore[type-arg]  # Django itself takes no type here
    """Work that yarn was set aside for: whose it is, and what of the package on the scale is promised to it."""

    promised: Mapping[int, str] = MappingProxyType({})

    def label_from_instance(self, obj: SetAside) -> str:
        return (
            f"{self.promised.get(obj.pk, 'none')} set aside: {obj.title}, {obj.for_member}"  # a phone cuts off the end
        )


class ScaleForm(PlainWords, forms.Form):
    """One stock movement at the scale; boxes of other actions are not looked at."""

    use_required_attribute = (
        False  # a box of another action is not shown, and the browser would wait for it all the same
    )

    gross_text = forms.CharField(
        label="The scale shows", required=False, max_length=LONGEST_TEXT,
        widget=forms.TextInput({**DECIMAL, "autofocus": True, "enterkeyhint": "done"}),
    )  # fmt: skip
    unit = forms.ChoiceField(label="In", required=False, choices=[("g", "g"), ("oz", "oz")], widget=forms.RadioSelect)
    kind = forms.ChoiceField(
        label="What is done", choices=list(ACTION_WORDS.items()), widget=forms.RadioSelect,
        error_messages={"required": "Choose what is done."},
    )  # fmt: skip
    mass = forms.CharField(
        label="Or so much yarn, by weight", required=False, max_length=LONGEST_TEXT,
        help_text="Instead of the scale’s reading: the yarn alone, without its cone.",
        widget=forms.TextInput({**DECIMAL}),
    )  # fmt: skip
    set_aside = WorkField(label="For which work", required=False, queryset=None, empty_label="none: of what is free")
    for_member: Any = forms.ModelChoiceField(label="For whom", required=False, queryset=None, empty_label="myself")
    price = forms.CharField(
        label="Price", max_length=LONGEST_TEXT, error_messages={"required": SAY_THE_PRICE},
        widget=forms.TextInput({"autocomplete": "off"}),
    )  # fmt: skip
    buyer: Any = forms.ModelChoiceField(
        label="Buyer", required=False, queryset=None, empty_label="nobody of the studio"
    )
    temperature_text = forms.CharField(
        label="How cold the freezer gets",
        required=False,
        max_length=40,
        help_text="In C or F, such as: −20 °C, chest freezer.",
    )
    reason = forms.CharField(
        label="What became of it", max_length=LONGEST_REASON, help_text="Such as: moth holes, thrown away.",
        error_messages={"required": "Say what became of the yarn."},
    )  # fmt: skip
    said_why = forms.CharField(
        label="What was seen",
        required=False,
        max_length=LONGEST_REASON,
        help_text="Such as: webs in the core. After less than a week, or warmer than −20 °C: why all the same.",
    )

    def __init__(
        self,
        *args: Any,
        package: Package,
        by: Member,
        promises: Sequence[Promise] = (),
        kind: str = "",
        unit: str = "",
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        self.package, self.units = package, by.reads_in
        self.sold = ""
        offered = actions_on(package, by)
        self.fields["kind"].widget.choices = [(one, self._action_words(one)) for one in offered]
        self.initial["kind"] = kind if kind in offered else next(iter(offered), "")
        self.initial["unit"] = self.shown_before = unit if unit in {"g", "oz"} else usual("mass", self.units)
        self._set_set_asides(by, promises)
        self._set_people(by)
        if package.yarn.price_per_100g is not None:
            self.initial["price"] = f"{package.yarn.price_per_100g} /100 g"

    def _action_words(self, kind: str) -> str:
        again = kind == Kind.QUARANTINE_IN and self.package.quarantined
        return "Freeze it again" if again else ACTION_WORDS[kind]

    def _set_set_asides(self, by: Member, promises: Sequence[Promise]) -> None:
        field: Any = self.fields["set_aside"]
        field.queryset = set_asides_to_take_for(self.package, by)
        field.promised = {one.set_aside.pk: show(one.mass_g, "mass", self.units) for one in promises}
        own = (one.set_aside.pk for one in promises if one.set_aside.for_member_id == by.pk)
        self.initial["set_aside"] = next(own, None)

    def _set_people(self, by: Member) -> None:
        for_member: Any = self.fields["for_member"]
        buyer: Any = self.fields["buyer"]
        for_member.queryset = buyer.queryset = Member.objects.filter(user__is_active=True).order_by("name")
        if not may(by.role, Act.TAKE_YARN_FOR_OTHERS):
            del self.fields["for_member"]
        elif self.package.owner_id is not None and self.package.owner_id != by.pk:
            self.initial["for_member"] = self.package.owner_id
        self.fields["price"].help_text = f"Such as 3.10 /100 g or 0.90 /oz. A bare number is {PRICE_FOR[self.units]}."
        if not may(by.role, Act.ADJUST_STOCK):
            for name in ("price", "buyer", "temperature_text", "reason", "said_why"):
                del self.fields[name]

    def full_clean(self) -> None:
        """Look only at the boxes of the chosen action: a slip in a box that is not shown is nobody's mistake."""
        all_fields = dict(self.fields)
        if self.is_bound:
            looked_at = _BOXES.get(str(self.data.get("kind", "")), frozenset())
            self.fields = {name: box for name, box in all_fields.items() if name in looked_at | {"kind", "unit"}}
        super().full_clean()
        self.fields = all_fields

    def clean(self) -> dict[str, Any]:
        """Ask for what the chosen action needs."""
        values: dict[str, Any] = self.cleaned_data
        kind = values.get("kind")
        if kind == Kind.WEIGH and not values.get("gross_text", "unread"):
            self.add_error("gross_text", WEIGH_IT)
        elif kind in BY_WEIGHT_TOO:
            self._one_of_two(values)
        return values

    def _one_of_two(self, values: dict[str, Any]) -> None:
        gross, mass = values.get("gross_text"), values.get("mass")
        if "gross_text" in self.errors or "mass" in self.errors:
            return
        if not gross and mass is None:
            self.add_error("gross_text", SAY_HOW_MUCH)
        elif gross and mass is not None:
            self.add_error("mass", "Give one of the two: what the scale shows, or the weight of the yarn.")

    def clean_gross_text(self) -> str:
        text = with_unit(self.cleaned_data["gross_text"], self.shown_unit())
        if not text:
            return text
        shown = self._mass(text)
        if shown > HEAVIEST_G:
            raise forms.ValidationError("No package weighs a tonne; look at the scale again.", code="too_heavy")
        if shown < self.package.tare_g:
            tare = show(Fraction(self.package.tare_g), "mass", self.units)
            package_kind = self.package.get_kind_display()
            raise forms.ValidationError(f"That is less than the empty {package_kind} alone, {tare}.", code="below_tare")
        return text

    def clean_mass(self) -> Fraction | None:
        text = with_unit(self.cleaned_data["mass"], self.shown_unit())
        return self._mass(text) if text else None

    def clean_price(self) -> tuple[str, Fraction] | None:
        text = with_unit(self.cleaned_data["price"], PRICE_FOR[self.units])
        if not text:
            return None
        try:
            per_100g = 100 * read(text, "price", None)
        except UnitError as trouble:
            raise forms.ValidationError(SAY_THE_PRICE, code=trouble.code) from trouble
        if per_100g > DEAREST_100G:
            raise forms.ValidationError("No yarn is so dear; look at the price again.", code="too_dear")
        return text, per_100g

    def shown_unit(self) -> str:
        """Give the unit of a bare number; the buttons beside the box say which."""
        unit = self.data.get("unit")
        return unit if unit in {"g", "oz"} else self.shown_before

    def _mass(self, text: str) -> Fraction:
        try:
            return read(text, "mass", None)
        except UnitError as trouble:
            raise forms.ValidationError(trouble.message, code=trouble.code) from trouble

    def show_price(self, mass_g: Fraction) -> None:
        """Make ready to be shown with the price: the yarn as typed, the focus on the button that keeps it."""
        typed, unit = str(self.data.get("mass", "")).strip(), self.shown_unit()
        units = Units.METRIC if unit == "g" else Units.INCH
        self.sold = with_unit(typed, unit) if typed else show(mass_g, "mass", units)
        self.fields["gross_text"].widget.attrs.pop("autofocus", None)

    def _seen(self) -> int | None:
        """Give the latest move that the page showed; none where it does not say."""
        text = str(self.data.get("seen", ""))
        return int(text) if text.isascii() and text.isdigit() and len(text) <= LONGEST_KEY else None

    def movement(self) -> StockMovement:
        """Give the stock movement as it was understood."""
        values = self.cleaned_data
        price_text, per_100g = values.get("price") or ("", Fraction(0))
        return StockMovement(
            kind=values["kind"],
            gross_text=values.get("gross_text", ""),
            mass_g=values.get("mass"),
            set_aside=values.get("set_aside"),
            for_member=values.get("for_member"),
            price_text=price_text,
            price_per_100g=per_100g,
            buyer=values.get("buyer"),
            agreed=self.data.get("agreed", ""),
            really=self.data.get("really", ""),
            seen=self._seen(),
            said_why=values.get("reason", "") or values.get("said_why", ""),
            temperature_text=values.get("temperature_text", ""),
        )


_AMOUNT = frozenset({"gross_text", "mass"})
_BOXES: Mapping[str, frozenset[str]] = MappingProxyType({
    Kind.WEIGH: frozenset({"gross_text"}),
    Kind.ISSUE: _AMOUNT | {"set_aside", "for_member"},
    Kind.RETURN: _AMOUNT | {"set_aside", "for_member"},
    Kind.SELL: _AMOUNT | {"price", "buyer"},
    Kind.WRITE_OFF: _AMOUNT | {"reason"},
    Kind.QUARANTINE_IN: frozenset({"temperature_text", "said_why"}),
    Kind.QUARANTINE_OUT: frozenset({"said_why"}),
})  # fmt: skip
"""The boxes of each action, as the page shows them."""
