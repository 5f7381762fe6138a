"""What else could be done: the parts of a plan that set choices side by side, reached through `plan`."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from planner.calc.terms.kinds import Distance, Ends, Length, Sett, Share
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
    """One way to deal with partial edges, and what comes of it; pairs are the left and the right edge section."""

    kind: EdgeKind
    ends: int  # of the cloth
    dummy_ends: int  # wound only to fill, never threaded
    sections: int
    edge_ends: tuple[int, int]
    edge_full: tuple[Fraction, Fraction]  # ends that each would hold if it were full, at the sett of its edge
    width: Length[Fraction]  # in the reed, without extra selvedge ends
    setts: Sett[tuple[Fraction, ...]]
    shift: Length[Fraction]  # off the middle of the beam, to the right
    shorter: Length[float]  # the shallowest edge at the planned turns
    share: Share[float]  # the same, of the length by the empty beam
    partial: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True)
class Alternative:
    """A width near the planned one that fits better."""

    sections_full: bool
    repeats_whole: bool  # with the balance asked for
    ends: int  # on the beam, extra selvedge ends counted
    change: int  # ends more than planned; below zero fewer
    width: Length[Fraction]  # in the reed
    finished_width: Length[Fraction]
    sections: int  # 0 on a plain beam
    shift: Length[Fraction]  # off the middle of the beam, to the right, for the sections to be full
    repeats: int  # 0 where there is no colour order


@dataclass(frozen=True, slots=True)
class RepeatLayouts:
    """How the repeat of the colour order falls into the sections."""

    repeat: int  # its ends
    section: Ends[Fraction]  # ends of a full one
    layouts: int  # different full sections before the layout comes round again
    one_layout: int  # ends of the nearest repeat that makes every full section alike; 0 where none does


@dataclass(frozen=True, slots=True)
class Mismatch:
    """Two groups of sections, alike within each, and how far their lengths come apart."""

    deep: tuple[int, ...]  # positions
    shallow: tuple[int, ...]
    longer: Length[float]  # deep than shallow at the planned turns
    share: Share[float]  # the same, of the length by the empty beam
    longer_at_twice: Length[float]  # at twice the turns
    share_at_twice: Share[float]


class SpoolWay(StrEnum):
    """How the warp could be wound, by the spools it asks for."""

    PLANNED = "planned"
    HALF_PITCH = "half_pitch"
    MIXED = "mixed"
    CHAINS = "chains"


@dataclass(frozen=True, slots=True)
class FewerSpools:
    """One way to wind the warp: the spools it asks for, and what it costs."""

    way: SpoolWay
    spools: int
    at_once: int  # on the rack at the fullest set-up
    setups: int
    tyings: int  # bundles tied on to the beam, by box or as chains
    chains: int  # among them
    passes: int  # on the board for these chains
    longest: Distance[Number]  # most that one spool must hold, without reserve; 0 where no spool is wound
    lead_lost: Distance[Fraction]  # when every set-up but the first is threaded anew
    chain_sections: tuple[int, ...] = ()  # wound as chains while the rest comes from the box
