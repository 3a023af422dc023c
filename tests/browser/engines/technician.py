"""A technician's hands on the phone's screens, in any browser."""

from pathlib import Path
from typing import Any

from engines.browsers import Browser, until
from engines.web_driver import DriverError
from hands import TICKS
from kit.servers import Server
from yard import TAG

LOOK = Path(__file__).with_name("screen.js").read_text(encoding="utf-8")
BUTTON = "button, summary, a"


class Technician:
    """What a technician does on a phone whose shop is at the server."""

    def __init__(self, browser: Browser, shop: Server) -> None:
        self.browser, self.shop = browser, shop
        self.trouble = ""

    def look(self, expression: str, *given: Any) -> Any:
        """What an expression is on the screen now, or None while a page loads.

        It may use the functions of screen.js, and what is given as `arguments`.
        """
        try:
            return self.browser.run(f"{LOOK}return {expression};", *given)
        except DriverError as error:
            self.trouble = str(error)[:300]
            return None

    def wait(self, what: str, expression: str, *given: Any) -> Any:
        """What an expression is once it is something true; fails with what is on the screen."""
        try:
            return until(what, lambda: self.look(expression, *given))
        except AssertionError as error:
            raise AssertionError(f"{what}\n{self.screen()}") from error

    def screen(self) -> str:
        """All that can be read on the screen, for whoever looks for the fault."""
        texts = self.look("[location.href, document.body.innerText]") or ["No page."]
        return "\n".join([*texts, self.trouble])

    def shows(self, css: str, text: str = "", *, whole: bool = False) -> None:
        """Wait until an element with this text can be seen."""
        what = f"{css} with {text!r} does not come."
        self.wait(what, "seen(...arguments).length > 0", css, text, whole)

    def gone(self, css: str, text: str = "", *, whole: bool = False) -> None:
        """Wait until no such element can be seen."""
        what = f"{css} with {text!r} does not go."
        self.wait(what, "seen(...arguments).length === 0", css, text, whole)

    def text(self, css: str) -> str:
        """The text of the first such element, once there is one."""
        what = f"{css} does not come."
        return str(self.wait(what, "seen(arguments[0])[0]?.innerText", css))

    def touch(self, css: str, text: str = "", *, whole: bool = False) -> None:
        """Touch the element with this text, as soon as it is there, at rest and uncovered."""
        self._touch(f"{css} with {text!r}", "middle(...arguments)", css, text, whole)

    def touch_mark(self, fraction: str) -> None:
        """Touch the mark of a fraction of the stretch on the drawn tape."""
        top, bottom = map(int, fraction.split("/"))
        self._touch(f"the mark {fraction}", "mark(arguments[0])", top / bottom)

    def _touch(self, what: str, place: str, *given: Any) -> None:
        """Touch the point that an expression gives twice, or fail with the reason it gives."""
        found: list[Any] = [None]

        def at_rest() -> bool:
            found.append(self.look(place, *given))
            return isinstance(found[-1], list) and found[-1] == found[-2]

        try:
            until(what, at_rest)
        except AssertionError as error:
            why = f"No finger reaches {what}: {found[-1]}.\n{self.screen()}"
            raise AssertionError(why) from error
        self.browser.touch(*found[-1])

    def pair(self) -> None:
        """Pair this phone through the demo's door, and wait until the app works offline."""
        self.browser.go(f"{self.shop.url}/door")
        self.press("technician")
        self.shows(".rows a")
        ready = "navigator.serviceWorker.ready.then(() => true)"
        self.wait("The app does not work offline.", ready)

    def press(self, text: str, *, whole: bool = False) -> None:
        """Press a button, or what looks like one, by its words."""
        self.touch(BUTTON, text, whole=whole)

    def open_tag(self) -> None:
        """Open the vehicle in the yard by its tag code, typed."""
        self.touch("input[type=search]")
        self.browser.type(TAG.lower())
        self.press("Open", whole=True)

    def open_job(self) -> None:
        """Open a whole job on the front axle of the vehicle shown, as found."""
        self.press("Open a job")
        self.touch("label", "front", whole=True)
        self.press("Whole job")
        self.shows("legend", "The vehicle stands")

    def make_ready(self) -> None:
        """Say that it stands on its wheels, and tick all five."""
        self.touch("label", "on its wheels")
        for words in TICKS:
            self.touch("label", words)
        self.press("Next: heights")

    def read(self, *texts: str) -> None:
        """Enter readings such as `8 7/16` on the tape pad, and keep each as the next one."""
        for text in texts:
            asked = self.text(".keep")
            self.enter(text)
            self.touch(".keep")
            self.gone(".keep", asked, whole=True)

    def enter(self, text: str) -> None:
        """Touch the whole number on the keys and the fraction on the drawn tape."""
        whole, _, fraction = text.partition(" ")
        for digit in whole:
            self.touch(".keys button", digit, whole=True)
        if fraction:
            self.touch_mark(fraction)
        self.pad_reads(text)

    def pad_reads(self, text: str) -> None:
        """Wait until the pad shows a text."""
        is_it = "seen('.pad-figure')[0]?.value === arguments[0]"
        self.wait(f"The pad does not read {text!r}.", is_it, text)

    def hand_in(self) -> None:
        """Confirm the bar on file, and hand the job in from its answer."""
        self.press("Next: track bar")
        self.press("Checked: values on file are still right")
        # The step is drawn anew once that is saved.
        self.gone("button", "Checked: values on file are still right")
        self.touch(".places a", "Hand in")
        self.touch("button", "Hand in", whole=True)
        self.shows("main", "Handed in.")
