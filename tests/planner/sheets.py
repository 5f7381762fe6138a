"""Sheets as people fill them in, for tests of the warp sheet: eight towels, the second worked project."""

from inventory.models import Yarn
from tests.factories import a_beam, a_reed
from tests.inventory.stock import a_package

TOWELS = {
    "title": "Eight towels", "sett": "20", "weave": "plain", "method": "box",
    "width_by": "width_in_reed", "width_in_reed": "24", "length_by": "finished_length", "pieces": "8",
    "finished_length": "28", "hem": "2", "length_shrinkage": "12", "take_up": "9", "gap": "0.5", "gaps": "8",
    "waste": "36", "sampling": "12", "margin": "3", "colour_layout": "repeat", "threading_kind": "straight",
    "yarns-0-code": "A", "yarns-0-yarn": "8/2 of our own", "yarns-0-grist": "3360 yd/lb", "yarns-0-fibre": "cotton",
}  # fmt: skip


def towels(beam=None, *, units="inch", **changes):
    """Give the sheet of eight towels on a beam of one yard with sections of two inches."""
    if beam is None:
        a_reed()
        beam = a_beam()
    return {"units": units, "form": {**TOWELS, "beam": str(beam.pk), **changes}}


def posted(typed, **more):
    """Give a sheet as a browser sends it."""
    return {**typed["form"], "units": typed["units"], "units_were": typed["units"], **more}


def a_yarn(**known):
    """Give natural 8/2 cotton with half a kilogram on the shelf."""
    start = {"name": "8/2 cotton", "grist_text": "3360 yd/lb", "colour_name": "natural", "colour": "#f1e8d2"}
    yarn = Yarn.objects.create(**{**start, **known})
    a_package(yarn, gross_text="520 g", tare_text="20 g")
    return yarn
