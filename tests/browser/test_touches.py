"""How few touches a check and a job on the bar take, and that a check needs no swipe."""

import pytest
from hands import Hands
from playwright.sync_api import expect
from touches import COUNTING, Touches
from yard import TAG

pytestmark = pytest.mark.browser

MOST_OF_A_CHECK = 28
MOST_OF_A_JOB = 120
BLANK_TAG = "QRTV-2345"
# As the pad wants them, the fractions on its drawn tape.
BAR = {
    "Bar length": "33 15/16",
    "Frame-end height": "24 1/8",
    "Axle-end height": "19 5/8",
    "Fore-aft lead": "11/16",
}
LAST_TIME = (
    "on its wheels. Floor level. Tires the same size and at pressure. Usual load on board. "
    "Settled: rolled or bounced. Wheels straight ahead."
)
MANUAL = "maker's manual"


@pytest.fixture
def hands(new_hands) -> Hands:
    """A technician with a paired phone that counts."""
    made = new_hands()
    made.page.context.add_init_script(COUNTING)
    made.pair()
    return made


def stand_as_last_time(hands: Hands) -> None:
    """One touch says of stance and ticks what it says of the last round, and goes on."""
    expect(hands.page.locator("main .ask")).to_have_text(LAST_TIME)
    hands.press("All of these, as last round")
    expect(hands.page.locator(".pad")).to_be_visible()


def measure(hands: Hands, sides: tuple[str, ...]) -> None:
    """Both heights and both sides, to the answer."""
    for height in ("8 3/4", "8 5/8"):
        hands.read(height)
    hands.press("Next: centering")
    for distance in sides:
        hands.read(distance)
    expect(hands.page.locator(".answer").first).to_contain_text("The axle sits")


def hand_in(hands: Hands) -> None:
    expect(hands.page.get_by_text("Typed, but not saved")).to_have_count(0)
    hands.press("Hand in", exact=True)
    expect(hands.page.get_by_text("Handed in.")).to_be_visible()


def test_a_plain_check_in_inches_from_the_vehicles_page_to_the_hand_in(hands: Hands) -> None:
    """The second of a vehicle: the first one said what it stands on, tick by tick."""
    hands.open_tag(TAG)
    sides = ("8 7/16", "8 7/16", "8", "8 1/16")
    hands.open_job(scope="Just centering")
    hands.make_ready()
    measure(hands, sides)
    hands.press("Next: hand in")
    hand_in(hands)
    hands.back()
    hands.back()
    expect(hands.page.get_by_text("Open a job")).to_be_visible()
    counted = Touches(hands.page)

    hands.open_job(scope="Just centering")
    stand_as_last_time(hands)
    measure(hands, sides)
    assert counted.swipes == []
    hands.press("Next: hand in")
    hand_in(hands)

    assert 20 < counted.count <= MOST_OF_A_CHECK


def measure_bar(hands: Hands) -> None:
    """The bar from nothing: each value leads to the next, as the step begins with its first."""
    page = hands.page
    page.get_by_label("left", exact=True).check()
    for name, text in BAR.items():
        expect(page.get_by_role("heading", name=name)).to_be_visible()
        hands.read(text)
    page.get_by_label("One threaded end").check()
    page.locator("select[name=thread]").select_option(label="3/4-16 (1.59 mm per turn)")
    hands.press("Save adjuster")
    expect(page.get_by_role("heading", name="Frame end to middle")).to_be_visible()
    hands.press("Cancel")
    expect(page.locator(".answer").first).to_contain_text("turns out")


def turn_as_advised(hands: Hands) -> None:
    """Log the turns that the answer asked for, and begin the next round."""
    hands.press("Log what was changed")
    hands.log_change("Track bar turned")
    hands.press("Start round: as left")


def center_wheel(hands: Hands) -> None:
    hands.page.locator(".rows .row", has_text="Steering wheel sits").click()
    hands.press("12 o\u2019clock", exact=True)
    hands.press("Save steering wheel")
    expect(hands.page.locator(".rows .row", has_text="straight")).to_be_visible()


def torque_bolts(hands: Hands) -> None:
    """The first bolt says how it was turned; the others are as the one before."""
    page = hands.page
    hands.torque_figure("Frame-end bolt", "120", "lb-ft")
    hands.torqued("At the nut", "Dry", MANUAL)
    for fastener in ("Axle-end bolt", "Jam nuts"):
        hands.torque_figure(fastener, "120", "lb-ft")
        hands.press(f"nut, dry, {MANUAL}")
        page.locator(".torque-form .main").click()
    expect(page.locator(".answer")).to_contain_text("3 fasteners torqued")
    page.locator("summary", has_text="When to check again").click()
    hands.press("500 mi, 4 weeks")
    hands.press("Save re-check")
    expect(page.locator("summary", has_text="Check again after 500 mi")).to_be_visible()


def test_a_whole_job_on_the_bar_from_a_blank_tag(hands: Hands) -> None:
    """Found, turned, measured again, wheel centered, torqued and handed in without its joints."""
    page = hands.page
    counted = Touches(page)
    hands.open_tag(BLANK_TAG)
    page.get_by_label("Name the shop uses").fill("Plow 9")
    page.get_by_text("inches").click()
    hands.press("Add this vehicle")
    hands.open_job()
    hands.make_ready()
    measure(hands, ("8 7/16", "8 7/16", "8", "8 1/16"))
    hands.press("Next: track bar")
    measure_bar(hands)
    turn_as_advised(hands)
    stand_as_last_time(hands)
    measure(hands, ("8 1/4", "8 1/4", "8 3/16", "8 1/4"))
    hands.step("Drag link")
    center_wheel(hands)
    hands.step("Torque")
    torque_bolts(hands)
    hands.press("Next: hand in")
    expect(page.get_by_text("Typed, but not saved")).to_have_count(0)
    page.get_by_label("Why it is handed in incomplete").fill("no joint was opened")
    hands.press("Hand in incomplete")
    expect(page.get_by_text("Handed in.")).to_be_visible()

    assert 80 < counted.count <= MOST_OF_A_JOB
