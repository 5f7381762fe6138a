"""Facts of the database as parts of a brief document: looms, yarns, the studio's rules, its winding tools.

Every quantity is written with its unit and exact, so a document made here reads the same in any units.
"""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from inventory.models import Yarn
from inventory.shelf.selectors import free_weight
from planner.brief.fields import write_quantity, write_tex
from planner.brief.schema import MOST_YARNS
from planner.calibration.selectors import with_densities
from planner.models import Project
from planner.warps.moved_yarn import had_by
from studio.models import Beam, Loom, Reed, Station, StudioRules
from studio.rules.selectors import studio_rules
from studio.units import rounded

Document = dict[str, Any]

LARGEST_KEY = 2**63 - 1
_PER: Mapping[str, str] = MappingProxyType({Reed.Per.INCH: "/in", Reed.Per.CM: "/cm", Reed.Per.TEN_CM: "/10 cm"})


def loom_document(loom: Loom, beam: Beam | None, house_reeds: Iterable[Reed] | None = None) -> Document:
    """Give a loom as the document's `loom`: with this beam, and the reeds kept with it or with no loom.

    `house_reeds` are all reeds in use, for those who ask for many looms at once.
    """
    reeds = reeds_in_use() if house_reeds is None else house_reeds
    document: Document = {
        "name": _words(loom.nickname),
        "weaving_width": _length(loom.weaving_width_cm),
        "waste": _length(loom.waste_cm),
        "shafts": loom.shafts,
        "treadles": loom.treadles,
        "heddles": list(loom.heddles),
        "reeds": list(_told_apart([_reed(reed) for reed in reeds_for(loom, reeds)])),
    }
    return document if beam is None else {**document, "beam": beam_document(beam)}


def reeds_in_use() -> list[Reed]:
    """Give every reed of the house that is in use."""
    return list(Reed.objects.filter(retired=False))


def reeds_for(loom: Loom, reeds: Iterable[Reed]) -> Iterable[Reed]:
    """Give the reeds that may be used in a loom, its own before those of the house."""
    usable = (reed for reed in reeds if reed.kept_with_id in {None, loom.pk})
    return sorted(usable, key=lambda reed: reed.kept_with_id is None)


def beam_document(beam: Beam) -> Document:
    """Give a beam as the document's `loom.beam`; what was not measured is left out."""
    document: Document = {
        "kind": beam.kind,
        "circumference": _length(beam.circumference_cm),
        "usable_width": _length(beam.usable_width_cm),
        "divider": _length(beam.divider_cm),
        "sections": beam.sections,
        "centre": beam.centre,
        "bars": beam.bars,
        "turning": beam.turning,
        "clockwise": beam.clockwise,
    }
    measured = {"pitch": beam.pitch_cm, "rake_height": beam.rake_height_cm, "leader": beam.leader_cm}
    # A leader on its bar with no knot to speak of says nothing: so cards of before stay the cards of this beam.
    measured |= {"leader_offset": beam.leader_offset_cm or None, "leader_knot": beam.leader_knot_cm or None}
    return document | {name: _length(value) for name, value in measured.items() if value is not None}


def _reed(reed: Reed) -> Document:
    return {
        "name": _words(str(reed)),
        "dents": f"{_figure(reed.dents)} {_PER[reed.per]}",
        "reed_length": _length(reed.reed_length_cm),
    }


def reeds_by_name(loom: Loom, reeds: Iterable[Reed]) -> dict[str, Reed]:
    """Give the reeds that may be used in a loom by the names that its plans know them by."""
    usable = list(reeds_for(loom, reeds))
    return {name: usable[at] for name, at in _names_told_apart([_reed(reed) for reed in usable]).items()}


def _told_apart(reeds: list[Document]) -> Iterator[Document]:
    for name, at in _names_told_apart(reeds).items():
        yield {**reeds[at], "name": name}


def _names_told_apart(reeds: list[Document]) -> dict[str, int]:
    """Name reeds that are stamped alike by their length too: a plan knows a reed by its name. Twins count once."""
    stamped = Counter(reed["name"] for reed in reeds)
    named = [
        f"{reed['name']}, {reed['reed_length']} long" if stamped[reed["name"]] > 1 else str(reed["name"])
        for reed in reeds
    ]
    return {name: named.index(name) for name in named}


def yarn_document(yarn: Yarn, on_hand_g: Fraction | None = None) -> Document:
    """Give a yarn of the yarn room as one of the document's `yarns`, without a code."""
    document: Document = {
        "name": _words(yarn.name),
        "grist": write_tex(yarn.exact_tex),
        "fibre": yarn.fibre,
        "colour_name": _words(yarn.colour_name),
        "colour": yarn.colour,
        "yarn_id": yarn.pk,
    }
    if yarn.grist_text and yarn.grist_text not in yarn.name:
        document["count"] = _words(yarn.grist_text)
    if yarn.wound_density is not None:
        document["wound_density"] = f"{_figure(yarn.wound_density)} g/cm3"
    if yarn.wraps is not None:
        document["wraps"] = write_quantity(yarn.wraps, "wraps")
    if on_hand_g is not None:
        document["on_hand"] = write_quantity(on_hand_g, "mass")
    if yarn.price_per_100g is not None:
        document["price"] = f"{_figure(yarn.price_per_100g)} /100 g"
    return document


def yarn_for(warp: Project | None, yarns: Iterable[Yarn]) -> dict[int, Fraction]:
    """Give what a warp could have of each yarn [g]: what is free, and of a saved warp also what it has already."""
    return free_weight(yarns) if warp is None else had_by(warp, tuple(yarns))


def rules_document(rules: StudioRules) -> Document:
    """Give the studio's own tolerances and winding habits, as the document's parts of those names."""
    shares = ("mismatch_note", "mismatch_warn", "mismatch_stop", "sett_error", "sett_share")
    tolerances = {name: _share(getattr(rules, name)) for name in shares}
    return {
        "tolerances": {**tolerances, "rake_clearance": _length(rules.rake_clearance_cm)},
        "bench": {"spool_step": _length(rules.spool_step_cm), "tie_every": _length(rules.tie_every_cm)},
        "allowances": {
            "section_waste": _length(rules.section_waste_cm),
            "box_lead": _length(rules.box_lead_cm),
            "spool_reserve": _share(rules.spool_reserve),
        },
    }


def bench_document(stations: Iterable[Station]) -> Document:
    """Give what the winding stations allow: the longest board or mill, the largest rack, a comb, a raddle."""
    usable = [station for station in stations if not station.retired]
    boards = [station for station in usable if station.path_longest_cm is not None]
    bench = _board(max(boards, key=lambda board: board.path_longest_cm or 0)) if boards else {}
    racks = [station.rack_spools for station in usable if station.rack_spools is not None]
    if racks:
        bench["rack_spools"] = max(racks)
    comb = next((station for station in usable if station.comb_dents is not None), None)
    if comb is not None:
        bench["comb_dents"] = f"{_figure(comb.comb_dents or 0)} {_PER[comb.comb_per]}"
    spaces = [station.raddle_space_cm for station in usable if station.raddle_space_cm is not None]
    return {**bench, "raddle_space": _length(spaces[0])} if spaces else bench


def _board(board: Station) -> Document:
    document: Document = {"board_path_max": _length(board.path_longest_cm or Decimal(0))}
    if board.path_step_cm is not None:
        document["board_step"] = _length(board.path_step_cm)
    if board.ends_at_once is not None:
        document["ends_at_once"] = board.ends_at_once
    return document


def resolved(document: object) -> object:
    """Fill in what a document only refers to: a loom of this studio by number, yarns of its yarn room by `yarn_id`.

    A loom named by number brings the studio's rules and winding tools with it; what the document says itself
    always wins. What cannot be found is left as it is, and the reader of the document says so beside the field.
    """
    if not isinstance(document, dict):
        return document
    filled, beam = _with_loom(document)
    yarns, weft = filled.get("yarns"), filled.get("weft")
    listed = yarns if isinstance(yarns, list) and len(yarns) <= MOST_YARNS else []
    known = _known_yarns([*listed, weft])
    if listed:
        filled["yarns"] = [_with_yarn(yarn, known) for yarn in listed]
        own = {at for at, yarn in enumerate(listed) if isinstance(yarn, dict) and yarn.get("wound_density") is not None}
        filled = with_densities(filled, beam, own)
    return {**filled, "weft": _with_yarn(weft, known)} if weft is not None else filled


def _with_loom(document: Document) -> tuple[Document, int | None]:
    """Fill in the loom that is asked for, and give the key of its beam unless the document describes its own."""
    asked = document.get("loom")
    loom = _loom_asked(asked)
    if loom is None or not isinstance(asked, dict):
        return dict(document), None
    said = {name: value for name, value in asked.items() if name != "number" and value is not None}
    beams = {beam.name: beam for beam in loom.beams.all()}
    wanted = said.get("beam")
    if isinstance(wanted, str) and wanted in beams:
        del said["beam"]
    beam = beams.get(wanted) if isinstance(wanted, str) else next(iter(beams.values()), None)
    key = beam.pk if beam is not None and "beam" not in said else None
    return _over(_studio_parts(), {**document, "loom": {**loom_document(loom, beam), **said}}), key


def _loom_asked(asked: object) -> Loom | None:
    number = asked.get("number") if isinstance(asked, dict) else None
    if not isinstance(number, int) or isinstance(number, bool) or not 0 <= number <= LARGEST_KEY:
        return None
    return Loom.objects.prefetch_related("beams").filter(number=number).first()


def _studio_parts() -> Document:
    parts = rules_document(studio_rules())
    return {**parts, "bench": {**parts["bench"], **bench_document(Station.objects.filter(retired=False))}}


def _over(parts: Document, document: Document) -> Document:
    """Lay what the document says over the studio's own figures, part by part."""
    merged = dict(document)
    for name, figures in parts.items():
        said = document.get(name)
        if said is None:
            merged[name] = figures
        elif isinstance(said, dict):
            merged[name] = {**figures, **{key: value for key, value in said.items() if value is not None}}
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
    found = list(Yarn.objects.filter(pk__in=keys))
    free = free_weight(found)
    return {yarn.pk: yarn_document(yarn, free[yarn.pk]) for yarn in found}


def _with_yarn(yarn: object, known: Mapping[int, Document]) -> object:
    facts = known.get(_yarn_asked(yarn) or 0)
    if facts is None or not isinstance(yarn, dict):
        return yarn
    return {**facts, **{name: value for name, value in yarn.items() if value is not None}}


def _length(value: Decimal) -> str:
    return write_quantity(Fraction(value), "length")


def _share(value: Decimal) -> str:
    return write_quantity(Fraction(value), "share")


def _figure(value: Decimal | int) -> str:
    """Write a number as stamped on a reed or a label, which has three decimals at the most."""
    return rounded(Fraction(value), 3)


def _words(text: str) -> str:
    """Give a name without control signs, which no document holds."""
    return "".join(" " if unicodedata.category(sign) in {"Cc", "Cs"} else sign for sign in text).strip()
