"""A plain check of the centering without touching the glass: keys alone, and always seen where."""

import re

import pytest
from hands import TICKS
from playwright.sync_api import Locator, Page, expect
from yard import TAG, expected_answer

pytestmark = pytest.mark.browser
MAX_STOPS = 60
# Settles once an outline shows what has the focus, and no pad lies over it; in vain, names it.
STOP = """async () => {
  const stop = () => {
    const at = document.activeElement;
    const shown = at.closest('.pick, .tick') ?? at;
    const {outlineStyle, outlineWidth} = getComputedStyle(shown);
    const {x, y, width, height} = shown.getBoundingClientRect();
    const parts = [0.1, 0.5, 0.9];
    const there = parts.flatMap((across) => parts.map((down) =>
      document.elementFromPoint(x + across * width, y + down * height)));
    const outlined = outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
    const seen = there.some((each) => each && shown.contains(each));
    const name = at.getAttribute('aria-label') ?? shown.textContent;
    return at === document.body || (outlined && seen) ? null : {name, outlined, seen};
  };
  for (let left = 100; left > 0 && stop(); left -= 1) await new Promise((go) => setTimeout(go, 20));
  return stop();
}"""


class Keys:
    """A keyboard on a page of the app; every stop of the focus is looked at."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def press(self, key: str) -> None:
        """Press a key."""
        self.page.keyboard.press(key)

    def type(self, text: str) -> None:
        """Type letters and digits."""
        self.page.keyboard.type(text)

    def go_to(self, target: Locator, key: str = "Tab") -> None:
        """Move the focus on until it is there."""
        expect(target).to_be_visible()
        for _ in range(MAX_STOPS):
            self.press(key)
            self.look()
            if target.evaluate("(each) => each === document.activeElement"):
                return
        pytest.fail(f"{key} never leads to {target}.")

    def look(self) -> None:
        """Fail unless it is seen what has the focus, once the screen has come to rest."""
        assert self.page.evaluate(STOP) is None

    def button(self, name: str) -> None:
        """Go to a button and press it."""
        self.go_to(self.page.get_by_role("button", name=name, exact=True))
        self.press("Enter")


@pytest.fixture
def keys(new_hands) -> Keys:
    """The keyboard of a phone of a paired technician."""
    hands = new_hands(has_touch=False)
    hands.pair()
    return Keys(hands.page)


def open_the_job(keys: Keys) -> None:
    """From the list of vehicles to the ride height of a new job."""
    page = keys.page
    keys.go_to(page.get_by_role("searchbox"))
    keys.type(TAG)
    keys.press("Enter")
    keys.go_to(page.locator("summary", has_text="Open a job"))
    keys.press("Enter")
    keys.go_to(page.get_by_label("What it is about"))
    keys.type("wanders")
    keys.button("Whole job")
    expect(page.get_by_text("The vehicle stands")).to_be_visible()


def make_ready(keys: Keys) -> None:
    """The standing by arrows, the ticks by the space bar."""
    page = keys.page
    on_wheels = page.get_by_label("on its wheels")
    keys.go_to(on_wheels)
    stays_while_arrowing(keys, page.get_by_role("radio"))
    expect(on_wheels).to_be_checked()
    for words in TICKS:
        keys.go_to(page.get_by_label(re.compile(words)))
        keys.press("Space")
    keys.button("Next: heights")


def stays_while_arrowing(
    keys: Keys, radios: Locator, start: int = 0, said: Locator | None = None
) -> None:
    """Go through all choices and back: the screen, its folds and the focus stay.

    `said` is what names the choice once it is kept.
    """
    page = keys.page
    url, folds = page.url, page.locator("main details[open]").count()
    last = radios.count() - 1
    keys.press("Space")
    for at in [*range(start + 1, last + 1), *range(last - 1, -1, -1), *range(1, start + 1)]:
        down = at > radios.evaluate_all("(all) => all.findIndex((each) => each.checked)")
        keys.press("ArrowDown" if down else "ArrowUp")
        if said:
            # Drawn anew with what was just kept.
            name = radios.nth(at).evaluate("(each) => each.closest('label').textContent")
            expect(said).to_contain_text(name, ignore_case=True)
        expect(radios.nth(at)).to_be_checked()
        expect(radios.nth(at)).to_be_focused()
        keys.look()
    assert (page.url, page.locator("main details[open]").count()) == (url, folds)


def read(keys: Keys, text: str) -> None:
    """Type a reading and keep it; the focus is on the pad by itself."""
    page = keys.page
    asked = page.locator(".keep").inner_text()
    expect(page.locator(".pad-figure")).to_be_focused()
    keys.look()
    keys.type(text)
    keys.press("Enter")
    expect(page.get_by_role("button", name=asked, exact=True)).to_have_count(0)


def test_a_plain_check_is_made_by_the_keyboard_alone(keys: Keys) -> None:
    page = keys.page
    open_the_job(keys)
    make_ready(keys)
    read(keys, "8 3/4")
    read(keys, "8 5/8")
    keys.button("Next: centering")
    expect(page.locator(".pad-figure")).to_be_focused()
    keys.go_to(page.locator(".settings > summary"), "Shift+Tab")
    keys.press("Enter")
    keys.go_to(page.get_by_label("rotor face"))
    faces = page.get_by_role("group", name="Face").get_by_role("radio")
    stays_while_arrowing(keys, faces, 1, page.locator(".settings > summary"))
    keys.go_to(page.locator(".pad-figure"))
    for reading in ("8 7/16", "8 7/16", "8", "8 1/16"):
        read(keys, reading)
    expect(page.locator(".answer").first).to_have_text(expected_answer())
    keys.button("Next: track bar")

    expect(page.locator(".places [aria-current]")).to_have_text("Track bar")


def test_ways_of_rocking_a_joint_are_gone_through_without_anything_opening(keys: Keys) -> None:
    page = keys.page
    open_the_job(keys)
    keys.go_to(page.get_by_role("link", name="Play"))
    keys.press("Enter")
    keys.go_to(page.get_by_role("button", name="Track bar, frame end"))
    keys.press("Enter")
    expect(page.locator(".pad-figure")).to_be_focused()
    # Nothing is chosen yet, and the way back comes to the last one first.
    keys.go_to(page.get_by_role("radio").last, "Shift+Tab")

    stays_while_arrowing(keys, page.get_by_role("radio"), 2, page.locator(".settings > summary"))


def draw_again(page: Page) -> None:
    """Have the app draw the screen of the same address once more, and wait until it has."""
    page.evaluate("document.querySelector('.places').dataset.before = 'true'")
    page.evaluate("dispatchEvent(new HashChangeEvent('hashchange'))")
    expect(page.locator(".places[data-before]")).to_have_count(0)
    expect(page.locator(".places")).to_be_visible()


def test_the_step_with_the_focus_stays_in_sight_when_the_screen_is_drawn_again(keys: Keys) -> None:
    open_the_job(keys)
    last = keys.page.locator(".places a").last
    keys.go_to(last)

    draw_again(keys.page)

    expect(last).to_be_focused()
    keys.look()


def test_the_bar_of_steps_stays_where_a_finger_left_it_until_another_step_is_opened(
    keys: Keys,
) -> None:
    page = keys.page
    open_the_job(keys)
    page.evaluate("document.querySelector('.places').scrollLeft = 90")

    draw_again(page)
    assert page.evaluate("document.querySelector('.places').scrollLeft") == 90

    page.locator(".places a").last.click()
    expect(page.locator(".places a").last).to_have_attribute("aria-current", "step")
    expect(page.locator(".places a").last).to_be_in_viewport(ratio=1)
