"""Nothing jumps under the finger, and nothing moves for whoever asked for less motion."""

import pytest
from hands import Hands, wait_for
from playwright.sync_api import Page, expect
from yard import TAG, VEHICLE

pytestmark = pytest.mark.browser

# The sum of the shifts of a page, in shares of the glass moved by shares of the glass: a tenth is
# what counts as good. What follows a touch or a key within half a second is left out, as always.
MOST = 0.02
WATCH = """
  globalThis.shifts = [];
  new PerformanceObserver((list) => shifts.push(...list.getEntries().map((entry) => ({
    value: entry.value, asked: entry.hadRecentInput,
    what: entry.sources.map(({node}) => node?.textContent?.slice(0, 60)),
  })))).observe({type: 'layout-shift', buffered: true});
  globalThis.ran = [];
  for (const kind of ['transitionrun', 'animationstart']) {
    addEventListener(kind, (event) => ran.push(`${kind} of ${event.target.className}`), true);
  }
"""
# Settles once two frames were drawn, when the shifts of the first have been told.
DRAWN = "new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(() => go())))"
MOVING = """() => [...document.querySelectorAll('*')].filter((element) => {
  const style = getComputedStyle(element);
  const lasts = (text) => text.split(',').some((each) => parseFloat(each) > 0);
  return lasts(style.transitionDuration) || style.animationName !== 'none'
    || style.scrollBehavior === 'smooth';
}).map((element) => `${element.localName}.${element.className}`)"""


@pytest.fixture
def hands(new_hands) -> Hands:
    """A technician with an open job, on a phone that notes every shift and every animation."""
    made = new_hands(reduced_motion="reduce")
    made.page.context.add_init_script(WATCH)
    made.pair()
    made.open_tag(TAG)
    made.open_job()
    return made


def unasked(page: Page) -> list:
    """The shifts so far that no touch or key asked for."""
    page.evaluate(DRAWN)
    return [each for each in page.evaluate("shifts") if not each["asked"]]


def stays(page: Page) -> None:
    """Fail where the page has shifted by more than what is allowed."""
    shifts = unasked(page)
    assert sum(each["value"] for each in shifts) < MOST, shifts


def measured(hands: Hands) -> str:
    """The id of the open job, measured up to its answer; each reading has reached the shop."""
    hands.make_ready()
    for reading in ("8 3/4", "8 5/8"):
        hands.read(reading)
        expect(hands.state).to_contain_text("Everything is at the shop")
    hands.press("Next: centering")
    for reading in ("8 7/16", "8 7/16", "8", "8 1/16"):
        hands.read(reading)
        expect(hands.state).to_contain_text("Everything is at the shop")
    return hands.page.url.split("/")[-3]


def test_the_observer_sees_a_shift(hands: Hands) -> None:
    """What pushes the screen down by itself is noted, so that nothing noted means nothing moved."""
    hands.page.evaluate("setTimeout(() => { document.body.style.paddingTop = '200px'; }, 600)")
    wait_for(hands.page, "shifts.some((each) => !each.asked && each.value > 0.05)")
    with pytest.raises(AssertionError):
        stays(hands.page)


def test_nothing_shifts_as_readings_are_kept_and_arrive(hands: Hands) -> None:
    """From the first tick to the answer, with the state line telling each on its way."""
    measured(hands)
    stays(hands.page)


def test_nothing_shifts_as_a_job_is_opened(hands: Hands) -> None:
    """The job, its answer and the vehicles, each opened anew at its address."""
    job = measured(hands)
    for address in (f"#/job/{job}/as_found/centering", f"#/job/{job}/as_found", "#/"):
        hands.page.goto(f"{hands.url}/app{address}")
        hands.page.reload()
        expect(hands.state).to_contain_text("In contact")
        stays(hands.page)


def test_nothing_shifts_as_news_comes_from_the_shop(hands: Hands, shop_of_one) -> None:
    """A reading of another phone appears in the log of the job that is shown."""
    job = measured(hands)
    hands.back()
    log = hands.page.locator("summary", has_text="Everything logged")
    before = log.inner_text()
    phone = shop_of_one[1]
    body = {"step": "centering", "field": "left", "value": 214.0, "unit": "mm", "read_to": 1.0}
    place = {"vehicle": VEHICLE, "job": job, "round": "as_found", "typed": "214"}
    phone.push(
        phone.entry("reading", {**body, "face": "rotor", "method": "square_to_rail"}, **place)
    )
    hands.page.evaluate("dispatchEvent(new Event('online'))")
    expect(log).not_to_have_text(before)
    stays(hands.page)


def test_nothing_moves_for_whoever_asked_for_less_motion(hands: Hands) -> None:
    """No animation, no transition and no smooth scrolling, from the vehicles to the answer."""
    measured(hands)
    page = hands.page
    assert page.evaluate(MOVING) == []
    page.get_by_role("button", name="right 1: 8,").click()
    expect(page.locator("dialog")).to_be_visible()
    assert page.evaluate(MOVING) == []
    assert page.evaluate("document.getAnimations().length") == 0
    assert page.evaluate("ran") == []


def test_motion_would_be_noticed(hands: Hands) -> None:
    """An animation that does not ask first is seen by both looks."""
    page = hands.page
    page.evaluate("document.querySelector('main').style.transition = 'opacity 50ms'")
    assert page.evaluate(MOVING) == ["main."]
    page.evaluate("document.querySelector('main').style.opacity = 0.5")
    wait_for(page, "ran.length > 0")
