"""Pages of the ledger: a package's history for everybody, a reversal for those who may."""

import re
from fractions import Fraction

import pytest
from django.urls import reverse

from inventory.ledger.quarantine import quarantine
from inventory.ledger.services import reverse_move
from inventory.ledger.taking import issue_yarn
from inventory.ledger.weighing import weigh_package
from inventory.models import Move, Package
from tests.cast import as_, guest, new_member, steward, stranger, teacher, trained_member
from tests.inventory.stock import a_package, balance, promise

pytestmark = pytest.mark.django_db

HISTORY_QUERIES = 7  # session, user, member, rules; the package, how many moves, which
YARN_PAGE = {"kind": "cone", "gross_text": "525 g", "tare_text": "25 g", "source": "bought"}


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def history(package, who, **query):
    return as_(who).get(reverse("package-history", args=[package.pk]), query)


def reversal(move):
    return reverse("move-reverse", args=[move.pk])


@pytest.fixture
def keeper():
    return steward(units="metric")


@pytest.mark.parametrize("who", [guest, new_member, trained_member, teacher, steward])
def test_everybody_of_the_studio_reads_a_history(who):
    assert history(a_package(), who()).status_code == 200


def test_strangers_are_sent_to_sign_in(keeper):
    package = a_package()
    pages = [package.get_absolute_url(), reversal(package.moves.get())]
    assert {stranger().get(url).url.split("?")[0] for url in pages} == {reverse("sign-in")}


@pytest.mark.parametrize("name", ["package-history", "move-reverse"])
@pytest.mark.parametrize("number", [1, 10**30])
def test_what_is_not_there_is_not_found(keeper, name, number):
    assert as_(keeper).get(reverse(name, args=[number])).status_code == 404


def test_a_history_says_who_did_what_and_what_it_left(keeper):
    package = a_package(gross_text="109 g")
    weaver = new_member()
    issue_yarn(package=package, by=weaver, mass_g=Fraction(30), set_aside=promise(package, 40, weaver))
    shown = text_of(history(package, keeper))
    assert "54 g −30 g 10 g −30 g" in shown  # on hand with its change, set aside with its change
    assert "Taken out for “Towels” of the new member" in shown
    assert "Scale: 109 g. Tare: 25 g." in shown


def test_a_history_is_told_in_the_readers_units(keeper):
    package = a_package(gross_text="18.5 oz", tare_text="0.9 oz")
    assert "17.6 oz +17.6 oz" in text_of(history(package, guest(units="inch")))


def test_a_history_says_for_which_work_yarn_is_set_aside(keeper):
    package = a_package()
    promise(package, 120, new_member(), "A blanket for the quay")
    assert re.search("Set aside A blanket for the quay the new member 120 g", text_of(history(package, keeper)))


def test_a_history_tells_of_quarantine(keeper):
    package = a_package()
    quarantine(package=package, by=keeper, temperature_text="−24 °C")
    shown = text_of(history(package, keeper))
    assert "In quarantine since" in shown
    assert "at −24 °C, put in by the steward" in shown


def test_a_reversed_move_is_marked_with_words(keeper):
    package = a_package()
    reverse_move(move=issue_yarn(package=package, by=keeper, mass_g=Fraction(10)), by=keeper)
    shown = text_of(history(package, keeper))
    assert re.search(r"Taken out\s+reversed", shown)
    assert "Reversal of: taken out" in shown


def test_a_package_without_moves_says_so(keeper):
    package = Package.objects.create(yarn=a_package().yarn, gross_g=500)
    assert "No moves yet" in text_of(history(package, keeper))


@pytest.mark.parametrize("moves", [1, 40])
def test_a_history_asks_as_many_questions_for_many_moves(django_assert_num_queries, keeper, moves):
    package, browser = a_package(), as_(keeper)
    for _ in range(moves):
        weigh_package(package=package, gross_text="500 g", by=keeper)
    browser.get(package.get_absolute_url())
    with django_assert_num_queries(HISTORY_QUERIES):
        browser.get(package.get_absolute_url())


@pytest.mark.parametrize("page", ["2", "0", "999", "x"])
def test_a_long_history_is_shown_in_pages(keeper, page):
    package = a_package()
    for _ in range(60):
        weigh_package(package=package, gross_text="500 g", by=keeper)
    answer = history(package, keeper, page=page)
    assert answer.status_code == 200
    assert "of 61 moves" in text_of(answer)


def reverse_links(answer):
    return re.findall(r'href="(/yarn/ledger/moves/\d+/reverse/)"', answer.content.decode())


def test_a_member_is_offered_to_reverse_their_own_moves_alone(keeper):
    package, weaver = a_package(), new_member()
    mine = issue_yarn(package=package, by=weaver, mass_g=Fraction(10))
    issue_yarn(package=package, by=keeper, mass_g=Fraction(10))
    assert reverse_links(history(package, weaver)) == [reversal(mine)]


def test_a_guest_is_offered_nothing_to_reverse():
    package = a_package()
    assert reverse_links(history(package, guest())) == []


def test_those_who_keep_the_stock_are_offered_every_move(keeper):
    package = a_package()
    issue_yarn(package=package, by=new_member(), mass_g=Fraction(10))
    assert len(reverse_links(history(package, keeper))) == 2


@pytest.mark.parametrize("who", [guest, new_member, trained_member])
@pytest.mark.parametrize("verb", ["get", "post"])
def test_anothers_move_is_not_reversed(keeper, who, verb):
    package = a_package()
    move = issue_yarn(package=package, by=keeper, mass_g=Fraction(10))
    assert getattr(as_(who()), verb)(reversal(move)).status_code == 403
    assert balance(package) == (490, 0)


def test_the_question_says_what_would_happen(keeper):
    package = a_package()
    move = issue_yarn(package=package, by=keeper, mass_g=Fraction(30), set_aside=promise(package, 40, keeper))
    shown = text_of(as_(keeper).get(reversal(move)))
    assert "30 g are on the package again. 30 g are set aside again for “Towels” of the steward." in shown
    assert "The move stays in the history, marked as reversed" in shown
    assert balance(package) == (470, 10)


def test_a_confirmed_reversal_is_done_with_its_reason(keeper):
    package = a_package()
    move = issue_yarn(package=package, by=keeper, mass_g=Fraction(30))
    answer = as_(keeper).post(reversal(move), {"said_why": "Typed 30 for 3"})
    assert (answer.status_code, answer.url) == (302, package.get_absolute_url())
    assert (balance(package), Move.objects.get(reverses=move).said_why) == ((500, 0), "Typed 30 for 3")


def test_a_move_that_cannot_be_reversed_says_why(keeper):
    package = a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(30))
    shown = as_(keeper).get(reversal(package.moves.get(kind="receive")))
    assert "It cannot be reversed." in text_of(shown)
    assert "<form" not in shown.content.decode().split("<main", 1)[1]


def test_a_reversal_that_became_impossible_is_a_sentence(keeper):
    package = a_package()
    move = issue_yarn(package=package, by=keeper, mass_g=Fraction(30))
    reverse_move(move=move, by=keeper)
    answer = as_(keeper).post(reversal(move), {"said_why": ""})
    assert answer.status_code == 422
    assert "was reversed already" in text_of(answer)


def test_a_reason_too_long_comes_back_as_typed(keeper):
    move = issue_yarn(package=a_package(), by=keeper, mass_g=Fraction(30))
    answer = as_(keeper).post(reversal(move), {"said_why": "x" * 201})
    assert answer.status_code == 422
    assert "Write at most 200 characters" in text_of(answer)
    assert "x" * 201 in answer.content.decode()


def test_the_yarn_page_says_what_is_set_aside_and_free_and_links_to_the_history():
    package = a_package(gross_text="109 g")
    promise(package, 40, new_member())
    page = as_(guest(units="metric")).get(package.yarn.get_absolute_url())
    assert f'href="{package.get_absolute_url()}"' in page.content.decode()
    assert re.search(r"84 g 40 g [\d ]+ m 44 g", text_of(page))


def test_the_yarn_page_marks_quarantine_and_whose_yarn_it_is():
    package = a_package(owner=new_member())
    quarantine(package=package, by=steward())
    shown = text_of(as_(guest()).get(package.yarn.get_absolute_url()))
    assert "in quarantine belongs to the new member" in shown


def test_the_shelf_says_what_is_free(keeper):
    package = a_package()
    promise(package, 100, keeper)
    assert "400 g free, 100 g set aside" in text_of(as_(keeper).get(reverse("yarn-room")))


def test_a_new_gross_weight_on_the_page_is_a_weighing_by_who_typed_it():
    package, weaver = a_package(), trained_member()
    as_(weaver).post(reverse("package-edit", args=[package.pk]), {**YARN_PAGE, "gross_text": "425 g"})
    move = package.moves.last()
    assert (move.kind, move.on_hand_ug, move.made_by, move.scale_text) == ("weigh", -100_000_000, weaver, "425 g")


def test_a_new_tare_on_the_page_leaves_what_was_taken_taken(keeper):
    package = a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    as_(keeper).post(reverse("package-edit", args=[package.pk]), {**YARN_PAGE, "tare_text": "30 g"})
    assert (balance(package), package.moves.last().scale_text) == ((395, 0), None)


def test_the_same_weights_on_the_page_are_no_weighing(keeper):
    package = a_package()
    issue_yarn(package=package, by=keeper, mass_g=Fraction(100))
    as_(keeper).post(reverse("package-edit", args=[package.pk]), {**YARN_PAGE, "bin_name": "A4"})
    assert (balance(package), package.moves.count()) == ((400, 0), 2)


def test_gross_and_tare_changed_together_are_one_weighing(keeper):
    package = a_package(gross_text="50 g", tare_text="5 g")
    typed = {**YARN_PAGE, "gross_text": "500 g", "tare_text": "60 g"}
    as_(keeper).post(reverse("package-edit", args=[package.pk]), typed)
    assert (balance(package), package.moves.count()) == ((440, 0), 2)


def test_promises_cut_by_a_weighing_are_said_on_the_page(keeper):
    package = a_package()
    promise(package, 400, new_member())
    address = reverse("package-edit", args=[package.pk])
    answer = as_(keeper).post(address, {**YARN_PAGE, "gross_text": "325 g"}, follow=True)
    assert "“Towels” of the new member lost 100 g" in text_of(answer)


def test_a_package_with_promises_does_not_change_hands(keeper):
    package, weaver = a_package(), new_member()
    promise(package, 400, trained_member())
    answer = as_(keeper).post(reverse("package-edit", args=[package.pk]), {**YARN_PAGE, "owner": weaver.pk})
    assert answer.status_code == 422
    assert "Release it before it changes hands" in text_of(answer)
    assert Package.objects.get().owner is None


def test_a_package_may_go_to_the_member_it_is_promised_to(keeper):
    package, weaver = a_package(), new_member()
    promise(package, 400, weaver)
    as_(keeper).post(reverse("package-edit", args=[package.pk]), {**YARN_PAGE, "owner": weaver.pk})
    assert Package.objects.get().owner == weaver


def test_a_received_package_has_its_first_move_by_who_received_it():
    yarn, weaver = a_package().yarn, trained_member()
    as_(weaver).post(reverse("package-new", args=[yarn.pk]), YARN_PAGE)
    move = Package.objects.last().moves.get()
    assert (move.kind, move.on_hand_ug, move.made_by, move.tare_text) == ("receive", 500_000_000, weaver, "25 g")
