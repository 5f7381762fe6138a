"""What else could be done: the parts of a plan that set choices side by side, reached through `plan`."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from planner.calc.terms.plan_parts import Number


class EdgeKind(StrEnum):
    """What can be done about an edge section that is not full."""

    FEWER = "fewer"
    MORE = "more"
    SETT = "sett"
    SHIFT = "shift"
    DUMMY = "dummy"
    PACKED = "packed"
    SPREAD = "spread"


@dataclass(frozen=True, slots=True)
class EdgeChoice:
    """One way to deal with partial edges, and what comes of it.

    Attributes
    ----------
    kind : EdgeKind
        Which way. [-]
    ends : int
        Ends of the cloth. [ends]
    dummy_ends : int
        Ends wound only to fill, never threaded. [ends]
    sections : int
        Sections used. [-]
    edge_ends : tuple[int, int]
        Ends of the cloth in the left and the right edge section, seen from the seat. [ends]
    edge_full : tuple[Fraction, Fraction]
        Ends that each of the two would hold if it were full, at the sett of its edge. [ends]
    width : Fraction
        Width in reed of the ends without extra selvedge ends. [cm]
    setts : tuple[Fraction, ...]
        Every sett of the cloth once, from the seat's left. [ends/cm]
    shift : Fraction
        Warp off the middle of the beam, to the right seen from the seat. [cm]
    shorter : float
        How much shorter the shallowest edge comes out at the planned turns. [cm]
    share : float
        The same as a share of the length by the empty beam. [share]
    partial : tuple[bool, bool]
        The left edge section, and the right one, are not full of the cloth's ends. [-]
    """

    kind: EdgeKind
    ends: int
    dummy_ends: int
    sections: int
    edge_ends: tuple[int, int]
    edge_full: tuple[Fraction, Fraction]
    width: Fraction
    setts: tuple[Fraction, ...]
    shift: Fraction
    shorter: float
    share: float
    partial: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True)
class Alternative:
    """A width near the planned one that fits better.

    Attributes
    ----------
    sections_full : bool
        Every section is full. [-]
    repeats_whole : bool
        The colour order comes out in whole repeats and the balance asked for. [-]
    ends : int
        Ends on the beam, extra selvedge ends counted. [ends]
    change : int
        Ends more than planned; below zero fewer. [ends]
    width : Fraction
        Width in reed. [cm]
    finished_width : Fraction
        Finished width to expect. [cm]
    sections : int
        Sections used; 0 on a plain beam. [-]
    shift : Fraction
        How far off the middle of the beam they must lie to be full, to the right seen from the seat. [cm]
    repeats : int
        Whole repeats; 0 where there is no colour order. [repeats]
    """

    sections_full: bool
    repeats_whole: bool
    ends: int
    change: int
    width: Fraction
    finished_width: Fraction
    sections: int
    shift: Fraction
    repeats: int


@dataclass(frozen=True, slots=True)
class RepeatLayouts:
    """How the repeat of the colour order falls into the sections.

    Attributes
    ----------
    repeat : int
        Ends of one repeat. [ends]
    section : Fraction
        Ends of a full section. [ends]
    layouts : int
        Different full sections before the layout comes round again. [-]
    one_layout : int
        Nearest repeat that makes every full section alike; 0 where none does. [ends]
    """

    repeat: int
    section: Fraction
    layouts: int
    one_layout: int


@dataclass(frozen=True, slots=True)
class Mismatch:
    """Two groups of sections, alike within each, and how far their lengths come apart.

    Attributes
    ----------
    deep : tuple[int, ...]
        Positions of the deeper sections. [-]
    shallow : tuple[int, ...]
        Positions of the shallower ones. [-]
    longer : float
        Deep longer than shallow at the planned turns. [cm]
    share : float
        The same as a share of the length by the empty beam. [share]
    longer_at_twice : float
        Deep longer than shallow at twice the turns. [cm]
    share_at_twice : float
        The same as a share. [share]
    """

    deep: tuple[int, ...]
    shallow: tuple[int, ...]
    longer: float
    share: float
    longer_at_twice: float
    share_at_twice: float


class SpoolWay(StrEnum):
    """How the warp could be wound, by the spools it asks for."""

    PLANNED = "planned"
    HALF_PITCH = "half_pitch"
    MIXED = "mixed"
    CHAINS = "chains"


@dataclass(frozen=True, slots=True)
class FewerSpools:
    """One way to wind the warp: the spools it asks for, and what it costs.

    Attributes
    ----------
    way : SpoolWay
        Which way; the planned one stands first. [-]
    spools : int
        Spools in all. [spools]
    at_once : int
        Spools on the rack at the fullest set-up. [spools]
    setups : int
        Set-ups of the rack. [set-ups]
    tyings : int
        Bundles tied on to the beam, by box or as chains. [-]
    chains : int
        Chains among them. [-]
    passes : int
        Passes on the board for these chains. [passes]
    longest : Number
        Most yarn that one spool must hold, without reserve; 0 where no spool is wound. [cm]
    lead_lost : Fraction
        Yarn lost between rack and beam when every set-up but the first is threaded anew. [cm]
    chain_sections : tuple[int, ...]
        Positions wound as chains while the rest comes from the box. [-]
    """

    way: SpoolWay
    spools: int
    at_once: int
    setups: int
    tyings: int
    chains: int
    passes: int
    longest: Number
    lead_lost: Fraction
    chain_sections: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class TieMarks:
    """Ties of one chain before it leaves the board; one colour above the pegs, another below.

    Attributes
    ----------
    tops : int
        Ties in the colour of the tops. [ties]
    bottoms : int
        Ties in the colour of the bottoms. [ties]
    chokes : int
        Choke ties. [ties]
    """

    tops: int
    bottoms: int
    chokes: int
