"""The vehicle list: search without the network, and what is due."""

import pytest
from kit.entries import new_id
from playwright.sync_api import expect
from yard import TAG, VEHICLE

pytestmark = pytest.mark.browser


def test_the_search_finds_vehicles_tags_and_notes_without_the_network(hands, shop_of_one):
    phone, job = shop_of_one[1], new_id()
    opened = {"axle": "front", "round": "as_found", "about": "wanders"}
    struck = phone.entry("note", {"text": "hairline crack, right"}, vehicle=VEHICLE, job=job)
    phone.push(
        phone.entry("job", opened, vehicle=VEHICLE, job=job, round="as_found"),
        phone.entry("note", {"text": "Hairline crack, left"}, vehicle=VEHICLE, job=job),
        struck,
        phone.entry("strike", {"target": struck["id"], "reason": "x"}, vehicle=VEHICLE, job=job),
    )
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(hands.page.get_by_text("job open")).to_be_visible()
    hands.page.context.set_offline(True)
    search = hands.page.get_by_role("searchbox")
    for text in ("plow", TAG[:4].lower(), "3 plo"):
        search.fill(text)
        expect(hands.page.locator(".vehicles a")).to_have_count(1)
    search.fill("crack hair")
    expect(hands.page.locator(".found a")).to_have_count(1)
    hands.page.get_by_role("link", name="Hairline crack, left").click()

    expect(hands.page.get_by_role("heading", name="wanders")).to_be_visible()


def test_a_vehicle_says_what_is_due_on_it(hands, leads_phone):
    due = {"distance": 800, "unit": "km", "date": "2027-01-14"}
    measure = {"distance": None, "unit": None, "date": "2027-03-01"}
    asked = {"rechecks": {"front": due}, "remeasure": {"front": measure, "rear": None}}
    leads_phone.push(leads_phone.entry("vehicle", asked, vehicle=VEHICLE))
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    hands.open_tag(TAG)

    expect(hands.page.locator("main > .notice")).to_have_text(
        [
            "Check the bolts of the front axle again after 800\u202fkm or on 2027-01-14.",
            "Measure the front axle again on 2027-03-01.",
        ]
    )
