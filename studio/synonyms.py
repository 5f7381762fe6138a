"""The trade's other names: what people type, and the word this house uses for it.

Trade words as weavers in different places use them (common practice, no single source). The house word
comes first; the others are only for finding.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

LONGEST_SEARCH = 80
"""Characters of a search that are read; the rest cannot be a trade word or a name."""


@dataclass(frozen=True, slots=True)
class Term:
    """One word of the house, the other names for it, and what it means."""

    word: str
    others: tuple[str, ...]
    meaning: str

    @property
    def family(self) -> frozenset[str]:
        """The word and all its other names."""
        return frozenset({self.word, *self.others})


TERMS: tuple[Term, ...] = (
    Term("end", ("warp thread", "warp yarn"), "one lengthwise thread"),
    Term("pick", ("shot", "weft row"), "one crosswise thread"),
    Term("sett", ("set", "epi", "ends per cm", "ends per inch", "density"), "ends per unit of width"),
    Term("wraps", ("wraps per inch", "wraps per cm", "wpi"), "threads side by side round a ruler, touching"),
    Term("sley order", ("denting", "sleying"), "ends in each dent, dent by dent"),
    Term("width in reed", ("reed width",), "width the warp takes up in the reed"),
    Term("reed", ("comb", "sley"), "closed comb that spaces the ends and beats the weft"),
    Term("dent", ("split", "space"), "one gap of the reed"),
    Term("beater", ("batten", "lay", "slay"), "swinging frame that holds the reed"),
    Term("heddle", ("heald", "leash", "lisse"), "loop with an eye that carries an end"),
    Term("shaft", ("harness", "leaf", "stave"), "frame of heddles"),
    Term("threading", ("entering", "drawing-in", "entry"), "taking the ends through the heddles"),
    Term("draw-in", ("pull-in", "waist"), "narrowing of the cloth while it is woven"),
    Term("take-up", ("crimp", "contraction", "warp take-up"), "length used by the ends bending round the weft"),
    Term("shrinkage", ("loss",), "loss off the loom and in the wash"),
    Term("loom waste", ("loom allowance",), "warp that cannot be woven"),
    Term("thrums", ("wasters",), "remnants cut off at the end"),
    Term("warp beam", ("back roller", "yarn beam"), "roller that holds the warp"),
    Term("back beam", ("thread beam", "slabstock"), "rail that the warp passes over at the back"),
    Term("breast beam", ("front beam",), "rail at the front"),
    Term("cloth beam", ("cloth roller", "front roller"), "roller that takes the cloth"),
    Term("plain beam", (), "warp beam that is not divided"),
    Term("sectional beam", ("sectional warp beam", "section beam"), "warp beam divided by rakes"),
    Term("section", ("compartment", "bout space"), "space between two rakes"),
    Term("rake", ("divider", "hoops", "pins", "pegs"), "what parts one section from the next"),
    Term("bout", ("ribbon", "portee group"), "ends wound together for one section"),
    Term("chain", ("warp chain", "braid"), "looped-up warp taken off the board"),
    Term("kite stick", ("warp stick",), "stick on which a warp is wound"),
    Term("cross", ("lease", "thread cross", "porrey cross"), "crossing that keeps the ends in order"),
    Term("threading cross", ("lease cross", "one-by-one cross"), "cross of single ends"),
    Term("raddle cross", ("group cross", "portee cross", "counting cross"), "cross of groups of ends"),
    Term("lease sticks", ("cross sticks", "shed sticks", "laze rods"), "pair of sticks that holds the cross"),
    Term("raddle", ("reddle", "ravel", "wraithe", "vate", "spreader", "evener"), "open comb that spreads the warp"),
    Term("choke tie", ("choke",), "tight tie that stops the warp slipping"),
    Term("counting thread", ("counting tie", "gatherer"), "thread laced round groups to count them"),
    Term("warping board", ("warping frame", "peg board"), "frame of pegs on which a warp is wound"),
    Term("warping mill", ("warping reel", "drum", "wheel"), "turning frame on which a warp is wound"),
    Term("guide string", ("guide thread", "measuring string"), "string laid along the path that a warp will take"),
    Term("paddle", ("hole board",), "holed board to wind several ends at once and keep their cross"),
    Term("tension box", ("tensioner", "tension device"), "pegs and combs that hold the ends tight"),
    Term("creel", ("spool rack", "cone rack", "bobbin rack"), "rack that holds the packages while winding"),
    Term("leader", ("extension cord", "apron cord", "section cord", "tie-on loop"), "cord from the beam to the warp"),
    Term("apron", ("canvas", "apron rod"), "cloth or cords across the whole beam, from beam to warp"),
    Term("beaming", ("winding on", "turning on", "rolling on"), "filling the warp beam"),
    Term("dressing the loom", ("warping the loom", "setting up", "gaiting"), "the whole set-up"),
    Term("packing", ("warp separator",), "paper or sticks between the layers on a plain beam"),
    Term("selvedge", ("selvage", "list", "edge"), "side edge of the cloth"),
    Term("header", ("heading", "scrap picks"), "first picks, which spread the warp"),
    Term("temple", ("stretcher", "tenterhook"), "tool that holds the cloth to its width"),
    Term("dressed loom", ("warped loom",), "loom with a warp on it"),
    Term("tie on", ("piecing", "twisting-in"), "joining a new warp to the old one"),
    Term("wet finishing", ("finishing", "scouring", "fulling", "milling"), "first wash of the cloth"),
    Term("cone", ("package", "tube", "bobbin", "pirn", "quill", "spool"), "what yarn is wound on"),
    Term("dye lot", ("batch", "shade lot"), "yarn that was dyed together"),
    Term("count", ("grist", "yarn size", "yarn number"), "fineness of a yarn"),
    Term("seat time", ("bench time", "open studio", "studio time"), "hours at a loom"),
    Term("class warp", ("shared warp", "community warp", "studio warp"), "one warp for several weavers"),
)


def plain_words(text: str) -> str:
    """Give a search as it is compared: lower case, single spaces, not too long."""
    return " ".join(text.replace("\x00", "").lower().split())[:LONGEST_SEARCH].strip()


def _by_name() -> Mapping[str, tuple[Term, ...]]:
    found: dict[str, tuple[Term, ...]] = {}
    for term in TERMS:
        for name in sorted(term.family):
            found[name] = (*found.get(name, ()), term)
    return MappingProxyType(found)


BY_NAME: Mapping[str, tuple[Term, ...]] = _by_name()


def terms_for(text: str) -> tuple[Term, ...]:
    """Give the house words that somebody may mean; an s at the end makes no difference.

    Examples
    --------
    >>> [term.word for term in terms_for("Warping frames")], [term.word for term in terms_for("heald")]
    (['warping board'], ['heddle'])
    """
    words = plain_words(text)
    return BY_NAME.get(words) or BY_NAME.get(words.removesuffix("s"), ())


def names_meant(text: str) -> frozenset[str]:
    """Give every name under which the thing may be found: what was typed, and its whole family.

    Examples
    --------
    >>> sorted(names_meant("peg board"))
    ['peg board', 'warping board', 'warping frame']
    """
    words = plain_words(text)
    family = {name for term in terms_for(words) for name in term.family}
    return frozenset(family | {words}) if words else frozenset()
