"""Facts of the database as parts of a brief: looms, yarns, the studio's rules, its winding tools.

Every number is exact and canonical; the document's reader takes it as it is, since no JSON holds a fraction.
"""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from inventory.models import Yarn
from inventory.shelf.selectors import free_weight
from planner.brief.document import Reading, read_brief
from planner.brief.fields import write_quantity
from planner.brief.schema import MOST_YARNS
from planner.calc.terms.brief import BeamFacts, BeamKind, Centre, LoomFacts, ReedFacts, Turning
from planner.calibration.selectors import with_densities
from planner.models import Project
from planner.warps.moved_yarn import had_by
from studio.models import Beam, Loom, Reed, Station, StudioRules
from studio.rules.selectors import studio_rules

Document = dict[str, Any]

LARGEST_KEY = 2**63 - 1
_CM: Mapping[str, Fraction] = MappingProxyType({
    Reed.Per.INCH: Fraction("2.54"), Reed.Per.CM: Fraction(1), Reed.Per.TEN_CM: Fraction(10),
})  # fmt: skip
"""The width [cm] in which the dents of a reed are counted."""


def loom_facts(loom: Loom, beam: Beam, house_reeds: Iterable[Reed] | None = None) -> LoomFacts:
    """Give a loom with one of its beams, and the reeds kept with it or with no loom.

    `house_reeds` are all reeds in use, for those who ask for many looms at once.
    """
    return LoomFacts(**_loom_part(loom, beam, house_reeds))


def _loom_part(loom: Loom, beam: Beam | None, house_reeds: Iterable[Reed] | None = None) -> Document:
    reeds = reeds_for(loom, reeds_in_use() if house_reeds is None else house_reeds)
    return {
        "name": _words(loom.nickname),
        "weaving_width": Fraction(loom.weaving_width_cm),
        "beam": None if beam is None else beam_facts(beam),
        "waste": Fraction(loom.waste_cm),
        "shafts": loom.shafts,
        "treadles": loom.treadles,
        "heddles": tuple(loom.heddles),
        "reeds": tuple(_told_apart([_reed(reed) for reed in reeds])),
    }


def reeds_in_use() -> list[Reed]:
    """Give every reed of the house that is in use."""
    return list(Reed.objects.filter(retired=False))


def reeds_for(loom: Loom, reeds: Iterable[Reed]) -> Iterable[Reed]:
    """Give the reeds that may be used in a loom, its own before those of the house."""
    usable = (reed for reed in reeds if reed.kept_with_id in {None, loom.pk})
    return sorted(usable, key=lambda reed: reed.kept_with_id is None)


def beam_facts(beam: Beam) -> BeamFacts:
    """Give a beam as measured; what was not measured is not known."""
    return BeamFacts(
        kind=BeamKind(beam.kind),
        circumference=Fraction(beam.circumference_cm),
        usable_width=Fraction(beam.usable_width_cm),
        pitch=_measured(beam.pitch_cm),
        divider=Fraction(beam.divider_cm),
        sections=beam.sections,
        centre=Centre(beam.centre),
        rake_height=_measured(beam.rake_height_cm),
        bars=beam.bars,
        leader=_measured(beam.leader_cm),
        leader_offset=Fraction(beam.leader_offset_cm),
        leader_knot=Fraction(beam.leader_knot_cm),
        turning=Turning(beam.turning),
        clockwise=beam.clockwise,
    )


def _reed(reed: Reed) -> ReedFacts:
    return ReedFacts(_words(str(reed)), Fraction(reed.dents) / _CM[reed.per], Fraction(reed.reed_length_cm))


def reeds_by_name(loom: Loom, reeds: Iterable[Reed]) -> dict[str, Reed]:
    """Give the reeds that may be used in a loom by the names that its plans know them by."""
    usable = list(reeds_for(loom, reeds))
    return {name: usable[at] for name, at in _names_told_apart([_reed(reed) for reed in usable]).items()}


def _told_apart(reeds: list[ReedFacts]) -> list[ReedFacts]:
    return [replace(reeds[at], name=name) for name, at in _names_told_apart(reeds).items()]


def _names_told_apart(reeds: list[ReedFacts]) -> dict[str, int]:
    """Name reeds that are stamped alike by their length too: a plan knows a reed by its name. Twins count once."""
    stamped = Counter(reed.name for reed in reeds)
    named = [
        f"{reed.name}, {write_quantity(reed.reed_length, 'length')} long" if stamped[reed.name] > 1 else reed.name
        for reed in reeds
    ]
    return {name: named.index(name) for name in named}


def yarn_part(yarn: Yarn, on_hand_g: Fraction | None = None) -> Document:
    """Give a yarn of the yarn room as one of the document's `yarns`, without a code; what is not known is None."""
    told = bool(yarn.grist_text) and yarn.grist_text not in yarn.name
    return {
        "name": _words(yarn.name),
        "grist": yarn.exact_tex,
        "fibre": yarn.fibre,
        "colour_name": _words(yarn.colour_name),
        "colour": yarn.colour,
        "yarn_id": yarn.pk,
        "count": _words(yarn.grist_text) if told else None,
        "wound_density": _measured(yarn.wound_density),
        "wraps": yarn.wraps,
        "on_hand": on_hand_g,
        "price": None if yarn.price_per_100g is None else Fraction(yarn.price_per_100g) / 100,
    }


def yarn_for(warp: Project | None, yarns: Iterable[Yarn]) -> dict[int, Fraction]:
    """Give what a warp could have of each yarn [g]: what is free, and of a saved warp also what it has already."""
    return free_weight(yarns) if warp is None else had_by(warp, tuple(yarns))


def rules_part(rules: StudioRules) -> Document:
    """Give the studio's own tolerances and winding habits, as the document's parts of those names."""
    shares = ("mismatch_note", "mismatch_warn", "mismatch_stop", "sett_error", "sett_share")
    tolerances = {name: Fraction(getattr(rules, name)) for name in shares}
    return {
        "tolerances": {**tolerances, "rake_clearance": Fraction(rules.rake_clearance_cm)},
        "bench": {"spool_step": Fraction(rules.spool_step_cm), "tie_every": Fraction(rules.tie_every_cm)},
        "allowances": {
            "section_waste": Fraction(rules.section_waste_cm),
            "box_lead": Fraction(rules.box_lead_cm),
            "spool_reserve": Fraction(rules.spool_reserve),
        },
    }


def bench_part(stations: Iterable[Station]) -> Document:
    """Give what the winding stations allow: the longest board or mill, the largest rack, a comb, a raddle."""
    usable = [station for station in stations if not station.retired]
    boards = [station for station in usable if station.path_longest_cm is not None]
    bench = _board(max(boards, key=lambda board: board.path_longest_cm or 0)) if boards else {}
    racks = [station.rack_spools for station in usable if station.rack_spools is not None]
    if racks:
        bench["rack_spools"] = max(racks)
    combs = [Fraction(one.comb_dents) / _CM[one.comb_per] for one in usable if one.comb_dents is not None]
    if combs:
        bench["comb_dents"] = combs[0]
    spaces = [Fraction(station.raddle_space_cm) for station in usable if station.raddle_space_cm is not None]
    return {**bench, "raddle_space": spaces[0]} if spaces else bench


def _board(board: Station) -> Document:
    figures = {
        "board_path_max": _measured(board.path_longest_cm),
        "board_step": _measured(board.path_step_cm),
        "ends_at_once": board.ends_at_once,
    }
    return {name: figure for name, figure in figures.items() if figure is not None}


def read_document(document: object) -> Reading:
    """Read a brief document that may only refer to a loom of this studio by number, and to its yarns by `yarn_id`.

    A loom named by number brings the studio's rules and winding tools with it; what the document says itself
    always wins. What cannot be found is left as it is, and the reader of the document says so beside the field.
    """
    if not isinstance(document, dict):
        return read_brief(document)
    filled, beam = _with_loom(document)
    yarns, weft = filled.get("yarns"), filled.get("weft")
    listed = yarns if isinstance(yarns, list) and len(yarns) <= MOST_YARNS else []
    room = _known_yarns([*listed, weft])
    own = {at for at, yarn in enumerate(listed) if isinstance(yarn, dict) and yarn.get("wound_density") is not None}
    if listed:
        filled["yarns"] = [_with_yarn(yarn, room) for yarn in listed]
    return read_brief(
        {**filled, "weft": _with_yarn(weft, room)}, measured=lambda brief: with_densities(brief, beam, own)
    )


def _with_loom(document: Document) -> tuple[Document, int | None]:
    """Fill in the loom that is asked for, and give the key of its beam unless the document describes its own."""
    asked = document.get("loom")
    loom = _loom_asked(asked)
    if loom is None or not isinstance(asked, dict):
        return dict(document), None
    own = {name: value for name, value in asked.items() if name != "number" and value is not None}
    beams = {beam.name: beam for beam in loom.beams.all()}
    name = own.get("beam")
    if isinstance(name, str) and name in beams:
        del own["beam"]
    beam = beams.get(name) if isinstance(name, str) else next(iter(beams.values()), None)
    key = beam.pk if beam is not None and "beam" not in own else None
    return _over(_studio_parts(), {**document, "loom": {**_loom_part(loom, beam), **own}}), key


def _loom_asked(asked: object) -> Loom | None:
    number = asked.get("number") if isinstance(asked, dict) else None
    if not isinstance(number, int) or isinstance(number, bool) or not 0 <= number <= LARGEST_KEY:
        return None
    return Loom.objects.prefetch_related("beams").filter(number=number).first()


def _studio_parts() -> Document:
    parts = rules_part(studio_rules())
    return {**parts, "bench": {**parts["bench"], **bench_part(Station.objects.filter(retired=False))}}


def _over(parts: Document, document: Document) -> Document:
    """Lay what the document says over the studio's own figures, part by part."""
    merged = dict(document)
    for name, figures in parts.items():
        own = document.get(name)
        if own is None:
            merged[name] = figures
        elif isinstance(own, dict):
            merged[name] = {**figures, **{key: value for key, value in own.items() if value is not None}}
    return merged


def _yarn_asked(yarn: object) -> int | None:
    """Give the key of a yarn that is only referred to; one that says its grist stands for itself."""
    if not isinstance(yarn, dict) or yarn.get("grist") is not None:
        return None
    key = yarn.get("yarn_id")
    good = isinstance(key, int) and not isinstance(key, bool) and 0 < key <= LARGEST_KEY
    return key if good else None


def _known_yarns(yarns: Iterable[object]) -> dict[int, Document]:
    keys = {key for key in map(_yarn_asked, yarns) if key is not None}
    if not keys:
        return {}
    of_room = list(Yarn.objects.filter(pk__in=keys))
    free = free_weight(of_room)
    return {yarn.pk: yarn_part(yarn, free[yarn.pk]) for yarn in of_room}


def _with_yarn(yarn: object, room: Mapping[int, Document]) -> object:
    facts = room.get(_yarn_asked(yarn) or 0)
    if facts is None or not isinstance(yarn, dict):
        return yarn
    return {**facts, **{name: value for name, value in yarn.items() if value is not None}}


def _measured(value: Decimal | None) -> Fraction | None:
    return None if value is None else Fraction(value)


def _words(text: str) -> str:
    """Give a name without control signs, which no document holds."""
    return "".join(" " if unicodedata.category(sign) in {"Cc", "Cs"} else sign for sign in text).strip()
