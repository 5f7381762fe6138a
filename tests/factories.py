"""Plain factories: one thing of the studio each, as found in the invented Quayside Weaving Room."""

from datetime import date
from decimal import Decimal
from itertools import count

from studio.models import Beam, BeamRound, Loom, Reed, Station

INCH = Decimal("2.54")
MEASURED = date(2026, 3, 2)
_numbers = count(101)


def inches(number):
    """Give inches as the cm that are kept."""
    return Decimal(str(number)) * INCH


def a_loom(**known):
    """Give a 45 in floor loom with four shafts and 1200 heddles."""
    number = known.pop("number", None) or next(_numbers)
    start = {"nickname": f"loom by window {number}", "weaving_width_cm": inches(45), "shafts": 4, "treadles": 6}
    return Loom.objects.create(number=number, **{**start, "heddles": [300, 300, 300, 300], **known})


def a_beam(loom=None, **known):
    """Give a sectional beam of one yard: 22 sections of 2 in, a divider at the middle, its round measured once."""
    start = {
        "kind": "sectional", "circumference_cm": inches(36), "usable_width_cm": inches(45), "pitch_cm": inches(2),
        "divider_cm": inches("0.25"), "sections": 22, "centre": "divider", "rake_height_cm": inches(2), "bars": 4,
        "leader_cm": inches(24), "turning": "over", "clockwise": True,
    }  # fmt: skip
    beam = Beam.objects.create(loom=loom or a_loom(), **{**start, **known})
    BeamRound.objects.create(beam=beam, circumference_cm=beam.circumference_cm, measured_on=MEASURED)
    return beam


def a_plain_beam(loom=None, **known):
    """Give an undivided beam of half a yard."""
    start = {"kind": "plain", "circumference_cm": inches(18), "pitch_cm": None, "sections": 0, "rake_height_cm": None}
    return a_beam(loom, **{**start, "name": "plain beam", "divider_cm": Decimal(0), **known})


def a_reed(**known):
    """Give a reed of 12 dents to the inch, 46 in long."""
    return Reed.objects.create(**{"dents": Decimal(12), "per": "in", "reed_length_cm": inches(46), **known})


def a_station(**known):
    """Give a warping board with paths to 10 yd by half yards."""
    start = {"kind": "board", "name": f"board {next(_numbers)}", "path_longest_cm": inches(360), "ends_at_once": 2}
    return Station.objects.create(**{**start, "path_step_cm": inches(18), **known})
