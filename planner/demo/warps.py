"""The eleven warps on the go in the invented studio, as brief documents; looms and yarns are found by name.

Ten projects that were first worked by hand: each shows one habit, or one trap, of warping. The last one is only big.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from studio.units import Units

YarnName = tuple[str, str]


@dataclass(frozen=True, slots=True)
class DemoWarp:
    """One warp: whose it is, on which beam of which loom, of which yarns, and the rest of its brief."""

    owner: str
    loom: int
    brief: Mapping[str, Any]
    yarns: Mapping[str, YarnName]
    beam: str = "sectional beam"
    weft: YarnName | None = None
    setts: Mapping[str, str] = field(default_factory=dict)
    units: Units = Units.INCH


WARPS = (
    DemoWarp(
        "newmember", 1, beam="plain beam",
        yarns={"A": ("8/2 cotton", "sea green")}, weft=("8/2 cotton", "natural"),
        brief={
            "title": "First runner", "sett": "20 /in", "finished_width": "12 in", "finished_length": "36 in",
            "pieces": 1, "method": "chain", "picks": "18 /in",
            "allowances": {"draw_in": "15 %", "length_shrinkage": "10 %", "take_up": "8 %", "margin": "5 %",
                           "margin_on": "woven"},
            "fit": {"multiple": 2},
        },
    ),
    DemoWarp(
        "trained", 3,
        yarns={"A": ("8/2 cotton", "natural")}, weft=("8/2 cotton", "indigo"),
        brief={
            "title": "Eight towels", "sett": "20 /in", "width_in_reed": "24 in", "finished_length": "28 in",
            "pieces": 8, "method": "box", "picks": "18 /in",
            "allowances": {"length_shrinkage": "12 %", "take_up": "9 %", "hem": "2 in", "gap": "0.5 in", "gaps": 8,
                           "sampling": "12 in", "margin": "3 %"},
        },
    ),
    DemoWarp(
        "member", 2,
        yarns={"A": ("2-ply wool", "sheep grey")}, weft=("2-ply wool", "cream"),
        brief={
            "title": "Two wool throws", "sett": "7.5 /in", "finished_width": "30 in", "finished_length": "60 in",
            "pieces": 2, "method": "box", "picks": "7 /in", "weave": "twill_2_2",
            "allowances": {"draw_in": "16.7 %", "length_shrinkage": "17 %", "take_up": "10 %", "gap": "12 in"},
        },
    ),
    DemoWarp(
        "steward", 4,
        yarns={"A": ("8/4 cotton", "deep indigo"), "B": ("8/4 cotton", "straw"), "C": ("8/4 cotton", "brick")},
        brief={
            "title": "Five striped rugs", "sett": "12 /in", "width_in_reed": "30 in", "finished_length": "60 in",
            "pieces": 5, "method": "box", "colour_order": "15 A, 9 B, 6 C",
            "allowances": {"length_shrinkage": "5 %", "take_up": "8 %", "gap": "8 in", "sampling": "12 in",
                           "margin": "2 %"},
        },
    ),
    DemoWarp(
        "trained-b", 3,
        yarns={"A": ("8/4 cotton", "natural"), "B": ("8/4 cotton", "cochineal, hand-dyed")},
        brief={
            "title": "One hand-dyed stripe", "sett": "18 /in", "turns": 12, "method": "box",
            "colour_order": "468 A, 36 B, 144 A", "colour_layout": "as_typed",
        },
    ),
    DemoWarp(
        "teacher", 8,
        yarns={"A": ("5/2 cotton", "natural"), "B": ("5/2 cotton", "slate blue")}, weft=("5/2 cotton", "moss"),
        brief={
            "title": "Class warp, eight weavers", "sett": "16 /in", "width_in_reed": "20 in",
            "finished_length": "30 in", "pieces": 8, "method": "chain", "picks": "14 /in",
            "colour_order": "32 A, 32 B",
            "allowances": {"take_up": "8 %", "gap": "3 in", "demo_woven": "12 in", "margin": "10 %",
                           "margin_on": "woven"},
        },
    ),
    DemoWarp(
        "trained-c", 7, units=Units.METRIC,
        yarns={"A": ("16/2 linen", "flax")}, weft=("16/2 linen", "half bleached"),
        brief={
            "title": "Four linen cloths", "sett": "5 /cm", "width_in_reed": "80 cm", "finished_length": "140 cm",
            "pieces": 4, "method": "box", "picks": "5 /cm",
            "allowances": {"length_shrinkage": "6 %", "take_up": "6 %", "gap": "2 cm", "gaps": 4,
                           "sampling": "25 cm", "margin": "3 %", "section_waste": "50 cm"},
        },
    ),
    DemoWarp(
        "trained-d", 6,
        yarns={"A": ("8/2 cotton", "natural")},
        brief={
            "title": "A narrow warp on the wide loom", "sett": "24 /in", "width_in_reed": "25 in", "turns": 20,
            "method": "box", "weave": "twill_2_2",
        },
    ),
    DemoWarp(
        "member-b", 3,
        yarns={"N": ("10/2 cotton", "natural"), "T": ("5/2 cotton", "clay")}, setts={"T": "15 /in"},
        brief={
            "title": "Thick and thin", "sett": "24 /in", "turns": 15, "method": "box",
            "colour_order": "(96 N, 30 T) 4 times", "colour_layout": "as_typed",
        },
    ),
    DemoWarp(
        "evening", 5,
        yarns={"A": ("8/4 cotton", "walnut")},
        brief={
            "title": "Forty yards of rug warp", "sett": "12 /in", "width_in_reed": "28 in", "warp_length": "40 yd",
            "method": "box",
        },
    ),
    DemoWarp(
        "teacher", 6, beam="beam of one-inch sections",
        yarns={
            "A": ("8/2 cotton", "natural"), "B": ("8/2 cotton", "indigo"), "C": ("8/2 cotton", "pale woad"),
            "D": ("8/2 cotton", "madder"), "E": ("8/2 cotton", "weld"), "F": ("8/2 cotton", "walnut"),
        },
        weft=("8/2 cotton", "natural"),
        brief={
            "title": "Big sampler for the open day", "sett": "20 /in", "ends": 1200, "turns": 6, "method": "box",
            "picks": "18 /in", "threading": "straight",
            "colour_order": "(40 A, 20 B, 40 A, 20 C, 40 A, 20 D, 40 A, 20 E, 40 A, 20 F) 4 times",
            "colour_layout": "as_typed",
        },
    ),
)  # fmt: skip
