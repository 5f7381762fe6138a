"""Import and export: what went out comes back the same, hostile files change nothing, and nothing is kept unasked."""

import os
import re
import zipfile
from datetime import timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory.files import services as file_services
from inventory.files.selectors import HEADINGS
from inventory.files.services import import_file
from inventory.files.spreadsheets import read_table, write_table
from inventory.ledger.quarantine import quarantine
from inventory.ledger.selectors import ledger_faults
from inventory.ledger.taking import issue_yarn
from inventory.ledger.weighing import weigh_package
from inventory.models import FileSent, Move, Package, Yarn
from inventory.shelf.services import PackageFacts, correct_package
from studio.errors import StudioError
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.files.hostile_files import HEAD, REFUSED, SHEET, WRONG_ROWS, a_book, changed, csv_row
from tests.inventory.stock import a_package, a_yarn, promise

pytestmark = pytest.mark.django_db
EVERYBODY = (guest, new_member, trained_member, teacher, steward)
MAY_EDIT = {trained_member, teacher, steward}
TRIES = int(os.environ.get("TRY_FILES", "100"))
PAGE = reverse("yarn-file")
PIECES = [b'"', b",", b"\r\n", b"=", b"\x00", b"</c>", b't="d"', b"<f>1+1</f>", b"9" * 20]


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def book():
    """Give all that a file could change."""
    return [list(model.objects.order_by("pk").values()) for model in (Yarn, Package, Move)]


def send(browser, content, name="donation.csv", unit="g"):
    return browser.post(PAGE, {"file": SimpleUploadedFile(name, content), "mass_unit": unit})


def shown(browser, content, **known):
    """Send a file that can be read, and give the page that shows it with its address."""
    answer = send(browser, content, **known)
    assert answer.status_code == 302, text_of(answer)
    return browser.get(answer.url), answer.url


def keep(browser, content, what="all", **known):
    """Send a file, look at it and say yes; give what the page after that says."""
    page, address = shown(browser, content, **known)
    answer = browser.post(address, {"seen": page.context["plan"].mark, "what": what})
    return text_of(browser.get(answer.url))


def outcomes(page):
    return [row.outcome for row in page.context["plan"].rows]


def down(browser, kind="csv"):
    return browser.get(reverse(f"yarn-file-{kind}")).content


def rows_of(content, kind="csv"):
    table = read_table(content, kind)
    return [dict(zip(table.headings, line.cells, strict=True)) for line in table.lines]


def a_file(*rows):
    """Give a CSV of rows as the download writes them, some cells changed."""
    heads = list(HEADINGS.values())
    return write_table(heads, [[row.get(head, "") for head in heads] for row in rows], "csv")


@pytest.fixture
def keeper():
    return trained_member("the keeper", units="metric")


@pytest.fixture
def desk(keeper):
    return as_(keeper)


@pytest.fixture
def shelf(keeper):
    """Give a shelf with all that makes a file hard: formulas, quotes, ounces, members' own, promises."""
    yarn = a_yarn(notes="kept by no file", wraps_text="28 /in")
    a_yarn(name="=cmd|' /C calc'!A0", colour_name="'=quoted", grist_text="3360 yd/lb", count_text="")
    a_yarn()  # a second yarn of the same name
    plain = a_package(yarn, dye_lot="21B", bin_name="A1")
    a_package(yarn, gross_text="18.5 oz", tare_text="", notes='says "8/2", or so; then\na line', dye_lot="=1+1")
    a_package(yarn, notes="a bell \x07 and a tab\tinside", bin_name="-3", owner=keeper)
    a_package(yarn, bin_name="@home", dye_lot="+49", source="left_over", kind="tube", received_on="2026-03-02")
    silent = a_package(yarn)
    Package.objects.filter(pk=silent.pk).update(gross_text="", tare_text="", gross_g="109.000000000001")
    issue_yarn(package=plain, by=keeper, mass_g=84)
    promise(plain, 10, keeper)
    quarantine(package=plain, by=keeper)
    return plain


class TestRights:
    @pytest.mark.parametrize("who", EVERYBODY)
    @pytest.mark.parametrize("page", ["yarn-file", "yarn-file-csv", "yarn-file-xlsx"])
    def test_only_those_who_may_edit_yarn_have_files(self, who, page):
        assert as_(who()).get(reverse(page)).status_code == (200 if who in MAY_EDIT else 403)

    @pytest.mark.parametrize("who", [guest, new_member])
    def test_the_others_can_send_none(self, who):
        a_yarn()
        assert send(as_(who()), csv_row()).status_code == 403
        assert not FileSent.objects.exists()

    @pytest.mark.parametrize("page", ["yarn-file", "yarn-file-csv"])
    def test_strangers_are_sent_to_sign_in(self, page):
        assert stranger().get(reverse(page)).url.split("?")[0] == reverse("sign-in")

    def test_a_file_is_its_members_alone(self, desk):
        a_yarn()
        page, address = shown(desk, csv_row())
        other = as_(steward())
        assert other.get(address).status_code == 404
        assert other.post(address, {"seen": page.context["plan"].mark, "what": "all"}).status_code == 404
        assert not Package.objects.exists()

    def test_a_file_that_was_never_sent_is_not_found(self, desk):
        assert desk.get(reverse("yarn-file-seen", args=["a" * 32])).status_code == 404


class TestThereAndBack:
    @pytest.mark.parametrize("kind", ["csv", "xlsx"])
    @pytest.mark.usefixtures("shelf")
    def test_a_file_sent_back_unchanged_changes_nothing(self, desk, kind):
        before, content = book(), down(desk, kind)
        page, address = shown(desk, content, name=f"packages.{kind}")
        assert set(outcomes(page)) == {"same"}
        assert "there is nothing to keep" in text_of(page)
        desk.post(address, {"seen": page.context["plan"].mark, "what": "all"})
        assert book() == before

    @pytest.mark.usefixtures("shelf")
    def test_the_second_download_is_the_first_byte_by_byte(self, desk):
        first = down(desk)
        keep(desk, first)
        assert down(desk) == first

    @pytest.mark.usefixtures("shelf")
    def test_a_workbook_holds_the_same_cells_the_second_time_and_the_same_as_the_csv(self, desk):
        first = down(desk, "xlsx")
        keep(desk, first, name="packages.xlsx")
        assert rows_of(down(desk, "xlsx"), "xlsx") == rows_of(first, "xlsx") == rows_of(down(desk))

    def test_what_came_in_by_file_goes_out_and_comes_back_unchanged(self, desk):
        a_yarn()
        keep(desk, csv_row(Notes="'=1+1", **{"Received on": "2026-03-02"}))
        page, _ = shown(desk, down(desk))
        assert outcomes(page) == ["same"]
        assert Package.objects.get().notes == "=1+1"

    @pytest.mark.usefixtures("shelf")
    def test_the_order_of_the_columns_is_free_and_some_may_be_missing(self, desk):
        rows = rows_of(down(desk))
        heads = ["Row mark", "Bin", "Package"]
        content = write_table(heads, [[row[head] for head in heads] for row in rows if row["Package"]], "csv")
        page, _ = shown(desk, content)
        assert set(outcomes(page)) == {"same"}

    def test_the_download_asks_the_same_however_much_there_is(self, desk, django_assert_num_queries):
        yarn = a_yarn()
        for many in (10, 50):
            for _ in range(many):
                a_package(yarn)
            with django_assert_num_queries(5):  # session, user, member; packages, yarns without any
                down(desk)

    def test_the_page_asks_the_same_however_many_rows_there_are(self, desk, django_assert_num_queries):
        a_yarn()
        for many in (10, 60):
            _, address = shown(desk, HEAD.encode() + b"8/2 cotton,natural,,525 g,25 g,N1\r\n" * many)
            with django_assert_num_queries(
                9
            ):  # session, user, member, rules; file, packages, yarns, people, kept before
                desk.get(address)


class TestComingIn:
    def test_a_donation_comes_in_with_its_moves(self, desk, keeper):
        yarn = a_yarn()
        rows = b"8/2 cotton,natural,,525 g,25 g,N1\r\n8/2 Cotton,Natural,,18.5 oz,0.9 oz,N2\r\n"
        said = keep(desk, HEAD.encode() + rows)
        # 17.6 oz of 28.349523125 g (international agreement of 1959).
        assert list(Move.objects.values_list("kind", "on_hand_ug", "made_by")) == [
            ("receive", 500_000_000, keeper.pk), ("receive", 498_951_607, keeper.pk),
        ]  # fmt: skip
        assert set(Package.objects.values_list("yarn", "source")) == {(yarn.pk, "donated")}
        assert "Kept: 2 new packages." in said
        assert ledger_faults() == ()

    def test_a_bare_weight_is_in_the_unit_that_was_chosen(self, desk):
        a_yarn()
        page, address = shown(desk, csv_row(**{"Gross weight": "18.5", "Tare": "0.9 oz"}), unit="oz")
        assert "18.5 oz" in text_of(page)
        desk.post(address, {"seen": page.context["plan"].mark, "what": "all"})
        assert Package.objects.values_list("gross_text", "tare_text").get() == ("18.5 oz", "0.9 oz")

    def test_a_bare_weight_among_other_units_is_asked_about_and_not_guessed(self, desk):
        a_yarn()
        content = (HEAD + "8/2 cotton,natural,,525 g,25 g,N1\r\n8/2 cotton,natural,,412,0,N2\r\n").encode()
        page, _ = shown(desk, content, unit="oz")
        assert outcomes(page) == ["new", "wrong"]
        ((heading, words),) = page.context["plan"].rows[1].wrong
        assert heading == "Gross weight"
        assert words.startswith("“412” has no unit, and this file has weights in g where oz was chosen.")
        assert outcomes(shown(desk, content, unit="g")[0]) == ["new", "new"]

    def test_a_fault_of_one_row_is_not_said_of_the_next_rows_of_that_yarn(self, desk):
        head = "Yarn,Colour,Fibre,Count,Yards per pound / metres per kilogram,Gross weight\r\n"
        rows = "16/2 linen,moss,flux,16/2 linen,,525 g\r\n16/2 linen,moss,linen,,,412 g\r\n"
        page, _ = shown(desk, (head + rows).encode())
        assert [dict(row.wrong).keys() for row in page.context["plan"].rows] == [{"Fibre"}, set()]
        rows = "quay,moss,,trade name,,525 g\r\nquay,moss,,,far,525 g\r\nquay,moss,,,2400 yd/lb,412 g\r\n"
        page, _ = shown(desk, (head + rows).encode())
        assert [dict(row.wrong).keys() for row in page.context["plan"].rows] == [
            set(),
            {"Yards per pound / metres per kilogram"},
            set(),
        ]

    def test_all_faults_of_a_row_are_said_at_once(self, desk):
        head = "Yarn,Fibre,Count,Gross weight,Tare,Bin,Received on,Source,Kind\r\n"
        row = f"new,flux,,heavy,much,{'B' * 41},soon,gift shop,box\r\n"
        page, _ = shown(desk, (head + row).encode())
        (read,) = page.context["plan"].rows
        assert {heading for heading, _ in read.wrong} == {
            "Fibre", "Count", "Gross weight", "Tare", "Bin", "Received on", "Source", "Kind",
        }  # fmt: skip

    def test_columns_that_are_not_there_are_shown_as_none(self, desk):
        a_yarn()
        page, _ = shown(desk, b"Yarn,Gross weight\r\n8/2 cotton,525 g\r\n")
        assert "None" not in page.content.decode()

    def test_keeping_in_a_second_tab_says_once_that_it_was_kept(self, desk):
        a_yarn()
        page, address = shown(desk, csv_row())
        said = {"seen": page.context["plan"].mark, "what": "all"}
        desk.get(desk.post(address, said).url)
        told = text_of(desk.get(desk.post(address, said).url, follow=True))
        assert told.count("kept already") == 1
        assert "Kept: 1 new package." in told
        assert "waited longer" not in told

    def test_a_new_yarn_is_written_once_for_all_its_rows(self, desk):
        rows = "16/2 linen,moss,16/2 linen,262 g,42 g,N3\r\n16/2 linen,moss,,250 g,42 g,N3\r\n"
        said = keep(desk, (HEAD + rows).encode())
        assert Yarn.objects.get().packages.count() == 2
        assert "2 new packages and 1 new yarn" in said

    def test_two_rows_that_say_otherwise_of_one_new_yarn_are_not_guessed(self, desk):
        rows = "16/2 linen,moss,16/2 linen,262 g,42 g,N3\r\n16/2 linen,moss,16/1 linen,250 g,42 g,N3\r\n"
        page, _ = shown(desk, (HEAD + rows).encode())
        assert outcomes(page) == ["new", "wrong"]
        assert "Another row of this file says “16/2 linen”" in text_of(page)

    def test_a_new_yarn_of_bad_rows_alone_is_not_written(self, desk):
        a_yarn()
        rows = "8/2 cotton,natural,,525 g,25 g,N1\r\n16/2 linen,moss,16/2 linen,heavy,42 g,N3\r\n"
        keep(desk, (HEAD + rows).encode(), what="good")
        assert (Package.objects.count(), Yarn.objects.count()) == (1, 1)

    def test_a_yarn_alone_is_written_into_the_book(self, desk):
        keep(desk, (HEAD + "16/2 linen,moss,16/2 linen,,,\r\n").encode())
        assert Yarn.objects.get().fibre == "other"
        assert not Package.objects.exists()

    def test_two_yarns_of_one_name_are_told_apart_by_their_number(self, desk):
        _, second = a_yarn(), a_yarn()
        page, _ = shown(desk, csv_row())
        assert "give the yarn number" in text_of(page)
        keep(desk, csv_row(**{"Yarn number": second.pk}))
        assert Package.objects.get().yarn == second

    def test_two_yarns_of_one_name_are_told_apart_by_what_else_is_said(self, desk):
        a_yarn()
        linen = a_yarn(fibre="linen", count_text="16/2 linen")
        keep(desk, csv_row(Fibre="Linen"))
        assert Package.objects.get().yarn == linen

    def test_it_belongs_to_the_member_that_is_named(self, desk, keeper):
        a_yarn()
        keep(desk, csv_row(**{"Belongs to": "The Keeper"}))
        assert Package.objects.get().owner == keeper

    def test_two_members_of_one_name_are_not_guessed(self, desk):
        a_yarn()
        for _ in "ab":
            other = new_member(f"weaver {_}")
            other.name = "weaver"
            other.save()
        page, _ = shown(desk, csv_row(**{"Belongs to": "weaver"}))
        assert "More than one member is called so" in text_of(page)

    def test_wool_reminds_of_quarantine(self, desk):
        a_yarn(name="2/8 wool", fibre="wool")
        assert "Wool or silk is in 1 of the new packages" in keep(desk, csv_row(Yarn="2/8 wool"))

    def test_good_rows_are_kept_only_where_that_was_chosen(self, desk):
        a_yarn()
        content = (HEAD + "8/2 cotton,natural,,525 g,25 g,N1\r\n,,,525 g,25 g,N1\r\n").encode()
        assert "Some rows cannot be kept" in keep(desk, content, what="all")
        assert not Package.objects.exists()
        assert "Kept: 1 new package." in keep(desk, content, what="good")
        assert Package.objects.count() == 1

    def test_a_second_yes_keeps_nothing_more(self, desk):
        a_yarn()
        page, address = shown(desk, csv_row())
        for _ in "ab":
            answer = desk.post(address, {"seen": page.context["plan"].mark, "what": "all"})
        desk.get(answer.url)
        assert Package.objects.count() == 1

    def test_the_same_file_again_is_warned_of(self, desk):
        a_yarn()
        keep(desk, csv_row())
        page, _ = shown(desk, csv_row())
        assert "This very file was kept on" in text_of(page)
        assert "Keep all a second time" in text_of(page)

    def test_strange_columns_are_named(self, desk):
        a_yarn()
        page, _ = shown(desk, csv_row(Shop="=1+1"))
        assert "These columns are not read, since no heading here is called so: “Shop”" in text_of(page)
        assert outcomes(page) == ["new"]

    def test_more_than_may_come_in_at_once_is_said(self, desk, monkeypatch):
        a_yarn()
        monkeypatch.setattr(file_services, "MOST_AT_ONCE", 1)
        rows = "8/2 cotton,natural,,525 g,25 g,N1\r\n" * 2
        assert "Part the file" in keep(desk, (HEAD + rows).encode())
        assert not Package.objects.exists()

    def test_a_refusal_on_the_way_undoes_all(self, desk, monkeypatch):
        a_yarn()
        before, real, calls = book(), file_services.receive_package, []

        def second_fails(**known):
            calls.append(known)
            if len(calls) == 2:
                raise StudioError("no", "Not this one.")
            return real(**known)

        monkeypatch.setattr(file_services, "receive_package", second_fails)
        rows = "8/2 cotton,natural,,525 g,25 g,N1\r\n" * 2
        assert "Not this one." in keep(desk, (HEAD + rows).encode())
        assert book() == before
        assert FileSent.objects.get().content is not None

    def test_rows_are_shown_by_the_hundred_and_by_what_they_do(self, desk):
        a_yarn()
        rows = "8/2 cotton,natural,,525 g,25 g,N1\r\n" * 101 + ",,,525 g,,\r\n"
        page, address = shown(desk, (HEAD + rows).encode())
        assert "1 to 100 of 102 rows" in text_of(page)
        pages = [desk.get(address, {"show": show}).context["page"] for show in ("wrong", "good")]
        assert [page.paginator.count for page in pages] == [1, 101]
        assert desk.get(address, {"page": "x", "show": "x"}).status_code == 200


class TestPuttingRight:
    def change(self, desk, package, **cells):
        (row,) = (row for row in rows_of(down(desk)) if row["Package"] == str(package.pk))
        return a_file({**row, **cells})

    def test_a_bin_a_dye_lot_and_notes_are_put_right_without_a_move(self, desk, shelf):
        before = Move.objects.count()
        content = self.change(desk, shelf, Bin="B7", Notes="moved", **{"Dye lot": "", "Received on": "2026-03-02"})
        page, _ = shown(desk, content)
        assert "Bin: A1 becomes B7" in text_of(page)
        assert "Dye lot: 21B becomes empty" in text_of(page)
        keep(desk, content)
        shelf.refresh_from_db()
        assert (shelf.bin_name, shelf.dye_lot, shelf.notes, str(shelf.received_on)) == ("B7", "", "moved", "2026-03-02")
        assert Move.objects.count() == before
        assert ledger_faults() == ()

    @pytest.mark.parametrize(
        ("cells", "words"),
        [
            ({"Gross weight": "500 g"}, "change at the scale"),
            ({"Tare": "20 g"}, "change at the scale"),
            ({"On hand": "1 g"}, "change at the scale"),
            ({"Belongs to": "the keeper"}, "changes on the package’s page"),
            ({"Kind": "tube"}, "changes on the package’s page"),
            ({"Yarn": "8/4 cotton"}, "changes on the yarn’s page"),
            ({"Yarn number": "1"}, "changes on the yarn’s page"),
            ({"Colour": "madder"}, "changes on the yarn’s page"),
            ({"Count": "8/4 cotton"}, "changes on the yarn’s page"),
            ({"Row mark": ""}, ""),
            ({"Bin": "B7", "Row mark": ""}, "need the mark"),
            ({"Bin": "B7", "Row mark": "0" * 12}, "has changed about this package"),
            ({"Bin": "x" * 41}, "at most 40 characters"),
            ({"Source": ""}, "Missing; the book says"),
            ({"Received on": "yesterday"}, "is not a day"),
            ({"Received on": "0001-01-01"}, "No package here came before 1900"),
            ({"Received on": "9999-12-31"}, "That day has not come yet"),
        ],
    )
    def test_what_the_ledger_keeps_no_file_changes(self, desk, cells, words):
        package = a_package()
        a_yarn()
        if cells.get("Yarn number"):
            cells = {"Yarn number": str(Yarn.objects.last().pk)}
        before, content = book(), self.change(desk, package, **cells)
        page, address = shown(desk, content)
        assert words in text_of(page)
        desk.post(address, {"seen": page.context["plan"].mark, "what": "good"})
        assert book() == before

    def test_a_file_of_yesterday_does_not_undo_what_was_weighed_today(self, desk, keeper):
        package = a_package(bin_name="A1")
        content = self.change(desk, package, Bin="B7")
        weigh_package(package=package, gross_text="425 g", by=keeper)
        page, _ = shown(desk, content)
        assert outcomes(page) == ["wrong"]
        assert "Download it anew" in text_of(page)

    def test_what_changes_between_the_look_and_the_yes_is_looked_at_again(self, desk, keeper):
        package = a_package(bin_name="A1")
        page, address = shown(desk, self.change(desk, package, Bin="B7"))
        facts = PackageFacts(gross_text="525 g", tare_text="25 g", bin_name="C1")
        correct_package(package=package, facts=facts, by=keeper)
        answer = desk.post(address, {"seen": page.context["plan"].mark, "what": "all"})
        assert answer.url == address
        assert "Look at it again" in text_of(desk.get(address))
        assert Package.objects.get().bin_name == "C1"

    def test_a_package_in_two_rows_is_in_neither(self, desk):
        package = a_package()
        (row,) = rows_of(down(desk))
        page, _ = shown(desk, a_file(row, {**row, "Package": f"0{package.pk}", "Bin": "B7"}))
        assert outcomes(page) == ["wrong", "wrong"]
        assert f"Package {package.pk} stands in the rows 2 and 3." in text_of(page)

    def test_a_yarn_that_is_there_changes_on_its_page(self, desk):
        yarn = a_yarn()
        (row,) = rows_of(down(desk))
        page, _ = shown(desk, a_file({**row, "Count": "8/4 cotton"}))
        assert outcomes(page) == ["wrong"]
        assert Yarn.objects.get() == yarn


class TestHostile:
    @pytest.mark.parametrize("content", REFUSED.values(), ids=REFUSED.keys())
    def test_a_file_that_is_no_list_is_refused_with_a_sentence(self, desk, content):
        a_yarn()
        before, answer = book(), send(desk, content)
        assert answer.status_code == 422
        assert answer.context["form"].errors["file"]
        assert book() == before
        assert not FileSent.objects.exists()

    @pytest.mark.parametrize(("content", "words"), WRONG_ROWS.values(), ids=WRONG_ROWS.keys())
    def test_a_row_that_cannot_be_kept_says_why_and_changes_nothing(self, desk, content, words):
        a_yarn()
        before = book()
        page, address = shown(desk, content)
        assert outcomes(page) == ["wrong"]
        assert words in text_of(page)
        for what in ("good", "all", "everything", ""):
            desk.post(address, {"seen": page.context["plan"].mark, "what": what})
        assert book() == before

    @pytest.mark.parametrize(
        "name", ["../../etc/passwd", "x" * 400 + ".csv", "<script>alert(1)</script>.csv", "a\r\nb.csv", "ü.xlsx"]
    )
    def test_a_name_is_only_shown(self, desk, name):
        a_yarn()
        page, _ = shown(desk, csv_row(), name=name)
        assert "<script>alert" not in page.content.decode()

    def test_what_a_file_is_its_content_says_and_not_its_name(self, desk):
        a_yarn()
        page, _ = shown(desk, a_book([("8/2 cotton", "natural", None, "525 g", "25 g", "N1")]), name="list.csv")
        assert outcomes(page) == ["new"]

    def test_words_of_a_file_are_never_markup(self, desk):
        page, _ = shown(desk, csv_row(Yarn="<script>alert(1)</script>", Bin="<b>"))
        assert "<script>alert" not in page.content.decode()

    @pytest.mark.parametrize("seen", ["", "0" * 64, "\x00", "x" * 10_000])
    def test_a_yes_to_what_was_not_seen_keeps_nothing(self, desk, seen):
        a_yarn()
        _, address = shown(desk, csv_row())
        assert desk.post(address, {"seen": seen, "what": "all"}).status_code == 302
        assert not Package.objects.exists()

    def test_a_file_waits_an_hour_and_no_longer(self, desk):
        a_yarn()
        page, address = shown(desk, csv_row())
        FileSent.objects.update(sent_at=timezone.now() - timedelta(hours=2))
        assert desk.get(address).url == PAGE
        desk.post(address, {"seen": page.context["plan"].mark, "what": "all"})
        assert not Package.objects.exists()
        shown(desk, csv_row())
        assert FileSent.objects.count() == 1  # the old one was let go

    def test_few_files_of_one_member_wait(self, desk):
        a_yarn()
        for number in range(5):
            shown(desk, csv_row(Bin=str(number)))
        assert FileSent.objects.count() == 3

    def test_the_service_keeps_no_file_of_another(self, desk):
        a_yarn()
        page, _ = shown(desk, csv_row())
        with pytest.raises(FileSent.DoesNotExist):
            import_file(sent=FileSent.objects.get(), by=steward(), seen=page.context["plan"].mark, good_only=False)

    @pytest.mark.parametrize("part", ["csv", "xlsx", "sheet"])
    @pytest.mark.usefixtures("shelf")
    def test_a_file_with_some_of_it_changed_is_read_or_refused_and_never_breaks(self, desk, part):
        whole, before = down(desk, "csv" if part == "csv" else "xlsx"), book()
        sound = whole if part != "sheet" else zipfile.ZipFile(BytesIO(whole)).read(SHEET)

        @given(data=st.data())
        @settings(max_examples=TRIES // (1 if part == "csv" else 2), suppress_health_check=list(HealthCheck))
        def walk(data):
            content = bytearray(sound)
            for _ in range(data.draw(st.integers(1, 4))):
                at = data.draw(st.integers(0, len(content) - 1))
                piece = data.draw(st.one_of(st.binary(max_size=4), st.sampled_from(PIECES)))
                content[at : at + data.draw(st.integers(0, 3))] = piece
            answer = send(desk, bytes(content) if part != "sheet" else changed(whole, **{SHEET: bytes(content)}))
            assert answer.status_code in {302, 422}
            if answer.status_code == 302:
                assert desk.get(answer.url).status_code == 200
            assert book() == before

        walk()
