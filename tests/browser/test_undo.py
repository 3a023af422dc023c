"""What was just kept can be taken back in one touch, and a wrong reading replaced."""

import pytest
from hands import Hands
from kit.phones import Phone
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(hands_at_vehicle: Hands) -> Hands:
    """A technician with an open job on the inch truck, at its first height."""
    hands_at_vehicle.open_job()
    hands_at_vehicle.make_ready()
    return hands_at_vehicle


def at_the_shop(hands: Hands, kind: str) -> list:
    """The bodies of a kind of entry, once the shop has everything."""
    expect(hands.state).to_contain_text("Everything is at the shop")
    shop: Phone = hands.shop
    return [e["body"] for e in shop.pull(most=500).json["entries"] if e["kind"] == kind]


def test_a_reading_is_undone_by_a_strike_and_its_place_is_asked_for_again(hands: Hands) -> None:
    hands.read("8 3/4")
    expect(hands.keep_button).to_have_text("Save right 1")
    hands.press("Undo", exact=True)

    expect(hands.keep_button).to_have_text("Save left 1")
    expect(hands.page.locator(".reading.struck")).to_have_count(1)
    # A strike is not undone in its turn.
    expect(hands.page.get_by_role("button", name="Undo", exact=True)).to_have_count(0)
    assert [body["reason"] for body in at_the_shop(hands, "strike")] == ["Undone right away"]


def test_undoing_a_value_brings_back_the_one_on_file(hands: Hands) -> None:
    hands.step("Track bar")
    row = hands.page.locator(".rows .row", has_text="Bar length")
    expect(row).to_contain_text("carried over")
    hands.read_value("Bar length", "34")
    expect(row).to_contain_text("34")
    hands.press("Undo", exact=True)
    hands.press("Cancel")

    expect(row).to_contain_text("carried over")


def test_a_reading_is_replaced_by_the_one_that_is_taken_again(hands: Hands) -> None:
    hands.read("8 3/4")
    hands.page.get_by_role("button", name="left 1: 8 3/4").click()
    hands.press("Replace")
    expect(hands.keep_button).to_have_text("Save left again")
    hands.read("8 5/8")

    expect(hands.page.locator(".reading.struck")).to_contain_text("8 3/4")
    expect(hands.keep_button).to_have_text("Save right 1")
    first, second = at_the_shop(hands, "reading")
    assert "replaces" not in first and second["replaces"]


def test_a_hand_in_says_what_it_sends_and_is_taken_back(hands: Hands) -> None:
    """At once by Undo, later by its own button, until the lead decides."""
    page = hands.page
    hands.read("8 3/4")
    hands.step("Hand in")
    expect(page.get_by_text("The lead gets 1 reading, 6 answers, in as found.")).to_be_visible()
    page.get_by_label("Why it is handed in incomplete").fill("out of time")
    for way in ("Undo", "Take it back"):
        hands.press("Hand in incomplete")
        expect(page.get_by_text("Handed in.")).to_be_visible()
        hands.press(way, exact=True)
        expect(page.get_by_role("button", name="Hand in incomplete")).to_be_visible()
        page.get_by_label("Why it is handed in incomplete").fill("out of time")

    assert [b["reason"] for b in at_the_shop(hands, "strike")] == [
        "Undone right away",
        "Taken back",
    ]
