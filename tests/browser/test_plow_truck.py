"""The whole job of the tutorial, and how few touches a plain check takes."""

import pytest
from playwright.sync_api import expect
from plow_truck import ABOUT, NAME, PAIR, TAG, Plowtruck
from yard import TAG as YARD_TAG

pytestmark = pytest.mark.browser
MAX_TOUCHES = 40
COUNT_TOUCHES = """() => {
  window.touches = 0;
  addEventListener('pointerdown', () => { window.touches += 1; }, true);
}"""


@pytest.fixture
def desk(browser, shop_of_one):
    """The lead at the desk."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto(f"{shop_of_one[0].url}/door")
    page.get_by_role("button", name="lead").click()
    yield page
    context.close()


def hear_the_shop(hands):
    """Bring the phone back into the network, and let it look for news."""
    hands.page.context.set_offline(False)
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


def accept(desk):
    """Review the truck's job, and accept it."""
    desk.reload()
    desk.get_by_role("link", name=NAME).click()
    expect(desk.locator("main")).to_contain_text(ABOUT)
    page = " ".join(desk.locator("main").inner_text().replace("\u202f", " ").split())
    desk.get_by_role("button", name="Accept").click()
    expect(desk.get_by_text(f"{NAME}: accepted.")).to_be_visible()
    return page


def test_the_plow_truck_from_its_blank_tag_to_accepted(hands, desk, shop_of_one):
    """No network between the first touch and the hand-in; the lead reads all of it."""
    hands.page.context.set_offline(True)
    Plowtruck(hands).whole()
    assert [each for each in shop_of_one[1].pull(most=500).json["entries"] if each["job"]] == []

    hear_the_shop(hands)
    expect(hands.state).to_contain_text("Everything is at the shop")
    read = accept(desk)

    assert (
        "Do not adjust yet. The track bar's frame end has a bolt too loose in its hole. Repair it "
        "first."
    ) in read
    assert "The axle sits 0.3 mm to the right, inside the limit" in read
    assert f"{PAIR} recorded, 12 of 12 checked" in read
    assert "Track bar replaced, 7.0 mm longer, New tube, new ends between as found and" in read
    assert "Before the road: nothing open" in read
    hear_the_shop(hands)
    expect(hands.page.get_by_text("Accepted by the lead.")).to_be_visible()
    hands.page.goto(f"{hands.url}/t/{TAG}")
    expect(hands.page.get_by_text("front bar with its frame end on the left")).to_be_visible()
    made = shop_of_one[1].pull(most=500).json["entries"]
    filed = [each["body"] for each in made if each["kind"] == "vehicle"][-1]
    assert filed["track_bars"]["front"]["length"] == 862 + 7


def test_a_plain_check_with_an_inch_tape_takes_few_touches(hands):
    """From the vehicle that its tag opened to the verdict, every touch counted."""
    hands.open_tag(YARD_TAG)
    expect(hands.page.get_by_text("Open a job")).to_be_visible()
    hands.page.evaluate(COUNT_TOUCHES)
    hands.open_job()
    hands.make_ready()
    for height in ("8 3/4", "8 5/8"):
        hands.read(height)
    hands.press("Next: centering")
    for distance in ("8 7/16", "8 7/16", "8", "8 1/16"):
        hands.read(distance)

    assert "The axle sits" in hands.answer
    assert 20 < hands.page.evaluate("window.touches") <= MAX_TOUCHES
