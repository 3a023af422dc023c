"""A technician's hands on the phone's screens, as the tests move them."""

from kit.phones import Phone
from playwright.sync_api import Locator, Page, expect

TICKS = ("Floor level", "Tires the same", "Usual load", "Settled", "Wheels straight")
# The drag link of the vehicle in the yard, by the names of its rows.
LINK = {
    "Link length": "905 mm",
    "Frame-end height": "588 mm",
    "Axle-end height": "521 mm",
    "Fore-aft lead": "12 mm",
    "Steering arm": "158 mm",
}
KEY_NAMES = {"+": "Plus, then the other way", ".": "Point", "/": "Fraction slash"}
MARK_AT = """(tape, index) => {
  const { x, y, height } = tape.querySelectorAll('.mark')[index].getBoundingClientRect();
  return [x, y + height / 2];
}"""

# The app's policy keeps Playwright's own way of waiting out, as it evaluates texts in the page.
UNTIL = """async () => {
  for (let left = 1000; left > 0; left -= 1) {
    if (CONDITION) return;
    await new Promise((go) => setTimeout(go, 20));
  }
  throw new Error('It never came true.');
}"""

# A success event of the request is followed by the transaction's abort, as on a full disk.
ABORTING = """() => {
  const add = IDBObjectStore.prototype.add;
  window.stopAborting = () => { IDBObjectStore.prototype.add = add; };
  IDBObjectStore.prototype.add = function (...values) {
    const asked = add.apply(this, values);
    asked.addEventListener('success', () => this.transaction.abort());
    return asked;
  };
}"""


def wait_for(page: Page, condition: str) -> None:
    """Return once a condition, written in JavaScript, holds in the page."""
    page.evaluate(UNTIL.replace("CONDITION", condition))


class Hands:
    """What a technician does, on a page that shows the app.

    `shop` is another phone of the same shop, for tests that look at what arrived there.
    """

    shop: Phone

    def __init__(self, page: Page, url: str) -> None:
        self.page = page
        self.url = url
        # The field that was opened last.
        self.entering: str | None = None

    def pair(self) -> None:
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

    def back(self) -> None:
        """Go back, and wait until the screen that was left is gone: a second touch on it is one."""
        left = self.page.locator(".head").element_handle()
        self.press("Back", exact=True)
        left.wait_for_element_state("hidden")

    def open_job(self, about: str = "", scope: str = "Whole job") -> None:
        """Open a job of a scope on the front axle of the vehicle shown, as found."""
        self.page.get_by_text("Open a job").click()
        axle = self.page.get_by_label("front", exact=True)
        if not axle.is_checked():
            axle.check()
        if about:
            self.page.get_by_label("What it is about").fill(about)
        self.press(scope)
        expect(self.page.get_by_text("The vehicle stands")).to_be_visible()

    def make_ready(self) -> None:
        """Say that it stands on its wheels, and tick all five."""
        self.page.get_by_text("on its wheels", exact=True).click()
        for words in TICKS:
            self.page.locator(".tick", has_text=words).click()
        self.press("Next: heights")

    def reach_the_heights(self, code: str) -> None:
        """Open a vehicle by its tag code and a job on it, and go on to the first height."""
        self.open_tag(code)
        self.open_job()
        self.make_ready()

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

    def type_the_last_reading(self, about: str = "") -> None:
        """Open a job and measure it up to the last reading of its centering, typed and not kept."""
        self.open_job(about)
        self.make_ready()
        for reading in ("8 3/4", "8 5/8"):
            self.read(reading)
        self.press("Next: centering")
        for reading in ("8 7/16", "8 7/16", "8"):
            self.read(reading)
        self.enter("8 1/16")

    def enter(self, text: str) -> None:
        """Touch the whole number on the keys and the fraction on the drawn tape."""
        whole, _, fraction = text.partition(" ")
        if "/" in whole:
            whole, fraction = "", whole
        for digit in whole:
            self.page.locator(".keys").get_by_role("button", name=digit, exact=True).click()
        if fraction:
            self.touch_mark(fraction)
        expect(self.page.locator(".pad-figure")).to_have_value(text)

    def touch_mark(self, fraction: str) -> None:
        """Touch the mark of a fraction of an inch on the drawn tape."""
        top, bottom = map(int, fraction.split("/"))
        tape = self.page.locator("svg.tape")
        tape.scroll_into_view_if_needed()
        index = top * (tape.locator(".mark").count() - 1) // bottom
        self.page.mouse.click(*tape.evaluate(MARK_AT, index))

    def step(self, title: str) -> None:
        """Go to a step by the bar of places."""
        self.page.locator(".places a", has_text=title).click()
        expect(self.page.locator(".places [aria-current]")).to_have_text(title)

    @property
    def field(self) -> Locator:
        """What names the value that is being entered; nothing where a step shows all of them."""
        return self.page.locator("[data-field]")

    def open_value(self, name: str) -> None:
        """Open one value of a step to enter it, wherever its walk has led."""
        row = self.page.locator(".rows button.row", has=self.page.locator(f'b:text-is("{name}")'))
        expect(row.or_(self.field)).to_have_count(1)
        self.leave_the_walk()
        row.click()
        expect(self.field).to_be_visible()
        self.entering = self.field.get_attribute("data-field")

    def leave_the_walk(self) -> None:
        """Go to all values of the step, where one is being entered."""
        expect(self.field.or_(self.page.locator(".rows .row")).first).to_be_visible()
        if self.field.count():
            self.press("Cancel")
        expect(self.field).to_have_count(0)

    def read_value(self, name: str, text: str) -> None:
        """Enter one reading of a step on its tape pad."""
        self.open_value(name)
        self.page.locator(".pad-figure").fill(text)
        self.keep_button.click()
        self.back_at_values()

    def pick_value(self, name: str, choice: str) -> None:
        """Pick one value of a step."""
        self.open_value(name)
        self.page.get_by_label(choice, exact=True).click()
        self.back_at_values()

    def write_value(self, name: str, text: str, keep: str) -> None:
        """Write one value of a step into its field."""
        self.open_value(name)
        self.page.locator("form input").fill(text)
        self.press(keep, exact=True)
        self.back_at_values()

    def back_at_values(self) -> None:
        """Wait until the value is kept, and go to all values of the step."""
        expect(self.page.locator(f'[data-field="{self.entering}"]')).to_have_count(0)
        self.leave_the_walk()

    def measure_link(self) -> None:
        """Enter the drag link of the vehicle in the yard, on its step."""
        self.pick_value("Frame end on the", "left")
        for name, text in LINK.items():
            if name == "Fore-aft lead":
                self.open_value(name)
                self.page.get_by_label("ahead", exact=True).check()
                self.page.locator(".pad-figure").fill(text)
                self.keep_button.click()
                self.back_at_values()
            else:
                self.read_value(name, text)
        self.pick_value("Arm points", "forward")
        self.adjuster("Opposite hands at both ends", "5/8-18")
        self.write_value("Steering ratio", "18", "Save steering ratio")

    def adjuster(self, kind: str, thread: str) -> None:
        """Enter the adjuster of the step: its threaded ends, and its thread."""
        self.open_value("Adjuster")
        self.page.get_by_label(kind).check()
        threads = self.page.locator("select[name=thread]")
        threads.select_option(threads.locator("option", has_text=thread).get_attribute("value"))
        self.press("Save adjuster")
        self.back_at_values()

    def log_change(self, what: str) -> None:
        """Log turns as they are advised, from the step."""
        self.page.get_by_label(what).click()
        self.page.get_by_role("button", name="as advised").click()
        self.log_change_now()

    def log_change_now(self) -> None:
        """Log the change that the form holds."""
        self.press("Log the change")
        expect(self.page.get_by_role("heading", name="Changed in this job")).to_be_visible()

    def key_in(self, text: str) -> None:
        """Touch the keys of a pad one by one; a blank is no key."""
        keys = self.page.locator(".keys")
        for key in text.replace(" ", ""):
            keys.get_by_role("button", name=KEY_NAMES.get(key, key), exact=True).click()

    def open_joint(self, title: str) -> None:
        """Open a joint of the play step."""
        self.page.locator(".rows .row", has_text=title).click()
        expect(self.page.get_by_role("heading", name=title)).to_be_visible()

    def gauge(self, text: str) -> None:
        """Enter what a dial or a caliper shows, and keep it; the first joint asks how too."""
        expect(self.page.locator(".pad-figure")).to_be_visible()
        if self.page.locator("summary", has_text="not chosen yet").count():
            self.page.get_by_label("wheel rocked lightly").check()
        asked = self.page.locator(".pad-figure").get_attribute("aria-label")
        self.key_in(text)
        self.keep_button.click()
        expect(self.page.locator(f'.pad-figure[aria-label="{asked}"]')).to_have_count(0)

    def size(self, name: str, text: str) -> None:
        """Enter one size of the joint that is open."""
        if not self.page.locator(f'.pad-figure[aria-label*="{name}"]').count():
            self.leave_the_walk()
            self.page.locator(".rows .row", has_text=name).click()
        self.gauge(text)

    def all_joints(self) -> None:
        """Leave the joint that is open, wherever its sizes have led."""
        self.leave_the_walk()
        self.press("All joints")
        expect(self.page.locator(".places [aria-current]")).to_have_text("Play")

    def open_pair(self, name: str) -> None:
        """Open a pair of the clearance step."""
        self.page.locator(".rows .row", has_text=name).click()
        expect(self.page.locator(".places-grid")).to_be_visible()

    def place(self, name: str) -> Locator:
        """One cell of the open pair's grid, such as `at full bump, left lock`."""
        return self.page.locator(".places-grid").get_by_role("button", name=f"{name}:")

    def torque_figure(self, fastener: str, text: str, unit: str) -> None:
        """Open a fastener and enter its figure."""
        self.page.locator(".rows .row", has_text=fastener).click()
        self.key_in(text)
        self.page.locator(".keys").get_by_role("button", name=unit, exact=True).click()
        self.press("Next: how it was turned")

    def torqued(self, end: str, thread: str, source: str) -> None:
        """Say how the fastener was turned, and keep it."""
        self.page.get_by_label(end, exact=True).check()
        self.page.get_by_label(thread, exact=True).check()
        self.page.get_by_label("Source of the maker’s figure").fill(source)
        self.page.locator(".torque-form .main").click()

    @property
    def answer(self) -> str:
        """The answer sentence on the screen."""
        return self.page.locator(".answer").first.inner_text()

    @property
    def state(self) -> Locator:
        """The line that says what the shop does not have yet."""
        return self.page.locator(".state")
