"""Every address of the phone app is visited and inspected, in both themes."""

import re
from collections.abc import Iterator

import pytest
from faked_devices import DAMAGED
from hands import Hands
from inspector import PHONE, Inspector
from kit.desk_pages import Job
from playwright.sync_api import Browser, expect
from shelf import STATIC
from yard import LINK, RECORD, TAG, VEHICLE

pytestmark = pytest.mark.browser

# Where each visit goes, and words that show that the screen has come. `job` was measured and
# logged; `fit_up` and `recheck` were opened for that round; `closed` is being measured again.
VISITS = {
    "vehicles": ("#/", "Plow 3"),
    "what this phone holds": ("#/unsent", "Try the shop again"),
    "the glossary": ("#/glossary", "Find a word"),
    "pairing": ("#/pair", "Pairing code"),
    "pairing, with the code of an address": ("#pair=ABCD-EFGH", "Pairing code"),
    "vehicle": (f"#/vehicle/{VEHICLE}", "Continue a job"),
    "job": ("#/job/{job}/as_found", "Everything logged"),
    "ride height": ("#/job/{job}/as_found/heights", "Underside of the frame"),
    "centering": ("#/job/{job}/as_found/centering", "The axle sits"),
    "track bar": ("#/job/{job}/as_found/track_bar", "Bump travel"),
    "drag link": ("#/job/{job}/as_found/drag_link", "Steering ratio"),
    "play": ("#/job/{job}/as_found/play", "Another joint"),
    "clearance": ("#/job/{job}/as_found/clearance", "Track bar to tie rod"),
    "torque": ("#/job/{job}/as_found/torque", "Frame-end bolt"),
    "change": ("#/job/{job}/as_found/change", "Track bar turned"),
    "travel": ("#/job/{job}/as_found/travel", "What if a mount moved"),
    "photo": ("#/job/{job}/as_found/photo", "Take the photo"),
    "scan": ("#/scan", "Open"),
    "how to install": ("#/install", "In this tab"),
    "new tag": ("#/tag/QRTV-2345", "Add this vehicle"),
    "hand in": ("#/job/{job}/as_found/hand_in", "Still missing"),
    "fit-up job": ("#/job/{fit_up}/fit_up", "Everything logged"),
    "fit-up, change": ("#/job/{fit_up}/fit_up/change", "Track bar turned"),
    "recheck job": ("#/job/{recheck}/recheck", "Everything logged"),
    "recheck, torque": ("#/job/{recheck}/recheck/torque", "still to check again"),
    "recheck round of a job": ("#/job/{job}/recheck/torque", "still to check again"),
    "readings under seal": ("#/job/{closed}/as_found", "A second reading of this job"),
    "second reading": ("#/job/{second}/as_found", "measure as if it were the first time"),
    "unknown job": ("#/job/nobody/as_found", "This job is not on this phone"),
}
SCREEN = re.compile(r"^  \[/(.+)/, (\w+), \[.*\]\],$", re.M)
STEP = re.compile(r"^  (\w+)(?:: \w+)?,$", re.M)
BOLT = {
    "step": "torque",
    "field": "fastener",
    "fastener": "frame-end bolt",
    "value": 118,
    "figure": "118 N·m",
    "source": "shop manual, page 12",
    "end": "bolt",
    "thread": "dry",
}
FILED_BOLT = {key: value for key, value in BOLT.items() if key not in ("step", "field")}


def patterns() -> list[str]:
    """The address patterns of the app's screens, in their order."""
    text = (STATIC / "js" / "app.js").read_text("utf-8")
    table = text.split("const SCREENS = [")[1].split("\n];")[0]
    found = [pattern for pattern, _ in SCREEN.findall(table)]
    assert len(found) == table.count("\n  [")
    steps = STEP.findall(text.split("const JOB_SCREENS = {")[1].split("\n};")[0])
    return found + [f"^#/job/([^/]+)/([^/]+)/{step}$" for step in steps]


def opened_by(address: str) -> str | None:
    """The pattern whose screen the app opens at an address."""
    return next((each for each in patterns() if re.search(each, address)), None)


def test_every_screen_of_the_app_is_visited():
    """Whoever adds a screen adds a visit to it."""
    assert len(patterns()) > 15
    visited = {opened_by(address) for address, _ in VISITS.values()}
    assert [each for each in patterns() if each not in visited] == []


class Yard:
    """A shop with a job at every stage, and where to find them."""

    def __init__(self, phone, leads_phone) -> None:
        self.phone = phone
        record = {**RECORD, "drag_links": {"front": LINK}, "torques": {"front": [FILED_BOLT]}}
        vehicle = leads_phone.entry("vehicle", record, vehicle=VEHICLE)
        leads_phone.push(vehicle, leads_phone.entry("tag", {"code": TAG}, vehicle=VEHICLE))
        self.closed = self.job("as_found", "pulls to the left")
        self.closed.hand_in()
        self.second = Job(leads_phone, VEHICLE)
        body = {"axle": "front", "round": "as_found", "about": "Second reading"}
        self.second.write("job", {**body, "second_of": self.closed.id}, round="as_found")
        self.measured = self.job("as_found", "caught a curb")
        self.measured.in_round("reading", BOLT)
        self.places = {"job": self.measured.id, "closed": self.closed.id, "second": self.second.id}
        for each in ("fit_up", "recheck"):
            self.places[each] = self.job(each, f"begins with {each}").send().id
        for job in (self.closed, self.second, self.measured):
            job.send()

    def job(self, round: str, about: str) -> Job:
        """A job that was opened for a round and measured in it."""
        job = Job(self.phone, VEHICLE)
        job.round = round
        job.write("job", {"axle": "front", "round": round, "about": about}, round=round)
        job.measure()
        return job


class Visitor(Hands):
    """A technician who knows where everything in the yard is."""

    places: dict[str, str]


@pytest.fixture
def hands(browser: Browser, real_server, leads_phone) -> Iterator[Visitor]:
    """A technician in a shop with a job at every stage."""
    # The checker puts its script into the page, which the app's own policy would refuse.
    context = browser.new_context(has_touch=True, bypass_csp=True, viewport=PHONE)
    made = Visitor(context.new_page(), real_server[0].url)
    made.places = Yard(real_server[1], leads_phone).places
    yield made
    context.close()


def test_every_screen_is_clean_in_both_themes(hands: Visitor) -> None:
    """Accessible, within 320, 360, 414 and 768, held across, and with text of twice the size."""
    hands.pair()
    expect(hands.state).to_contain_text("Everything is at the shop")
    inspector = Inspector(hands.page)
    for name, (address, words) in VISITS.items():
        hands.page.evaluate("(hash) => { location.hash = hash; }", address.format(**hands.places))
        expect(hands.page.locator("main").get_by_text(words).first).to_be_visible()
        inspector.look(name)


def test_the_screen_of_a_damaged_store_is_clean(browser: Browser, shop_of_one) -> None:
    """Both its questions, before and after it says what would be lost."""
    context = browser.new_context(bypass_csp=True, viewport=PHONE)
    context.add_init_script(DAMAGED)
    page = context.new_page()
    hands = Hands(page, shop_of_one[0].url)
    hands.pair()
    page.evaluate("sessionStorage.setItem('damaged', 'yes')")
    page.reload()
    expect(page.get_by_text("The data on this phone does not open.")).to_be_visible()
    inspector = Inspector(page)
    inspector.look("damaged store")
    hands.press("Delete the data and start over")
    expect(page.get_by_text("This deletes all Axlewright data")).to_be_visible()
    inspector.look("damaged store, given up")
    context.close()
