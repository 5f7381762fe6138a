"""The format of a brief document, as tables: a key's name, the kind of its value, whether it is needed.

BRIEF_FORMAT.md beside this file tells it in words; a test holds the two together.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.brief.fields import (
    Kind,
    choice,
    code,
    colour,
    colour_order,
    flag,
    grist,
    positions,
    price,
    quantity,
    whole,
    whole_list,
    words,
)
from planner.brief.threading import lifts, threading
from planner.calc.cloth.sett import AS_TYPED, WEAVES
from planner.calc.terms.brief import (
    MOST_ENDS,
    MOST_SECTIONS,
    MOST_TURNS,
    WOUND_DENSITY,
    Allowances,
    BeamFacts,
    BeamKind,
    Bench,
    Centre,
    Fit,
    Layout,
    LoomFacts,
    MarginOn,
    Method,
    ReedFacts,
    Tolerances,
    Turning,
    WarpBrief,
    YarnChoice,
)

MOST_YARNS = 26
MOST_REEDS = 40


@dataclass(frozen=True, slots=True)
class Key:
    """One key of the document. `attribute` is the dataclass field where its name is another."""

    name: str
    kind: Kind | Part
    needed: bool = False
    attribute: str = ""

    @property
    def target(self) -> str:
        """Field of the dataclass it fills."""
        return self.attribute or self.name


@dataclass(frozen=True, slots=True)
class Part:
    """An object of the document and the dataclass it makes; with `most`, a list of such objects."""

    made: type
    keys: tuple[Key, ...]
    most: int = 0


def _lengths(*names: str) -> tuple[Key, ...]:
    return tuple(Key(name, quantity("length")) for name in names)


def _shares(*names: str) -> tuple[Key, ...]:
    return tuple(Key(name, quantity("share")) for name in names)


YARN_KEYS = (
    Key("name", words(80)),
    Key("grist", grist, needed=True, attribute="tex"),
    Key("fibre", choice(tuple(WOUND_DENSITY))),
    Key("colour_name", words(40)),
    Key("colour", colour),
    Key("wound_density", quantity("density")),
    Key("density_low", quantity("density")),
    Key("density_high", quantity("density")),
    Key("wraps", quantity("wraps")),
    Key("sett", quantity("sett")),
    Key("on_hand", quantity("mass")),
    Key("price", price),
    Key("yarn_id", whole(1, 2**63 - 1)),
    Key("elsewhere", flag),
    Key("take_up", quantity("share")),
    Key("count", words(60)),
)
YARNS = Part(YarnChoice, (Key("code", code, needed=True), *YARN_KEYS), MOST_YARNS)
WEFT = Part(YarnChoice, (Key("code", code), *YARN_KEYS))
REEDS = Part(
    ReedFacts,
    (
        Key("name", words(80, needed=True), needed=True),
        Key("dents", quantity("dents"), needed=True),
        Key("reed_length", quantity("length"), needed=True),
    ),
    MOST_REEDS,
)
BEAM = Part(
    BeamFacts,
    (
        Key("kind", choice(BeamKind), needed=True),
        Key("circumference", quantity("length"), needed=True),
        Key("usable_width", quantity("length"), needed=True),
        *_lengths("pitch", "divider"),
        Key("sections", whole(0, MOST_SECTIONS)),
        Key("centre", choice(Centre)),
        *_lengths("rake_height"),
        Key("bars", whole(0, 24)),
        *_lengths("leader", "leader_offset", "leader_knot"),
        Key("turning", choice(Turning)),
        Key("clockwise", flag),
        *_lengths("tape"),
        Key("depth_per_turn", quantity("depth")),
    ),
)
LOOM = Part(
    LoomFacts,
    (
        Key("name", words(80, needed=True), needed=True),
        Key("weaving_width", quantity("length"), needed=True),
        Key("waste", quantity("length"), needed=True),
        Key("shafts", whole(1, 64)),
        Key("treadles", whole(0, 64)),
        Key("heddles", whole_list(0, 10_000, 64)),
        Key("beam", BEAM, needed=True),
        Key("reeds", REEDS),
    ),
)
FIT = Part(
    Fit,
    (
        Key("multiple", whole(1, 1_000)),
        Key("whole_repeats", flag),
        Key("balance", whole(0, MOST_ENDS)),
        Key("selvedge", whole(0, 1_000)),
        Key("floating_selvedge", whole(0, 2)),
    ),
)
ALLOWANCES = Part(
    Allowances,
    (
        *_shares("draw_in", "width_shrinkage", "length_shrinkage", "take_up"),
        *_lengths("hem", "fringe", "gap"),
        Key("gaps", whole(0, 10_000)),
        *_lengths("demo_woven", "sampling", "waste"),
        *_shares("margin"),
        Key("margin_on", choice(MarginOn)),
        *_lengths("section_waste", "box_lead"),
        *_shares("spool_reserve", "weft_allowance"),
    ),
)
BENCH = Part(
    Bench,
    (
        Key("rack_spools", whole(0, MOST_ENDS)),
        *_lengths("board_path_max", "board_step"),
        Key("ends_at_once", whole(1, 1_000)),
        Key("chain_ends_max", whole(1, MOST_ENDS)),
        *_lengths("raddle_space", "tie_every"),
        Key("comb_dents", quantity("dents")),
        Key("comb_ends_per_dent", whole(1, 100)),
        *_lengths("spool_step"),
    ),
)
TOLERANCES = Part(
    Tolerances,
    (
        *_shares("mismatch_note", "mismatch_warn", "mismatch_stop", "sett_error"),
        *_lengths("rake_clearance"),
        *_shares("sett_share"),
    ),
)
BRIEF = Part(
    WarpBrief,
    (
        Key("title", words(120, needed=True), needed=True),
        Key("loom", LOOM, needed=True),
        Key("yarns", YARNS, needed=True),
        Key("weft", WEFT),
        Key("sett", quantity("sett"), needed=True),
        *_lengths("finished_width", "width_in_reed"),
        Key("ends", whole(1, MOST_ENDS)),
        Key("pieces", whole(1, 1_000)),
        *_lengths("finished_length", "warp_length"),
        Key("turns", whole(1, MOST_TURNS)),
        Key("weave", choice((*WEAVES, AS_TYPED))),
        Key("method", choice(Method)),
        Key("chain_sections", positions),
        Key("colour_order", colour_order),
        Key("colour_layout", choice(Layout)),
        Key("fit", FIT),
        Key("allowances", ALLOWANCES),
        Key("threading", threading),
        Key("lifts", lifts),
        Key("picks", quantity("picks")),
        Key("bench", BENCH),
        Key("tolerances", TOLERANCES),
        Key("shift", quantity("length", signed=True)),
    ),
)
