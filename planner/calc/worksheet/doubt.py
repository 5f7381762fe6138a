"""The worksheet's page of doubt: what the tape leaves open of turns, length, depth and rakes on a calibrated beam."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from planner.calc.beam import calibration
from planner.calc.beam import depth as beam_depth
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import Place, Range, Sum, TurnsRange
from planner.calc.worksheet.sections import depth_ranges
from planner.calc.worksheet.sums import line, of


@dataclass(frozen=True, slots=True)
class Doubt:
    """What the tape leaves open on a calibrated beam."""

    circumference: Range
    ordinary: Range
    shallowest: Range
    deepest: Range

    def turns(self, length: Fraction) -> TurnsRange:
        """Whole turns that reach a length, in the shallowest section too."""
        return calibration.turns_range(length, self.circumference, self.shallowest)

    def length(self, turns: int) -> Range:
        """Length after the turns in the deepest ordinary section."""
        return calibration.length_range(turns, self.circumference, self.ordinary)

    def round(self, turns: int) -> Range:
        """Circumference to find after the turns."""
        return calibration.round_range(turns, self.circumference, self.ordinary)

    def depth(self, turns: int) -> Range:
        """Depth of yarn after the turns in the deepest section."""
        return Range(*(turns * one for one in (self.deepest.low, self.deepest.likely, self.deepest.high)))

    def most_turns(self, rake: Fraction, clearance: Fraction) -> Range:
        """Turns that the rakes hold: the deeper a turn may be, the fewer."""
        depths = (self.deepest.high, self.deepest.likely, self.deepest.low)
        return Range(*(Fraction(beam_depth.most_turns(rake, clearance, depth)) for depth in depths))

    def longest(self, turns: Range) -> Range:
        """Length after the turns the rakes hold, in the shallowest section, which comes out shortest."""
        low, likely, high = (
            calibration.length_range(int(turns), self.circumference, self.shallowest)
            for turns in (turns.low, turns.likely, turns.high)
        )
        return Range(low.low, likely.likely, high.high)


def doubt_of(brief: WarpBrief, places: tuple[Place, ...], ordinary: Fraction) -> Doubt | None:
    """Give what the tape leaves open, where every yarn was measured on this beam."""
    depths, facts = depth_ranges(brief, places, ordinary), brief.loom.beam
    return None if depths is None else Doubt(calibration.taped(facts.circumference, facts.tape), *depths)


def doubt_sums(brief: WarpBrief, doubt: Doubt | None, turns: int) -> Iterator[Sum]:
    """Show between what length, round, depth and rakes lie: the same sums with the least and with the most of each."""
    if doubt is None:
        return
    length, end, round_bars, depth = doubt.length(turns), doubt.round(turns), doubt.circumference, doubt.ordinary
    for side, put_in in (("least", (round_bars.low, depth.low)), ("most", (round_bars.high, depth.high))):
        inputs = {
            "circumference": of(put_in[0], "length"),
            "depth": of(put_in[1], "depth"),
            "turns": of(turns, "turns"),
        }
        yield line(f"length_{side}", of(length.low if side == "least" else length.high, "distance"), inputs)
        yield line(f"round_{side}", of(end.low if side == "least" else end.high, "length"), inputs)
    deep = doubt.depth(turns)
    for side, each, whole in (("least", doubt.deepest.low, deep.low), ("most", doubt.deepest.high, deep.high)):
        put = {"turns": of(turns, "turns"), "depth": of(each, "depth")}
        yield line(f"depth_{side}", of(whole, "depth"), put)
    yield from _rake_sums(brief, doubt)


def _rake_sums(brief: WarpBrief, doubt: Doubt) -> Iterator[Sum]:
    rake, clearance = brief.loom.beam.rake_height, brief.tolerances.rake_clearance
    if rake is None:
        return
    most, around, shallow = doubt.most_turns(rake, clearance), doubt.circumference, doubt.shallowest
    longest = doubt.longest(most)
    for side, deep, turns, put_in, length in (
        ("least", doubt.deepest.high, most.low, (around.low, shallow.low), longest.low),
        ("most", doubt.deepest.low, most.high, (around.high, shallow.high), longest.high),
    ):
        kept = {"rake": of(rake, "depth"), "clearance": of(clearance, "depth"), "depth": of(deep, "depth")}
        yield line(f"most_turns_{side}", of(turns, "turns"), kept)
        inputs = {
            "turns": of(turns, "turns"),
            "circumference": of(put_in[0], "length"),
            "depth": of(put_in[1], "depth"),
        }
        yield line(f"longest_{side}", of(length, "distance"), inputs)
