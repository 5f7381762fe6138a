"""Taking in, naming, throwing out, and what empties weigh: each row keeps its own words, and nothing is done twice."""

import statistics
from datetime import date
from decimal import Decimal
from fractions import Fraction
from io import BytesIO

import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.db import IntegrityError, transaction
from django.utils import timezone
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.calc.tare import far_off, median
from inventory.intake.photo_services import file_of, keep_photo, picture_package, sweep_photos, unpicture_package
from inventory.intake.selectors import known_tares, waiting, weight_waiting, yarn_of_words, yarns_offered
from inventory.intake.services import add_to_stock, leave_out, name_arrivals, once, throw_out, weigh_empty
from inventory.ledger.selectors import ledger_faults
from inventory.models import Arrival, Move, Package, PackagePhoto, Photo, Stamp, Tare
from inventory.scale.selectors import package_by_label
from inventory.shelf.services import PackageFacts, YarnFacts
from studio.errors import StudioError
from studio.files.image_cleaning import made_anew
from studio.units import Units
from tests.cast import steward, trained_member
from tests.inventory.photos import a_photo
from tests.inventory.stock import a_package, a_yarn

pytestmark = pytest.mark.django_db
CONE = PackageFacts(gross_text="", tare_text="25 g", bin_name="N1", source="donated")
CAME = date(2026, 3, 2)


@pytest.fixture
def by():
    return trained_member(units="metric")


def photo(by):
    return keep_photo(picture=made_anew(BytesIO(a_photo())), by=by)


def there(kept):
    return [default_storage.exists(file_of(kept.name, size)) for size in ("large", "small")]


class TestTakingIn:
    def test_each_of_several_like_cones_keeps_its_own_reading(self, by):
        taken = add_to_stock(facts=CONE, grosses=["525 g", "530 g", "18.5 oz"], by=by)
        assert [one.gross_text for one in taken.arrivals] == ["525 g", "530 g", "18.5 oz"]
        # 18.5 oz of 28.349523125 g (international agreement of 1959), less the cone of 25 g.
        assert [one.net_ug for one in taken.arrivals] == [500_000_000, 505_000_000, 499_466_178]
        assert not Package.objects.exists()

    def test_with_the_yarn_known_they_are_packages_at_once(self, by):
        taken = add_to_stock(facts=CONE, grosses=["525 g", "530 g"], by=by, yarn=a_yarn(), photo=photo(by))
        assert [one.on_hand_ug for one in taken.packages] == [500_000_000, 505_000_000]
        assert list(Move.objects.values_list("kind", "made_by")) == [("receive", by.pk)] * 2
        assert PackagePhoto.objects.count() == 2
        assert Photo.objects.count() == 1
        assert not Arrival.objects.exists()

    def test_the_day_is_today_unless_it_is_said(self, by):
        taken = add_to_stock(facts=CONE, grosses=["525 g"], by=by, yarn=a_yarn())
        assert taken.packages[0].received_on == timezone.localdate()

    def test_one_wrong_weight_and_none_is_taken_in(self, by):
        with pytest.raises(ValidationError, match="cannot weigh more than the full one"):
            add_to_stock(facts=CONE, grosses=["525 g", "24 g"], by=by)
        assert not Arrival.objects.exists()

    def test_nothing_weighed_is_refused(self, by):
        with pytest.raises(StudioError):
            add_to_stock(facts=CONE, grosses=[], by=by)

    def test_wool_goes_straight_into_quarantine_where_that_is_asked(self):
        known = {"facts": CONE, "grosses": ["525 g"], "by": steward(), "yarn": a_yarn(fibre="wool")}
        taken = add_to_stock(**known, to_quarantine=True)
        assert [one.quarantined for one in taken.packages] == [True]
        assert ledger_faults() == ()

    def test_nobody_takes_it_into_quarantine_who_may_not(self, by):
        with pytest.raises(StudioError, match="teacher or a steward"):
            add_to_stock(facts=CONE, grosses=["525 g"], by=by, yarn=a_yarn(), to_quarantine=True)
        assert not Package.objects.exists()


class TestOnce:
    def test_a_form_sent_twice_is_one_action(self, by):
        def action():
            add_to_stock(facts=CONE, grosses=["525 g"], by=by)
            return "A1 waits."

        assert once(stamp="a", by=by, action=action) == "A1 waits."
        assert once(stamp="a", by=by, action=action) == "That was sent twice and kept once. A1 waits."
        assert Arrival.objects.count() == 1

    def test_an_action_that_was_refused_leaves_the_form_to_be_sent_again(self, by):
        def refused():
            raise StudioError("no", "No.")

        with pytest.raises(StudioError):
            once(stamp="a", by=by, action=refused)
        assert once(stamp="a", by=by, action=lambda: "Done.") == "Done."

    def test_the_stamp_of_another_person_is_refused(self, by):
        once(stamp="a", by=by, action=lambda: "Done.")
        with pytest.raises(StudioError, match="somebody else"):
            once(stamp="a", by=steward(), action=lambda: "Done.")

    def test_old_stamps_go(self, by):
        once(stamp="old", by=by, action=lambda: "Done.")
        Stamp.objects.update(made_at=timezone.now() - timezone.timedelta(days=3))
        once(stamp="new", by=by, action=lambda: "Done.")
        assert list(Stamp.objects.values_list("stamp", flat=True)) == ["new"]


class TestNaming:
    def two(self, by, **known):
        facts = PackageFacts(**{
            "gross_text": "", "tare_text": "25 g", "bin_name": "N1", "source": "donated", "received_on": CAME,
            "dye_lot": "21B", "notes": "from a loft", "owner": by, "kind": "tube", **known,
        })  # fmt: skip
        return add_to_stock(facts=facts, grosses=["525 g", "18.5 oz"], by=by, photo=photo(by)).arrivals

    def test_the_package_has_the_words_the_day_and_the_photo_of_the_arrival(self, by):
        arrivals = self.two(by)
        packages = name_arrivals(arrivals=arrivals, by=steward(), yarn=a_yarn())
        said = ("gross_text", "tare_text", "bin_name", "source", "received_on", "dye_lot", "notes", "owner", "kind")
        for arrival, package in zip(arrivals, packages, strict=True):
            assert [getattr(package, name) for name in said] == [getattr(arrival, name) for name in said]
            assert package.pictured.photo == arrival.photo
            assert package.on_hand_ug == arrival.net_ug
        assert ledger_faults() == ()

    def test_named_it_waits_no_more_and_its_label_still_leads_to_it(self, by):
        arrival = self.two(by)[0]
        package = name_arrivals(arrivals=[arrival], by=by, yarn=a_yarn())[0]
        assert waiting().count() == 1
        assert package_by_label(str(arrival)) == package
        assert package_by_label(str(arrival).lower()) == package
        assert package_by_label("A99") is None

    def test_a_new_yarn_is_written_into_the_book_with_it(self, by):
        facts = YarnFacts(name="4/8 cotton", count_text="8/4 cotton")
        packages = name_arrivals(arrivals=self.two(by), by=by, new_yarn=facts)
        assert {str(one.yarn) for one in packages} == {"4/8 cotton"}

    def test_nothing_is_named_twice(self, by):
        arrivals = self.two(by)
        name_arrivals(arrivals=arrivals[:1], by=by, yarn=a_yarn())
        with pytest.raises(StudioError, match="meanwhile"):
            name_arrivals(arrivals=arrivals, by=by, yarn=a_yarn())
        assert (Package.objects.count(), waiting().count()) == (1, 1)

    def test_a_bad_new_yarn_names_nothing(self, by):
        with pytest.raises(ValidationError):
            name_arrivals(arrivals=self.two(by), by=by, new_yarn=YarnFacts(name="no count"))
        assert (Package.objects.count(), waiting().count()) == (0, 2)

    @pytest.mark.parametrize("both", [True, False])
    def test_it_is_one_yarn_or_the_other(self, by, both):
        known = {"yarn": a_yarn(), "new_yarn": YarnFacts(name="x", count_text="8/2 cotton")} if both else {}
        with pytest.raises(ValueError, match="yarn of the book"):
            name_arrivals(arrivals=self.two(by), by=by, **known)

    def test_what_is_thrown_out_stays_with_its_reason(self, by):
        arrival = throw_out(arrival=self.two(by)[0], by=by, why_out="Mould")
        kept = Arrival.objects.get(pk=arrival.pk)
        assert (kept.why_out, kept.closed_by, kept.package) == ("Mould", by, None)
        assert waiting().count() == 1
        with pytest.raises(StudioError):
            throw_out(arrival=arrival, by=by, why_out="Mould")

    def test_it_is_not_thrown_out_without_a_reason(self, by):
        with pytest.raises(StudioError, match="Say why"):
            throw_out(arrival=self.two(by)[0], by=by, why_out="  ")

    def test_what_waits_is_summed_by_the_scale(self, by):
        self.two(by)
        ounces = Fraction("28.349523125") * Fraction("18.5")
        assert weight_waiting(Units.INCH) == (525 + ounces, 475 + ounces, Units.INCH)

    def test_the_database_knows_no_row_that_is_neither(self, by):
        arrival = self.two(by)[0]
        with pytest.raises(IntegrityError), transaction.atomic():
            Arrival.objects.filter(pk=arrival.pk).update(closed_at=timezone.now())
        with pytest.raises(IntegrityError), transaction.atomic():
            Arrival.objects.filter(pk=arrival.pk).update(why_out="Mould")


class TestEmptyCones:
    def test_the_median_of_none_is_no_number(self):
        with pytest.raises(ValueError, match="at least one reading"):
            median([])

    def test_the_median_is_exact_and_the_spread_is_shown(self, by):
        for weight in ("25 g", "27 g", "25 g"):
            weigh_empty(kind="cone", name="cardboard cone", weight_text=weight, by=by)
        (known,) = known_tares()
        assert (known.median_g, known.least_g, known.most_g, known.counted) == (25, 25, 27, 3)
        assert known.median_words() == "25 g"
        assert known.spread_words(Units.METRIC) == "25 g (25 g to 27 g, 3 weighed)"

    def test_one_bad_reading_does_not_move_the_tare_and_is_seen_in_the_spread(self, by):
        for weight in ("25 g", "26 g", "27 g", "250 g"):
            weigh_empty(kind="cone", name="cardboard cone", weight_text=weight, by=by)
        (known,) = known_tares()
        assert known.median_words() == "26.5 g"  # a mean would be 82 g
        assert known.spread_words(Units.METRIC) == "26.5 g (25 g to 250 g, 4 weighed)"

    @settings(max_examples=50)
    @given(st.lists(st.fractions(min_value=0, max_value=1000), min_size=1, max_size=9))
    def test_the_median_is_that_of_the_standard_library(self, weights):
        assert median(weights) == statistics.median(weights)

    @pytest.mark.parametrize(("weight", "far"), [("12.5", False), ("12.49", True), ("50", False), ("50.01", True)])
    def test_far_off_is_more_than_double_or_less_than_half(self, weight, far):
        assert far_off(Fraction(weight), Fraction(25)) is far

    def test_ounces_stay_ounces(self, by):
        for weight in ("0.9 oz", "0.8 oz"):
            weigh_empty(kind="cone", name="cone", weight_text=weight, by=by)
        assert known_tares()[0].median_words() == "0.85 oz"

    def test_one_name_is_one_sort_however_it_is_written_and_each_kind_has_its_own(self, by):
        for kind, name in (("cone", "Plastic"), ("cone", "plastic"), ("tube", "plastic")):
            weigh_empty(kind=kind, name=name, weight_text="30 g", by=by)
        assert list(Tare.objects.values_list("kind", "name")) == [("cone", "Plastic"), ("tube", "plastic")]

    def test_a_wrong_weighing_is_left_out_and_counted_again(self, by):
        weigh_empty(kind="cone", name="cone", weight_text="25 g", by=by)
        slip = weigh_empty(kind="cone", name="cone", weight_text="250 g", by=by)
        leave_out(weighing=slip, left_out=True)
        assert known_tares()[0].median_g == 25
        assert known_tares()[0].spread_words(Units.METRIC) == "25 g (1 weighed)"
        leave_out(weighing=slip, left_out=False)
        assert known_tares()[0].median_g == Fraction(275, 2)

    def test_with_all_left_out_none_is_known(self, by):
        leave_out(weighing=weigh_empty(kind="cone", name="cone", weight_text="25 g", by=by), left_out=True)
        known = known_tares()[0]
        assert (known.median_words(), known.spread_words(Units.METRIC)) == ("", "none weighed yet")

    @pytest.mark.parametrize("weight", ["0 g", "twelve", "-3 g", "2000 kg"])
    def test_what_is_no_weight_is_refused(self, by, weight):
        with pytest.raises(ValidationError):
            weigh_empty(kind="cone", name="cone", weight_text=weight, by=by)
        assert not Tare.objects.filter(weighings__isnull=False).exists()


class TestPhotos:
    def test_another_photo_takes_the_place_of_the_first_and_its_files(self, by, django_capture_on_commit_callbacks):
        package, first, second = a_package(), photo(by), photo(by)
        picture_package(package=package, photo=first)
        with django_capture_on_commit_callbacks(execute=True):
            picture_package(package=package, photo=second)
        assert package.pictured.photo == second
        assert (there(first), there(second)) == ([False, False], [True, True])

    def test_a_photo_of_several_stays_while_one_shows_it(self, by, django_capture_on_commit_callbacks):
        taken = add_to_stock(facts=CONE, grosses=["525 g", "530 g"], by=by, yarn=a_yarn(), photo=photo(by))
        kept = Photo.objects.get()
        for package, stays in zip(taken.packages, (True, False), strict=True):
            with django_capture_on_commit_callbacks(execute=True):
                unpicture_package(package=package)
            assert there(kept) == [stays, stays]

    def test_taken_away_it_is_not_kept_with_the_arrival_either(self, by, django_capture_on_commit_callbacks):
        arrival = add_to_stock(facts=CONE, grosses=["525 g"], by=by, photo=photo(by)).arrivals[0]
        package = name_arrivals(arrivals=[arrival], by=by, yarn=a_yarn())[0]
        with django_capture_on_commit_callbacks(execute=True):
            unpicture_package(package=package)
        assert not Photo.objects.exists()
        unpicture_package(package=package)  # nothing to take away is no trouble

    def test_a_photo_that_nothing_shows_goes_after_a_day(self, by, django_capture_on_commit_callbacks):
        forgotten, fresh, shown = photo(by), photo(by), photo(by)
        add_to_stock(facts=CONE, grosses=["525 g"], by=by, photo=shown)
        old = timezone.now() - timezone.timedelta(days=2)
        Photo.objects.exclude(pk=fresh.pk).update(made_at=old)
        with django_capture_on_commit_callbacks(execute=True):
            assert sweep_photos() == 1
        assert [there(one)[0] for one in (forgotten, fresh, shown)] == [False, True, True]

    def test_a_row_that_cannot_be_written_leaves_no_files(self, by, monkeypatch):
        kept = []
        monkeypatch.setattr(Photo, "save", lambda self: kept.append(self) or 1 / 0)
        with pytest.raises(ZeroDivisionError):
            photo(by)
        assert there(kept[0]) == [False, False]


class TestWhichYarn:
    def test_by_its_name_by_words_and_by_its_number(self):
        natural, madder = a_yarn(), a_yarn(colour_name="madder")
        assert yarn_of_words("8/2 cotton, natural") == (natural, "")
        assert yarn_of_words("madder cotton") == (madder, "")
        assert yarn_of_words(f"anything, no. {natural.pk}") == (natural, "")

    def test_more_than_one_is_asked_back(self):
        a_yarn()
        a_yarn(colour_name="madder")
        yarn, trouble = yarn_of_words("8/2")
        assert yarn is None
        assert trouble.startswith("More than one yarn is meant: 8/2 cotton, ")

    def test_two_of_one_name_are_told_apart_by_their_numbers(self):
        first, second = a_yarn(), a_yarn()
        assert yarns_offered() == [f"8/2 cotton, natural, no. {one.pk}" for one in (first, second)]
        assert yarn_of_words("8/2 cotton, natural")[0] is None
        assert yarn_of_words(yarns_offered()[1]) == (second, "")

    def test_none_is_said_plainly(self):
        assert yarn_of_words("hemp") == (
            None,
            "No yarn of the book is called so. Leave the box empty and name it later, or add the yarn first.",
        )

    def test_weights_are_whole_fractions_and_no_floats(self, by):
        arrival = add_to_stock(facts=CONE, grosses=["18.5 oz"], by=by).arrivals[0]
        assert arrival.gross_g == Decimal("524.466177812500")
