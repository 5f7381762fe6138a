"""Every field of the warp sheet in words: its label, its hint, the unit behind it, and how it is chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from django import forms

from inventory.models import Fibre
from planner.brief.sheet_input import LENGTHS, WIDTHS, is_bare, kind_of
from planner.calc.cloth.sett import AS_TYPED, WEAVES
from planner.calc.terms.usual_losses import USUAL_LOSSES
from studio.units import KINDS, Units

Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Words:
    """Label and hint of one field; `choices` make it a list, `radio` a bar, `short` sets a narrow field."""

    label: str
    hint: str = ""
    choices: Choices = ()
    radio: bool = False
    area: bool = False


WORDS: Mapping[str, Words] = MappingProxyType({
    "title": Words("Name of the warp"),
    "beam": Words("Loom and warp beam"),
    "sett": Words("Sett", "Ends per unit of width."),
    "weave": Words("Weave", choices=(
        *((key, weave.name) for key, weave in WEAVES.items()), (AS_TYPED, "as typed: its lift plan"),
    )),
    "lifts": Words(
        "Lift plan", "Shafts raised in each pick, the first pick first: 1 2 / 2 3 / 3 4 / 4 1, or 1+2, 2+3, 3+4, 4+1. "
        "A dash for none. The threading stands below.", area=True,
    ),
    "picks": Words("Picks", "Leave empty to leave out the weft."),
    "width_by": Words(
        "Width by", radio=True,
        choices=tuple(zip(WIDTHS, ("Finished width", "Width in reed", "Ends"), strict=True)),
    ),
    "finished_width": Words("Finished width", "As it should be after washing."),
    "width_in_reed": Words("Width in reed"),
    "ends": Words("Ends", "Selvedge ends not counted."),
    "length_by": Words(
        "Length by", radio=True,
        choices=tuple(zip(LENGTHS, ("Finished pieces", "Warp length", "Turns"), strict=True)),
    ),
    "pieces": Words("Pieces"),
    "finished_length": Words("Finished length of a piece", "Hems not counted."),
    "warp_length": Words("Warp length", "Yards and metres are understood: 10 yd."),
    "turns": Words("Turns of the beam"),
    "draw_in": Words("Draw-in", "Reed to fell, share of the width in reed."),
    "width_shrinkage": Words("Width shrinkage", "Share of the width on the loom."),
    "length_shrinkage": Words("Length shrinkage", "Share of the woven length under tension."),
    "take_up": Words("Take-up", "Share of the warp used by bending."),
    "hem": Words("Hems of a piece", "Both together, finished."),
    "fringe": Words("Fringe of a piece", "Beyond waste and gaps."),
    "gap": Words("Gap between pieces", "Left unwoven."),
    "gaps": Words("How many gaps", "Empty: one fewer than pieces."),
    "demo_woven": Words("Demonstration strip", "Woven for trial."),
    "sampling": Words("Warp for samples"),
    "waste": Words("Waste of this loom", "Empty: as measured on the loom."),
    "margin": Words("Margin", "Added on."),
    "margin_on": Words("Margin is a share of", choices=(("all", "the whole warp"), ("woven", "the woven warp"))),
    "section_waste": Words("Lost per end and section", "Cut off and tied. Empty: the studio’s figure."),
    "box_lead": Words("Lost per end and re-thread", "Empty: the studio’s figure."),
    "spool_reserve": Words("Reserve on each spool", "Empty: the studio’s figure."),
    "weft_allowance": Words("More weft than width", "Empty: 10 %."),
    "colour_order": Words(
        "Colour order", "Seen from the seat, from the left: 15 A, 9 B, 6 C or (8 A, 8 B) 3 times.", area=True
    ),
    "colour_layout": Words(
        "How it fills the warp",
        choices=(("repeat", "repeated from the left"), ("centred", "repeated, centred"),
                 ("mirrored", "mirrored at the middle"), ("as_typed", "as typed, once")),
    ),
    "multiple": Words("Ends in multiples of", "Pairs: 2. Empty: any number."),
    "whole_repeats": Words("Whole repeats of the colour order only"),
    "balance": Words("Balance ends", "After the last whole repeat."),
    "selvedge": Words("Selvedge ends on each side", "Extra, wound with the edges."),
    "floating_selvedge": Words(
        "Floating selvedges", "Wound apart from the beam.", choices=(("", "none"), ("2", "one on each side"))
    ),
    "threading_kind": Words(
        "Threading", radio=True,
        choices=(("straight", "Straight"), ("point", "Point"), ("broken", "Broken"), ("lace", "Lace"),
                 ("typed", "As typed")),
    ),
    "threading": Words("Threading, one repeat", "Shafts from the first end: 1, 2, 3, 4."),
    "method": Words(
        "Wound", radio=True, choices=(("box", "Tension box"), ("chain", "Chains"))
    ),
    "chain_sections": Words("Sections wound as chains", "Positions on the beam, from the seat’s left: 3, 7-9."),
    "rack": Words("Rack or tension box"),
    "board": Words("Board or mill"),
    "rack_spools": Words("Spools on the rack", "Empty: as kept with the rack."),
    "ends_at_once": Words("Ends wound at once", "Empty: as kept with the board."),
    "chain_ends_max": Words("Most ends in a chain", "Empty: 100."),
    "board_path_max": Words("Longest path", "Empty: as kept with the board."),
    "board_step": Words("Paths change by", "Empty: as kept with the board."),
    "shift": Words("Shift off the middle", "To the right seen from the seat; −1 goes left."),
})  # fmt: skip

FIBRES: Choices = tuple((str(key), str(name)) for key, name in Fibre.choices)

YARN_WORDS: Mapping[str, Words] = MappingProxyType({
    "code": Words("Code"),
    "yarn": Words("Yarn"),
    "grist": Words("Count or length in a weight", "8/2 cotton, 3360 yd/lb, 7000 m/kg. For a yarn of your own."),
    "colour_name": Words("Colour", "In words."),
    "wraps": Words("Wraps", "As counted round a ruler, side by side and just touching."),
    "sett": Words("Own sett", "Where it differs."),
    "fibre": Words("Fibre", "Of a yarn of your own.", choices=FIBRES),
    "colour": Words("Colour in drawings", "Of a yarn of your own."),
    "take_up": Words("Own take-up", "Where it differs from the warp’s."),
    "elsewhere": Words("On the other warp beam"),
})  # fmt: skip

USUAL_CHOICES: Choices = tuple((key, f"{losses.name} ({losses.standing})") for key, losses in USUAL_LOSSES.items())

_WEFT_YARN = Words("Weft yarn", "From the yarn room, the code of a warp yarn such as A, or a count.")


def words_of(name: str) -> Words:
    """Give label and hint of a field, of a yarn row's too."""
    if name == "weft-yarn":
        return _WEFT_YARN
    return WORDS.get(name) or YARN_WORDS[name.rsplit("-", 1)[-1]]


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
    kind = kind_of(name)
    if kind not in KINDS or (value.strip() and not is_bare(value)):
        return ""
    return KINDS[kind].usual[units]


def widget_of(name: str, choices: Choices | None = None) -> forms.Widget:
    """Make the control of a field."""
    words = words_of(name)
    offered = choices if choices is not None else words.choices
    kind = kind_of(name)
    if words.radio:
        return forms.RadioSelect(choices=offered)
    if offered or choices is not None:
        return forms.Select(choices=offered)
    if words.area:
        return forms.Textarea(attrs={"rows": 3, "spellcheck": "false"})
    if kind == "flag":
        return forms.CheckboxInput(check_test=lambda value: bool(value) and value != "False")
    return forms.TextInput(attrs=_attributes(name, kind))


def _attributes(name: str, kind: str) -> dict[str, str]:
    attributes = {"autocomplete": "off", "spellcheck": "false"}
    if kind == "count":
        attributes["inputmode"] = "numeric"
    if name.endswith("-yarn"):
        attributes["list"] = "yarn-room"
    if name.endswith("-colour"):
        attributes["type"] = "color"
    return attributes
