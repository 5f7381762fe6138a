"""Pages of the intake: who may, what was written, what comes back with mistakes, and the photo's own address."""

import re
from io import BytesIO

import pytest
from django.core.files.storage import default_storage
from django.urls import reverse
from PIL import Image

from inventory.intake.forms import EmptyForm, IntakeForm, weight_lines
from inventory.intake.photo_services import file_of
from inventory.intake.services import add_to_stock, weigh_empty
from inventory.models import Arrival, Package, PackagePhoto, Photo, Tare, TareWeighing, Yarn
from inventory.shelf.services import PackageFacts
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.photos import GPS, a_phones_photo, sent
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db

EVERYBODY = (guest, new_member, trained_member, teacher, steward)
MAY_EDIT = {trained_member, teacher, steward}
LIST_QUERIES = 8  # session, user, member, rules; how many wait, their weight, those shown, those thrown out
NEW_YARN = {
    "new": "yes", "new-name": "4/8 cotton", "new-fibre": "cotton", "new-colour": "#6d4c37",
    "new-count_text": "8/4 cotton",
}  # fmt: skip


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def typed(browser=None, **known):
    """Give what a phone sends for a cone of 525 g, with the stamp of the form it was shown."""
    start = {"stamp": "a" * 32, "gross_text": "525", "unit": "g", "core": "cone", "source": "donated", "bin_name": "N1"}
    return {**start, **known}


def arrive(by, *grosses, **known):
    facts = PackageFacts(**{"gross_text": "", "tare_text": "25 g", "bin_name": "N1", "source": "donated", **known})
    return add_to_stock(facts=facts, grosses=grosses or ["525 g"], by=by).arrivals


@pytest.fixture
def by():
    return trained_member("the one at the desk", units="metric")


@pytest.fixture
def desk(by):
    return as_(by)


def take(browser, **known):
    """Send a cone that must be taken in, and give what the next page says."""
    answer = browser.post(reverse("intake"), typed(**known))
    assert answer.status_code == 302, text_of(answer)
    return text_of(browser.get(answer.url))


class TestRights:
    @pytest.mark.parametrize("who", EVERYBODY)
    @pytest.mark.parametrize("page", ["intake", "name-them", "arrival-out", "package-photo", "weighing-left-out"])
    def test_only_those_who_may_edit_yarn_take_it_in(self, who, page, by):
        arrival, package = arrive(by)[0], a_package()
        weighing = weigh_empty(kind="cone", name="cone", weight_text="25 g", by=by)
        keys = {"arrival-out": arrival.pk, "package-photo": package.pk, "weighing-left-out": weighing.pk}
        address = reverse(page, args=[keys[page]] if page in keys else [])
        answer = as_(who()).post(address, {"arrival": arrival.pk, "out": "yes"})
        assert (answer.status_code == 403) == (who not in MAY_EDIT)

    @pytest.mark.parametrize("who", EVERYBODY)
    @pytest.mark.parametrize("page", ["not-named", "empties"])
    def test_everybody_of_the_studio_sees_what_waits_and_what_empties_weigh(self, who, page, by):
        arrive(by)
        assert as_(who()).get(reverse(page)).status_code == 200

    @pytest.mark.parametrize("who", EVERYBODY)
    def test_an_empty_is_weighed_by_those_who_may(self, who):
        as_(who()).post(reverse("empties"), {"kind": "cone", "name": "cone", "weight_text": "25 g"})
        assert Tare.objects.exists() == (who in MAY_EDIT)

    @pytest.mark.parametrize("page", ["intake", "not-named", "name-them", "empties"])
    def test_strangers_are_sent_to_sign_in(self, page):
        assert stranger().get(reverse(page)).url.split("?")[0] == reverse("sign-in")

    @pytest.mark.parametrize("who", [trained_member, teacher, steward])
    def test_quarantine_is_offered_to_those_who_may_put_something_there(self, who):
        shown = as_(who()).get(reverse("intake")).content.decode()
        assert ("to_quarantine" in shown) == (who is not trained_member)


class TestACone:
    def test_a_photo_and_a_weight_are_enough(self, desk):
        shown = take(desk, photo=sent(), bin_name="")
        arrival = Arrival.objects.get()
        assert (arrival.gross_text, arrival.tare_text, arrival.source) == ("525 g", "", "donated")
        assert arrival.photo is not None
        assert f"{arrival} waits for its name: a cone, 525 g with the empty, whose weight is not known." in shown
        assert f"Write {arrival} on it." in shown
        assert "Unidentified yarn (1)" in shown

    def test_the_next_cone_has_all_but_photo_and_weight(self, desk, by):
        weigh_empty(kind="tube", name="plastic tube", weight_text="42 g", by=by)
        core = f"t{Tare.objects.get().pk}"
        answer = desk.post(reverse("intake"), typed(core=core, unit="oz", source="bought", owner=by.pk, dye_lot="21B"))
        form = desk.get(answer.url).context["form"]
        kept = {name: form[name].value() for name in ("core", "unit", "bin_name", "source", "owner", "dye_lot")}
        assert kept == {
            "core": core, "unit": "oz", "bin_name": "N1", "source": "bought", "owner": str(by.pk), "dye_lot": "21B",
        }  # fmt: skip
        assert not form["gross_text"].value()

    def test_a_known_empty_says_kind_and_tare(self, desk, by):
        for weight in ("42 g", "43 g"):
            weigh_empty(kind="tube", name="plastic tube", weight_text=weight, by=by)
        shown = take(desk, core=f"t{Tare.objects.get().pk}", gross_text="542.5")
        arrival = Arrival.objects.get()
        assert (arrival.kind, arrival.tare_text) == ("tube", "42.5 g")  # by hand: (42 + 43) / 2
        assert "a tube, 500 g of yarn" in shown

    def test_a_tare_is_typed_where_no_empty_is_known(self, desk):
        take(desk, core="pirn", tare_text="25")
        assert Arrival.objects.values_list("kind", "tare_text").get() == ("pirn", "25 g")

    def test_several_like_it_are_weighed_each_by_itself(self, desk):
        shown = take(desk, others="530, 519\n18.5 oz\n", tare_text="25", photo=sent())
        assert list(Arrival.objects.values_list("gross_text", flat=True)) == ["525 g", "530 g", "519 g", "18.5 oz"]
        assert Photo.objects.count() == 1
        names = [str(one) for one in Arrival.objects.order_by("pk")]
        assert f"Write {', '.join(names[:3])} and {names[3]} on them" in shown

    def test_a_unit_at_the_end_of_a_line_is_that_of_the_whole_line(self, desk):
        take(desk, unit="oz", gross_text="525, 530, 519 g")
        assert list(Arrival.objects.values_list("gross_text", flat=True)) == ["525 g", "530 g", "519 g"]

    def test_a_decimal_comma_is_no_separator(self, desk):
        take(desk, gross_text="525,5")
        assert Arrival.objects.get().gross_g == pytest.approx(525.5)

    def test_a_yarn_that_is_known_is_a_package_at_once(self, desk):
        yarn = a_yarn()
        shown = take(desk, yarn_words="8/2 cotton, natural", tare_text="25", photo=sent())
        package = Package.objects.get()
        assert (package.yarn, package.on_hand_ug, package.moves.count()) == (yarn, 500_000_000, 1)
        assert f"Cone {package.pk} of {yarn} is on the shelf: 500 g of yarn. Write {package.pk} on it." in shown
        assert package.pictured.photo == Photo.objects.get()
        assert not Arrival.objects.exists()

    def test_several_of_a_known_yarn_say_their_numbers_in_the_order_of_the_scale(self, desk):
        a_yarn()
        shown = take(desk, yarn_words="8/2 cotton", others="530", tare_text="25")
        first, second = Package.objects.order_by("pk")
        said = (
            f"2 cones of 8/2 cotton, natural are on the shelf: 1005 g of yarn. Write {first.pk} and {second.pk} on them"
        )
        assert said in shown

    def test_wool_reminds_of_quarantine(self, desk):
        a_yarn(name="2/8 wool", fibre="wool")
        assert "A teacher or a steward writes it into quarantine." in take(desk, yarn_words="2/8 wool")

    def test_who_may_is_led_to_quarantine_and_cotton_is_let_be(self):
        a_yarn(name="2/8 wool", fibre="wool")
        a_yarn()
        browser = as_(steward())
        assert "Into quarantine: cone" in take(browser, yarn_words="2/8 wool")
        assert "moths" not in take(browser, yarn_words="8/2 cotton", stamp="b" * 32).split("Take care")[0]

    def test_wool_goes_there_at_once(self):
        a_yarn(name="2/8 wool", fibre="wool")
        shown = take(as_(steward()), yarn_words="2/8 wool", to_quarantine="on")
        assert Package.objects.get().quarantined
        assert "may bring moths" not in shown

    def test_pressed_twice_it_is_taken_in_once(self, desk):
        first, second = take(desk), take(desk)
        assert Arrival.objects.count() == 1
        assert "kept once" in second
        assert "kept once" not in first

    def test_each_page_has_a_stamp_of_its_own(self, desk):
        stamps = {
            re.search(r'name="stamp" value="(\w+)"', desk.get(reverse("intake")).content.decode())[1] for _ in "ab"
        }
        assert len(stamps) == 2


BAD = {
    "no weight": ({"gross_text": ""}, "Weigh the package as it is"),
    "words for a weight": ({"gross_text": "heavy"}, "is not a number"),
    "nothing at all": ({"gross_text": "0"}, "more than nothing"),
    "less than nothing": ({"gross_text": "-5"}, "more than nothing"),
    "a tonne": ({"gross_text": "2000 kg"}, "No package weighs a tonne"),
    "a comma that parts thousands": ({"gross_text": "1,200"}, "Write 1200 or 1.2"),
    "another unit": ({"gross_text": "5 yd"}, "is not a unit of mass"),
    "lighter than its empty": ({"tare_text": "600"}, "less than the empty alone"),
    "one of the others lighter": ({"others": "530, 12", "tare_text": "25"}, "less than the empty alone"),
    "a bad one among the others": ({"others": "530\nheavy"}, "is not a number"),
    "a hundred others": ({"others": "530\n" * 100}, "At most 50 at once"),
    "fifty-one in two boxes": ({"gross_text": "525, 526", "others": "530\n" * 49}, "At most 50 at once"),
    "an empty nobody knows": ({"core": "t999"}, "Choose one of those offered"),
    "no such yarn": ({"yarn_words": "gold"}, "No yarn of the book is called so"),
    "a long bin": ({"bin_name": "x" * 41}, "at most 40 characters"),
    "a NUL": ({"bin_name": "x\x00"}, "cannot be kept"),
    "a stranger's key": ({"owner": "9" * 30}, "Choose one of those offered"),
    "a bad tare": ({"tare_text": "light"}, "is not a number"),
    "no unit": ({"unit": "stone"}, "Choose one of those offered"),
    "no stamp": ({"stamp": ""}, ""),
    "a photo that is none": ({"photo": "BAD"}, "That is no photo"),
    "an empty file": ({"photo": "EMPTY"}, "That file is empty"),
}  # fmt: skip


class TestDoubt:
    def test_what_it_is_on_is_chosen_and_then_remembered(self, desk, by):
        weigh_empty(kind="cone", name="cardboard", weight_text="25 g", by=by)
        form = desk.get(reverse("intake")).context["form"]
        assert (form["core"].value(), form.fields["core"].choices[0]) == (None, ("", "choose"))
        answer = desk.post(reverse("intake"), typed(core=""))
        assert (answer.status_code, Arrival.objects.count()) == (422, 0)
        assert "Choose what it is on." in text_of(answer)
        answer = desk.post(reverse("intake"), typed(core="tube"))
        assert desk.get(answer.url).context["form"]["core"].value() == "tube"

    @pytest.mark.parametrize(
        ("typing", "box"),
        [({"gross_text": "20001"}, "gross_text"), ({"gross_text": "525", "others": "519\n21 kg"}, "others")],
    )
    def test_more_than_a_package_weighs_is_asked_about_once(self, desk, typing, box):
        # 20 kg: common practice, no source.
        asked = desk.post(reverse("intake"), typed(**typing))
        assert (asked.status_code, Arrival.objects.count(), set(asked.context["form"].errors)) == (422, 0, {box})
        really = re.search(r'name="really" value="([^"]*)"', asked.content.decode())[1]
        assert desk.post(reverse("intake"), typed(gross_text="30000", really=really)).status_code == 422
        assert desk.post(reverse("intake"), typed(**typing, really=really)).status_code == 302

    def test_twenty_kilograms_are_no_doubt(self, desk):
        assert desk.post(reverse("intake"), typed(gross_text="20 kg")).status_code == 302


class TestMistakes:
    @pytest.mark.parametrize(("known", "words"), BAD.values(), ids=BAD.keys())
    def test_each_is_said_and_nothing_is_taken_in(self, desk, known, words):
        files = {"BAD": b"a letter", "EMPTY": b""}
        known = {name: sent(files[value]) if name == "photo" else value for name, value in known.items()}
        answer = desk.post(reverse("intake"), typed(**known))
        assert answer.status_code == 422
        assert words in text_of(answer)
        assert not Arrival.objects.exists()

    def test_the_photo_is_not_taken_twice_for_a_slip_in_the_weight(self, desk):
        answer = desk.post(reverse("intake"), typed(gross_text="heavy", photo=sent()))
        name = re.search(r'name="kept_photo" value="(\w+)"', answer.content.decode())[1]
        take(desk, kept_photo=name)
        assert Arrival.objects.get().photo.name == name

    def test_nobody_takes_over_anothers_photo(self, desk):
        answer = as_(steward()).post(reverse("intake"), typed(gross_text="heavy", photo=sent()))
        name = re.search(r'name="kept_photo" value="(\w+)"', answer.content.decode())[1]
        take(desk, kept_photo=name)
        assert Arrival.objects.get().photo is None

    def test_quarantine_wants_a_name(self):
        answer = as_(steward()).post(reverse("intake"), typed(to_quarantine="on"))
        assert "Say which yarn it is" in text_of(answer)
        assert not Arrival.objects.exists()


class TestNotNamed:
    def test_it_lists_the_oldest_first_with_what_all_weigh(self, desk, by):
        arrive(by, "525 g", "530 g")
        shown = text_of(desk.get(reverse("not-named")))
        assert "2 waiting: 1055 g by the scale, 1005 g without the empty cones" in shown
        assert shown.index("525 g") < shown.index("530 g")

    def test_what_all_weigh_is_said_in_the_units_of_the_scale(self, by):
        arrive(by, "525 g", "530 g")
        reads_ounces = as_(trained_member("who reads ounces", units="inch"))
        assert "2 waiting: 1055 g by the scale" in text_of(reads_ounces.get(reverse("not-named")))

    def test_it_asks_the_same_however_many_wait(self, desk, by, django_assert_num_queries):
        arrive(by, *["525 g"] * 10, owner=by)
        desk.get(reverse("not-named"))  # the studio's rules are made with the first page
        counts = []
        for more in (0, 50):
            if more:
                arrive(by, *["525 g"] * more, owner=by)
            with django_assert_num_queries(LIST_QUERIES) as asked:
                desk.get(reverse("not-named"))
            counts.append(len(asked))
        assert counts[0] == counts[1]

    def test_a_second_page_is_there_and_a_page_that_is_not_shows_the_last(self, desk, by):
        arrive(by, *["525 g"] * 51)
        assert "51 to 51 of 51" in text_of(desk.get(reverse("not-named"), {"page": "999"}))
        assert desk.get(reverse("not-named"), {"page": "x"}).status_code == 200

    def test_a_guest_has_nothing_to_press(self, by):
        arrive(by)
        shown = as_(guest()).get(reverse("not-named")).content.decode()
        assert "Throw out" not in shown
        assert 'name="arrival"' not in shown

    def test_those_ticked_are_named_together(self, desk, by):
        yarn, arrivals = a_yarn(), arrive(by, "525 g", "530 g")
        data = {"arrival": [one.pk for one in arrivals], "yarn_words": "8/2 cotton, natural"}
        answer = desk.post(reverse("name-them"), data)
        shown = text_of(desk.get(answer.url))
        packages = Package.objects.order_by("pk")
        assert {one.yarn for one in packages} == {yarn}
        assert f"A{arrivals[0].pk} is cone {packages[0].pk} and A{arrivals[1].pk} is cone {packages[1].pk} now" in shown
        assert "Everything has its name" in shown

    def test_a_new_yarn_is_written_on_the_way(self, desk, by):
        desk.post(reverse("name-them"), {"arrival": arrive(by)[0].pk, **NEW_YARN})
        assert Package.objects.get().yarn == Yarn.objects.get(name="4/8 cotton")

    def test_a_yarn_that_is_not_in_the_book_is_asked_for_again(self, desk, by):
        answer = desk.post(reverse("name-them"), {"arrival": arrive(by)[0].pk, "yarn_words": "gold"})
        assert answer.status_code == 422
        assert "No yarn of the book is called so" in text_of(answer)
        assert not Package.objects.exists()

    def test_a_bad_new_yarn_comes_back_as_typed(self, desk, by):
        answer = desk.post(reverse("name-them"), {"arrival": arrive(by)[0].pk, **NEW_YARN, "new-count_text": "eight"})
        assert answer.status_code == 422
        assert 'value="eight"' in answer.content.decode()
        assert not Package.objects.exists()

    @pytest.mark.parametrize("chosen", [[], ["x"], ["9" * 40], ["-1"], ["\x00"], ["99999"]])
    def test_with_none_chosen_one_is_led_back(self, desk, chosen):
        assert desk.get(reverse("name-them"), {"arrival": chosen}).url == reverse("not-named")

    def test_named_meanwhile_is_said(self, desk, by):
        a_yarn()
        arrival = arrive(by)[0]
        data = {"arrival": arrival.pk, "yarn_words": "8/2 cotton"}
        desk.post(reverse("name-them"), data)
        assert desk.post(reverse("name-them"), data).url == reverse("not-named")
        assert Package.objects.count() == 1

    def test_wool_is_put_into_quarantine_as_it_is_named(self, by):
        a_yarn(name="2/8 wool", fibre="wool")
        data = {"arrival": arrive(by)[0].pk, "yarn_words": "2/8 wool", "to_quarantine": "on"}
        as_(steward()).post(reverse("name-them"), data)
        assert Package.objects.get().quarantined

    def test_it_is_thrown_out_with_a_reason_and_not_without(self, desk, by):
        arrival = arrive(by)[0]
        address = reverse("arrival-out", args=[arrival.pk])
        assert 'name="why_out"' in desk.get(address).content.decode()
        assert desk.post(address, {"why_out": " "}).status_code == 422
        assert desk.post(address, {"why_out": "Mould"}).url == reverse("not-named")
        assert Arrival.objects.get().why_out == "Mould"
        assert f"{arrival} cone, 525 g: Mould" in text_of(desk.get(reverse("not-named")))
        assert desk.get(address).status_code == 404


class TestEmptyCones:
    def test_one_is_weighed_and_shown_with_its_median(self, desk):
        for weight in ("25", "27", "25"):
            desk.post(reverse("empties"), {"kind": "cone", "name": " cardboard  cone ", "weight_text": weight})
        shown = text_of(desk.get(reverse("empties")))
        assert "cardboard cone cone 25 g (25 g to 27 g, 3 weighed)" in shown

    @pytest.mark.parametrize("known", [{"weight_text": "0"}, {"name": ""}, {"kind": "barrel"}, {"name": "x" * 61}])
    def test_a_mistake_comes_back(self, desk, known):
        data = {"kind": "cone", "name": "cone", "weight_text": "25", **known}
        assert desk.post(reverse("empties"), data).status_code == 422
        assert not TareWeighing.objects.exists()

    def test_one_far_off_the_others_is_asked_about_once(self, desk, by):
        weigh_empty(kind="cone", name="Cardboard", weight_text="25 g", by=by)
        data = {"kind": "cone", "name": "cardboard", "weight_text": "250 g"}
        asked = desk.post(reverse("empties"), data)
        assert (asked.status_code, TareWeighing.objects.count()) == (422, 1)
        assert "Others of this sort weigh about" in text_of(asked)
        really = re.search(r'name="really" value="([^"]*)"', asked.content.decode())[1]
        other = desk.post(reverse("empties"), {**data, "weight_text": "300 g", "really": really})
        assert (other.status_code, TareWeighing.objects.count()) == (422, 1)
        assert desk.post(reverse("empties"), {**data, "really": really}).status_code == 302
        assert desk.post(reverse("empties"), {**data, "kind": "tube"}).status_code == 302

    def test_a_wrong_one_is_left_out_and_counted_again(self, desk, by):
        weighing = weigh_empty(kind="cone", name="cone", weight_text="250 g", by=by)
        address = reverse("weighing-left-out", args=[weighing.pk])
        desk.post(address, {"out": "yes"})
        assert "left out of the median" in text_of(desk.get(reverse("empties")))
        desk.post(address)
        assert not TareWeighing.objects.get().left_out
        assert desk.get(address).status_code == 405

    def test_it_asks_the_same_however_many_there_are(self, desk, by, django_assert_num_queries):
        desk.get(reverse("empties"))  # the studio's rules are made with the first page
        for many in (2, 12):
            for number in range(many):
                weigh_empty(kind="cone", name=f"cone {number}", weight_text="25 g", by=by)
            with django_assert_num_queries(7):  # session, user, member, rules; empties, weighings, who weighed
                desk.get(reverse("empties"))


class TestPhotos:
    def test_a_photo_is_given_to_members_as_a_jpeg_and_nothing_else(self, desk):
        take(desk, photo=sent(a_phones_photo()))
        address = Photo.objects.get().get_absolute_url()
        for query in ("", "?size=small", "?size=../../secret"):
            answer = as_(guest(f"a guest {query}")).get(address + query)
            assert answer["Content-Type"] == "image/jpeg"
            assert answer["X-Content-Type-Options"] == "nosniff"
            assert answer["Cache-Control"].startswith("private")
            assert not Image.open(BytesIO(answer.content)).getexif().get_ifd(GPS)

    def test_strangers_do_not_see_it(self, desk):
        take(desk, photo=sent())
        assert stranger().get(Photo.objects.get().get_absolute_url()).status_code == 302

    def test_its_file_has_no_address_of_its_own(self, desk):
        take(desk, photo=sent())
        name = file_of(Photo.objects.get().name, "large")
        assert default_storage.exists(name)
        assert desk.get(f"/media/{name}").status_code == 404

    @pytest.mark.parametrize("name", ["nobody", "0" * 32, "a" * 400])
    def test_one_that_is_not_there_is_not_found(self, desk, name):
        assert desk.get(reverse("photo", args=[name])).status_code == 404

    def test_one_whose_file_is_gone_is_not_found(self, desk):
        take(desk, photo=sent())
        kept = Photo.objects.get()
        default_storage.delete(file_of(kept.name, "large"))
        assert desk.get(kept.get_absolute_url()).status_code == 404

    def test_a_package_gets_one_shows_it_and_loses_it(self, desk):
        package = a_package()
        address = reverse("package-photo", args=[package.pk])
        assert desk.post(address, {"photo": sent()}).url == package.get_absolute_url()
        picture = PackagePhoto.objects.get(package=package).photo.get_absolute_url()
        for page in (package.get_absolute_url(), reverse("package-scale", args=[package.pk]), address):
            assert picture in desk.get(page).content.decode()
        desk.post(address, {"away": "yes"})
        assert not PackagePhoto.objects.exists()

    @pytest.mark.parametrize("content", [b"a letter", None])
    def test_what_is_none_comes_back_with_a_sentence(self, desk, content):
        data = {} if content is None else {"photo": sent(content)}
        assert desk.post(reverse("package-photo", args=[a_package().pk]), data).status_code == 422
        assert not Photo.objects.exists()


@pytest.mark.parametrize(
    ("page", "boxes"),
    [
        ("intake", set(IntakeForm.base_fields) - {"kept_photo", "to_quarantine"}),
        ("empties", set(EmptyForm.base_fields)),
        ("package-photo", {"photo"}),
        ("yarn-file", {"file", "mass_unit"}),
    ],
)
def test_every_box_of_a_form_is_on_its_page(desk, page, boxes):
    address = reverse(page, args=[a_package().pk] if page == "package-photo" else [])
    shown = desk.get(address).content.decode()
    assert {name for name in boxes if f'name="{name}"' in shown} == boxes


def test_the_yarn_room_and_the_scale_lead_to_the_intake(desk):
    a_package()
    for page in ("yarn-room", "scale"):
        assert f'href="{reverse("intake")}"' in desk.get(reverse(page)).content.decode()
        assert f'href="{reverse("intake")}"' not in as_(guest(page)).get(reverse(page)).content.decode()


@pytest.mark.parametrize(
    ("text", "weights"),
    [
        ("2 lb, 3 oz", ["2 lb, 3 oz"]),
        ("2 lb 3 oz, 1 lb 4 oz", ["2 lb 3 oz", "1 lb 4 oz"]),
        ("1 lb, 2 lb", ["1 lb", "2 lb"]),
        ("530, 519", ["530 g", "519 g"]),
    ],
)
def test_pounds_with_their_ounces_are_one_weight(text, weights):
    assert weight_lines(text, "g") == weights


class TestLabelsOffered:
    """What has just got its number is offered its label."""

    def labels(self, answer):
        return re.findall(r'href="([^"]*)">Print (it|the)', answer.content.decode())

    def test_after_the_intake_of_a_known_yarn(self, desk):
        yarn = a_yarn()
        answer = desk.post(reverse("intake"), typed(yarn_words=str(yarn)), follow=True)
        package = Package.objects.get()
        assert self.labels(answer) == [(f"{reverse('yarn-labels')}?numbers={package.pk}", "it")]
        assert f"Cone {package.pk}" in text_of(desk.get(self.labels(answer)[0][0]))

    def test_after_naming_but_not_before(self, desk, by):
        yarn = a_yarn()
        answer = desk.post(reverse("intake"), typed(), follow=True)
        assert self.labels(answer) == []
        arrive(by, "530 g")
        chosen = list(Arrival.objects.values_list("pk", flat=True))
        answer = desk.post(reverse("name-them"), {"arrival": chosen, "yarn_words": str(yarn)}, follow=True)
        numbers = ",".join(str(one.pk) for one in Package.objects.order_by("pk"))
        assert self.labels(answer) == [(f"{reverse('yarn-labels')}?numbers={numbers}", "the")]
