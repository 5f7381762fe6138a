"""Yarn counts against old mill books, exact definitions, pint's textile units, and hostile labels."""

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.count import (
    FINEST,
    THICKEST,
    count_of_tex,
    folded,
    length_of_mass,
    mass_of_length,
    metres_per_kilogram,
    read_grist,
    tex_of_count,
    tex_of_metres_per_kilogram,
    tex_of_yards_per_pound,
    yards_per_pound,
)
from inventory.calc.count_systems import CM_IN_YARD, GRAMS_IN_POUND, SYSTEMS, TEX_YARDS_PER_POUND
from studio.units import UnitError, Units, factor

OUNCE = GRAMS_IN_POUND / 16
GRAIN = GRAMS_IN_POUND / 7000
METRE = Fraction(100)
OUTSIDE = pint.UnitRegistry(non_int_type=Fraction)
COUNTS = st.fractions(min_value=Fraction(1, 10), max_value=400, max_denominator=1000)


def near(value, expected, tolerance):
    return abs(Fraction(value) - Fraction(expected)) <= Fraction(tolerance)


def read_or_reason(text):
    """A yarn, or the sentence of its refusal; any other error is a fault."""
    try:
        return read_grist(text, Units.INCH), ""
    except UnitError as refused:
        return None, refused.message


FOLDED = [
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 239
    pytest.param((60, 40), "24", "0.01", id="Y01"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), ch. IX, online-text p. 91
    pytest.param((40, 20), "13.3333", "0.01", id="Y02"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 239
    pytest.param((40, 40), "20", "0.001", id="Y17"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), online-text p. 91
    pytest.param((300, 300, 300), "100", "0.001", id="Y19"),
    # W. Davis, Hosiery Manufacture (year not visible), counts of yarn chapter, online-text p. 21-29, example 30
    pytest.param((64, 48, 32), "14.769", "0.005", id="Y20"),
    # W. Davis, Hosiery Manufacture (year not visible), counts of yarn chapter, online-text p. 21-29, example 39
    pytest.param((48, 24), "16", "0.001", id="Y24"),
    # TextileCalculations educational site blog, Resultant Count (2015)
    pytest.param((20, 30, 30, 40, 40, 40), "5.217", "0.01", id="Y56"),
    # CollegeDunia exam solution, May 2026
    pytest.param((24, 40), "15", "0.001", id="Y58"),
]


@pytest.mark.parametrize(("singles", "expected", "tolerance"), FOLDED)
def test_folded_singles_give_the_printed_count(singles, expected, tolerance):
    yarn = folded(tex_of_count(Fraction(single), "cotton") for single in singles)
    assert near(count_of_tex(yarn, "cotton"), expected, tolerance)


CONVERTED = [
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), ch. IX, online-text p. 91
    pytest.param(20, "cotton", "worsted", "30", "0.001", id="Y05"),
    # W. Davis, Hosiery Manufacture (year not visible), counts of yarn chapter, online-text p. 21-29, example 37
    pytest.param(10, "cotton", "worsted", "15", "0.001", id="Y22"),
    # Textile School, Yarn Conversions table (590.54/NeC); exact from pound, yard and 840 yd hank
    pytest.param(1, "cotton", "tex", "590.54", "0.01", id="Y32"),
    # Textile School, Yarn Conversions table
    pytest.param(1, "cotton", "metric", "1.6934", "0.0001", id="Y34"),
    # Textile School, Yarn Conversions table (5314.9/NeC); Balasubramanian conversion table prints 5315
    pytest.param(1, "cotton", "denier", "5314.9", "0.1", id="Y36"),
    # 560 yd hank definition
    pytest.param(1, "worsted", "tex", "885.81", "0.01", id="Y37"),
]


@pytest.mark.parametrize(("count", "given", "wanted", "expected", "tolerance"), CONVERTED)
def test_a_count_becomes_the_printed_count_of_another_system(count, given, wanted, expected, tolerance):
    assert near(count_of_tex(tex_of_count(Fraction(count), given), wanted), expected, tolerance)


LABELS = [
    # American Correspondence School of Textiles (C. P. Brooks), Calculations Part IV, Lowell 1898, par. 1
    pytest.param("5 run", "8000", "0.5", id="Y30"),
    # TextileCalculations educational site, Different Yarn Count System
    pytest.param("1 Yorkshire skein", "256", "0.01", id="Y42"),
    # Medieval textile study page on Ashenhurst's formula (1999); also a handweaver's blog 'measured threads'
    pytest.param("8/2 cotton", "3360", "1", id="Y43"),
    # yarn-shop weaving tip, 5 June 2012 (B. Elkins)
    pytest.param("3/2 cotton", "1260", "1", id="Y44"),
    # yarn-shop weaving tip, 5 June 2012 (B. Elkins)
    pytest.param("2/10 worsted", "2800", "1", id="Y46"),
    # Eugene Textile Center blog, 20 June 2017
    pytest.param("20/2 cotton", "8400", "1", id="Y47"),
    # 840 yd hank definition
    pytest.param("10/2 cotton", "4200", "1", id="Y48"),
    # 560 yd hank definition
    pytest.param("2/20 worsted", "5600", "1", id="Y50"),
    # Pollywogs, worsted/cotton count page
    pytest.param("16/2 cotton + 16/2 cotton", "3360", "1", id="Y52"),
    # Central Ohio weavers' guild newsletter extract (2008)
    pytest.param("6 cut", "1800", "1", id="Y54"),
    # Yarn Size Explanation (rug weavers' archive page); no: page prints 4200/2 = 2400, an arithmetic slip; expected
    # is 2100
    pytest.param("5/2 cotton", "2100", "1", id="Y55"),
]


@pytest.mark.parametrize(("label", "expected", "tolerance"), LABELS)
def test_a_label_holds_the_printed_yards_per_pound(label, expected, tolerance):
    assert near(yards_per_pound(read_grist(label, None)), expected, tolerance)


MASSES_IN = [
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), ch. IX, online-text p. 91; no: stored text
    # prints 8 1/8 beside a total of 45 5/6 that needs 8 1/3; misprint
    pytest.param(120, 120, "cotton", GRAIN, "8.3333", "0.01", id="Y04"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), ch. IX, online-text p. 90
    pytest.param(9240, 44, "cotton", GRAMS_IN_POUND, "0.25", "0.0001", id="Y09"),
    # American Correspondence School of Textiles (C. P. Brooks), Calculations Part IV, Lowell 1898, par. 3a
    pytest.param(8800, Fraction("5.5"), "run", OUNCE, "16", "0.01", id="Y26"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), Weight of a Piece
    pytest.param(2280 * 38, 30, "cotton", GRAMS_IN_POUND, "3.438", "0.01", id="W03"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), online-text p. 96
    pytest.param(2260 * 38, 30, "cotton", GRAMS_IN_POUND, "3.408", "0.002", id="W08"),
    # Textile Learner blog, problem 2
    pytest.param(44352 * 525, 30, "cotton", GRAMS_IN_POUND, "924", "0.5", id="W31"),
]


@pytest.mark.parametrize(("yards", "count", "system", "unit", "expected", "tolerance"), MASSES_IN)
def test_a_length_weighs_what_the_book_prints(yards, count, system, unit, expected, tolerance):
    mass = mass_of_length(yards * CM_IN_YARD, tex_of_count(Fraction(count), system))
    assert near(mass / unit, expected, tolerance)


NOMINAL_MASSES = [
    # jeanweaves blog, 7 Jan 2014
    pytest.param(17280, 8400, "2.057", "0.001", id="W22"),
    # measured threads blog (towels)
    pytest.param(2112, 3360, "0.6286", "0.04", id="W24"),
]


@pytest.mark.parametrize(("yards", "grist", "expected", "tolerance"), NOMINAL_MASSES)
def test_a_warp_weighs_what_its_yards_per_pound_say(yards, grist, expected, tolerance):
    mass = mass_of_length(yards * CM_IN_YARD, tex_of_yards_per_pound(Fraction(grist)))
    assert near(mass / GRAMS_IN_POUND, expected, tolerance)


METRIC_MASSES = [
    # TextileCalculations educational site, Fabric Weight in Tex System
    pytest.param(2160 * 55, 30, "3.564", "0.005", id="W16"),
]


@pytest.mark.parametrize(("metres", "tex", "expected", "tolerance"), METRIC_MASSES)
def test_a_warp_in_tex_weighs_what_the_source_prints(metres, tex, expected, tolerance):
    assert near(mass_of_length(metres * METRE, Fraction(tex)) / 1000, expected, tolerance)


LENGTHS = [
    # Textile Learner blog, Calculation of Weaving (warping), problem 1
    pytest.param(300 * GRAMS_IN_POUND / 420, tex_of_count(Fraction(20), "cotton"), CM_IN_YARD, "12000", "1", id="W25"),
    # R. Raju, Warping Plan, example 1
    pytest.param(
        Fraction("6.25") * GRAMS_IN_POUND, tex_of_count(Fraction(10), "cotton"), METRE, "48006", "10", id="P12"
    ),
    # Warping calculations article, warpknitting4u (2009)
    pytest.param(Fraction(250), Fraction(100), METRE, "2500", "0.5", id="Y61"),
    # GATE TF 2014 Q37, Textile Triangle worked solution
    pytest.param(Fraction(5_000_000) * Fraction("1.06"), Fraction(50), 1000 * METRE, "106000", "1", id="Y60"),
]


@pytest.mark.parametrize(("mass", "tex", "unit", "expected", "tolerance"), LENGTHS)
def test_a_mass_holds_the_printed_length(mass, tex, unit, expected, tolerance):
    assert near(length_of_mass(mass, tex) / unit, expected, tolerance)


FOUND_COUNTS = [
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), ch. IX; also J. T. Taylor, Cotton Weaving and
    # Designing, 6th ed. p. 430
    pytest.param(120 * CM_IN_YARD, 25 * GRAIN, "cotton", "40", "0.01", id="Y10"),
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., online-text p. 434
    pytest.param(2000 * 500 * CM_IN_YARD, 60 * GRAMS_IN_POUND, "cotton", "19.84", "0.01", id="Y13"),
    # American Correspondence School of Textiles (C. P. Brooks), Calculations Part IV, Lowell 1898, par. 5a
    pytest.param(4000 * CM_IN_YARD, 5 * OUNCE, "run", "8", "0.01", id="Y28"),
    # TextileCalculations educational site blog, Warping Calculation (2015); answer line cut off
    pytest.param(39780 * 420 * CM_IN_YARD, 663 * GRAMS_IN_POUND, "cotton", "30", "0.01", id="W28"),
    # TextileCalculations educational site blog, Problems in Warping, no. 1
    pytest.param(20000 * 400 * METRE, Fraction(200_000), "tex", "25", "0.01", id="W29"),
]


@pytest.mark.parametrize(("length", "mass", "system", "expected", "tolerance"), FOUND_COUNTS)
def test_length_and_mass_give_the_printed_count(length, mass, system, expected, tolerance):
    tex = mass / length * 100_000
    assert near(count_of_tex(tex, system), expected, tolerance)


DEFINITIONS = [
    # exact pound and yard definitions; definition of tex (g per km)
    pytest.param(TEX_YARDS_PER_POUND, "496054.6", "0.5", id="Y31"),
    # C. P. Brooks, Cotton Manufacturing, 3rd ed. (year not visible), ch. IX, online-text p. 90-91; no: book prints
    # 992.4, 0.03 per cent high; recomputed value is expected
    pytest.param(yards_per_pound(Fraction(500)), "992.13", "0.5", id="Y07"),
    # definition of metric count
    pytest.param(metres_per_kilogram(tex_of_count(Fraction(30), "metric", 2)), "15000", "1", id="Y63"),
    # Woodhouse & Kilgour, The Jute Industry: from Seed to Finished Cloth (Gutenberg 12443), yarn table
    pytest.param(GRAMS_IN_POUND * 100_000 / SYSTEMS["jute"].tex_of_one / CM_IN_YARD, "14400", "0.5", id="Y40"),
]


@pytest.mark.parametrize(("value", "expected", "tolerance"), DEFINITIONS)
def test_a_definition_gives_its_constant(value, expected, tolerance):
    assert near(value, expected, tolerance)


def test_pound_and_yard_are_those_of_the_registry():
    """The outside reference is pint's definitions of the international pound and yard."""
    assert factor("pound", "gram") == GRAMS_IN_POUND
    assert factor("yard", "centimeter") == CM_IN_YARD


@pytest.mark.parametrize(
    ("system", "unit"),
    [("cotton", "number_english"), ("metric", "number_meter"), ("tex", "tex"), ("denier", "denier"), ("jute", "jute")],
)
def test_a_system_agrees_exactly_with_pints_textile_units(system, unit):
    outside = OUTSIDE.Quantity(Fraction(37), unit).to("tex", "textile").magnitude
    assert tex_of_count(Fraction(37), system) == outside


@given(count=COUNTS, system=st.sampled_from(sorted(SYSTEMS)))
def test_count_to_tex_and_back_is_the_same_count(count, system):
    assert count_of_tex(tex_of_count(count, system), system) == count


@given(mass=COUNTS, tex=COUNTS)
def test_mass_to_length_and_back_is_the_same_mass(mass, tex):
    assert mass_of_length(length_of_mass(mass, tex), tex) == mass


@given(grist=COUNTS)
def test_yards_per_pound_and_metres_per_kilogram_come_back_unchanged(grist):
    assert yards_per_pound(tex_of_yards_per_pound(grist)) == grist
    assert metres_per_kilogram(tex_of_metres_per_kilogram(grist)) == grist


@given(count=COUNTS, plies=st.integers(min_value=1, max_value=99))
def test_equal_plies_weigh_as_much_as_the_threads_folded(count, plies):
    assert tex_of_count(count, "cotton", plies) == folded([tex_of_count(count, "cotton")] * plies)


def test_spun_silk_names_the_folded_yarn():
    """W. Davis, Hosiery Manufacture: the count of spun silk is given after folding."""
    assert tex_of_count(Fraction(60), "spun_silk", 2) == tex_of_count(Fraction(60), "spun_silk")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("8/2 cotton", "2/8 cotton"),
        ("8/2 cotton", "  Cotton   8/2 "),
        ("8/2 cotton", "3,360 yd/lb"),
        ("8/2 cotton", "210 yd/oz"),
        ("Nm 30/2", "2/30 nm"),
        ("30/2 Nm", "15 000 m/kg"),
        ("16/2 linen", "2400 yards per pound"),
        ("20/2 worsted", "2/20 worsted"),
        ("16s cotton", "16 cotton"),
        ("5 1/2 run", "5,5 run"),
        ("225 m/100 g", "2.250 m/kg"),
        ("18 den", "2 tex"),
        ("40 cotton + 60 cotton", "60 + 40 cotton"),
        ("2.5/2 Nm", "1250 m/kg"),
        ("12/2/2 cotton", "12/4 cotton"),
        ("2/2/12 cotton", "12/4 cotton"),
        ("30/2/3 worsted", "2800 yd/lb"),
        ("3/2/30 Nm", "5000 m/kg"),
        ("4 dram silk", "4000 yd/oz"),  # J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 239
    ],
)
def test_two_labels_name_one_yarn(one, other):
    assert read_grist(one, None) == read_grist(other, None)


@pytest.mark.parametrize(("units", "label"), [(Units.INCH, "3360 yd/lb"), (Units.METRIC, "3360 m/kg")])
def test_a_bare_number_takes_the_readers_unit(units, label):
    assert read_grist("3360", units) == read_grist(label, None)


def test_a_cord_of_three_strands_of_six_plies_is_eighteen_plies_of_its_count():
    """By hand: 12/6/3 cotton is 840 x 12 / 18 = 560 yards to the pound."""
    assert read_grist("12/6/3 cotton", None) == read_grist("560 yd/lb", None)


def test_thrown_silk_is_numbered_by_the_old_skein():
    """J. T. Taylor, Cotton Weaving and Designing, 6th ed., pp. 238-239: 40 deniers are 6933 1/3 yards to the ounce."""
    assert read_grist("40 old silk denier", None) == read_grist("6933 1/3 yd/oz", None)


def test_with_both_numbers_above_four_cotton_is_read_count_first():
    """Common practice, no source: seine twine 12/9 is nine plies of 12s."""
    assert read_grist("12/9 cotton", None) == tex_of_count(Fraction(12), "cotton", 9)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("3360", "system_unknown"),
        ("8/2", "system_unknown"),
        ("8/2 wobble", "system_unknown"),
        ("", "not_a_count"),
        ("(", "not_a_count"),
        ("8/2/2/2 cotton", "not_a_count"),
        ("12/6/3 Nm", "plies_unclear"),
        ("20/2/2 den", "plies_unclear"),
        ("12/0/2 cotton", "not_above_zero"),
        ("12/50/2 cotton", "not_above_zero"),
        ("8/2 cotton +", "not_a_count"),
        ("cotton 8/2 linen", "not_a_count"),
        ("60/2 silk", "silk_unclear"),
        ("12/6 Nm", "plies_unclear"),
        ("20/22 den", "plies_unclear"),
        ("8/0 cotton", "not_above_zero"),
        ("0/8 cotton", "not_above_zero"),
        ("0 yd/lb", "not_above_zero"),
        ("3.36 yd/lb", "not_a_yarn"),
        ("0.01 tex", "not_a_yarn"),
        ("8/2 cotton" * 10, "too_long"),
    ],
)
def test_an_unreadable_label_is_refused_with_a_reason(text, code):
    with pytest.raises(UnitError) as refused:
        read_grist(text, None)
    assert refused.value.code == code


@given(text=st.text(alphabet="0123456789/+., ½coténNmyd-lbkg'\n\x00²٣", max_size=70))
def test_any_text_gives_a_believable_yarn_or_a_reason(text):
    found, reason = read_or_reason(text)
    assert reason.endswith(".") or FINEST <= found <= THICKEST


@pytest.mark.parametrize(
    ("misuse", "named"),
    [
        (lambda: tex_of_count(Fraction(0), "cotton"), "count"),
        (lambda: tex_of_count(Fraction(8), "cotton", 0), "plies"),
        (lambda: tex_of_count(Fraction(8), "string"), "system"),
        (lambda: count_of_tex(Fraction(-1), "cotton"), "tex"),
        (lambda: count_of_tex(Fraction(1), "string"), "system"),
        (lambda: folded([]), "texes"),
        (lambda: folded([Fraction(0)]), "texes"),
        (lambda: tex_of_yards_per_pound(Fraction(0)), "yards_per_pound"),
        (lambda: yards_per_pound(Fraction(0)), "tex"),
        (lambda: tex_of_metres_per_kilogram(Fraction(0)), "metres_per_kilogram"),
        (lambda: metres_per_kilogram(Fraction(0)), "tex"),
        (lambda: length_of_mass(Fraction(-1), Fraction(1)), "mass"),
        (lambda: length_of_mass(Fraction(1), Fraction(0)), "tex"),
        (lambda: mass_of_length(Fraction(-1), Fraction(1)), "length"),
        (lambda: mass_of_length(Fraction(1), Fraction(0)), "tex"),
    ],
)
def test_misuse_names_the_argument(misuse, named):
    with pytest.raises(ValueError, match=rf"^{named} "):
        misuse()
