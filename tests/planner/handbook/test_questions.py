"""Direct questions: each answered as a published figure or a hand-worked one says, and none that breaks.

Every question is tried with sixty heaps of junk each time. For a long look: TRY_QUESTIONS=2000 before the command.
"""

import doctest
import os
import re

import pytest
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.calc.terms.brief import WOUND_DENSITY, Allowances, Tolerances
from planner.handbook import question as asking
from planner.handbook import questions, rulebook, tables, toml
from planner.handbook.answers.beam import MOST_ROWS
from planner.handbook.forms import MOST_WHOLE, QuestionForm
from planner.handbook.questions import QUESTIONS, find_questions, questions_in, questions_on
from studio.units import KINDS, Units, read
from tests import cast

INCH, METRIC = Units.INCH, Units.METRIC
MANY = settings(max_examples=int(os.environ.get("TRY_QUESTIONS", "60")), deadline=None)


def asked(key, units=INCH, **typed):
    """Give the form of a question as it was asked, and the lines of its answer."""
    form = QuestionForm(QUESTIONS[key], units, typed)
    return form, form.answer()


def answer(key, units=INCH, **typed):
    """Give the figures of an answer by their labels, with their bounds or the word beside them."""
    form, lines = asked(key, units, **typed)
    assert not form.errors
    return {line.label: f"{line.value} ({line.between})" if line.between else line.value for line in lines}


def errors(key, units=INCH, **typed):
    form, _lines = asked(key, units, **typed)
    return {field: " ".join(said) for field, said in form.errors.items()}


ANSWERS = [
    # C. P. Brooks, Cotton Manufacturing, chapter IX: a 20s cotton is a 30s worsted.
    ("counts", INCH, {"grist": "20 cotton"}, {"As one ply, worsted count": "30", "Yards per pound": "16800 yd/lb"}),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 239
    ("folded", INCH, {"singles": "60 cotton + 40 cotton"}, {"As one ply, cotton count": "24"}),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed., chapter IX
    ("folded", INCH, {"singles": "40 + 20 cotton"}, {"As one ply, cotton count": "13.33"}),
    # W. Davis, Hosiery Manufacture, counts of yarn, example 30: 14 10/13
    ("folded", INCH, {"singles": "64 + 48 + 32 cotton"}, {"As one ply, cotton count": "14.77"}),
    # By hand: 1 / (1/16 + 1/30) = 480/46
    ("folded", INCH, {"singles": "16/1 cotton + 30/1 cotton"}, {"As one ply, cotton count": "10.43"}),
    # Singles of two systems are told in both.
    ("folded", INCH, {"singles": "20 cotton + 30 worsted"},
     {"As one ply, cotton count": "10", "As one ply, worsted count": "15"}),
    # By hand: 0.9 x sqrt(1260) = 31.95 side by side; 9 x 30 / 31.95 = 8.45 dents full.
    ("dent", INCH, {"dents": "30 /in", "ends": "9", "grist": "3/2 cotton", "fibre": "cotton"},
     {"Left free in the dent": "nothing (side by side the ends are 8.4515 times as wide as the dent)"}),
    # Definition of tex, ISO 1144.
    ("folded", INCH, {"singles": "20 tex + 30 tex"}, {"Folded yarn": "50 tex"}),
    # By hand: 488, 465.5 and 443 g x 3360 / 453.59237 = 3614.88, 3448.21 and 3281.54 yd. Definition of the pound.
    ("package", INCH, {"gross": "500 g", "grist": "8/2 cotton", "package": "cone", "lightest": "12 g",
      "heaviest": "57 g"},
     {"Yarn on the package": "3448.21 yd (3281.54 yd to 3614.88 yd)"}),
    # A weighed empty leaves no doubt.
    ("package", INCH, {"gross": "1 lb", "grist": "3360 yd/lb", "package": "cone", "lightest": "0.5 lb"},
     {"Yarn on the package": "1680 yd"}),
    # By hand: 600 / 250 is 2.4, so 3; 3 x 9 = 27; 750 - 600 = 150.
    ("buy", METRIC, {"mass": "600 g", "package": "250 g", "price": "9"},
     {"Packages to buy": "3", "Yarn over": "150 g", "They cost": "27.00"}),
    # Definition of the count: 8/2 cotton has 3360 yd in a pound of 16 oz.
    ("buy", INCH, {"length": "6720 yd", "grist": "8/2 cotton", "package": "8 oz"},
     {"Yarn missing": "32 oz", "Packages to buy": "4", "Yarn over": "0 oz"}),
    # W. Davis, Hosiery Manufacture, example 37: 1 1/2 lb at 4s and at 8s 6d cost 18s 9d, which is 6s 3d a pound.
    ("mixture", INCH, {"mass_first": "1.5 lb", "price_first": "4 /lb", "mass_second": "1.5 lb",
      "price_second": "8.5 /lb"},
     {"They cost": "18.75", "Price of the mixture": "6.25/lb"}),
    # A bare price is for a pound or for a hundred grams.
    ("mixture", METRIC, {"mass_first": "100 g", "price_first": "3"}, {"They cost": "3.00"}),
    ("mixture", INCH, {"mass_first": "16 oz", "price_first": "3"}, {"They cost": "3.00"}),
    # J. T. Taylor's way: 10 lb of 8/2 cotton are 33 600 yd; over 420 ends 80 yd each. Definition of the count.
    ("reach", INCH, {"mass": "10 lb", "grist": "8/2 cotton", "ends": "420"},
     {"Yarn there is": "33600 yd", "Longest warp": "80 yd"}),
    # By hand: 3360 yd / 10 yd = 336 ends at 20 to the inch, 16.8 in; 336 ends x (10 x 36 in) = 3360 yd.
    ("reach", INCH, {"mass": "1 lb", "grist": "3360 yd/lb", "warp_length": "10 yd", "sett": "20", "ends": "336",
      "piece": "32 in", "fixed": "40 in"},
     {"Widest warp": "16.8 in (in the reed, 336 ends)", "Most pieces": "10"}),
    # By hand: 1000 m less 100 x 1 m leave 9 m of each end; x 0.9 = 8.1 m.
    ("woven", METRIC, {"mass": "100 g", "grist": "10000 m/kg", "ends": "100", "fixed": "1 m", "take_up": "10 %"},
     {"Longest cloth, under tension": "8.1 m", "Weft for it": None}),
    # By hand: 8 picks x 25 cm = 200 of weft to one of cloth; 900 m / (100 / 0.9 + 200) = 2.893 m, 578.6 m of weft.
    ("woven", METRIC, {"mass": "100 g", "grist": "10000 m/kg", "ends": "100", "fixed": "1 m", "take_up": "10 %",
      "picks": "8 /cm", "width": "25 cm", "allowance": "0"},
     {"Longest cloth, under tension": "2.893 m", "Weft for it": "578.57 m"}),
    # By hand, eight pieces of 30 in at 8 % take-up, 3 in between, 46.04 in of waste and demonstration, of 10 yd:
    # 8 x 35.61 - 3 + 46.04 = 327.9 in; 32.1 in are free, and a ninth piece would need 35.6.
    ("pieces", INCH, {"warp_length": "10 yd", "piece": "32.61 in", "gap": "3 in", "fixed": "46.04 in"},
     {"Whole pieces": "8", "Warp they take": "327.92 in", "Warp over": "32.08 in"}),
    # By hand: 3 ends / (2/12 + 1/6) = 9 to the inch. Half of it in plain weave, two thirds in twill: common practice.
    ("wraps", INCH, {"ends_first": "2", "wraps_first": "12", "ends_second": "1", "wraps_second": "6", "share": "80 %"},
     {"Wraps of them all": "9/in", "Sett for plain weave": "4.5/in", "80 % of it, for plain weave": "3.6/in",
      "Sett for 2/2 twill": "6/in", "80 % of it, for 2/2 twill": "4.8/in"}),
    # A teacher's page has 8/2 cotton at about 28 wraps to the inch; half of them in plain weave.
    ("wraps", INCH, {"ends_first": "1", "wraps_first": "28"}, {"Sett for plain weave": "14/in"}),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 464: 103 in plain weave are 137 1/3 in 2/2 twill.
    ("firmness", INCH, {"sett": "103", "weave": "plain", "new_weave": "twill_2_2"}, {"In 2/2 twill": "137.33/in"}),
    # A published note on changing yarn counts (2026): 20s become 14.69s, 40.2 tex; 56 ends become 48.
    ("firmness", INCH, {"sett": "56", "grist": "20 cotton", "ratio": "7/6"},
     {"Yarn of the new weight": "40.2 tex (12343 yd/lb)", "Its sett": "48/in"}),
    # The same note: ends go with the root of the count, 56 x sqrt(14.694 / 20) = 48.
    ("firmness", INCH, {"sett": "56", "grist": "20 cotton", "other": "14.694 cotton"}, {"In the other yarn": "48/in"}),
    # By hand: a yarn four times as heavy stands half as close, 2/2 twill a third closer than plain weave.
    ("firmness", METRIC, {"sett": "12 /cm", "grist": "50 tex", "other": "200 tex", "new_weave": "twill_2_2"},
     {"In 2/2 twill and the other yarn": "8/cm"}),
    # GATE textile paper of 2007, question 85: 36s cotton is 1/168 in, 28 to the centimetre cover 0.42.
    ("cover", INCH, {"grist": "36 cotton", "sett": "28 /cm"},
     {"Thickness, by Peirce for cotton": "0.005952 in", "Cover of the warp": "42.33 %"}),
    # Notes on woven fabric calculation: 28 ends to the centimetre of 20 tex are 12.5.
    ("cover", INCH, {"grist": "20 tex", "sett": "28 /cm"}, {"Metric cover factor of the warp": "12.52"}),
    # F. T. Peirce, 1937: threads to the inch over the root of the cotton count; 40 of a 16s are 10.
    ("cover", INCH, {"grist": "16 cotton", "picks": "40"}, {"Peirce’s cover factor of the weft": "10"}),
    # An educational site on textile calculations: 100 tex at 1.1 cm3 to the gram, 0.03742 cm.
    ("cover", METRIC, {"grist": "100 tex", "volume": "1.1"}, {"Thickness, by its volume": "0.3742 mm"}),
    # By hand: 1/64 in threads, 32 to the inch each way, cover a half; together 1/2 + 1/2 - 1/4.
    # A cotton of 1/64 in by Peirce's rule counts (64/28) squared.
    ("cover", INCH, {"grist": "5.22449 cotton", "sett": "32", "picks": "32"}, {"Cover of both": "75 %"}),
    # A weft of another yarn has its own thickness.
    ("cover", INCH, {"grist": "36 cotton", "weft": "9 cotton", "sett": "20", "picks": "20"},
     {"Thickness of the weft, by Peirce for cotton": "0.0119 in", "Cover of the warp": "11.9 %",
      "Cover of the weft": "23.81 %"}),
    # Threads without room side by side are told so.
    ("cover", INCH, {"grist": "36 cotton", "sett": "200", "picks": "10"},
     {"Cover of the warp": "119.05 % (no room side by side)", "Cover of both": None}),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed.: a 2/2 twill has two intersections on four ends.
    ("weave", INCH, {"lifts": "1,2 / 2,3 / 3,4 / 4,1"},
     {"Intersections of each pick": "2", "Longest float of the warp": "2 picks"}),
    # By hand: 0.90 x sqrt(3360) = 52.17 to the inch; x 4 / (4 + 2) = 34.78. Taylor's rule, K of the 1999 page.
    ("weave", INCH, {"lifts": "xx..\r\n.xx.\r\n..xx\r\nx..x", "grist": "8/2 cotton", "fibre": "cotton"},
     {"Maximum sett": "34.78/in"}),
    # The 1999 page on Ashenhurst's formula: 0.84 for woollen. By hand: 0.84 x sqrt(900) = 25.2, half in plain weave.
    ("weave", INCH, {"lifts": "1 / 2", "grist": "900 yd/lb", "fibre": "wool"}, {"Maximum sett": "12.6/in"}),
    # By hand, on shafts 1 2 3 4 3 2: up up down down down up, then down up up down up up, and the same two reversed.
    ("weave", INCH, {"lifts": "1 2 / 2 3 / 3 4 / 4 1", "threading": "point"},
     {"One repeat": "6 ends, 4 picks", "Intersections of each pick": "2, 4, 2, 4"}),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 427: 180 picks in a five-end satin cross 72 times to the
    # inch; x 4 / 70 he prints 4 per cent. Taken off the longer length, by hand: 4.11 / 104.11.
    ("weave", INCH, {"lifts": "1 / 3 / 5 / 2 / 4", "picks": "180", "weft": "70 cotton", "cloth": "4"},
     {"Crossings along an end": "72/in", "Rough contraction, of the cloth": "4.11 % (a rule for mill cottons)",
      "Take-up it makes, of the warp": "3.95 %"}),
    # The same, p. 428: 120 picks, 70s weft: 6 6/7 per cent.
    ("weave", INCH, {"lifts": "1 / 2", "picks": "120", "weft": "70 cotton"},
     {"Rough contraction, of the cloth": "6.86 % (a rule for mill cottons)"}),
    # A weave that never crosses is counted.
    ("weave", INCH, {"lifts": "x", "grist": "8/2 cotton", "picks": "20", "weft": "8/2 cotton"},
     {"Longest float of the warp": "some never cross",
      "Rough contraction, of the cloth": "0 % (a rule for mill cottons)"}),
    # A weave whose picks differ says which is tightest.
    ("weave", INCH, {"lifts": "x.x. / xx..", "grist": "8/2 cotton"},
     {"Maximum sett": "29.81/in (26.08/in by the pick that crosses most)"}),
    # A yarn shop's reed substitution table; of 2-2-3 in ten dents it prints 24.5, where 23.33 is right.
    ("sley", INCH, {"dents": "8", "order": "1-1-1-2"}, {"Sleyed 1-1-1-2": "10/in"}),
    ("sley", INCH, {"dents": "12", "order": "1-1-2"}, {"Sleyed 1-1-2": "16/in"}),
    ("sley", INCH, {"dents": "12", "order": "0 1 1 1"}, {"Sleyed 0-1-1-1": "9/in"}),
    ("sley", INCH, {"dents": "10", "order": "2,2,3"}, {"Sleyed 2-2-3": "23.33/in"}),
    # A weaving magazine's answers: 406 ends, three in a dent of ten to the inch, "a little over 13 1/2".
    ("sley", INCH, {"dents": "10", "order": "3", "ends": "406"}, {"Width in the reed, sleyed 3": "13.53 in"}),
    # By hand: 1/10 in less 0.005 in is 0.095 in; 8/2 cotton lies 52.17 to the inch, 0.01917 in thick; two of them
    # leave 1 - 0.0383/0.095 = 59.65 %, four stand side by side, and a knot three threads wide beside one end passes.
    ("dent", INCH, {"dents": "10", "ends": "2", "grist": "8/2 cotton", "wire": "0.005 in"},
     {"The dent is": "ample (half of it or more is free)", "A knot": "passes", "Most ends side by side": "4",
      "Left free in the dent": "59.65 %", "Clear width of the dent": "0.095 in"}),
    # A dent that is too full says so.
    ("dent", INCH, {"dents": "10", "ends": "6", "grist": "8/2 cotton"},
     {"The dent is": "too narrow (the ends cannot stand side by side: take fewer in a dent, or a coarser reed)",
      "A knot": "does not pass", "Clear width of the dent": "0.1 in (a little too wide, without the wire)"}),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed.: one Bolton is 1.6495 Stockport, so 36 are 59.38.
    ("reeds", INCH, {"number": "36", "system": "bolton"}, {"Dents": "29.69/in", "Stockport: dents in 2 in": "59.38"}),
    # By hand: 3.5 cm / (2 x 3.14159 x 12) = 0.04642 cm; 3.3 and 3.7 cm give 0.0438 and 0.0491. Plain geometry.
    ("calibrate", METRIC, {"turns": "12", "start": "91.4 cm", "end": "94.9 cm"},
     {"Depth of one turn": "0.46 mm (0.44 mm to 0.49 mm)"}),
    # By hand: 8 ends x 147.635 tex = 0.0118108 g/cm2 a layer; over 0.04642 cm 0.254 g/cm3. Plain geometry.
    ("calibrate", METRIC, {"turns": "12", "start": "91.4 cm", "end": "94.9 cm", "sett": "8", "grist": "8/2 cotton"},
     {"Density as wound": "0.25 g/cm3 (0.24 g/cm3 to 0.27 g/cm3)"}),
    # A published sheet on yarn left on a beam: 10 000 turns from 940 to 1500 mm round; at the mean round 12 200 m.
    # By hand: 560 mm / (2 x 3.14159 x 10 000) = 0.00891268 mm a turn.
    ("turns", METRIC, {"circumference": "940 mm", "depth": "0.00891268 mm", "turns": "10000"},
     {"Length of 10000 turns": "12200 m", "Circumference after 10000 turns": "150 cm"}),
    # By hand: 0.75 in of room / 0.0122 in = 61 turns; 61 x (18 + 3.14159 x 0.744) = 1240.7 in = 34.46 yd.
    ("turns", INCH, {"circumference": "18 in", "depth": "0.0122 in", "rake": "1 in", "clearance": "1/4 in"},
     {"Most turns the rakes hold": "61 turns", "Longest warp the rakes hold": "34.46 yd"}),
    # By hand: 70 x (18 + 3.14159 x 0.0122 x 70) = 1447.8 in reach 40 yd; 69 turns make 1424.5 in and do not.
    ("turns", INCH, {"circumference": "18 in", "depth": "0.0122 in", "length": "40 yd"},
     {"Turns that reach 40 yd": "70 turns", "Length of 70 turns": "40.22 yd"}),
    # By hand: 2 x (36 + 3.14159 x 0.01 x 2) = 72.13 in, and 36 + 2 x 3.14159 x 0.02 = circumference 36.13 in.
    ("turns", INCH, {"circumference": "36 in", "depth": "0.01 in", "turns": "2"},
     {"After turn 2": "2.003 yd (circumference 36.13 in)"}),
    # By hand: 8 ends x 147.635 tex / (100 000 x 0.35) = 0.03375 cm, 0.3375 mm.
    ("turns", METRIC, {"circumference": "90 cm", "turns": "1", "sett": "8 /cm", "grist": "147.635 tex",
      "density": "0.35"},
     {"Depth of one turn": "0.3375 mm"}),
    # A guessed density is told to be a guess.
    ("turns", METRIC, {"circumference": "90 cm", "turns": "1", "sett": "8", "grist": "8/2 cotton"},
     {"Depth of one turn": "0.2625 mm (by a guessed density; calibrate to know)"}),
    # By hand, 36 in round, four bars, 9 in apart: 40 in is 4 in past the fourth step, 1/2 in short of the middle;
    # 37 in is 1 in past, under a quarter of the gap, and 3 1/2 in short; 44 in is 8 in past, and 3 1/2 in beyond.
    ("knot", INCH, {"leader": "40 in", "circumference": "36 in", "bars": "4"},
     {"The knot lands": "in the gap (clear of the bars)", "Its middle past the bar behind it": "4 in",
      "Before the next bar": "5 in", "For the middle of the gap": "Lengthen by 0.5 in (every leader alike)"}),
    ("knot", INCH, {"leader": "37 in", "circumference": "36 in", "bars": "4"},
     {"The knot lands": "on a bar (or so near one that the yarn over it bulges)",
      "For the middle of the gap": "Lengthen by 3.5 in (every leader alike)"}),
    ("knot", INCH, {"leader": "44 in", "circumference": "36 in", "bars": "4"},
     {"The knot lands": "on a bar (or so near one that the yarn over it bulges)",
      "For the middle of the gap": "Shorten by 3.5 in (every leader alike)"}),
    # By hand: a hole 2 in past the bar, 40 in of leader and half of an inch of knot are 42 1/2 in, 6 1/2 in past the
    # fourth step of 9 in: clear, and 2 in beyond the middle.
    ("knot", INCH, {"leader": "40 in", "circumference": "36 in", "bars": "4", "offset": "2 in", "knot": "1 in"},
     {"The knot lands": "in the gap (clear of the bars)", "Its middle past the bar behind it": "6.5 in",
      "For the middle of the gap": "Shorten by 2 in (every leader alike)"}),
    # By hand: forty ends, two in each of ten dents to the inch, are 2 in; cos a = 1.75 / 2, a = 29 degrees.
    ("comb", INCH, {"section": "1.75 in", "ends": "40", "dents": "10"},
     {"Ends in a dent of the comb": "2", "Width of the bundle": "2 in", "Turn the comb by": "29°"}),
    # A bundle that fits needs no turning.
    ("comb", INCH, {"section": "2 in", "bundle": "2 in"}, {"Turn the comb by": "0° (it fits as it is)"}),
    # By hand: 10 legs of a yard, and 10.3 yd of string: 3 % longer. At that, 7 yd need 6.8 by name, so 7 in half yards.
    ("board", INCH, {"legs": "10", "leg": "1 yd", "string": "10.3 yd", "wanted": "7 yd", "step": "18 in"},
     {"Path by its name": "10 yd", "The true path": "3 % (longer than its name)", "Wind, by its name, for 7 yd": "7 yd",
      "It really winds": "7.21 yd"}),
    # By hand: 9.8 for 10; ten true yards need 10.204 by name, 10 1/2 in half yards, which wind 10.29.
    ("board", INCH, {"legs": "10", "leg": "1 yd", "string": "9.8 yd", "wanted": "10 yd", "step": "18 in"},
     {"The true path": "2 % (shorter than its name)", "Wind, by its name, for 10 yd": "10.5 yd",
      "It really winds": "10.29 yd"}),
    # A board without a string is taken by its name.
    ("board", INCH, {"legs": "4", "leg": "1 yd", "cross": "18 in", "wanted": "6.2 yd"},
     {"Path by its name": "4.5 yd", "Wind, by its name, for 6.2 yd": "7 yd"}),
    # A path just as named.
    ("board", INCH, {"legs": "4", "leg": "1 yd", "string": "4 yd"}, {"The true path": "0 % (just as named)"}),
    # A weaver's blog (June 2010): a wheel four yards round holds ten yards in two and a half turns.
    ("mill", INCH, {"wanted": "10 yd", "round": "4 yd", "posts": "4"}, {"Turns of the mill": "2 1/2 turns"}),
    ("mill", INCH, {"wanted": "10 yd", "round": "4 yd"}, {"Turns of the mill": "3 turns"}),
    ("mill", INCH, {"wanted": "2 yd", "round": "4 yd", "posts": "4"}, {"Turns of the mill": "1/2 turns"}),
    ("mill", INCH, {"wanted": "4 yd", "round": "4 yd"}, {"Turns of the mill": "1 turn"}),
    # The shortest path that reaches.
    ("mill", INCH, {"wanted": "6 yd", "paths": "5 yd; 10 yd; 8 yd"}, {"Shortest path": "8 yd"}),
    ("mill", INCH, {"wanted": "6 yd", "paths": "5, 10, 8"}, {"Shortest path": "8 yd"}),
    ("mill", INCH, {"wanted": "6 yd", "paths": "5 yd and 10 yd and 8 yd"}, {"Shortest path": "8 yd"}),
    ("mill", INCH, {"wanted": "6 yd", "paths": "5;10;8;"}, {"Shortest path": "8 yd"}),
    # A comma inside a number parts no paths.
    ("mill", METRIC, {"wanted": "6 m", "paths": "5 m; 7,5 m"}, {"Shortest path": "7.5 m"}),
    # A weaver's blog (May 2024): 1072 ends with five in hand are 215 passes.
    ("passes", INCH, {"ends": "1072", "at_once": "5"}, {"Passes in all": "215"}),
    # By hand: 320 ends in chains of 32, two at a time, are 10 x 16 passes; 32 x 10 yd of 5/2 cotton, 2100 yd/lb, are
    # 320 / 2100 lb = 69.12 g.
    ("passes", METRIC, {"ends": "320", "at_once": "2", "most": "32", "length": "10 yd", "grist": "5/2 cotton"},
     {"Chains": "10 (of 32 ends)", "Passes in all": "160", "Each chain weighs": "69.12 g (without its ties)"}),
    # A published record: 27 in in the reed and 37 in woven come to 24 by 31 in, 11 and 16 per cent.
    ("losses", INCH, {"width_in_reed": "27 in", "finished_width": "24 in", "woven": "37 in", "finished": "31 in"},
     {"Width lost in all, of the width in the reed": "11.11 %",
      "Length shrinkage, of the length under tension": "16.22 %"}),
    # A published record: 29 in in the reed, 26 in woven (10 per cent), a little over 23 in finished (20 per cent).
    ("losses", INCH, {"width_in_reed": "29 in", "width_at_fell": "26 in", "finished_width": "23.2 in"},
     {"Draw-in, of the width in the reed": "10.34 %", "Width lost in all, of the width in the reed": "20 %"}),
    # A published record: 75 in on the loom, 65 off it, 13 per cent.
    ("losses", INCH, {"woven": "75 in", "relaxed": "65 in"},
     {"Relaxing off the loom, of the length under tension": "13.33 %"}),
    # By hand: 100 in wound, 8 and 10 in of waste leave 82; 75 in woven of them: 1 - 75/82 = 8.54 %, 7 in taken up.
    ("losses", INCH, {"warp_wound": "100 in", "front": "8 in", "remnant": "10 in", "woven": "75 in"},
     {"Loom waste": "18 in", "Take-up, of the warp woven off": "8.54 %",
      "Against the warp as wound": "7 in less (taken up by bending)"}),
    # A weaver's blog (August 2025): tie-on, cloth and remnant came to 92 in of a warp of 90.
    ("losses", INCH, {"warp_wound": "90 in", "front": "6 in", "remnant": "10 in", "woven": "76 in"},
     {"Against the warp as wound": "2 in more (the warp stretched)",
      "Take-up, of the warp woven off": "none (it grew by 2.7 %, or the tension was off)"}),
    # A warp just used up.
    ("losses", INCH, {"warp_wound": "90 in", "front": "6 in", "remnant": "8 in", "woven": "76 in"},
     {"Against the warp as wound": "just as long (nothing taken up, or the warp stretched as much)"}),
    # The waste of a loom needs no warp length.
    ("losses", INCH, {"front": "8 in", "remnant": "0"}, {"Loom waste": "8 in"}),
    # By hand: 1000 - 300 - 40 = 660 g; the cloth weighs 650.
    ("used", METRIC, {"out": "1000 g", "back": "300 g", "thrums": "40 g", "cloth": "650 g"},
     {"Yarn used": "660 g", "Not accounted for": "10 g (fluff and dropped ends)",
      "The same, of what was used": "1.52 %"}),
    # A cloth heavier than its yarn is told so.
    ("used", METRIC, {"out": "500 g", "cloth": "510 g"},
     {"Cloth heavier than the yarn used": "10 g (weigh again: size, oil or water)"}),
    # T. Vogl (2001): half a yard lost at each of 20 sections, of 510 yd on a spool; 1.96 per cent.
    ("used", INCH, {"wasted": "10 yd", "wound": "510 yd"}, {"Thrown away, of the yarn wound": "1.96 %"}),
    # An educational site on textile calculations, and a site on clothing studies (2014).
    ("crimp", INCH, {"yarn_length": "21.2 cm", "cloth_length": "20 cm"}, {"Crimp, of the cloth": "6 %"}),
    ("crimp", INCH, {"yarn_length": "1.05 m", "cloth_length": "1 m"}, {"Crimp, of the cloth": "5 %"}),
    # By hand: a ninth of the cloth is a tenth of the warp.
    ("crimp", INCH, {"crimp": "11 1/9 %"}, {"Take-up of the crimp given": "10 %"}),
    # By hand: 18 picks x 40 in x 14.1 in x 1.1 / 36 = 310.2 yd; of 8/2 cotton 41.9 g.
    ("weft", INCH, {"woven": "40 in", "picks": "18 /in", "width": "14.1 in", "grist": "8/2 cotton"},
     {"Weft yarn": "310.2 yd", "Picks": "720"}),
    ("weft", METRIC, {"woven": "40 in", "picks": "18 /in", "width": "14.1 in", "grist": "8/2 cotton"},
     {"Weft by weight": "41.88 g"}),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed., Weight of a Piece: 37.5 in, 64 picks, 36 yd of 36s, 2 lb 13 3/4 oz.
    ("weft", INCH, {"woven": "36 yd", "picks": "64", "width": "37.5 in", "allowance": "0", "grist": "36 cotton"},
     {"Weft by weight": "45.71 oz"}),
]  # fmt: skip
"""Question, reader, what is typed, and lines of the answer with their bounds; None for a line that is not told."""


@pytest.mark.parametrize(("key", "units", "typed", "told"), ANSWERS)
def test_an_answer_is_what_a_book_or_a_hand_says(key, units, typed, told):
    found = answer(key, units, **typed)
    assert {label: found.get(label) for label in told} == told


def test_the_rule_of_folded_counts_is_shown_with_its_numbers():
    _form, lines = asked("folded", singles="60 cotton + 8/2 cotton")
    assert lines[1].worked == "1 ÷ (1/60 + 2/8)"


def test_shafts_run_together_are_asked_about():
    assert "shaft 12" in errors("weave", lifts="12 / 34")["lifts"]
    assert "write 1 2 or 1+2" in errors("weave", lifts="12 / 34")["lifts"]


def test_orders_near_a_sett_come_the_nearest_first():
    # The same table: 1-2-2 in twelve dents is 20 to the inch.
    found = answer("sley", dents="12", sett="20")
    assert next(iter(found.items())) == ("1-2-2 for 20/in", "20/in (just as wanted)")
    assert found["2 for 20/in"] == "24/in"


@pytest.mark.parametrize(("turns", "rows"), [(MOST_ROWS, MOST_ROWS), (MOST_ROWS + 1, 0)])
def test_a_table_is_folded_and_a_very_long_one_is_left_out(turns, rows):
    _form, lines = asked("turns", circumference="18 in", depth="0.0122 in", turns=str(turns))
    assert sum(line.folded for line in lines) == rows


@pytest.mark.parametrize(
    ("key", "name", "worth"),
    [
        ("turns", "clearance", Tolerances().rake_clearance), ("turns", "density", WOUND_DENSITY["cotton"]),
        ("weft", "allowance", Allowances().weft_allowance), ("woven", "allowance", Allowances().weft_allowance),
    ],
)  # fmt: skip
def test_what_an_empty_field_stands_for_is_what_a_plan_takes(key, name, worth):
    (ask,) = (one for one in QUESTIONS[key].asks if one.name == name)
    told = re.search(r"[\d.]+( in| %)?(?= when left empty)", ask.hint)[0]
    assert {read(text, ask.kind, METRIC) for text in (told, ask.usual or told)} == {worth}


TAPED = {"turns": "12", "start": "91.4 cm", "end": "94.9 cm"}

# What goes wrong is said beside its field, and what is missing is named.

WRONG = {
    "words for a length": ("calibrate", {**TAPED, "start": "a yard or so"}, "start"),
    "a unit of nobody's": ("calibrate", {**TAPED, "end": "3 furlongs"}, "end"),
    "two units in one": ("calibrate", {**TAPED, "end": "3 ft 2 in"}, "end"),
    "half a turn": ("calibrate", {**TAPED, "turns": "1/2"}, "turns"),
    "no turns": ("calibrate", {**TAPED, "turns": "0"}, "turns"),
    "a beam that shrank": ("calibrate", {**TAPED, "end": "90 cm"}, "end"),
    "too little for the tape": ("calibrate", {**TAPED, "end": "91.5 cm", "sett": "8", "grist": "8/2 cotton"}, "turns"),
    "a beam left out": ("calibrate", {"turns": "12", "end": "94.9 cm"}, "start"),
    "no yarn": ("reach", {"mass": "1 lb", "grist": "string", "ends": "4"}, "grist"),
    "a question without a question": ("reach", {"mass": "1 lb", "grist": "8/2 cotton"}, "ends"),
    "a district unheard of": ("reeds", {"number": "36", "system": "york"}, "system"),
    "a reed of nothing": ("reeds", {"number": "0", "system": "bolton"}, "number"),
    "a pass that no chain can hold": ("passes", {"ends": "142", "at_once": "4", "most": "2"}, "most"),
    "a threading that is none": ("weave", {"lifts": "1 / 2 / 3", "threading": "broken"}, "threading"),
    "no weave": ("weave", {"lifts": "over and under"}, "lifts"),
    "rows of unequal length": ("weave", {"lifts": "xx. / x."}, "lifts"),
    "a weave without end": ("weave", {"lifts": "x" * 20_001}, "lifts"),
    "a cone heavier than the lightest": (
        "package", {"gross": "1 lb", "grist": "8/2 cotton", "lightest": "9 g", "heaviest": "8 g"}, "heaviest",
    ),
    "a package lighter than its cone": ("package", {"gross": "3 g", "grist": "8/2 cotton"}, "gross"),
    "singles of no system": ("folded", {"singles": "16/1 + 30/1"}, "singles"),
    "singles by the yard": ("folded", {"singles": "3360 yd/lb"}, "singles"),
    "singles too thick together": ("folded", {"singles": "99999 tex + 99999 tex"}, "singles"),
    "nothing missing": ("buy", {"package": "8 oz"}, "mass"),
    "missing in two ways": ("buy", {"package": "8 oz", "mass": "1 lb", "length": "1 yd"}, "length"),
    "a length of no yarn": ("buy", {"package": "8 oz", "length": "900 yd"}, "grist"),
    "a part without its price": ("mixture", {"mass_first": "1 lb", "price_first": "4", "mass_third": "1 lb"},
                                 "price_third"),
    "a price of nothing": ("mixture", {"mass_first": "1 lb", "price_first": "4", "price_second": "2"}, "mass_second"),
    "a price for a length": ("mixture", {"mass_first": "1 lb", "price_first": "4 /yd"}, "price_first"),
    "a cloth all taken up": ("woven", {"mass": "1 lb", "grist": "8/2 cotton", "ends": "9", "take_up": "100 %"},
                             "take_up"),
    "picks of no width": ("woven", {"mass": "1 lb", "grist": "8/2 cotton", "ends": "9", "picks": "9"}, "width"),
    "a width of no picks": ("woven", {"mass": "1 lb", "grist": "8/2 cotton", "ends": "9", "width": "9 in"}, "picks"),
    "yarn for the waste only": ("woven", {"mass": "1 oz", "grist": "8/2 cotton", "ends": "300", "fixed": "1 yd"},
                                "mass"),
    "ends without their wraps": ("wraps", {"ends_first": "1", "wraps_first": "12", "ends_second": "1"},
                                 "wraps_second"),
    "wraps without their ends": ("wraps", {"ends_first": "1", "wraps_first": "12", "wraps_third": "9"}, "ends_third"),
    "more than the greatest": ("wraps", {"ends_first": "1", "wraps_first": "12", "share": "110 %"}, "share"),
    "nothing else wanted": ("firmness", {"sett": "20", "grist": "8/2 cotton"}, "other"),
    "another yarn than which": ("firmness", {"sett": "20", "other": "10/2 cotton"}, "grist"),
    "a yarn of air": ("firmness", {"sett": "20", "grist": "8/2 cotton", "ratio": "0.001"}, "ratio"),
    "neither order nor sett": ("sley", {"dents": "12"}, "order"),
    "an order in words": ("sley", {"dents": "12", "order": "one, two"}, "order"),
    "an order of empty dents": ("sley", {"dents": "12", "order": "0-0"}, "order"),
    "a sett no reed so fine can give": ("sley", {"dents": "12", "sett": "1/2 /in"}, "sett"),
    "a wire without a dent": ("dent", {"dents": "10", "ends": "2", "grist": "8/2 cotton", "wire": "0.1 in"}, "wire"),
    "a beam and nothing wanted": ("turns", {"circumference": "36 in", "depth": "0.01 in"}, "turns"),
    "turns of no depth": ("turns", {"circumference": "36 in", "turns": "9"}, "depth"),
    "a knot longer than the gap": (
        "knot", {"leader": "40 in", "circumference": "36 in", "bars": "4", "knot": "10 in"}, "knot",
    ),
    "a beam of one bar": ("knot", {"leader": "40 in", "circumference": "36 in", "bars": "1"}, "bars"),
    "a comb without a bundle": ("comb", {"section": "2 in", "ends": "40"}, "bundle"),
    "a mill without a path": ("mill", {"wanted": "9 yd"}, "paths"),
    "paths all too short": ("mill", {"wanted": "9 yd", "paths": "5 yd; 8 yd"}, "paths"),
    "paths in words": ("mill", {"wanted": "9 yd", "paths": "; ;"}, "paths"),
    "a path of nothing": ("mill", {"wanted": "9 yd", "paths": "0 yd; 9 yd"}, "paths"),
    "one measure alone": ("losses", {"width_in_reed": "20 in"}, "finished_width"),
    "all of it waste": ("losses", {"warp_wound": "1 yd", "front": "18 in", "remnant": "18 in"}, "remnant"),
    "nothing weighed": ("used", {"back": "1 oz"}, "out"),
    "only weighed out": ("used", {"out": "9 oz"}, "cloth"),
    "all of it back": ("used", {"out": "9 oz", "back": "9 oz", "cloth": "1 oz"}, "back"),
    "more lost than wound": ("used", {"wound": "9 yd", "wasted": "10 yd"}, "wasted"),
    "a thread shorter than its cloth": ("crimp", {"yarn_length": "9 in", "cloth_length": "10 in"}, "yarn_length"),
    "no crimp at all": ("crimp", {"cloth_length": "10 in"}, "yarn_length"),
    "a weft of no width": ("weft", {"woven": "1 yd", "picks": "20", "grist": "8/2 cotton"}, "width"),
    "a length to the moon": ("weft", {"woven": "400000 m", "picks": "20"}, "woven"),
    "a pick finer than any": ("weft", {"woven": "1 yd", "picks": "0.00000001 /cm"}, "picks"),
}  # fmt: skip


@pytest.mark.parametrize(("key", "typed", "field"), WRONG.values(), ids=WRONG.keys())
def test_a_mistake_stands_beside_its_field(key, typed, field):
    found = errors(key, **typed)
    assert list(found) == [field]
    assert found[field].endswith(".")


HOSTILE = [
    "", "0", "-1", "1e999", "9" * 400, f"1{'0' * 400} in", "1/0", "²", "\x00", "4\x00 in", "<script>", "1 /in /in",
    "∞ in", "999999999 yd", "1,2 / ", "3 ft 2 in", "12 in 5 cm", "a few", "8/2 cotton + + cotton", "1-1--2", "0-0",
    "٣", "1,200", "1 /0 g", ";" * 90, "nan", "\n", " " * 500,
]  # fmt: skip
USABLE = {
    "whole": ["1", "2", "40", str(MOST_WHOLE)],
    "number": ["1", "0.000001", "1000000", "7/6"],
    "money": ["0", "9.50", "1000000"],
    "grist": ["8/2 cotton", "0.1 tex", "100000 tex", "3360 yd/lb"],
    "singles": ["60 + 40 cotton", "20 tex + 30 worsted", "0.001 cotton"],
    "sley": ["1", "1-1-2", "0-64"],
    "lengths": ["5 yd; 8 yd", "0.00001 m", "100000 m"],
    "words": ["1,2 / 2,3 / 3,4 / 4,1", "x", "x. / .x", "- / 1"],
}
"""What each kind without a unit reads, up to its bounds."""


def usable(ask):
    """Give texts that a field reads, from next to nothing to its bound, and other things people type."""
    if ask.kind == "choice":
        return st.sampled_from([key for key, _words in ask.choices])
    if ask.kind in USABLE:
        return st.sampled_from(USABLE[ask.kind])
    labels = sorted(KINDS[ask.kind].labels)
    number = st.sampled_from(["0", "0.000001", "0.001", "1/3", "1", "12", "36.5", "100", "1000", "99999", "9999999"])
    return st.builds("{} {}".format, number, st.sampled_from(labels))


@st.composite
def typings(draw, question):
    """Give whatever might stand in the fields of a question: sound, empty, or junk."""
    junk = st.sampled_from(HOSTILE) | st.text(max_size=70)
    worst = draw(st.sampled_from([st.just(""), junk]))
    left_out = draw(st.sets(st.sampled_from([ask.name for ask in question.asks])))
    return {ask.name: draw(usable(ask) | worst) for ask in question.asks if ask.name not in left_out}


@pytest.mark.parametrize("key", QUESTIONS)
@MANY
@given(data=st.data())
def test_whatever_is_typed_is_answered_or_told_why_not(key, data):
    typed = data.draw(typings(QUESTIONS[key]))
    found = {units: asked(key, units, **typed) for units in Units}
    for form, lines in found.values():
        assert lines or form.errors or not form.is_bound
        assert all(line.label and line.value and not line.value.startswith("−") for line in lines)
        assert all(sentence.endswith((".", "?")) for said in form.errors.values() for sentence in said)


@pytest.mark.parametrize("key", QUESTIONS)
@MANY
@given(data=st.data())
def test_inches_and_centimetres_give_one_answer(key, data):
    """With the units written beside the numbers, a reader's habit changes no more than how the answer is written."""
    typed = data.draw(st.fixed_dictionaries({ask.name: usable(ask) for ask in QUESTIONS[key].asks}))
    inch, metric = (asked(key, units, **typed) for units in Units)
    assert list(inch[0].errors) == list(metric[0].errors)
    assert len(inch[1]) == len(metric[1])


@pytest.mark.parametrize("key", QUESTIONS)
def test_no_hostile_text_gets_past_the_form(key):
    for ask in QUESTIONS[key].asks:
        for value in HOSTILE:
            form, lines = asked(key, **{**QUESTIONS[key].example, ask.name: value})
            assert lines or form.errors, (ask.name, value)


@pytest.mark.parametrize("key", QUESTIONS)
def test_an_example_is_answered_line_by_line_with_its_sum_and_nothing_is_not(key):
    question = QUESTIONS[key]
    names = {ask.name for ask in question.asks}
    assert question.example.keys() <= names
    for units in Units:
        form, lines = asked(key, units, **question.example)
        assert (dict(form.errors), bool(lines)) == ({}, True)
        assert [line.label for line in lines if not (line.worked or line.folded)] == []
    form, lines = asked(key, **dict.fromkeys(names, ""))
    assert (lines, bool(form.errors)) == ((), True)


def test_no_two_questions_have_one_title():
    assert len({one.title for one in QUESTIONS.values()}) == len(QUESTIONS)


def test_a_question_is_found_by_its_calculators_and_its_part():
    assert [one.key for one in questions_on("knot-place")] == ["knot"]
    assert [one.key for one in questions_in({"pieces-of-warp", "knot-place"})] == ["knot", "pieces"]


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("wraps", "wraps"), ("wpi", "wraps"), ("knot", "knot"), ("board", "board"), ("warping frame", "board"),
        ("picks", "weft"), ("Crimp", "crimp"), ("sley order", "sley"), ("leader knots", "knot"), ("peirce", "cover"),
        ("shrinkage", "losses"),
    ],
)  # fmt: skip
def test_a_word_of_the_trade_finds_its_question_first(words, first):
    assert find_questions(words)[0].key == first


@pytest.mark.parametrize("words", ["teapot", "", "  ", "\x00", "?"])
def test_other_words_find_no_question(words):
    assert find_questions(words) == ()


def test_what_the_modules_show_as_examples_is_so():
    assert [doctest.testmod(module).failed for module in (asking, questions, rulebook, tables, toml)] == [0] * 5


# The pages.


@pytest.fixture
def browser(db):
    return cast.as_(cast.new_member())


def page_of(browser, key, **typed):
    return browser.get(reverse("how-ask", args=[key]), typed)


@pytest.mark.parametrize("key", QUESTIONS)
def test_every_page_shows_form_answer_and_rules_and_stands_whatever_is_typed(browser, key):
    question = QUESTIONS[key]
    text = page_of(browser, key, **question.example).content.decode()
    assert all(f'name="{ask.name}"' in text for ask in question.asks)
    assert 'id="answer"' in text
    assert all(f'href="{reverse("how-one", args=[slug])}"' in text for slug in question.rules)
    for value in ("\x00", "9" * 400, "<hr>", ""):
        page = page_of(browser, key, **{ask.name: value for ask in question.asks})
        assert (page.status_code, "<hr>" in page.content.decode()) == (200, False)


def test_an_unasked_question_shows_no_mistake_and_an_example_to_try(browser):
    page = page_of(browser, "calibrate")
    assert (page.context["form"].is_bound, page.context["lines"]) == (False, [])
    assert "Try it with an example" in page.content.decode()


def test_what_was_typed_is_kept(browser):
    page = page_of(browser, "calibrate", **{**TAPED, "start": "a yard or so"})
    assert 'value="a yard or so"' in page.content.decode()
    assert "Please correct" in page.content.decode()


def test_a_kept_answer_of_older_days_leads_to_its_question(browser):
    old = browser.get(reverse("how-one", args=["longest-warp"]), {"ask": "reach", "mass": "10 lb", "ends": "420"})
    assert (old.status_code, old.url) == (302, f"{reverse('how-ask', args=['reach'])}?ask=reach&mass=10+lb&ends=420")


def test_an_unknown_question_is_not_found(browser):
    assert page_of(browser, "no-such").status_code == 404


def test_a_stranger_is_sent_to_sign_in(db):
    assert page_of(cast.stranger(), "knot").status_code == 302


def test_a_guest_may_ask(db):
    assert page_of(cast.as_(cast.guest()), "knot").status_code == 200


def test_pages_only_read(browser):
    assert browser.post(reverse("how-ask", args=["knot"])).status_code == 405


def test_a_question_asks_the_database_for_the_member_and_the_house_only(browser, django_assert_num_queries):
    page_of(browser, "knot")
    with django_assert_num_queries(4):  # session, user, member, rules of the studio
        page_of(browser, "knot", leader="40 in", circumference="36 in", bars="4")


def test_the_search_offers_a_question(browser):
    page = browser.get(reverse("search"), {"q": "wraps"}).content.decode()
    assert f'href="{reverse("how-ask", args=["wraps"])}"' in page
