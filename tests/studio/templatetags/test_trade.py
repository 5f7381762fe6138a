"""Canonical numbers as the reader reads them. 1 in is 2.54 cm, 1 yd 91.44 cm, 1 oz 28.349523125 g (all exact, 1959)."""

from decimal import Decimal

import pytest
from django.template import Context, Template

from studio.models import Station
from studio.templatetags.trade import facts_of_station

CASES = [
    ("as_length", Decimal("91.44"), "inch", "36 in"),
    ("as_length", Decimal("91.44"), "metric", "91.4 cm"),
    ("as_distance", Decimal("914.4"), "inch", "10 yd"),
    ("as_distance", Decimal("914.4"), "metric", "9.14 m"),
    ("as_weight", Decimal("28.349523125"), "inch", "1 oz"),
    ("as_weight", Decimal("28.349523125"), "metric", "28.3 g"),
    ("as_length", None, "inch", ""),
    ("as_length", "", "inch", ""),
    ("as_length", Decimal("91.44"), None, "36 in"),
]


@pytest.mark.parametrize(("name", "value", "units", "shown"), CASES)
def test_a_number_is_shown_in_the_readers_units(name, value, units, shown):
    template = Template("{% load trade %}{{ value|" + name + ":units }}")
    assert template.render(Context({"value": value, "units": units})) == shown


@pytest.mark.parametrize(
    ("known", "line"),
    [
        ({"path_longest_cm": Decimal("914.4"), "path_step_cm": Decimal("45.72"), "ends_at_once": 2},
         "paths to 10 yd, in steps of 0.5 yd, 2 ends at once"),
        ({"rack_spools": 1, "comb_dents": Decimal("10.000")}, "1 spool, comb of 10 dents to the inch"),
        ({"raddle_space_cm": Decimal("1.27")}, "spaces of 0.5 in"),
        ({}, ""),
    ],
)  # fmt: skip
def test_a_station_says_what_it_can_do_in_one_line(known, line):
    assert facts_of_station(Station(name="by the stairs", **known), "inch") == line
