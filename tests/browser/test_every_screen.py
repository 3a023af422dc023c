"""Every address of the phone app is visited and inspected, in both themes."""

import re
from collections.abc import Iterator

import pytest
from faked_devices import DAMAGED
from hands import Hands
from inspector import PHONE, Inspector
from playwright.sync_api import Browser, expect
from shelf import STATIC
from visits import VISITS, Yard

pytestmark = pytest.mark.browser

SCREEN = re.compile(r"^  \[/(.+)/, (\w+), \[.*\]\],$", re.M)
STEP = re.compile(r"^  (\w+)(?:: \w+)?,$", re.M)


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
