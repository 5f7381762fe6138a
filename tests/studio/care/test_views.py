"""Pages of check lists, faults and upkeep: who sees them, who writes, and what is said to a mistake."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image
from pytest_django.asserts import assertContains, assertNotContains, assertRedirects

from studio.care.check_selectors import check_points, points_asked
from studio.care.check_services import mend_fault, note_fault
from studio.care.upkeep_services import set_usual_rhythm
from studio.models import CheckPoint, Fault, Loom, LoomCheck, UpkeepDone, UpkeepJob
from tests import cast
from tests.factories import a_loom
from tests.studio.bookings import day, reserve
from tests.studio.calendar.test_dressing import dressed

pytestmark = pytest.mark.django_db

LONG, SIGN, MARKUP = "x" * 401, "a\x00b", "<script>alert(1)</script>"


def url(name, *things):
    return reverse(name, args=[getattr(thing, "pk", thing) for thing in things])


@pytest.fixture(autouse=True)
def shelf(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def a_picture(name="loom.jpg"):
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (160, 60, 40)).save(out, "JPEG")
    return SimpleUploadedFile(name, out.getvalue(), content_type="image/jpeg")


def ticked(moment="begin", **other):
    """Give what a form sends when every point is in order."""
    points = points_asked(moment)
    return {**{f"fine_{point.pk}": "on" for point in points}, "note": "", **other}


def names():
    """Give every page of this part for one loom, with who may write there."""
    loom = a_loom()
    job = UpkeepJob.objects.create(loom=loom, text="Wax the beam", every_days=30)
    fault = note_fault(loom=loom, text="A rake is bent", by=cast.steward("keeper"))
    point = check_points().first()
    return {
        "loom-care": (loom,), "fault-new": (loom,), "fault-mended": (fault,), "job-new": (loom,), "job-edit": (job,),
        "job-done": (job,), "jobs-usual": (loom,), "upkeep": (), "check-points": (), "check-point-new": (),
        "check-point-edit": (point,),
    }  # fmt: skip


READ = {"loom-care", "fault-new", "check-points"}
LOG = READ | {"fault-mended", "upkeep", "job-done"}
SET = LOG | {"job-new", "job-edit", "jobs-usual", "check-point-new", "check-point-edit"}


@pytest.mark.parametrize(
    ("someone", "open_to"),
    [
        (cast.guest, READ),
        (cast.new_member, READ),
        (cast.trained_member, READ),
        (cast.teacher, LOG),
        (cast.steward, SET),
    ],
)
def test_each_role_enters_what_it_may(someone, open_to):
    browser, pages = cast.as_(someone()), names()
    looked = {name for name, things in pages.items() if browser.get(url(name, *things)).status_code == 200}
    refused = {name for name, things in pages.items() if browser.post(url(name, *things)).status_code == 403}
    assert looked == open_to - {"jobs-usual"}
    assert refused == SET - open_to - {"upkeep"}  # which is only looked at


def test_a_stranger_is_asked_to_sign_in_everywhere():
    browser = cast.stranger()
    for name, things in names().items():
        if name != "jobs-usual":
            assert browser.get(url(name, *things)).status_code == 302
    assert browser.post(url("jobs-usual", a_loom())).status_code == 302


@pytest.mark.parametrize(
    "name", ["loom-care", "fault-new", "fault-mended", "job-done", "check-point-edit", "loom-checks"]
)
def test_what_is_not_there_is_not_found(name):
    browser = cast.as_(cast.steward())
    for number in (0, 99_999, 9_999_999_999_999_999_999):
        assert browser.get(url(name, number)).status_code == 404


def test_anybody_notes_a_fault_with_a_photo_that_members_alone_see():
    loom, browser = a_loom(), cast.as_(cast.guest())
    typed = {"text": MARKUP, "photo": a_picture()}
    assertRedirects(browser.post(url("fault-new", loom), typed), url("loom-care", loom))
    page = browser.get(url("loom-care", loom))
    assertContains(page, "&lt;script&gt;alert(1)&lt;/script&gt;")
    assertNotContains(page, MARKUP)
    photo = url("fault-photo", Fault.objects.get())
    assertContains(page, photo)
    assert browser.get(photo)["Content-Type"] == "image/jpeg"
    assert cast.stranger().get(photo).status_code == 302


def test_a_fault_without_a_photo_has_none():
    fault = note_fault(loom=a_loom(), text="A rake is bent", by=cast.steward())
    assert cast.as_(fault.noted_by).get(url("fault-photo", fault)).status_code == 404


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"text": ""}, "Fill in this box."),
        ({"text": LONG}, "Write at most 400 characters; these are 401."),
        ({"text": SIGN}, "There is a sign in it that cannot be kept"),
        (
            {"text": "bent", "photo": SimpleUploadedFile("a.jpg", b"no photo")},
            "That is no photo that can be read here.",
        ),
        ({"text": "bent", "photo": SimpleUploadedFile("a.jpg", b"")}, "empty"),
        ({"text": "bent", "photo": SimpleUploadedFile("a.jpg", MARKUP.encode())}, "That is no photo"),
    ],
)
def test_a_mistake_in_a_fault_is_said_and_the_words_stay(typed, sentence):
    page = cast.as_(cast.guest()).post(url("fault-new", a_loom()), typed)
    assertContains(page, sentence, status_code=422)
    if typed["text"] == "bent":
        assertContains(page, "bent", status_code=422)
    assert not Fault.objects.exists()


def test_a_fault_is_mended_with_its_day():
    keeper, loom = cast.steward(), a_loom()
    fault = note_fault(loom=loom, text="A rake is bent", by=keeper)
    typed = {"mended_on": day(0).isoformat(), "mended_how": "Bent straight"}
    assertRedirects(cast.as_(keeper).post(url("fault-mended", fault), typed), url("loom-care", loom))
    assertContains(cast.as_(keeper).get(url("loom-care", loom)), "by the steward: Bent straight")


@pytest.mark.parametrize("when", ["soon", "", "2026-02-30", "9999-12-31", "tomorrow"])
def test_a_day_that_cannot_be_is_said_beside_its_box(when):
    when = day(1).isoformat() if when == "tomorrow" else when
    fault = note_fault(loom=a_loom(), text="A rake is bent", by=cast.steward())
    page = cast.as_(fault.noted_by).post(url("fault-mended", fault), {"mended_on": when, "mended_how": "wood glue"})
    assertContains(page, "wood glue", status_code=422)
    assert page.context["form"].errors["mended_on"]


def test_a_list_is_filled_in_and_its_faults_stand_on_the_loom():
    occupancy = dressed("assigned")
    browser, first = cast.as_(occupancy.member), points_asked("begin")[0]
    typed = ticked(photo=a_picture(), note="All else well")
    del typed[f"fine_{first.pk}"]
    typed[f"fault_{first.pk}"] = "one shuttle is missing"
    assertRedirects(browser.post(url("check-fill", occupancy, "begin"), typed), occupancy.get_absolute_url())
    page = browser.get(url("loom-checks", occupancy))
    for words in ("one shuttle is missing", "In order", "All else well", url("check-photo", LoomCheck.objects.get())):
        assertContains(page, words)
    assertContains(browser.get(url("loom-care", occupancy.loom)), f"{first.text}: one shuttle is missing")
    assert browser.get(url("check-photo", LoomCheck.objects.get())).status_code == 200
    assert cast.stranger().get(url("check-photo", LoomCheck.objects.get())).status_code == 302


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"fine": None, "fault": ""}, "Tick it if it is in order, or write what is wrong."),
        ({"fine": "on", "fault": "slips"}, "It cannot be in order and have a fault: take the tick away."),
        ({"fine": None, "fault": "x" * 239}, "Write at most 238 characters; these are 239."),
        ({"fine": None, "fault": SIGN}, "There is a sign in it that cannot be kept"),
    ],
)
def test_a_point_left_out_or_said_twice_is_said_beside_it(change, sentence):
    occupancy = dressed("assigned")
    first, typed = points_asked("begin")[0], ticked(note="kept as typed")
    del typed[f"fine_{first.pk}"]
    typed |= {f"{name}_{first.pk}": value for name, value in change.items() if value is not None}
    page = cast.as_(occupancy.member).post(url("check-fill", occupancy, "begin"), typed)
    assertContains(page, sentence, status_code=422)
    assertContains(page, "kept as typed", status_code=422)
    assert not LoomCheck.objects.exists()


def test_the_longest_fault_at_the_longest_point_is_kept_whole():
    CheckPoint.objects.create(moment="begin", text="p" * 160)
    occupancy, (point,) = dressed("assigned"), points_asked("begin")
    cast.as_(occupancy.member).post(url("check-fill", occupancy, "begin"), {f"fault_{point.pk}": "f" * 238})
    assert Fault.objects.get().text == "p" * 160 + ": " + "f" * 238


def test_a_list_out_of_its_time_is_refused_in_a_sentence():
    occupancy = reserve()
    page = cast.as_(occupancy.member).post(url("check-fill", occupancy, "end"), ticked("end"))
    assertContains(page, "This list is for when the loom is given back; the work is “reserved”.", status_code=422)


@pytest.mark.parametrize("someone", [cast.guest, cast.new_member])
def test_anothers_list_is_read_and_not_filled_in(someone):
    occupancy, browser = dressed("assigned"), cast.as_(someone())
    assertNotContains(browser.get(url("loom-checks", occupancy)), url("check-fill", occupancy, "begin"))
    for answer in (
        browser.get(url("check-fill", occupancy, "begin")),
        browser.post(url("check-fill", occupancy, "begin"), {}),
    ):
        assert answer.status_code == 403


@pytest.mark.parametrize("moment", ["middle", "BEGIN", "%00"])
def test_no_other_list_is_known(moment):
    occupancy = dressed("assigned")
    assert cast.as_(occupancy.member).get(f"/reservations/{occupancy.pk}/checks/{moment}/").status_code == 404


def test_the_list_that_waits_is_offered():
    occupancy = dressed("checking")
    assertContains(cast.as_(occupancy.member).get(url("loom-checks", occupancy)), url("check-fill", occupancy, "end"))


def test_points_are_written_and_changed_by_stewards():
    browser = cast.as_(cast.steward())
    browser.post(url("check-point-new"), {"moment": "end", "text": "Light off", "place": "9"})
    point = CheckPoint.objects.get(text="Light off")
    browser.post(url("check-point-edit", point), {"moment": "end", "text": "Lamp off", "place": "9", "retired": "on"})
    assertContains(browser.get(url("check-points")), "Lamp off")
    assert CheckPoint.objects.get(pk=point.pk).retired


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"text": ""}, "Fill in this box."),
        ({"text": "x" * 161}, "Write at most 160 characters"),
        ({"place": "-1"}, "This must be at least 0."),
        ({"place": "9" * 30}, "This must be at most 999."),
        ({"moment": "never"}, "Choose one of those offered."),
    ],
)
def test_a_point_that_makes_no_sense_is_refused(typed, sentence):
    page = cast.as_(cast.steward()).post(
        url("check-point-new"), {"moment": "end", "text": "Light off", "place": "9", **typed}
    )
    assertContains(page, sentence, status_code=422)


def test_the_usual_jobs_are_taken_and_logged():
    loom, browser = a_loom(), cast.as_(cast.steward())
    assertContains(browser.get(url("loom-care", loom)), "Take the usual jobs")
    assertRedirects(browser.post(url("jobs-usual", loom)), url("loom-care", loom))
    assertContains(browser.get(url("upkeep")), f"Loom {loom}", count=2)
    job = loom.jobs.get(every_days=365)
    browser.post(url("job-done", job), {"done_on": day(0).isoformat(), "note": "New cords"})
    page = browser.get(url("loom-care", loom))
    for words in ("New cords", "Not due", "loom maker’s manual"):
        assertContains(page, words)


def test_the_usual_jobs_are_not_taken_by_a_look():
    loom = a_loom()
    assert cast.as_(cast.steward()).get(url("jobs-usual", loom)).status_code == 405
    assert not loom.jobs.exists()


@pytest.mark.parametrize("every", ["0", "-3", "4000", "soon", "1.5"])
def test_a_rhythm_that_makes_no_sense_is_refused(every):
    page = cast.as_(cast.steward()).post(url("job-new", a_loom()), {"text": "Wax the beam", "every_days": every})
    assertContains(page, "Wax the beam", status_code=422)
    assert page.context["form"].errors["every_days"]


def test_a_job_after_each_warp_needs_no_days():
    loom = a_loom()
    cast.as_(cast.steward()).post(url("job-new", loom), {"text": "Dust", "every_days": ""})
    assert loom.jobs.get().every_days is None


def test_a_second_job_of_the_same_words_is_refused_in_words():
    loom, browser = a_loom(), cast.as_(cast.steward())
    typed = {"text": "Dust", "every_days": "30"}
    browser.post(url("job-new", loom), typed)
    assertContains(browser.post(url("job-new", loom), typed), "This loom has that job already.", status_code=422)


def test_a_day_to_come_is_not_logged():
    job = UpkeepJob.objects.create(loom=a_loom(), text="Dust")
    page = cast.as_(cast.teacher()).post(url("job-done", job), {"done_on": day(1).isoformat(), "note": "kept"})
    assertContains(page, "That day is still to come.", status_code=422)
    assert not UpkeepDone.objects.exists()


@pytest.mark.parametrize("rows", [3, 30])
def test_the_page_of_a_loom_asks_as_often_for_many_as_for_few(rows, django_assert_num_queries):
    loom, keeper = a_loom(), cast.steward()
    set_usual_rhythm(loom=loom, by=keeper)
    for number in range(rows):
        note_fault(loom=loom, text=f"fault {number}", by=keeper)
        job = UpkeepJob.objects.create(loom=loom, text=f"job {number}", every_days=30)
        UpkeepDone.objects.create(job=job, done_on=day(0), done_by=keeper)
    browser = cast.as_(keeper)
    browser.get(url("loom-care", loom))
    with django_assert_num_queries(9):
        browser.get(url("loom-care", loom))


def test_no_page_has_a_style_for_the_content_policy_to_refuse():
    occupancy, browser = dressed("assigned"), cast.as_(cast.steward())
    for name, things in {**names(), "check-fill": (occupancy, "begin"), "loom-checks": (occupancy,)}.items():
        if name != "jobs-usual":
            assertNotContains(browser.get(url(name, *things)), "style=")


def test_removing_a_loom_says_that_its_faults_and_its_upkeep_go_with_it():
    loom, keeper = a_loom(), cast.steward()
    set_usual_rhythm(loom=loom, by=keeper)
    note_fault(loom=loom, text="A rake is bent", by=keeper)
    page = cast.as_(keeper).get(url("loom-delete", loom))
    for words in ("1 fault that was noted.", "3 jobs of upkeep, with their log."):
        assertContains(page, words)


@pytest.mark.parametrize("looms", [2, 20])
def test_the_page_of_all_looms_asks_as_often_for_many_as_for_few(looms, django_assert_num_queries):
    keeper = cast.steward()
    for number in range(looms):
        loom = a_loom()
        note_fault(loom=loom, text=f"fault {number}", by=keeper)
        set_usual_rhythm(loom=loom, by=keeper)
    browser = cast.as_(keeper)
    assertContains(browser.get(url("upkeep")), "fault 1")
    with django_assert_num_queries(7):
        browser.get(url("upkeep"))


def test_a_mended_fault_and_a_loom_no_longer_in_use_leave_the_page_of_all_looms():
    keeper = cast.steward()
    mended, away = (note_fault(loom=a_loom(), text=text, by=keeper) for text in ("first fault", "second fault"))
    mend_fault(fault=mended, mended_on=day(0), by=keeper)
    Loom.objects.filter(pk=away.loom_id).update(retired=True)
    assertContains(cast.as_(keeper).get(url("upkeep")), "No fault is known.")


def test_a_new_point_belongs_to_one_of_the_two_lists():
    page = cast.as_(cast.steward()).get(reverse("check-point-new"))
    assertNotContains(page, "---------")
    assert (
        cast.as_(cast.steward("another")).post(reverse("check-point-new"), {"text": "x", "place": 1}).status_code == 422
    )
