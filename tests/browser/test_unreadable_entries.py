"""Entries from the shop that this phone cannot read: set apart, told, and in nobody else's way."""

import json
import uuid
from collections.abc import Callable

import pytest
from hands import Hands
from kit.desk_pages import Job
from playwright.sync_api import Route, expect
from yard import VEHICLE

pytestmark = pytest.mark.browser


def strange(job: str) -> list[dict[str, object]]:
    """What other builds, or a damaged disk, might hand out: each with a place and a seq."""
    place = {"vehicle": VEHICLE, "job": None, "round": None, "typed": None}
    about = {"v": 1, "phone": str(uuid.uuid4()), "made_at": "2026-11-25T10:42:07Z", "build": "x"}
    in_job = {**place, "job": job, "round": "as_found"}
    value = {"step": "centering", "field": "left", "value": "far", "unit": "mm", "read_to": 1}
    bodies = [
        {**place, "kind": "weighing", "body": {"front": 1200}},
        {**place, "kind": "vehicle", "body": {"track_bars": {"front": None}}},
        {**place, "kind": "vehicle", "body": {"known_sums": {"front": {"rotor": 1}}}},
        {**in_job, "kind": "reading", "body": value},
        {**in_job, "kind": "pick", "body": {"step": "smelling", "field": "nose", "value": 1}},
        {**in_job, "kind": "note", "body": None},
        {**in_job, "body": [], "made_at": None},
    ]
    return [
        {**about, "id": str(uuid.uuid4()), "local_no": no, "seq": 900 + no, **body}
        for no, body in enumerate(bodies, 1)
    ]


def test_f68_entries_that_the_phone_cannot_read_are_told_and_the_screens_go_on(
    new_hands: Callable[..., Hands], shop_of_one: tuple
) -> None:
    measured = Job(shop_of_one[1], vehicle=VEHICLE)
    measured.open("pulls to the left")
    measured.measure()
    measured.send()
    hands = new_hands()

    def with_strange_ones(route: Route) -> None:
        reply = route.fetch()
        told = reply.json()
        told["entries"] += strange(measured.id)
        route.fulfill(response=reply, body=json.dumps(told))

    hands.page.route("**/log/pull*", with_strange_ones)
    hands.pair()
    page = hands.page

    page.locator(".vehicles a").first.click()
    box = page.locator("details", has_text="Entries that cannot be read: 7")
    box.locator("summary").click()
    expect(box).to_contain_text("This app does not know the kind weighing.")
    expect(box).to_contain_text("The vehicle\u2019s track bars, front must be an object.")
    expect(box).to_contain_text("The reading\u2019s value must be a number")
    expect(box).to_contain_text("The note must be an object.")
    page.get_by_role("link", name="pulls to the left").click()
    page.get_by_text("Everything logged").click()
    expect(page.get_by_text("Not readable: reading")).to_be_visible()
    page.locator(".rows").get_by_role("link", name="Centering").click()
    expect(page.get_by_text("The axle sits").first).to_be_visible()
    assert page.locator(".alarm").count() == 0


def test_f68_what_no_shop_would_take_is_not_kept_and_what_was_typed_stays(
    new_hands: Callable[..., Hands],
) -> None:
    hands = new_hands()
    hands.pair()
    hands.page.locator(".vehicles a").first.click()
    hands.open_job()
    page = hands.page
    hands.back()
    page.get_by_text("Write a note").click()
    note = page.locator("textarea")
    note.evaluate("box => box.removeAttribute('maxlength')")
    note.fill("n" * 4001)

    hands.press("Save note")

    expect(page.get_by_text("NOT SAVED. The entry\u2019s typed must be a text")).to_be_visible()
    expect(note).to_have_value("n" * 4001)
