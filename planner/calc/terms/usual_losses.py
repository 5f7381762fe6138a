"""Losses to start from, by structure and fibre, until the studio's own records are better."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class UsualLosses:
    """Losses of one kind of cloth, as text for a form. All are shares of the longer length, divided out."""

    name: str  # structure and fibre in words
    draw_in: str  # narrowing from reed to fell, of the width in reed
    width_shrinkage: str  # from the width on the loom to finished, of the width on the loom
    length_shrinkage: str  # from woven under tension to finished, of the woven length
    take_up: str  # warp used by bending, of the warp length
    certain: bool = False  # fits published records; else the figures are from memory

    @property
    def standing(self) -> str:
        """How far the figures can be trusted."""
        return "common practice" if self.certain else "from memory, not verified"


USUAL_LOSSES: Mapping[str, UsualLosses] = MappingProxyType({
    "cotton_plain": UsualLosses("cotton, plain weave", "6.5", "8", "11", "9", certain=True),
    "cotton_twill": UsualLosses("cotton, twill", "7", "11", "12", "7.5", certain=True),
    "cotton_waffle": UsualLosses("cotton, waffle or deep texture", "10", "17", "20", "9"),
    "cotton_lace": UsualLosses("cotton, lace weaves", "7", "8.5", "12.5", "7"),
    "linen_plain": UsualLosses("linen, plain weave", "5", "3", "6", "6.5"),
    "cottolin": UsualLosses("cottolin or half linen", "6", "6.5", "10", "8"),
    "wool_light": UsualLosses("wool, light finish", "6.5", "9", "15", "9"),
    "wool_fulled": UsualLosses("wool, fulled blanket", "7", "19.5", "25", "9"),
    "silk": UsualLosses("silk", "5", "3", "6", "6.5"),
    "rayon": UsualLosses("rayon or lyocell", "6.5", "3.5", "8", "6.5"),
    "rag_rug": UsualLosses("rag rug on a cotton warp", "4", "2.5", "4.5", "11.5"),
    "weft_faced": UsualLosses("weft-faced rug", "3", "1", "3", "4.5"),
    "warp_faced": UsualLosses("warp-faced or rep", "2", "2.5", "6", "27.5"),
})  # fmt: skip
"""The middle of the range that weavers give for each. Width shrinkage is what, with the draw-in, makes the middle of
the usual width loss from reed to finished. Common practice or memory as marked; no published table was found."""
