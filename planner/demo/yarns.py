"""Forty yarns of the invented studio and the ninety packages on its shelf.

Colours are those of a dye garden: indigo and woad, madder, weld, walnut, oak gall and what lies between.
Weights stand as the scale showed them. Counts are those the trade prints on its charts; wraps and prices are invented.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from inventory.models import Fibre, Package
from inventory.shelf.services import PackageFacts

Colour = tuple[str, str, tuple[PackageFacts, ...]]


@dataclass(frozen=True, slots=True)
class DemoYarn:
    """One yarn in one colour, with its packages."""

    name: str
    fibre: str
    price: str
    colour_name: str
    colour: str
    packages: tuple[PackageFacts, ...]
    label: dict[str, str] = field(default_factory=dict)


def _package(kind: str, gross: str, tare: str, lot: str, bin_name: str) -> PackageFacts:
    return PackageFacts(kind=kind, gross_text=gross, tare_text=tare, dye_lot=lot, bin_name=bin_name)


def _cone(gross: str, tare: str, lot: str, bin_name: str) -> PackageFacts:
    return _package(Package.Kind.CONE, gross, tare, lot, bin_name)


def _tube(gross: str, tare: str, lot: str, bin_name: str) -> PackageFacts:
    return _package(Package.Kind.TUBE, gross, tare, lot, bin_name)


def _skein(gross: str, tare: str, lot: str, bin_name: str) -> PackageFacts:
    return _package(Package.Kind.SKEIN, gross, tare, lot, bin_name)


def _yarns(name: str, fibre: str, price: str, *, colours: Sequence[Colour], **label: str) -> tuple[DemoYarn, ...]:
    """Give one yarn in each of its colours; `label` is count, grist, wraps and density where they are known."""
    return tuple(DemoYarn(name, fibre, price, words, ink, packages, label) for words, ink, packages in colours)


YARNS: tuple[DemoYarn, ...] = (
    *_yarns(
        "8/2 cotton", Fibre.COTTON, "3.10", count="8/2 cotton", grist="3360 yd/lb",
        colours=(
            ("natural", "#efe5cf", (
                _cone("30.4 oz", "0.9 oz", "21B", "A1"),
                _cone("36.6 oz", "0.9 oz", "21B", "A1"),
                _cone("30.8 oz", "0.9 oz", "21B", "A1"),
                _cone("34.7 oz", "0.9 oz", "23F", "A1"),
                _cone("37.3 oz", "0.9 oz", "23F", "A1"),
            )),
            ("indigo", "#2f4a78", (
                _cone("19.1 oz", "0.9 oz", "17A", "A2"),
                _cone("18.2 oz", "0.9 oz", "17A", "A2"),
                _cone("19.8 oz", "0.9 oz", "13D", "A2"),
            )),
            ("pale woad", "#9fb6c3", (
                _cone("16.4 oz", "0.9 oz", "12E", "A3"),
                _cone("16.7 oz", "0.9 oz", "12E", "A3"),
            )),
            ("madder", "#a9483c", (
                _cone("16.2 oz", "0.9 oz", "29A", "A4"),
                _cone("17.9 oz", "0.9 oz", "29A", "A4"),
                _cone("15.1 oz", "0.9 oz", "29E", "A4"),
            )),
            ("weld", "#d8b13f", (
                _cone("15.7 oz", "0.9 oz", "15C", "A5"),
                _cone("16.2 oz", "0.9 oz", "15C", "A5"),
            )),
            ("walnut", "#6d4c37", (
                _cone("16.7 oz", "0.9 oz", "29C", "A6"),
                _cone("17.0 oz", "0.9 oz", "29C", "A6"),
            )),
            ("oak gall", "#5c5d61", (
                _cone("13.0 oz", "0.9 oz", "14E", "A7"),
                _cone("10.3 oz", "0.9 oz", "14E", "A7"),
            )),
            ("sea green", "#62836a", (
                _cone("15.6 oz", "0.9 oz", "14E", "A8"),
                _cone("14.8 oz", "0.9 oz", "14E", "A8"),
            )),
        ),
    ),
    *_yarns(
        "8/4 cotton", Fibre.COTTON, "2.60", count="8/4 cotton", grist="1680 yd/lb",
        colours=(
            ("natural", "#eadfc6", (
                _cone("38.7 oz", "0.9 oz", "17D", "B1"),
                _cone("36.8 oz", "0.9 oz", "17D", "B1"),
                _cone("39.5 oz", "0.9 oz", "17D", "B1"),
                _cone("36.2 oz", "0.9 oz", "28D", "B1"),
                _cone("35.5 oz", "0.9 oz", "28D", "B1"),
            )),
            ("deep indigo", "#26375c", (
                _cone("17.7 oz", "0.9 oz", "16F", "B2"),
                _cone("17.6 oz", "0.9 oz", "16F", "B2"),
                _cone("18.6 oz", "0.9 oz", "18A", "B2"),
            )),
            ("brick", "#9a4a35", (
                _cone("17.5 oz", "0.9 oz", "25C", "B3"),
                _cone("16.5 oz", "0.9 oz", "25C", "B3"),
                _cone("17.0 oz", "0.9 oz", "13A", "B3"),
            )),
            ("straw", "#d9bd73", (
                _cone("15.2 oz", "0.9 oz", "26D", "B4"),
                _cone("16.7 oz", "0.9 oz", "26D", "B4"),
                _cone("17.4 oz", "0.9 oz", "12F", "B4"),
            )),
            ("walnut", "#5f4433", (
                _cone("36.5 oz", "0.9 oz", "21C", "B5"),
                _cone("38.0 oz", "0.9 oz", "21C", "B5"),
                _cone("34.3 oz", "0.9 oz", "21C", "B5"),
                _cone("34.5 oz", "0.9 oz", "22E", "B5"),
                _cone("35.3 oz", "0.9 oz", "22E", "B5"),
            )),
            ("cochineal, hand-dyed", "#b4506b", (
                _cone("109 g", "25 g", "studio pot 6", "B6"),
            )),
        ),
    ),
    *_yarns(
        "5/2 cotton", Fibre.COTTON, "3.40", count="5/2 cotton",
        colours=(
            ("natural", "#ece1ca", (
                _cone("19.3 oz", "0.9 oz", "20F", "C1"),
                _cone("17.1 oz", "0.9 oz", "20F", "C1"),
                _cone("17.5 oz", "0.9 oz", "29F", "C1"),
                _cone("18.7 oz", "0.9 oz", "29F", "C1"),
            )),
            ("slate blue", "#5d7389", (
                _cone("16.1 oz", "0.9 oz", "11D", "C2"),
                _cone("16.8 oz", "0.9 oz", "11D", "C2"),
            )),
            ("moss", "#7b8450", (
                _cone("14.7 oz", "0.9 oz", "26A", "C3"),
                _cone("14.9 oz", "0.9 oz", "26A", "C3"),
            )),
            ("clay", "#bb7d5c", (
                _cone("15.2 oz", "0.9 oz", "18D", "C4"),
                _cone("16.6 oz", "0.9 oz", "18D", "C4"),
            )),
            ("plum", "#6f4258", (
                _cone("15.3 oz", "0.9 oz", "13B", "C5"),
                _cone("15.6 oz", "0.9 oz", "13B", "C5"),
            )),
        ),
    ),
    *_yarns(
        "10/2 cotton", Fibre.COTTON, "4.20", count="10/2 cotton",
        colours=(
            ("natural", "#f1e9d8", (
                _cone("17.8 oz", "0.9 oz", "15D", "D1"),
                _cone("18.9 oz", "0.9 oz", "15D", "D1"),
                _cone("17.7 oz", "0.9 oz", "28C", "D1"),
                _cone("16.5 oz", "0.9 oz", "28C", "D1"),
            )),
            ("lichen", "#97935f", (
                _cone("8.3 oz", "0.9 oz", "18B", "D2"),
                _cone("8.6 oz", "0.9 oz", "18B", "D2"),
            )),
            ("dusk blue", "#7f95ac", (
                _cone("9.9 oz", "0.9 oz", "18A", "D3"),
                _cone("10.4 oz", "0.9 oz", "18A", "D3"),
            )),
            ("madder pink", "#d3978b", (
                _cone("8.0 oz", "0.9 oz", "19C", "D4"),
                _cone("9.7 oz", "0.9 oz", "19C", "D4"),
            )),
        ),
    ),
    *_yarns(
        "16/2 linen", Fibre.LINEN, "6.80", count="16/2 linen", grist="4838 m/kg", density="0.52",
        colours=(
            ("half bleached", "#e3d8c0", (
                _tube("556 g", "42 g", "22E", "E1"),
                _tube("535 g", "42 g", "22E", "E1"),
                _tube("521 g", "42 g", "29C", "E1"),
                _tube("529 g", "42 g", "29C", "E1"),
            )),
            ("flax", "#b8a680", (
                _tube("498 g", "42 g", "12D", "E2"),
                _tube("498 g", "42 g", "12D", "E2"),
                _tube("504 g", "42 g", "28D", "E2"),
            )),
            ("woad", "#7d98a9", (
                _tube("323 g", "42 g", "23A", "E3"),
            )),
            ("walnut", "#75583f", (
                _tube("319 g", "42 g", "17D", "E4"),
            )),
        ),
    ),
    *_yarns(
        "20/2 linen", Fibre.LINEN, "7.40", count="20/2 linen",
        colours=(
            ("flax", "#bfae8a", (
                _tube("254 g", "42 g", "21E", "E1"),
            )),
            ("indigo", "#34507c", (
                _tube("262 g", "42 g", "11E", "E2"),
            )),
        ),
    ),
    *_yarns(
        "2/8 cottolin", Fibre.COTTOLIN, "4.60", count="2/8 cottolin", grist="3360 yd/lb",
        colours=(
            ("oat", "#dccfb2", (
                _cone("265 g", "25 g", "14C", "F1"),
                _cone("243 g", "25 g", "14C", "F1"),
            )),
            ("sky", "#a8bfcb", (
                _cone("255 g", "25 g", "17E", "F2"),
            )),
            ("rose hip", "#b8574a", (
                _cone("264 g", "25 g", "19C", "F3"),
            )),
        ),
    ),
    *_yarns(
        "2/8 wool", Fibre.WOOL, "5.50", count="2/8", grist="2240 yd/lb", wraps="26 /in",
        colours=(
            ("grey fleece", "#b7b0a4", (
                _cone("507 g", "38 g", "26A", "G1"),
                _cone("529 g", "38 g", "26A", "G1"),
            )),
            ("dark fleece", "#4f4740", (
                _cone("458 g", "38 g", "25D", "G2"),
            )),
            ("madder", "#ab4e42", (
                _cone("412 g", "38 g", "13B", "G3"),
            )),
            ("weld", "#cfae45", (
                _cone("432 g", "38 g", "21F", "G4"),
            )),
        ),
    ),
    *_yarns(
        "2-ply wool", Fibre.WOOL, "4.10", grist="900 yd/lb", wraps="12 /in", density="0.29",
        colours=(
            ("sheep grey", "#8f8980", (
                _cone("25.7 oz", "1.4 oz", "16E", "H1"),
                _cone("23.2 oz", "1.4 oz", "16E", "H1"),
                _cone("20.9 oz", "1.4 oz", "11B", "H1"),
            )),
            ("cream", "#e8dfcd", (
                _cone("21.0 oz", "1.4 oz", "28A", "H2"),
                _cone("19.2 oz", "1.4 oz", "28A", "H2"),
            )),
        ),
    ),
    *_yarns(
        "Nm 30/2 silk", Fibre.SILK, "14.50", count="Nm 30/2",
        colours=(
            ("undyed", "#f0e7d6", (
                _skein("100 g", "", "13F", "K1"),
            )),
        ),
    ),
    *_yarns(
        "8/2 lyocell", Fibre.RAYON, "5.20", count="8/2", grist="3360 yd/lb",
        colours=(
            ("pewter", "#8b9297", (
                _cone("516 g", "25 g", "27C", "K1"),
            )),
        ),
    ),
)  # fmt: skip

KEEP_AT_LEAST = {
    ("8/2 cotton", "natural"): "100 oz", ("8/4 cotton", "natural"): "100 oz", ("8/2 cotton", "oak gall"): "32 oz",
    ("16/2 linen", "flax"): "1 kg", ("2/8 cottolin", "sky"): "250 g", ("Nm 30/2 silk", "undyed"): "100 g",
}  # fmt: skip
"""How much of a yarn should be there, by its name and colour; three of them run low."""
