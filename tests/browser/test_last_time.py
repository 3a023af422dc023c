"""The vehicle's page says what was found, done and torqued last time, and who turned the bar."""

import pytest
from kit.desk_pages import BAR, Job
from playwright.sync_api import expect
from yard import TAG, VEHICLE

pytestmark = pytest.mark.browser
TURN = {"what": "bar_turned", "turns": 3.5, "length_change": 5.3}
TORQUE = {"fastener": "jam nuts", "source": "bar maker's sheet", "end": "nut", "thread": "dry"}


@pytest.fixture
def page(new_hands, shop_of_one, leads_phone):
    """A technician at a vehicle of which the lead had turned the bar."""
    job = Job(leads_phone, VEHICLE)
    job.open("pulls to the left")
    job.measure()
    job.in_round("change", TURN)
    job.read("torque", "fastener", 90, **TORQUE)
    job.round = "as_left"
    job.measure(left=(210.0, 210.0), right=(209.0, 209.0), bar={**BAR, "length": 867.3})
    job.hand_in()
    job.send()
    hands = new_hands()
    hands.pair()
    hands.open_tag(TAG)
    hands.wait_for_worker()
    return hands.page


def test_last_time_stands_on_the_vehicles_page_without_the_network(page):
    page.context.set_offline(True)
    page.reload()
    last = page.locator(".last-time")
    expect(last.get_by_role("heading", name="Last time on the front axle")).to_be_visible()
    says = [text.replace("\u202f", " ") for text in last.locator("p").all_inner_texts()]

    assert says.pop(0) == "pulls to the left, 2026-11-25, pending review."
    assert says[0].startswith("As found, the axle sat ≈ 7/32 in (5.4 mm) to the left: outside")
    assert says[1].startswith("As left, the axle sat ≈ 1/32 in (0.5 mm) to the left: ")
    assert says[2:] == [
        "Measured to the rotor face, tape square to the rail, read to 1/16 in, by Orla Bennett.",
        "The track bar was turned, 3 1/2 turns out, ≈ 7/32 in (5.3 mm) longer, "
        "by Orla Bennett on 2026-11-25.",
        "Jam nuts: 90 N·m (66 lb-ft), at the nut, dry, bar maker's sheet, "
        "by Orla Bennett on 2026-11-25.",
    ]


def test_who_turned_the_bar_takes_one_touch(page):
    page.get_by_text("Who turned the bar: Orla Bennett, 2026-11-25").click()
    page.get_by_role("link", name="The track bar was turned, 3 1/2 turns out").click()

    expect(page.get_by_role("heading", name="pulls to the left")).to_be_visible()
