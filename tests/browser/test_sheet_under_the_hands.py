"""The warp sheet while somebody works on it: nothing covered, nothing jumping, nothing the browser has to block."""

import pytest
from playwright.sync_api import expect

from tests.browser.hands import open_sheet, saved

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]

COVERED = """() => {
  const focused = document.activeElement;
  if (focused === document.body) return "";
  const place = focused.closest("label") ?? focused;
  const box = place.getBoundingClientRect();
  const under = (bar) => {
    const its = bar.getBoundingClientRect();
    const beside = box.right <= its.left || box.left >= its.right;
    return its.height && !beside && box.top < its.bottom - 1 && box.bottom > its.top + 1;
  };
  const bars = [...document.querySelectorAll(".brief-actions, .figure-bar")].filter((bar) => !bar.contains(place));
  const hidden = bars.some(under) || box.bottom > innerHeight + 1;
  return hidden ? place.id || place.outerHTML.slice(0, 120) : "";
}"""
"""Gives what has the focus when a sticky bar lies over any part of it, or the window's edge cuts it off."""

BLOCKED = """
window.blocked = [];
document.addEventListener("securitypolicyviolation", (event) => window.blocked.push(event.violatedDirective));
"""


@pytest.mark.parametrize("width", [390, 1440])
@pytest.mark.parametrize("key", ["Tab", "Shift+Tab"])
def test_what_has_the_focus_is_never_under_a_bar(signed_in, house, live_server, member, key, width):
    """WCAG 2.2, success criterion 2.4.11, and a little more: no part of it is covered."""
    page = signed_in
    page.set_viewport_size({"width": width, "height": 900})
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_title" if key == "Tab" else "#sheet .brief-actions button").first.focus()
    covered = []
    for _ in range(45):
        page.keyboard.press(key)
        covered.append(page.evaluate(COVERED))
    assert [place for place in covered if place] == []


def test_a_half_typed_word_pushes_nothing_down(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_sett").focus()
    before = page.locator("#id_sett").bounding_box()["y"]
    page.locator("#id_sett").fill("20x")
    expect(page.locator("#id_sett_error")).to_be_visible()
    expect(page.locator("#mistakes")).to_be_hidden()
    expect(page.locator("#plan-state").get_by_role("link", name="Sett")).to_be_visible()
    assert page.locator("#id_sett").bounding_box()["y"] == before


def test_enter_asks_for_the_list_of_mistakes(signed_in, house, live_server, member):
    page = signed_in
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_sett").fill("20x")
    page.locator("#id_sett").press("Enter")
    expect(page.locator("#mistakes")).to_contain_text("1 thing to correct")


@pytest.mark.parametrize(
    ("order", "left"),
    [
        ("4 B, (8 A, 8 B) 3 times", "4 B"),
        ("4 B, 2 times (8 A, (1 B, 1 A) 4 times)", "4 B"),
        ("(8 A, 8 B) 3 times, 4 A", "(8 A, 8 B) 3 times"),
        ("8 A, 4 B,", "8 A"),
        ("(8 A, 8 B) 3 times", ""),
    ],
)
def test_a_bracket_is_taken_back_as_one_stripe(signed_in, house, live_server, member, order, left):
    page = signed_in
    rows = {"yarns-1-code": "B", "yarns-1-yarn": "linen", "yarns-1-grist": "3000 yd/lb", "colour_order": order}
    open_sheet(page, live_server, saved(house[0], member, **rows))
    page.get_by_role("button", name="Take back the last stripe").click()
    expect(page.locator("#id_colour_order")).to_have_value(left)


def test_a_field_drawn_larger_by_hand_sets_off_no_alarm(signed_in, house, live_server, member):
    """A browser writes the new height into the field's style; nothing of ours may carry it on as an attribute."""
    page = signed_in
    page.add_init_script(BLOCKED)
    open_sheet(page, live_server, saved(house[0], member))
    page.locator("#id_colour_order").evaluate("field => { field.style.height = '300px'; }")
    page.get_by_role("button", name="Add a yarn").click()
    expect(page.locator("#id_yarns-1-yarn")).to_be_focused()
    page.locator("#id_sett").fill("18")
    expect(page.locator("#plan .plan-figures")).to_contain_text("432")
    assert page.evaluate("window.blocked") == []


def test_a_phone_sees_that_a_table_goes_on_sideways(signed_in, house, live_server, member):
    page = signed_in
    page.set_viewport_size({"width": 390, "height": 800})
    open_sheet(page, live_server, saved(house[0], member))
    table = page.get_by_role("region", name="Table of sections")
    assert table.evaluate("place => place.scrollWidth > place.clientWidth")
    assert "local" in table.evaluate("place => getComputedStyle(place).backgroundAttachment")
    heads = table.locator("thead th").all_inner_texts()
    assert heads[:3] == ["Section", "Ends", "Turns"]
