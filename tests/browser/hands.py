"""A technician's hands on the phone's screens, as the tests move them."""

from playwright.sync_api import Locator, Page, expect

TICKS = ("Floor level", "Tyres equal", "Usual load", "Settled", "Wheels straight")
EDGE, SPAN, WIDTH = 24, 312, 360  # of the drawn tape


class Hands:
    """What a technician does, on a page that shows the app."""

    def __init__(self, page: Page, url: str) -> None:
        self.page = page
        self.url = url

    def come_in(self) -> None:
        """Pair this phone through the demo's door, and wait for the vehicles."""
        self.page.goto(f"{self.url}/door")
        self.page.get_by_role("button", name="technician").click()
        expect(self.page.locator(".rows a").first).to_be_visible()
        self.wait_for_worker()

    def wait_for_worker(self) -> None:
        """Wait until the app opens without the network."""
        self.page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    def open_tag(self, code: str) -> None:
        """Open a vehicle by its tag code, typed."""
        self.page.get_by_role("searchbox").fill(code)
        self.press("Open", exact=True)

    def press(self, name: str, *, exact: bool = False) -> None:
        """Press a button by its words."""
        self.page.get_by_role("button", name=name, exact=exact).click()

    def open_job(self, about: str = "") -> None:
        """Open a job on the vehicle shown, as found."""
        self.page.get_by_text("Open a job").click()
        self.page.get_by_label("What it is about").fill(about)
        self.press("Open the job")
        expect(self.page.get_by_text("The vehicle stands")).to_be_visible()

    def make_ready(self) -> None:
        """Say that it stands on its wheels, and tick all five."""
        self.page.get_by_text("on its wheels").click()
        for words in TICKS:
            self.page.get_by_text(words).click()
        self.press("Next: heights")

    @property
    def keep_button(self) -> Locator:
        """The button that keeps what the pad shows."""
        return self.page.locator(".keep")

    def read(self, text: str) -> None:
        """Enter a reading such as `8 7/16` on the tape pad, and keep it as the next one."""
        asked = self.keep_button.inner_text()
        self.enter(text)
        self.keep_button.click()
        expect(self.page.get_by_role("button", name=asked, exact=True)).to_have_count(0)

    def enter(self, text: str) -> None:
        """Touch the whole number on the keys and the fraction on the drawn tape."""
        whole, _, fraction = text.partition(" ")
        for digit in whole:
            self.page.locator(".keys").get_by_role("button", name=digit, exact=True).click()
        if fraction:
            self.touch_mark(fraction)
        expect(self.page.locator(".pad-figure")).to_have_value(text)

    def touch_mark(self, fraction: str) -> None:
        """Touch the mark of a fraction of an inch on the drawn tape."""
        top, bottom = map(int, fraction.split("/"))
        box = self.page.locator("svg.tape").bounding_box()
        assert box is not None
        across = (EDGE + SPAN * top / bottom) / WIDTH
        self.page.mouse.click(box["x"] + across * box["width"], box["y"] + 0.6 * box["height"])

    @property
    def answer(self) -> str:
        """The answer sentence on the screen."""
        return self.page.locator(".answer").first.inner_text()

    @property
    def state(self) -> Locator:
        """The line that says what the shop does not have yet."""
        return self.page.locator(".state")
