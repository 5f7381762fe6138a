"""What a template needs to show a plan: every number already text in the reader's units.

`planner.plan.presenter` fills these; page, card and print choose from them and repeat.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.plan.formatter import ShownRemark, ShownSum


@dataclass(frozen=True, slots=True)
class Figure:
    """One big number with its name."""

    key: str
    label: str
    value: str
    unit: str
    note: str


@dataclass(frozen=True, slots=True)
class ShownYarn:
    """A yarn by its code, with its pattern number for grey prints; `elsewhere` is on another warp beam."""

    code: str
    name: str
    colour_name: str
    colour: str
    pattern: int
    elsewhere: bool = False

    @property
    def words(self) -> str:
        """Colour name where there is one, else the yarn's name."""
        return self.colour_name or self.name


@dataclass(frozen=True, slots=True)
class ShownRun:
    """Neighbouring ends of one yarn, in words."""

    ends: int
    yarn: ShownYarn

    @property
    def text(self) -> str:
        """Such as "15 A"."""
        return f"{self.ends} {self.yarn.code}"


@dataclass(frozen=True, slots=True)
class ShownSection:
    """One line of the section table."""

    position: int
    ends: int
    seat: tuple[ShownRun, ...]
    back: tuple[ShownRun, ...]
    seat_text: str
    back_text: str
    turns: str
    depth: str
    real_length: str
    setup: int
    partial: bool
    chain: int = 0
    waits: str = ""

    @property
    def wound(self) -> str:
        """How it comes on to a beam that is wound both ways; number and word never part."""
        return f"chain\N{NO-BREAK SPACE}{self.chain}" if self.chain else f"set-up\N{NO-BREAK SPACE}{self.setup}"


@dataclass(frozen=True, slots=True)
class ShownLayout:
    """One way the repeat lies in sections, and where it does."""

    number: int
    ends: int
    sections: str
    wound: str
    seat_text: str
    edge: bool


@dataclass(frozen=True, slots=True)
class ShownSetup:
    """One arrangement of spools, with the sections it serves."""

    number: int
    ends: int
    positions: str
    seat_text: str
    back_text: str
    slots: str
    moved: int
    changes: tuple[str, ...]
    lead_lost: str


@dataclass(frozen=True, slots=True)
class ShownSpools:
    """Spools of one yarn that carry the same length."""

    yarn: ShownYarn
    spools: int
    which: str
    sections: int
    nominal: str
    real: str
    to_wind: str


@dataclass(frozen=True, slots=True)
class ShownChain:
    """One chain, or several alike."""

    numbers: str
    positions: str
    ends: int
    passes: str
    groups: str
    seat_text: str
    count: int
    mass: str
    length: str

    @property
    def boxes(self) -> range:
        """One box to tick for each chain of the line."""
        return range(self.count)


@dataclass(frozen=True, slots=True)
class ShownReed:
    """One reed with its sley order."""

    reed: str
    sley: str
    sett: str
    error: str
    exact: bool
    dents: int
    empty_left: int
    start_dent: int
    width: str
    room: str
    stripes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ShownNeed:
    """One yarn against the shelf."""

    yarn: ShownYarn
    ends: int
    warp: str
    warp_mass: str
    weft: str
    weft_mass: str
    on_hand: str
    short: str
    cost: str
    enough: bool | None


@dataclass(frozen=True, slots=True)
class ShownCost:
    """What all yarn costs, and one of several pieces."""

    with_weft: bool
    whole: str
    pieces: int
    of_a_piece: str


@dataclass(frozen=True, slots=True)
class ShownTurn:
    """One line of the turn table."""

    turn: int
    length: str
    circumference: str
    depth: str


@dataclass(frozen=True, slots=True)
class ShownEdge:
    """One way to deal with partial edges."""

    kind: str
    title: str
    note: str
    ends: int
    dummy_ends: int
    sections: int
    width: str
    sett: str
    shift: str
    shorter: str
    share: str


@dataclass(frozen=True, slots=True)
class ShownAlternative:
    """One width near by that fits better, what it changes, and how the sheet is asked for it."""

    title: str
    asked: str
    ends: int
    change: str
    width: str
    finished_width: str
    sections: int
    shift: str
    repeats: int


@dataclass(frozen=True, slots=True)
class ShownMismatch:
    """Two groups of sections whose lengths come apart."""

    deep: str
    shallow: str
    longer: str
    share: str
    longer_at_twice: str
    share_at_twice: str


@dataclass(frozen=True, slots=True)
class ShownWay:
    """One way to wind the warp: the spools it asks for, what it costs, and how the sheet is asked for it."""

    way: str
    title: str
    note: str
    spools: int
    at_once: int
    setups: int
    tyings: int
    chains: int
    passes: int
    longest: str
    lead_lost: str
    chain_sections: str
    asked: str


ShaftRow = tuple[tuple[int, ...], ...]
"""Neighbouring shafts, each with its number and its figures: as many as stand side by side on a phone."""


@dataclass(frozen=True, slots=True)
class ShownPart:
    """One section or chain at the heddles and the reed."""

    title: str
    ends: int
    so_far: int
    threading: str
    shafts: tuple[ShaftRow, ...]
    dents: str
    shared: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShownGuide:
    """Threading and sleying, section by section, chain by chain, or in parts of a cloth that lies on two beams."""

    kind: str
    repeat: str
    spare: tuple[ShaftRow, ...]
    short: bool
    reed: str
    floating_selvedge: int
    parts: tuple[ShownPart, ...]


@dataclass(frozen=True, slots=True)
class SumGroup:
    """Sums of one part of the plan."""

    key: str
    title: str
    sums: tuple[ShownSum, ...]


@dataclass(frozen=True, slots=True)
class ShownPlan:
    """Everything a template needs to show a plan."""

    title: str
    loom: str
    sectional: bool
    box: bool
    ends: int
    ends_of_cloth: int
    floating_selvedge: int
    check_total: str
    other_beam: str
    places: tuple[tuple[int, int], ...]
    part_sections: str
    figures: tuple[Figure, ...]
    remarks: tuple[ShownRemark, ...]
    stopped: bool
    yarns: tuple[ShownYarn, ...]
    order: tuple[ShownRun, ...]
    sections: tuple[ShownSection, ...]
    setups: tuple[ShownSetup, ...]
    spools: tuple[ShownSpools, ...]
    spool_count: int
    at_once: int
    chains: tuple[ShownChain, ...]
    ties: tuple[str, ...]
    tie_every: str
    raddle: str
    reed: ShownReed | None
    reeds: tuple[ShownReed, ...]
    needs: tuple[ShownNeed, ...]
    cost: ShownCost | None
    turns: tuple[ShownTurn, ...]
    guided_by: str
    all_turns: tuple[ShownTurn, ...]
    heddles: tuple[tuple[int, int, int | None], ...]
    groups: tuple[SumGroup, ...]
    end_circumference: str
    rakes: str
    round_between: str
    knot: str
    rack_work: str
    lead_lost: str
    edge_choices: tuple[ShownEdge, ...]
    alternatives: tuple[ShownAlternative, ...]
    repeat_layouts: str
    layouts: tuple[ShownLayout, ...]
    mismatches: tuple[ShownMismatch, ...]
    fewer_spools: tuple[ShownWay, ...]
    short_spools: tuple[ShownSpools, ...]
    tie_marks: str
    waits: tuple[str, ...] = ()

    @property
    def mixed(self) -> bool:
        """Some sections come from the box and some are chains."""
        return self.box and bool(self.chains)

    @property
    def wound_as(self) -> str:
        """Head of the column that tells how each section is wound; empty where all are wound alike."""
        return "Wound as" if self.mixed else "Set-up" if len(self.setups) > 1 else ""
