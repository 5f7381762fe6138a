"""The invented studio as data: looms, yarns and warps, read from the TOML files beside this module."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inventory.shelf.services import PackageFacts
from studio.units import Units

Facts = Mapping[str, Any]
"""Columns by name, without `_cm`; lengths are text with units."""
YarnName = tuple[str, str]
"""Name and colour."""


@dataclass(frozen=True, slots=True)
class DemoBeam:
    """One warp beam, with earlier circumferences: text, days ago, note."""

    name: str
    facts: Facts
    before: list[tuple[str, int, str]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class DemoLoom:
    """One loom with its beams."""

    number: int
    nickname: str
    heddles: list[int]
    facts: Facts
    beams: tuple[DemoBeam, ...]


@dataclass(frozen=True, slots=True)
class DemoCalibration:
    """A beam taped with a yarn."""

    loom: int
    beam: str
    yarn: str
    days_ago: int
    facts: Facts


@dataclass(frozen=True, slots=True)
class DemoYarn:
    """One yarn in one colour, with its packages; `label` is count, grist, wraps and density where they are known."""

    name: str
    fibre: str
    price: str
    label: Mapping[str, str]
    colour_name: str
    colour: str
    packages: tuple[PackageFacts, ...]
    keep_at_least: str


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


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((Path(__file__).parent / f"{name}.toml").read_text(encoding="utf-8"))


def _package(kind: str, gross: str, tare: str, lot: str, bin_name: str) -> PackageFacts:
    return PackageFacts(kind=kind, gross_text=gross, tare_text=tare, dye_lot=lot, bin_name=bin_name)


def _yarn(one: Mapping[str, Any], colour: Mapping[str, Any]) -> DemoYarn:
    return DemoYarn(
        name=one["name"],
        fibre=one["fibre"],
        price=one["price"],
        label=one["label"],
        colour_name=colour["name"],
        colour=colour["ink"],
        packages=tuple(_package(*package) for package in colour["packages"]),
        keep_at_least=colour.get("keep_at_least", ""),
    )


def _warp(one: Mapping[str, Any]) -> DemoWarp:
    yarns = {code: tuple(name) for code, name in one["yarns"].items()}
    weft, units = one.get("weft"), Units(one.get("units", Units.INCH))
    return DemoWarp(**{**one, "yarns": yarns, "weft": tuple(weft) if weft else None, "units": units})


def _loom(one: dict[str, Any]) -> DemoLoom:
    beams = tuple(DemoBeam(**beam) for beam in one.pop("beam"))
    return DemoLoom(**one, beams=beams)


_SHED = _read("looms")
LOOMS = tuple(map(_loom, _SHED["loom"]))
REEDS: list[tuple[int, str, str, int]] = _SHED["reeds"]
STATIONS: list[Facts] = _SHED["station"]
CALIBRATIONS = tuple(DemoCalibration(**one) for one in _SHED["calibration"])
YARNS = tuple(_yarn(one, colour) for one in _read("yarns")["yarn"] for colour in one["colour"])
WARPS = tuple(map(_warp, _read("warps")["warp"]))
