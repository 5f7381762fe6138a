"""The trade's other names lead to the house word (common practice, no single source)."""

import pytest

from studio.synonyms import LONGEST_SEARCH, TERMS, names_meant, plain_words, terms_for


@pytest.mark.parametrize(
    ("typed", "house_word"),
    [
        ("heald", "heddle"),
        ("Harness", "shaft"),
        ("warping frame", "warping board"),
        ("healds", "heddle"),
        ("cone rack", "creel"),
        ("  back   roller ", "warp beam"),
        ("selvage", "selvedge"),
    ],
)
def test_another_name_leads_to_the_house_word(typed, house_word):
    assert [term.word for term in terms_for(typed)] == [house_word]


def test_sley_may_mean_the_reed():
    assert "reed" in [term.word for term in terms_for("sley")]


def test_a_word_outside_the_trade_leads_nowhere():
    assert terms_for("teapot") == ()


def test_an_unknown_word_still_means_itself():
    assert names_meant("Quay End") == {"quay end"}


def test_nothing_typed_means_nothing():
    assert names_meant("  ") == frozenset()


def test_no_house_word_stands_twice():
    words = [term.word for term in TERMS]
    assert len(words) == len(set(words))


def test_a_very_long_search_is_cut_short():
    assert len(plain_words("warp " * 500)) <= LONGEST_SEARCH
