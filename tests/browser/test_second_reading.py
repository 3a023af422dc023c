"""A second reading on the phone: the first one is hidden until it is handed in."""

import pytest
from kit.desk_pages import Job
from playwright.sync_api import expect
from yard import TAG, VEHICLE

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(new_hands, shop_of_one, leads_phone):
    """A technician with a phone; the vehicle was measured once, and the shop asks for it again."""
    phone = shop_of_one[1]
    first = Job(phone, VEHICLE)
    first.open("pulls to the left")
    first.measure()
    first.hand_in()
    first.send()
    made = new_hands(has_touch=False)
    made.first, made.phone, made.leads_phone = first, phone, leads_phone
    return made


def ask_again(hands):
    """The second reading as the desk asks for it."""
    asked = Job(hands.leads_phone, VEHICLE)
    body = {"axle": "front", "round": "as_found", "about": "Second reading: pulls"}
    asked.write("job", {**body, "second_of": hands.first.id}, round="as_found")
    asked.send()
    second = Job(hands.phone, VEHICLE)
    second.id, second.place = asked.id, asked.place
    return second


def go_to(hands, job):
    """Open a job's screen."""
    hands.page.goto(f"{hands.url}/app#/job/{job.id}/as_found")


def test_a_job_that_is_measured_again_hides_its_readings_until_that_is_handed_in(hands):
    second = ask_again(hands)
    hands.pair()
    hands.open_tag(TAG)
    expect(hands.page.get_by_text("Continue a job")).to_be_visible()
    expect(hands.page.locator(".answer")).to_have_count(0)
    expect(hands.page.locator(".history")).to_have_count(0)

    go_to(hands, hands.first)
    expect(hands.page.locator(".answer")).to_contain_text("A second reading of this job")
    expect(hands.page.get_by_text("214")).to_have_count(0)
    go_to(hands, second)
    expect(hands.page.get_by_text("measure as if it were the first time")).to_be_visible()

    second.measure()
    second.hand_in()
    second.send()
    go_to(hands, hands.first)
    expect(hands.page.locator(".answer").first).to_contain_text("The axle sits", timeout=40_000)


def test_a_tag_that_was_replaced_opens_the_vehicle_and_says_so(hands):
    fresh = "HNDS-6789"
    patch = {"replaced_tags": {TAG: {"by": fresh}}}
    lead = hands.leads_phone
    lead.push(
        lead.entry("vehicle", patch, vehicle=VEHICLE),
        lead.entry("tag", {"code": fresh}, vehicle=VEHICLE),
    )
    hands.pair()

    hands.open_tag(TAG)
    expect(hands.page.get_by_text(f"This tag was replaced by {fresh}.")).to_be_visible()
    hands.page.goto(f"{hands.url}/app#/")
    hands.open_tag(fresh)
    expect(hands.page.get_by_role("heading", name="Plow 3")).to_be_visible()
    expect(hands.page.get_by_text("This tag was replaced")).to_have_count(0)
