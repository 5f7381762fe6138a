"""Cards: the words on paper against the plan, the PDF read back by another library, numbers that never change."""

import io
from dataclasses import replace

import pytest
from django.core.exceptions import SuspiciousFileOperation
from pypdf import PdfReader

from planner.calc.terms.brief import Centre, Fit, Method, ReedFacts
from planner.calc.terms.plan import ColourRun
from planner.calc.terms.positions import spans
from planner.calc.worksheet.work_out import work_out
from planner.cards.render import card_html, strip_address
from planner.cards.selectors import CardWords
from planner.plan.formatter import Formatter
from planner.plan.presenter import PlanView
from studio.files.pdf import local_file, qr_address, render_pdf
from studio.units import Units
from tests.planner import worked_projects

WORDS = CardWords(
    name="Warping card 7", version=2, title="Eight towels", studio="Quayside Weaving Room",
    owner="the trained member", date="25 November 2026", paper="A4", url="http://testserver/cards/7/", local_rules="",
)  # fmt: skip


def shown_of(brief, units=Units.INCH):
    return PlanView(brief, work_out(brief), Formatter(units))


def pages_of(brief, words=WORDS, units=Units.INCH):
    return PdfReader(io.BytesIO(render_pdf(card_html(words, shown_of(brief, units))))).pages


def text_of(pages):
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


@pytest.fixture(scope="module")
def towels():
    return worked_projects.towels()


@pytest.fixture(scope="module")
def towel_text(towels):
    return text_of(pages_of(towels))


@pytest.mark.parametrize(
    "words",
    ["Ends 480", "Width in reed 24in", "Turns 11", "12 × 40 = 480 ends", "Warping card 7", "SEAT: left", "BACK view",
     "start at dent", "Spools: 40 in all", "145 yd", "Follow this studio's rules", "Start mark:", "Leader:", "Cross:"],
)  # fmt: skip
def test_paper_says(towel_text, words):
    assert words in towel_text


def test_paper_has_one_row_for_each_section(towels, towel_text):
    for section in work_out(towels).winding.sections:
        assert f" {section.position} {section.ends} " in towel_text


CHAINS_OF_THE_CLASS = (
    "Chains, 2 ends wound at once", "1–10 (sections 4–13): 32 ends, 10 yd", "passes 16", "2.44 oz",
    "4 of 8", "40 spaces, 8 ends each",
    "6 ties in one colour on the tops of the pegs, 6 in another below, and 9 choke ties",
    "the turn at which each reaches it: 1: 1 yd, turn 1.3", "9: 9 yd, turn 11.8",
)  # fmt: skip
"""Ten chains of 32 ends, sixteen passes of two, ten yards long. Worked by hand: 320 yd of a yarn with 2100 yd to the
pound are 16 x 320 / 2100 = 2.44 oz; half an inch of raddle at 16 to the inch holds 8; a yard by 27 in is 1.3 turns."""


@pytest.mark.parametrize("words", CHAINS_OF_THE_CLASS)
def test_paper_says_of_chains(words):
    assert words in text_of(pages_of(worked_projects.class_warp()))


def test_paper_gives_the_colours_of_chains_where_no_section_gives_them():
    text = text_of(pages_of(worked_projects.runner()))
    assert "94 94 A 47" in text


def test_paper_in_metric_names_no_inches(towels):
    text = text_of(pages_of(towels, units=Units.METRIC))
    assert "Width in reed 61cm" in text
    assert "yd" not in text


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_warp_of_24_sections_takes_two_pages_at_most(paper):
    wide = worked_projects.rugs()
    beam = replace(wide.loom.beam, sections=25, usable_width=wide.loom.beam.pitch * 25)
    loom = replace(wide.loom, beam=beam, weaving_width=beam.usable_width)
    brief = replace(wide, loom=loom, width_in_reed=beam.pitch * 24, shift=beam.pitch / 2)
    assert len(work_out(brief).winding.sections) == 24
    assert len(pages_of(brief, replace(WORDS, paper=paper))) <= 2


@pytest.mark.parametrize(("paper", "points"), [("A4", (595, 842)), ("Letter", (612, 792))])
def test_paper_has_the_size_asked_for(towels, paper, points):
    """ISO 216 A4 is 210 x 297 mm, Letter 8.5 x 11 in; a point is 1/72 in."""
    box = pages_of(towels, replace(WORDS, paper=paper))[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == points


def test_pdf_is_tagged_and_names_its_language(towels):
    catalog = PdfReader(io.BytesIO(render_pdf(card_html(WORDS, shown_of(towels))))).trailer["/Root"]
    assert catalog["/MarkInfo"]["/Marked"]
    assert catalog["/Lang"] == "en-GB"


def test_fonts_on_paper_come_from_the_installed_packages(towels):
    fonts = {
        str(font.get_object()["/BaseFont"]) for font in pages_of(towels)[0]["/Resources"]["/Font"].get_object().values()
    }
    assert fonts
    assert {font.split("+")[1].split("-")[0] for font in fonts} <= {"Card", "Signs"}


def test_paper_never_calls_out():
    with pytest.raises((ValueError, SuspiciousFileOperation)):
        local_file("http://127.0.0.1/static/../settings.py")


def test_qr_code_is_the_address():
    assert qr_address("http://testserver/cards/7/") != qr_address("http://testserver/cards/8/")


def test_strip_gives_each_yarn_one_path(towels):
    striped = worked_projects.rugs()
    assert strip_address(shown_of(striped)).count("fill%3D%22%23") == len({r.code for r in striped.colour_order})


def test_every_plan_of_the_worked_projects_makes_a_card():
    for make in worked_projects.ALL:
        assert "Check:" in card_html(WORDS, shown_of(make())), make.__name__


def test_title_of_another_does_no_harm(towels):
    html = card_html(replace(WORDS, title="<script>alert(1)</script>"), shown_of(towels))
    assert "<script>" not in html


def test_spans_join_neighbours():
    assert spans((1, 2, 3, 5)) == "1–3, 5"


def fullest(paper, order):
    """A card with everything at its longest: 24 sections, six yarns, a long title and long rules of the house."""
    rugs = worked_projects.rugs()
    pitch, names = (
        rugs.loom.beam.pitch,
        ("deep indigo", "straw yellow", "walnut brown", "sea green", "cochineal", "natural"),
    )
    beam = replace(rugs.loom.beam, sections=24, usable_width=pitch * 24, centre=Centre.DIVIDER)
    yarns = tuple(
        replace(rugs.yarns[0], code=code, name="8/2 cotton with a long name", colour_name=colour)
        for code, colour in zip("ABCDEF", names, strict=True)
    )
    loom = replace(
        rugs.loom, beam=beam, weaving_width=beam.usable_width, reeds=(ReedFacts("12 dpi", rugs.sett, pitch * 24),)
    )
    return replace(rugs, loom=loom, yarns=yarns, colour_order=order, width_in_reed=pitch * 24, fit=Fit())


REPEAT = tuple(ColourRun(code, ends) for code, ends in zip("ABCDEF", (15, 9, 6, 7, 11, 4), strict=True))
UNLIKE = tuple(ColourRun("ABCDEF"[(7 * n * n + n) % 6], 3 + (5 * n) % 7) for n in range(60))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("order", [REPEAT, UNLIKE], ids=["repeat", "unlike"])
@pytest.mark.parametrize("method", Method)
def test_the_fullest_card_of_24_sections_takes_two_pages(paper, order, method):
    words = replace(
        WORDS, paper=paper, title="Eight towels and a runner for the harbour fair in autumn", local_rules="Mind. " * 50
    )
    brief = replace(fullest(paper, order), method=method)
    assert len(work_out(brief).winding.sections) == 24
    assert len(pages_of(brief, words)) == 2


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("order", [REPEAT, UNLIKE], ids=["repeat", "unlike"])
@pytest.mark.parametrize("chains", [range(1, 2), range(1, 25, 2), range(2, 25), range(1, 25)], ids=len)
def test_the_fullest_card_takes_two_pages_with_chains_beside_the_box_too(paper, order, chains):
    words = replace(
        WORDS, paper=paper, title="Eight towels and a runner for the harbour fair in autumn", local_rules="Mind. " * 50
    )
    brief = replace(fullest(paper, order), chain_sections=tuple(chains))
    assert len(work_out(brief).winding.chains) == len(chains)
    assert len(pages_of(brief, words)) == 2


@pytest.fixture(scope="module")
def mixed_rugs():
    brief = worked_projects.rugs()
    return replace(brief, chain_sections=tuple(place for place in range(4, 19) if place not in {4, 9, 14}))


def test_each_section_of_a_mixed_card_says_its_chain_or_its_set_up(mixed_rugs):
    text = text_of(pages_of(mixed_rugs))
    ways = ["set-up 1", *[f"chain {number}" for number in range(1, 5)]]
    for position, way in zip(range(4, 9), ways, strict=True):
        assert f" {position} 24 {way} " in text


@pytest.mark.parametrize(
    "words",
    ["Winding method", "Chains: same start mark", "a chain brings its own",
     "Each 24 ends, 13.25 yd, 3.03 oz, passes 12",
     "1, 5, 9 (sections 5, 10, 15): 6 C, 15 A, 3 B", "13: 13 yd, turn 12.8", "Spools: 24 in all", "BEFORE you cut"],
)  # fmt: skip
def test_a_mixed_card_has_both_ways_of_winding(mixed_rugs, words):
    assert words in text_of(pages_of(mixed_rugs))


def test_a_mixed_card_has_a_box_to_tick_for_each_chain(mixed_rugs):
    html = card_html(WORDS, shown_of(mixed_rugs))
    chains = html[html.index("<h2>Chains") : html.index("<h2>Spools")]
    assert chains.count('class="box"') == 12


def test_colours_too_long_for_a_row_stand_with_their_chain():
    unlike = tuple(ColourRun("ABCDEF"[n % 6], 1 + n * n % 7 % 3) for n in range(350))
    html = card_html(WORDS, shown_of(replace(fullest("A4", unlike), chain_sections=(3,))))
    assert "as chain\N{NO-BREAK SPACE}1" in html


def test_a_strip_of_thousands_of_stripes_is_drawn_no_finer_than_ink_shows():
    brief = replace(fullest("A4", (ColourRun("A", 1), ColourRun("B", 1))), sett=worked_projects.per_inch(80))
    shown = shown_of(brief)
    assert len(shown.order) > 3000
    assert strip_address(shown).count("V58H") == 2 * 500  # colour and hatch
