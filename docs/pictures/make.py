"""Makes the pictures of the docs by doing a job in the demo with a browser.

From the root of a checkout in which the tests have run once:
.venv/bin/python docs/pictures/make.py
"""

import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "browser")]

from chrome import find_chromium, flags  # noqa: E402
from hands import Hands  # noqa: E402
from kit.servers import Server  # noqa: E402
from PIL import Image  # noqa: E402
from playwright.sync_api import Browser, Locator, Page, expect, sync_playwright  # noqa: E402
from plow_truck import Plowtruck  # noqa: E402

from webapp.network.demo import prepare  # noqa: E402

PHONE = {"width": 360, "height": 800}
DESK = {"width": 1280, "height": 800}
# Where the sample's year was written.
PLACE = {"locale": "en-US", "timezone_id": "Etc/GMT+5"}
VEHICLE = "Mobile vet truck V1"
TAG = "XYKW-9Q7J"
SHOP = "shop-pc.test"
ABOUT = "Caught a curb, pulls to the right"


def main() -> None:
    """Write every picture anew."""
    with demo() as url, chromium() as browser:
        technician(browser, url)
        truck(browser, url)
        # Under the name that phones would reach it by, as printed on tags.
        lead(browser, url.replace("127.0.0.1", SHOP))


@contextmanager
def demo() -> Iterator[str]:
    """The address of the demo, on a free port and a folder that goes again."""
    with tempfile.TemporaryDirectory(prefix="axlewright-pictures-") as folder:
        prepare(Path(folder))
        server = Server(Path(folder)).start()
        try:
            yield server.url
        finally:
            server.stop()


@contextmanager
def chromium() -> Iterator[Browser]:
    """The system's Chromium."""
    with sync_playwright() as playwright:
        named = f"--host-resolver-rules=MAP {SHOP} 127.0.0.1"
        browser = playwright.chromium.launch(
            executable_path=find_chromium(), args=[*flags(), named]
        )
        yield browser
        browser.close()


def take(shown: Page | Locator, name: str) -> None:
    """Write one picture of a page or of an element, in 256 colors, which halves it."""
    picture = Image.open(BytesIO(shown.screenshot(animations="disabled")))
    picture.convert("RGB").quantize().save(HERE / f"{name}.png", optimize=True)


class PhoneAlbum(Hands):
    """A technician who takes a picture of each screen."""

    def light(self, name: str) -> None:
        """The screen in the light theme."""
        take(self.page, f"phone-{name}")

    def both(self, name: str) -> None:
        """The screen in both themes."""
        self.light(name)
        self.page.emulate_media(color_scheme="dark")
        self.light(f"{name}-dark")
        self.page.emulate_media(color_scheme="light")

    def part(self, name: str, shown: Locator | None) -> None:
        """The screen of the truck's job, from a part of it or from its top."""
        # A screen that was just kept something on is drawn once more, where it stands.
        self.page.wait_for_timeout(400)
        self.top()
        if shown:
            shown.evaluate("part => scrollTo(0, part.getBoundingClientRect().top - 90)")
        self.light(f"truck-{name}")

    def top(self) -> None:
        """Leave the place that a tap scrolled to or put the focus on."""
        self.page.evaluate("scrollTo(0, 0); document.activeElement?.blur()")


def technician(browser: Browser, url: str) -> None:
    """The job of the tutorial, from the list of vehicles to the hand-in."""
    context = browser.new_context(
        viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True, **PLACE
    )
    hands = PhoneAlbum(context.new_page(), url)
    hands.page.clock.install()
    pair(hands)
    as_found(hands)
    as_left(hands)
    out_of_reach(hands)
    context.close()


def truck(browser: Browser, url: str) -> None:
    """The whole job on the plow truck, from its blank tag, out of reach of the shop."""
    context = browser.new_context(
        viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True, **PLACE
    )
    hands = PhoneAlbum(context.new_page(), url)
    hands.pair()
    close_notices(hands.page)
    context.set_offline(True)
    Plowtruck(hands, hands.part).whole()
    context.close()


def pair(hands: PhoneAlbum) -> None:
    """Pair the phone at the demo's door, and find the vehicle."""
    hands.page.goto(f"{hands.url}/door")
    hands.light("door")
    hands.pair()
    expect(hands.state).to_contain_text("Everything is at the shop. In contact.")
    close_notices(hands.page)
    hands.both("vehicles")
    hands.open_tag(TAG)
    expect(hands.page.get_by_role("heading", name=VEHICLE)).to_be_visible()
    hands.light("vehicle")


def close_notices(page: Page) -> None:
    """Load the app again, so that what it says at its first visit is gone."""
    page.reload()
    expect(page.locator(".rows a").first).to_be_visible()
    expect(page.locator(".state")).to_contain_text("In contact.")


def as_found(hands: PhoneAlbum) -> None:
    """The first round, up to the answer and the bar."""
    page = hands.page
    hands.open_job(ABOUT)
    tick_all(hands)
    hands.light("ticks")
    hands.press("Next: heights")
    hands.enter("8 7/16")
    hands.both("tape")
    hands.keep_button.click()
    expect(page.get_by_role("button", name="Save right 1", exact=True)).to_be_visible()
    hands.read("8 1/2")
    hands.light("heights")
    hands.press("Next: centering")
    for reading in ("9 7/8", "9 7/8", "10 7/16"):
        hands.read(reading)
    hands.enter("10 7/16")
    hands.light("centering")
    hands.keep_button.click()
    # It hit a curb: nothing that was logged explains the move, until it is measured again.
    expect(page.locator(".answer").first).to_contain_text("Do not adjust yet")
    see_at_the_shop(hands)
    hands.top()
    hands.light("hold")
    hands.press("Measured again: it is right")
    expect(page.locator(".answer").first).to_contain_text("turns out")
    see_at_the_shop(hands)
    hands.top()
    hands.both("answer")
    strike_dialog(hands)
    hands.press("Next: track bar")
    bar_and_travel(hands)


def bar_and_travel(hands: PhoneAlbum) -> None:
    """The bar's values, and the bar under the finger on its way through the travel."""
    page = hands.page
    for name, reading in (("Bump travel", "3 1/8"), ("Droop travel", "4 1/4")):
        hands.open_value(name)
        hands.enter(reading)
        hands.keep_button.click()
        hands.back_at_values()
        expect(page.get_by_role("button", name=f"{name} {reading}")).to_be_visible()
    see_at_the_shop(hands)
    page.locator("main ul.rows").evaluate("rows => scrollTo(0, rows.offsetTop - 80)")
    hands.light("track-bar")
    hands.press("Travel and what-if")
    page.get_by_label("Travel", exact=True).fill("-100")
    hands.top()
    hands.light("travel")


def tick_all(hands: Hands) -> None:
    """Say what it stands on, and tick all five."""
    page = hands.page
    page.get_by_text("on its wheels", exact=True).click()
    for box in page.get_by_role("checkbox").all():
        box.check()
    see_at_the_shop(hands)
    page.evaluate("document.activeElement?.blur()")


def strike_dialog(hands: PhoneAlbum) -> None:
    """The question that a tap on a kept reading asks, and leaving it as it is."""
    page = hands.page
    page.locator("button.reading").first.click()
    expect(page.get_by_role("dialog")).to_be_visible()
    hands.light("strike")
    hands.press("Cancel")


def as_left(hands: PhoneAlbum) -> None:
    """The second round, after the bar was turned, and the hand-in."""
    page = hands.page
    page.get_by_role("button", name="Back").click()
    page.get_by_role("link", name="Change", exact=False).first.click()
    hands.log_change("Track bar turned")
    see_at_the_shop(hands)
    page.get_by_role("button", name="Back").click()
    page.get_by_role("link", name="Start round: as left").click()
    hands.press("Continue: ride height")
    tick_all(hands)
    hands.press("Next: heights")
    for reading in ("8 7/16", "8 1/2"):
        hands.read(reading)
    hands.press("Next: centering")
    for reading in ("10 3/16", "10 3/16", "10 1/8", "10 1/8"):
        hands.read(reading)
    hands.press("Next: track bar")
    hands.open_value("Bar length")
    hands.enter("32 1/4")
    hands.keep_button.click()
    hands.back_at_values()
    expect(page.get_by_text("32 1/4").first).to_be_visible()
    hands.press("Checked: values on file are still right")
    see_at_the_shop(hands)
    page.get_by_role("button", name="Back").click()
    expect(page.get_by_text("From as found to as left")).to_be_visible()
    hands.top()
    hands.light("job")
    page.get_by_role("link", name="Hand in").click()
    reason = page.get_by_label("Why it is handed in incomplete")
    reason.fill("Steering wheel, clearance and torque follow tomorrow")
    hands.top()
    hands.light("hand-in")
    hands.press("Hand in incomplete")
    expect(page.get_by_text("Handed in. The shop has it.")).to_be_visible()


def see_at_the_shop(hands: Hands) -> None:
    """Wait until the shop has everything."""
    expect(hands.state).to_contain_text("Everything is at the shop. In contact.")


def out_of_reach(hands: PhoneAlbum) -> None:
    """The same phone without the network: a few readings, and what it says of them."""
    page = hands.page
    page.context.set_offline(True)
    page.goto(f"{hands.url}/app#/")
    expect(page.locator(".rows a").first).to_be_visible()
    hands.open_tag("5J5Q-D35T")
    page.get_by_role("link", name="Pulls on the causeway").click()
    hands.press("Continue: centering")
    for reading in ("10 11/16", "10 3/4"):
        hands.read(reading)
    expect(hands.state).to_contain_text("on this phone only")
    page.clock.fast_forward("23:00")
    hands.state.click()
    hands.press("Try the shop again")
    expect(hands.state).to_contain_text("The shop does not answer.")
    expect(hands.state).to_contain_text("Last contact")
    hands.both("offline")


def lead(browser: Browser, url: str) -> None:
    """The desk's pages, with the technician's job among those that wait."""
    context = browser.new_context(viewport=DESK, **PLACE)
    page = context.new_page()
    page.goto(f"{url}/door")
    page.get_by_role("button", name="lead").click()
    expect(page.get_by_role("heading", name="Pending review")).to_be_visible()
    fitted(page, "desk-pending", page.locator("ol.waiting > li").nth(2))
    page.get_by_role("link", name=VEHICLE).click()
    expect(page.locator(".rounds figure svg").first).to_be_visible()
    fitted(page, "desk-job", page.locator(".rounds .sides").first)
    take(page.locator(".decide"), "desk-decide")
    page.goto(f"{url}/desk/vehicles?q=P1")
    page.get_by_role("link", name="Plow truck P1").click()
    expect(page.locator("figure svg").first).to_be_visible()
    fitted(page, "desk-vehicle", page.locator(".over").first)
    tags(page, url)
    page.goto(f"{url}/desk/limits")
    fitted(page, "desk-limits", page.locator("section.limit").first)
    context.close()


def fitted(page: Page, name: str, last: Locator) -> None:
    """The page down to the lower edge of an element."""
    box = last.bounding_box()
    assert box is not None
    page.set_viewport_size({**DESK, "height": round(box["y"] + box["height"]) + 12})
    take(page, name)
    page.set_viewport_size(DESK)


def tags(page: Page, url: str) -> None:
    """A sheet of labels for three vehicles and three blank tags."""
    page.goto(f"{url}/desk/tags")
    for name in ("Mobile vet", "Fence crew", "Marina launch"):
        page.get_by_label(name).check()
    page.get_by_label("How many").fill("3")
    page.get_by_role("button", name="Make the sheet").click()
    expect(page.locator("svg.label-sheet")).to_be_visible()
    page.set_viewport_size({**DESK, "height": 640})
    take(page, "desk-tags")
    page.set_viewport_size(DESK)


if __name__ == "__main__":
    main()
