"""Every screen of the phone, in both themes: accessible, within the width, with large targets."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from hands import Hands
from playwright.sync_api import expect
from yard import TAG, put_in_the_yard

pytestmark = pytest.mark.browser
WIDTHS = (320, 360, 414, 768)
TARGETS = "button, a.row, a.button, .pick, .tick, summary, .places a"
SMALL_TARGETS = """(targets) => [...document.querySelectorAll(targets)]
  .filter((element) => element.checkVisibility())
  .map((element) => [element.getBoundingClientRect(), element.textContent.trim()])
  .filter(([box]) => box.width > 0 && (box.height < 47.5 || box.width < 44))
  .map(([box, words]) => `${words}: ${Math.round(box.width)} x ${Math.round(box.height)}`)"""


class Inspector:
    """Looks at each screen that it is shown."""

    def __init__(self, page):
        self.page = page
        self.seen = []

    def look(self, name):
        """Fail when this screen has an accessibility fault, is too wide or has a small target."""
        self.seen.append(name)
        found = Axe().run(self.page)
        assert not found.response["violations"], f"{name}: {found.generate_report()}"
        for width in WIDTHS:
            self.page.set_viewport_size({"width": width, "height": 800})
            wide = self.page.evaluate("document.documentElement.scrollWidth")
            assert wide <= width, f"{name} is {wide} wide on a phone of {width}"
        self.page.set_viewport_size({"width": 360, "height": 800})
        assert self.page.evaluate(SMALL_TARGETS, TARGETS) == [], name


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_every_screen(browser, real_server, theme):
    """From an unpaired phone to a job that is handed in."""
    server, phone = real_server
    put_in_the_yard(phone)
    # The checker puts its script into the page, which the app's own policy would refuse.
    context = browser.new_context(color_scheme=theme, has_touch=True, bypass_csp=True)
    hands = Hands(context.new_page(), server.url)
    inspector = Inspector(hands.page)
    hands.page.goto(f"{server.url}/app")
    expect(hands.page.get_by_text("not paired with a shop yet")).to_be_visible()
    inspector.look("unpaired")
    hands.come_in()
    inspector.look("vehicles")
    hands.open_tag(TAG)
    hands.page.get_by_text("Open a job").click()
    inspector.look("vehicle")
    hands.page.get_by_text("Open a job").click()
    hands.open_job("bar rebuilt")
    inspector.look("ride height, ready")
    hands.make_ready()
    inspector.look("ride height, reading")
    hands.read("8 3/4")
    hands.read("8 5/8")
    inspector.look("ride height, done")
    measure(hands, inspector)
    bar(hands, inspector)
    hand_in(hands, inspector)
    context.close()


def measure(hands, inspector):
    """The centring screens."""
    hands.press("Next: centring")
    hands.page.locator(".settings summary").click()
    inspector.look("centring, face and method")
    hands.page.locator(".settings summary").click()
    hands.page.locator(".pad-figure").fill("21/4")
    hands.keep_button.click()
    inspector.look("centring, asked back")
    hands.page.locator(".pad-figure").fill("")
    for reading in ("8 7/16", "8 7/16", "8", "8 1/16"):
        hands.read(reading)
    hands.page.locator("summary", has_text="Why").click()
    inspector.look("answer")
    hands.page.get_by_role("button", name="right 1: 8,").click()
    inspector.look("strike")
    hands.press("Leave it")


def bar(hands, inspector):
    """The track bar screens."""
    hands.press("Next: track bar")
    inspector.look("track bar")
    hands.page.locator(".row", has_text="Frame end on the").click()
    inspector.look("frame end")
    hands.press("Leave as it is")
    hands.page.locator(".row", has_text="Fore-aft lead").click()
    inspector.look("fore-aft lead")
    hands.press("Leave as it is")
    hands.page.locator(".row", has_text="Adjuster").click()
    inspector.look("adjuster")
    hands.press("Leave as it is")


def hand_in(hands, inspector):
    """The last screens: what is missing, the job, what the phone holds."""
    hands.page.context.set_offline(True)
    hands.press("Next: hand in")
    inspector.look("hand in")
    hands.press("Hand in", exact=True)
    expect(hands.page.get_by_text("Handed in.")).to_be_visible()
    inspector.look("handed in")
    hands.press("Back")
    hands.page.locator("summary", has_text="Everything logged").click()
    inspector.look("job")
    hands.state.click()
    expect(hands.page.get_by_role("heading", name="On this phone", exact=True)).to_be_visible()
    inspector.look("held")
    hands.page.evaluate("location.hash = '#/vehicle/nobody'")
    expect(hands.page.get_by_text("holds nothing of that vehicle")).to_be_visible()
    inspector.look("unknown vehicle")
    hands.page.evaluate("location.hash = '#/'")
    hands.page.get_by_role("searchbox").fill("no such lorry")
    inspector.look("nothing found")
