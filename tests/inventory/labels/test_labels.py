"""Yarn labels: what they say, where they lie on the paper to the half millimetre, and who prints which."""

import io
import re
import shutil
import subprocess
from fractions import Fraction
from functools import cache

import pytest
import segno
from django.core.exceptions import ValidationError
from django.urls import reverse
from pypdf import PdfReader

from inventory.labels import views as label_views
from inventory.labels.forms import read_numbers
from inventory.labels.selectors import MOST_LABELS, LabelQuery, packages_to_label, weighed_last
from inventory.labels.sheets import PAPERS, SHEETS, YarnLabel, label_of, labels_html, pages_of
from inventory.ledger.services import reverse_move
from inventory.ledger.taking import issue_yarn
from inventory.ledger.weighing import weigh_package
from studio.files.pdf import PaperUnavailable, qr_address, render_pdf
from studio.models import Member
from studio.units import Units
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.stock import a_package, a_yarn

MM_IN_POINT = 25.4 / 72  # a point of PDF is 1/72 in (ISO 32000-1, 8.3.2.3)
CLOSE_MM = 0.5
DOTS_IN_MM = 10
LONG = "Hand-spun and hand-dyed singles of the long wool of the island flock, of the second clip"


def a_label(number="Cone 1", **known):
    start = {
        "yarn": "8/2 cotton", "colour_name": "madder", "colour": "#a9483c", "facts": "3360 yd/lb, 6773 m/kg",
        "scale": "Gross 525 g, tare 25 g", "net": "Net 500 g", "weighed": "Weighed 2 Mar 2026",
        "dye_lot": "29A", "bin_name": "A4", "owner": "", "qr": qr_address("http://testserver/yarn/scale/1/"),
    }  # fmt: skip
    return YarnLabel(number=number, **{**start, **known})


@cache
def a_full_sheet(key):
    """Give a PDF of one page with every label filled; some tests look at the same."""
    labels = [a_label(f"Cone {number}") for number in range(1, SHEETS[key].labels + 1)]
    return render_pdf(labels_html(labels, SHEETS[key], start=1, lines=True, studio="Quayside Weaving Room"))


def pages_in(pdf):
    return PdfReader(io.BytesIO(pdf)).pages


def places(page):
    """Give where the number of each label begins, from the top left of the paper [mm]."""
    found, high = {}, float(page.mediabox.height)

    def look(text, cm, tm, _font, _size):
        number = re.fullmatch(r"Cone (\d+)", text.strip())
        if number:  # one matrix after the other (ISO 32000-1, 8.3.4)
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            found[int(number[1])] = (x * MM_IN_POINT, (high - y) * MM_IN_POINT)

    page.extract_text(visitor_text=look)
    return found


def corners(sheet):
    """Give the top left corner of each label by the sheet's own measures [mm]."""
    wide, high, left, top, gap = (float(text) for text in (sheet.wide, sheet.high, sheet.left, sheet.top, sheet.gap))
    return [
        (left + column * (wide + gap), top + row * high) for row in range(sheet.rows) for column in range(sheet.columns)
    ]


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_labels_fit_their_paper(sheet):
    wide, high = (float(text) for text in PAPERS[sheet.paper])
    right, bottom = corners(sheet)[-1]
    left, top = corners(sheet)[0]
    right_margin = wide - right - float(sheet.wide)
    bottom_margin = high - bottom - float(sheet.high)
    # The labels lie in the middle of the paper, as on every sheet that is sold (common practice, no source).
    assert right_margin == pytest.approx(left, abs=CLOSE_MM)
    assert bottom_margin == pytest.approx(top, abs=CLOSE_MM)


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_a_full_sheet_is_one_page_of_the_right_size_with_every_label_in_its_place(sheet):
    (page,) = pages_in(a_full_sheet(sheet.key))
    size = [float(length) * MM_IN_POINT for length in page.mediabox[2:]]
    assert size == pytest.approx([float(text) for text in PAPERS[sheet.paper]], abs=0.1)
    found, (left, top) = places(page), corners(sheet)[0]
    assert len(found) == sheet.labels
    within = [(found[1][0] - left, found[1][1] - top)] * sheet.labels
    expected = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(corners(sheet), within, strict=True)]
    assert [found[number] for number in sorted(found)] == [pytest.approx(place, abs=0.1) for place in expected]


def grey_dots(pdf):
    """Draw a page and give its dots, row by row, from 0 for black to 255 for white."""
    order = ["pdftoppm", "-gray", "-r", str(DOTS_IN_MM * 25.4), "-"]
    drawn = subprocess.run(order, input=pdf, capture_output=True, check=True).stdout
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", drawn)
    wide = int(head[1])
    dots = drawn[head.end() :]
    return [dots[at : at + wide] for at in range(0, len(dots), wide)]


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="no pdftoppm; on Debian: apt-get install poppler-utils")
@pytest.mark.parametrize("key", ["a4-21", "letter-30", "letter-10"])
def test_lines_to_cut_along_lie_where_the_labels_end(key):
    sheet = SHEETS[key]
    rows = grey_dots(a_full_sheet(sheet.key))
    wide, high, near = float(sheet.wide), float(sheet.high), round(CLOSE_MM * DOTS_IN_MM)
    for x, y in corners(sheet):
        across = rows[round((y + high * 0.93) * DOTS_IN_MM)]  # below the words
        for edge in (x, x + wide):
            at = round(edge * DOTS_IN_MM)
            assert min(across[at - near : at + near + 1]) < 200
        down = [row[round((x + 1.2) * DOTS_IN_MM)] for row in rows]  # left of the words
        for edge in (y, y + high):
            at = round(edge * DOTS_IN_MM)
            assert min(down[at - near : at + near + 1]) < 200


def test_a_sheet_used_in_part_begins_where_it_is_told():
    sheet = SHEETS["a4-24"]
    (page,) = pages_in(render_pdf(labels_html([a_label()], sheet, start=6, lines=False, studio="")))
    whole = places(pages_in(a_full_sheet(sheet.key))[0])
    assert places(page)[1] == pytest.approx(whole[6], abs=0.2)  # the lines take a tenth


def test_labels_run_on_to_the_next_page():
    assert [len(page) for page in pages_of([a_label()] * 24, SHEETS["a4-24"], 23)] == [24, 22]


@pytest.mark.parametrize("key", ["a4-21", "a4-10", "letter-30"])  # the smallest of each size
def test_a_long_name_leaves_room_for_the_rest(key):
    sheet = SHEETS[key]
    crowded = a_label(yarn=LONG, colour_name=LONG, facts=LONG, dye_lot="4" * 40, bin_name="B" * 40, owner=LONG)
    html = labels_html([crowded] * sheet.labels, sheet, start=1, lines=True, studio="")
    (page,) = pages_in(render_pdf(html))
    said = page.extract_text()
    assert all(said.count(words) == sheet.labels for words in ("Net 500 g", "Gross 525 g, tare 25 g", "2 Mar 2026"))
    assert "…" in said


def ends_of_labels(page):
    """Give how far down the last line of each label stands: the baseline of its dye lot [mm], by the label's order."""
    found, high = [], float(page.mediabox.height)

    def look(text, cm, tm, _font, _size):
        if text.strip().startswith(("Dye lot", "Owner")):
            found.append((high - (tm[4] * cm[1] + tm[5] * cm[3] + cm[5])) * MM_IN_POINT)

    page.extract_text(visitor_text=look)
    return found


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
@pytest.mark.parametrize("owner", ["Owner the trained member", ""])
def test_the_fullest_label_ends_above_its_edge(sheet, owner):
    crowded = a_label("Cone 123456", yarn=LONG, colour_name=LONG, facts=LONG, owner=owner)
    html = labels_html([crowded] * sheet.labels, sheet, start=1, lines=True, studio="Owner Quayside Weaving Room")
    (page,) = pages_in(render_pdf(html))
    bottoms = [y + float(sheet.high) for _, y in corners(sheet)]
    lines = ends_of_labels(page)
    assert len(lines) >= sheet.labels
    for line in lines:
        edge = min(bottom for bottom in bottoms if bottom > line - 4)
        assert line < edge - 1.2  # room for what hangs below the line


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_a_members_name_stands_on_every_sheet_and_the_studios_whole_or_not_at_all(sheet):
    said = [
        pages_in(render_pdf(labels_html([a_label(owner=owner)], sheet, start=1, lines=False, studio="Quayside Room")))
        for owner in ("the trained member", "")
    ]
    of_member, of_studio = (pages[0].extract_text() for pages in said)
    assert "the trained member" in of_member
    assert ("Quayside Room" in of_studio) == (sheet.key in {"a4-10", "a4-8", "letter-6"})
    assert "Quayside" not in of_studio.replace("Quayside Room", "")


@pytest.mark.django_db
def test_a_label_says_what_the_trade_asks_of_it():
    # Trade habit: number, kind, fineness, gross, tare, net, date, bin (common practice, no source).
    keeper = steward()
    package = a_package(a_yarn(colour_name="madder", grist_text="3360 yd/lb"), dye_lot="29A", bin_name="A4")
    said = label_of(package, weigh_package(package=package, gross_text="425 g", by=keeper).move.made_at, Units.INCH)
    assert said.number == f"Cone {package.pk}"
    assert said.facts == "3360 yd/lb, 6773 m/kg"
    assert (said.dye_lot, said.bin_name) == ("29A", "A4")


@pytest.mark.django_db
def test_a_label_names_fibre_and_count_where_the_name_does_not():
    yarn = a_yarn(name="Harbour", fibre="linen", count_text="16/2", grist_text="2400 yd/lb")
    assert label_of(a_package(yarn), None, Units.METRIC).facts == "linen, 16/2, 4838 m/kg, 2400 yd/lb"


@pytest.mark.django_db
def test_the_net_weight_is_that_of_now_and_gross_and_tare_those_of_the_last_reading():
    keeper, package = steward(), a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    package.refresh_from_db()
    said = label_of(package, None, Units.METRIC)
    # 400 g are 14.11 oz (international pound of 1959: 28.349523125 g to the ounce).
    assert (said.scale, said.net) == ("Gross 525 g, tare 25 g", "Net now 400 g (14.11 oz)")


@pytest.mark.django_db
def test_a_reading_that_was_reversed_is_no_date_for_a_label():
    keeper, package = steward(), a_package()
    received = package.moves.get().made_at
    mistake = weigh_package(package=package, gross_text="42.5 g", by=keeper)
    assert weighed_last([package]) == {package.pk: mistake.move.made_at}
    reverse_move(move=mistake.move, by=keeper)
    assert weighed_last([package]) == {package.pk: received}


@pytest.mark.django_db
def test_the_code_leads_to_the_package_on_the_scale_after_signing_in(settings):
    package = a_package()
    address = f"{settings.BASE_URL}/yarn/scale/{package.pk}/"
    assert label_of(package, None, Units.METRIC).qr == segno.make(address, error="m", micro=False).svg_data_uri(
        border=2, scale=4
    )
    path = address.removeprefix(settings.BASE_URL)
    assert stranger().get(path).url == f"{reverse('sign-in')}?next={path}"
    assert as_(guest()).get(path).context["package"] == package


@pytest.mark.parametrize(
    ("text", "numbers"),
    [("12-14, 31", (12, 13, 14, 31)), ("3 to 4;9", (3, 4, 9)), ("7 – 8  1", (7, 8, 1)), ("5,5", (5,)), ("", ())],
)
def test_numbers_are_read_as_people_write_them(text, numbers):
    assert read_numbers(text) == numbers


@pytest.mark.parametrize(
    ("text", "said"),
    [("9-3", "runs backwards"), ("cone", "is no number"), ("1-2-3", "is no number"), ("1-999999999", "at most 200"),
     ("1-200, 201", "at most 200"), ("-", "is no number"), ("٣", "is no number")],
)  # fmt: skip
def test_what_are_no_numbers_is_said_in_a_sentence(text, said):
    with pytest.raises(ValidationError, match=said):
        read_numbers(text)


@pytest.mark.django_db
def test_each_box_that_is_filled_narrows_the_choice():
    keeper, red = steward(), a_yarn(colour_name="madder")
    first = a_package(red, bin_name="A1")
    second, third = (a_package(bin_name=name) for name in ("A1", "A2"))
    empty = a_package(red, gross_text="25 g", bin_name="A1")

    def chosen(**asked):
        return packages_to_label(LabelQuery(**asked))

    assert keeper.pk
    assert chosen() == ()
    assert chosen(yarn=red) == (first,)
    assert chosen(bin_name="a1") == (first, second)
    assert chosen(bin_name="A1", words="madder") == (first,)
    assert chosen(newest=2) == (second, third)
    assert chosen(numbers=(empty.pk, third.pk)) == (third, empty)


def ask(who, page="yarn-labels", **asked):
    return as_(who).get(reverse(page), asked)


@pytest.mark.django_db
@pytest.mark.parametrize("who", [steward, teacher, trained_member, new_member, guest])
def test_everybody_may_print_labels(who):
    package, reader = a_package(), who()
    assert ask(reader, numbers=package.pk).status_code == 200
    assert ask(reader, "yarn-labels-print", numbers=package.pk).status_code == 200
    answer = ask(reader, "yarn-labels-pdf", numbers=package.pk)
    assert (answer["Content-Type"], answer.content[:5]) == ("application/pdf", b"%PDF-")


@pytest.mark.django_db
@pytest.mark.parametrize("page", ["yarn-labels-pdf", "yarn-labels-print"])
def test_strangers_sign_in_before_they_print(page):
    assert stranger().get(reverse(page)).url.startswith(reverse("sign-in"))


@pytest.mark.django_db
@pytest.mark.parametrize("page", ["yarn-labels-pdf", "yarn-labels-print"])
@pytest.mark.parametrize("asked", [{}, {"numbers": "9-3"}, {"numbers": "999999"}, {"numbers": "1", "sheet": "granite"}])
def test_what_cannot_be_printed_leads_back_to_the_choice(page, asked):
    answer = ask(guest(), page, **asked)
    assert answer.status_code == 302
    assert answer.url.startswith(reverse("yarn-labels"))


@pytest.mark.django_db
def test_a_mistake_is_said_beside_its_box_and_what_was_typed_stays():
    page = ask(guest(), numbers="cone twelve", start="25", sheet="a4-24").content.decode()
    assert "“cone” is no number. Write numbers such as 12-20, 31." in page
    assert "This sheet has 24 labels." in page
    assert 'value="cone twelve"' in page


@pytest.mark.django_db
def test_too_many_labels_are_refused_in_words(monkeypatch):
    for _ in range(3):
        a_package(bin_name="A1")
    monkeypatch.setattr("inventory.labels.selectors.MOST_LABELS", 2)
    monkeypatch.setattr(label_views, "MOST_LABELS", 2)
    assert MOST_LABELS > 3
    assert "At most 2 labels are made at once." in ask(guest(), bin_name="A1").content.decode()
    assert ask(teacher(), "yarn-labels-pdf", bin_name="A1").status_code == 302


@pytest.mark.django_db
@pytest.mark.parametrize(("paper", "first"), [("A4", "a4-24"), ("Letter", "letter-30")])
def test_the_first_sheet_is_of_the_readers_paper(paper, first):
    package = a_package()
    reader = new_member()
    Member.objects.update(paper=paper)
    page = ask(reader, "yarn-labels-print", numbers=package.pk).content.decode()
    assert f"sheet-{first} " in page


@pytest.mark.django_db
def test_without_pango_the_print_page_stays_and_the_pdf_says_what_mends_it(monkeypatch):
    package, reader = a_package(), guest()

    def refuse(_html):
        raise PaperUnavailable("paper_unavailable", "This computer cannot make PDFs yet.")

    monkeypatch.setattr(label_views, "render_pdf", refuse)
    answer = as_(reader).get(reverse("yarn-labels-pdf"), {"numbers": package.pk}, follow=True)
    assert "This computer cannot make PDFs yet." in answer.content.decode()
    assert f"Cone {package.pk}" in ask(reader, "yarn-labels-print", numbers=package.pk).content.decode()


@pytest.mark.django_db
@pytest.mark.parametrize("rows", [10, 60])
def test_many_labels_ask_as_often_as_few(rows, django_assert_num_queries):
    for number in range(rows):
        a_package(a_yarn(colour_name=f"{number}"), bin_name="A1")
    browser = as_(guest())
    asked = {"bin_name": "A1"}
    browser.get(reverse("yarn-labels"), asked)
    with django_assert_num_queries(5):  # session, user, member, rules; the packages
        browser.get(reverse("yarn-labels"), asked)
    with django_assert_num_queries(6):  # and when they were weighed
        browser.get(reverse("yarn-labels-print"), asked)
