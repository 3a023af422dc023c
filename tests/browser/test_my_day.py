"""The first screen: what waits for the person, then all vehicles, found by any word on it."""

from collections.abc import Callable

import pytest
from hands import Hands
from kit.desk_pages import Job
from kit.phones import Phone
from playwright.sync_api import Locator, expect
from yard import VEHICLE

pytestmark = pytest.mark.browser
REASON = "Say where the torque of the jam nuts comes from."


def sent_back(phone: Phone, leads_phone: Phone, about: str = "wanders") -> Job:
    """A job that this phone's person measured and handed in, and that the lead sent back."""
    job = Job(phone, VEHICLE)
    job.open(about)
    job.measure()
    hand_in = job.hand_in()
    job.send()
    body = {"hand_in": hand_in["id"], "verdict": "sent_back", "reason": REASON}
    leads_phone.push(leads_phone.entry("decision", body, **job.place))
    return job


def opened(phone: Phone, about: str, **more: str) -> Job:
    """A job that was opened by this phone's person."""
    job = Job(phone, VEHICLE)
    body = {"axle": "front", "round": "as_found", "about": about, **more}
    job.write("job", body, round="as_found")
    return job.send()


def ask_due(leads_phone: Phone, day: str) -> None:
    """Ask for the bolts of the vehicle's axle to be checked on a day."""
    plan = {"distance": 500, "unit": "mi", "date": day}
    asked = {"rechecks": {"front": plan}}
    leads_phone.push(leads_phone.entry("vehicle", asked, vehicle=VEHICLE))


@pytest.fixture
def full(new_hands: Callable[..., Hands], shop_of_one: tuple, leads_phone: Phone) -> Hands:
    """A technician's phone with something of everything on its first screen."""
    phone = shop_of_one[1]
    hands = new_hands()
    sent_back(phone, leads_phone)
    opened(phone, "shimmy at 45")
    first = Job(leads_phone, VEHICLE)
    first.open("drifts")
    first.measure()
    first.hand_in()
    first.send()
    opened(leads_phone, "Second reading: drifts", second_of=first.id)
    ask_due(leads_phone, "2026-01-14")
    hands.pair()
    expect(day_of(hands, "due")).to_be_visible()
    return hands


def day_of(hands: Hands, section: str) -> Locator:
    """One section of the day."""
    return hands.page.locator(f".day.{section}")


def test_the_day_says_what_waits_for_the_person_and_why(full: Hands) -> None:
    page = full.page
    assert page.locator("main h2").all_inner_texts() == [
        "Sent back to you",
        "Going on",
        "Second readings to take",
        "Due",
        "Vehicles",
    ]
    expect(day_of(full, "sent_back")).to_contain_text(f"“{REASON}”")
    expect(day_of(full, "going_on")).to_contain_text("shimmy at 45")
    expect(day_of(full, "second")).to_contain_text("front axle, as found")
    expect(day_of(full, "due")).to_contain_text("Check the bolts of the front axle again")

    day_of(full, "sent_back").get_by_role("link").click()
    expect(page.get_by_text(f"Sent back by the lead: {REASON}")).to_be_visible()
    expect(page.get_by_role("heading", name="wanders")).to_be_visible()


def test_the_day_stands_without_the_network_and_after_a_restart(full: Hands) -> None:
    full.wait_for_worker()
    full.page.context.set_offline(True)
    full.page.reload()

    expect(day_of(full, "sent_back")).to_contain_text(REASON)


def test_any_word_on_the_screen_finds_the_vehicle_or_the_line(full: Hands) -> None:
    vehicles = full.page.locator(".vehicles a")
    search = full.page.get_by_role("searchbox")
    expect(vehicles).to_contain_text("measured 2026-11-25, as found")
    name = full.page.locator(".head p").inner_text()
    for text in ("sent back", name, "measured 2026-11-25", "outside"):
        search.fill(text)
        expect(vehicles).to_have_count(1)
    search.fill("jam nuts")
    expect(vehicles).to_have_count(0)
    expect(day_of(full, "sent_back")).to_contain_text(REASON)
    search.fill("second readings")
    expect(full.page.locator(".day li")).to_have_count(1)
    search.fill("no such word")
    expect(full.page.get_by_text("Nothing on this phone matches that.")).to_be_visible()


def test_many_lines_of_the_day_leave_the_vehicles_near(
    new_hands: Callable[..., Hands], shop_of_one: tuple
) -> None:
    for number in range(5):
        opened(shop_of_one[1], f"job {number}")
    hands = new_hands()
    hands.pair()
    more = hands.page.get_by_text("2 more: going on")
    expect(hands.page.get_by_role("link", name="job 4")).to_be_hidden()
    more.click()

    expect(hands.page.get_by_role("link", name="job 4")).to_be_visible()


def test_a_day_with_nothing_says_so(hands: Hands) -> None:
    expect(hands.page.get_by_text("No job of yours is open, and nothing is due.")).to_be_visible()
    expect(hands.page.get_by_text("not measured yet")).to_be_visible()
