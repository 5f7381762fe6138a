"""The fields of the warp sheet on the page: the label, the unit behind, and the control by which each is chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from django import forms

from inventory.models import Fibre
from planner.brief.sheet_input import is_bare, spec_of
from planner.calc.cloth.sett import AS_TYPED, WEAVES
from planner.calc.terms.field_table import Spec
from planner.calc.terms.usual_losses import USUAL_LOSSES
from studio.units import KINDS, Units

Choices = tuple[tuple[str, str], ...]

CHOICES: Mapping[str, Choices] = MappingProxyType(
    {
        "fibre": tuple((str(key), str(name)) for key, name in Fibre.choices),
        "weave": (*((key, weave.name) for key, weave in WEAVES.items()), (AS_TYPED, "as typed: its lift plan")),
    }
)
"""Lists that the field table leaves to those who know fibres and weaves."""

USUAL_CHOICES: Choices = tuple((key, f"{losses.name} ({losses.standing})") for key, losses in USUAL_LOSSES.items())

_WEFT = "From the yarn room, the code of a warp yarn such as A, or a count."


def words_of(name: str) -> Spec:
    """Give label and help of a field, of a yarn row's too."""
    spec = spec_of(name)
    return replace(spec, label="Weft yarn", help=_WEFT) if name == "weft-yarn" else spec


def label_of(name: str) -> str:
    """Name a field in a list of mistakes, where it stands without its neighbours."""
    label = words_of(name).label
    if name.startswith("yarns-"):
        row = f"Warp yarn {int(name.split('-')[1]) + 1}"
        return row if name.endswith("-yarn") else f"{row}, {label[:1].lower()}{label[1:]}"
    if name.startswith("weft-"):
        return label if name == "weft-yarn" else f"Weft, {label[:1].lower()}{label[1:]}"
    return label


def unit_after(name: str, value: str, units: Units) -> str:
    """Give the unit a bare number in a field has; empty where the number says its own."""
    kind = spec_of(name).kind
    if kind not in KINDS or (value.strip() and not is_bare(value)):
        return ""
    return KINDS[kind].usual[units]


def widget_of(name: str, choices: Choices | None = None) -> forms.Widget:
    """Make the control of a field."""
    spec = spec_of(name)
    offered = choices if choices is not None else spec.choices or CHOICES.get(spec.kind, ())
    if spec.radio:
        return forms.RadioSelect(choices=offered)
    if offered or choices is not None:
        return forms.Select(choices=offered)
    if spec.area:
        return forms.Textarea(attrs={"rows": 3, "spellcheck": "false"})
    if spec.kind == "flag":
        return forms.CheckboxInput(check_test=lambda value: bool(value) and value != "False")
    return forms.TextInput(attrs=_attributes(name, spec.kind))


def _attributes(name: str, kind: str) -> dict[str, str]:
    attributes = {"autocomplete": "off", "spellcheck": "false"}
    if kind == "count":
        attributes["inputmode"] = "numeric"
    if name.endswith("-yarn"):
        attributes["list"] = "yarn-room"
    if name.endswith("-colour"):
        attributes["type"] = "color"
    return attributes
