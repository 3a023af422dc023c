"""Nothing is entered that nobody chose: what is not on file is asked for, and said to lack."""

import pytest
from hands import Hands
from kit.phones import Phone
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(hands_at_vehicle: Hands) -> Hands:
    """A technician with an open job on the inch truck."""
    hands_at_vehicle.open_job()
    return hands_at_vehicle


def kept(shop: Phone, step: str) -> list:
    """The bodies of what has reached the shop of a step."""
    entries = shop.pull(most=500).json["entries"]
    return [each["body"] for each in entries if each["body"].get("step") == step]


def test_an_adjuster_has_no_kind_and_no_thread_until_somebody_chooses(hands: Hands) -> None:
    """The bar's are on file and filled in; the link's are not."""
    page = hands.page
    hands.step("Track bar")
    hands.open_value("Adjuster")
    expect(page.get_by_label("One threaded end")).to_be_checked()
    hands.press("Cancel")
    hands.step("Drag link")
    hands.open_value("Adjuster")
    expect(page.locator("input[name=kind]:checked")).to_have_count(0)

    hands.press("Save adjuster")
    expect(page.get_by_text("Choose which ends are threaded.")).to_be_visible()
    page.get_by_label("Opposite hands at both ends").check()
    hands.press("Save adjuster")
    expect(page.get_by_text("Choose the thread.", exact=True)).to_be_visible()
    page.locator("select[name=thread]").select_option(label="7/8-14 (1.81 mm per turn)")
    hands.press("Save adjuster")
    hands.back_at_values()

    row = page.locator(".rows .row", has_text="Adjuster")
    expect(row).to_contain_text("opposite hands at both ends, 14 threads per inch")


def test_how_a_joint_is_rocked_is_asked_once(hands: Hands) -> None:
    page = hands.page
    hands.step("Play")
    hands.open_joint("Track bar, frame end")
    hands.key_in("16")
    hands.keep_button.click()
    expect(page.locator(".pad-says")).to_have_text("Choose how it is rocked.")
    page.get_by_text("steering rocked a little each way").click()
    expect(page.locator(".pad-figure")).to_have_value("16")
    hands.keep_button.click()
    expect(page.locator(".pad")).to_have_count(0)
    hands.all_joints()
    hands.open_joint("Track bar, axle end")
    expect(page.locator("summary", has_text="steering rocked a little")).to_be_visible()
    hands.gauge("2")

    expect(hands.state).to_contain_text("Everything is at the shop")
    hows = [body["how"] for body in kept(hands.shop, "play")]
    assert hows == ["steering rocked a little each way"] * 2


def test_a_bolt_says_nothing_of_the_bolt_before_until_that_is_touched(hands: Hands) -> None:
    page = hands.page
    hands.step("Torque")
    hands.torque_figure("Frame-end bolt", "118", "N·m")
    hands.torqued("At the nut", "Dry", "shop manual")
    hands.torque_figure("Axle-end bolt", "118", "N·m")
    expect(page.locator(".torque-form input:checked")).to_have_count(0)
    expect(page.get_by_label("Source of the maker’s figure")).to_have_value("")

    hands.press("As the frame-end bolt: at the nut, dry, shop manual")
    expect(page.get_by_label("At the nut")).to_be_checked()
    page.locator(".torque-form .main").click()
    expect(page.locator(".answer")).to_contain_text("2 fasteners torqued")
    expect(hands.state).to_contain_text("Everything is at the shop")

    told = [(body["end"], body["thread"], body["source"]) for body in kept(hands.shop, "torque")]
    assert told == [("nut", "dry", "shop manual")] * 2


def test_a_recheck_is_due_when_somebody_says_so(hands: Hands) -> None:
    page = hands.page
    hands.step("Torque")
    page.locator("summary", has_text="When to check again").click()
    hands.press("Save re-check")
    expect(page.get_by_text("Enter a distance such as 500, or choose a date.")).to_be_visible()
    hands.press("500 mi, 4 weeks")
    hands.press("Save re-check")
    expect(page.locator("summary", has_text="Check again after 500 mi")).to_be_visible()
