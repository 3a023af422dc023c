"""The app on the home screen, and what a browser tab does where only the app can keep entries."""

import pytest
from faked_devices import IPHONE
from hands import Hands
from playwright.sync_api import expect
from yard import TAG

pytestmark = pytest.mark.browser
OFFER = """() => {
  globalThis.prompted = 0;
  const offer = new Event('beforeinstallprompt', {cancelable: true});
  offer.prompt = () => { prompted += 1; };
  dispatchEvent(offer);
  return offer.defaultPrevented;
}"""


def test_installing_is_offered_once_when_the_job_of_a_first_reading_is_left(hands):
    assert hands.page.evaluate(OFFER) is True
    offer = hands.page.get_by_text("Add Axlewright to the home screen")
    hands.reach_the_heights(TAG)
    heights = hands.page.url
    expect(offer).to_have_count(0)
    hands.read("8 3/4")
    hands.read("8 5/8")
    hands.back()
    expect(hands.page.get_by_role("link", name="Ride height")).to_be_visible()
    expect(offer).to_have_count(0)
    hands.back()
    expect(offer).to_be_visible()
    hands.press("Add", exact=True)
    assert hands.page.evaluate("prompted") == 1
    hands.page.goto(heights)
    hands.page.reload()
    hands.page.evaluate(OFFER)
    hands.press("Next: centering")
    hands.read("8")
    hands.back()
    hands.back()
    expect(hands.page.get_by_role("heading", level=1)).to_have_text("Plow 3")

    expect(offer).to_have_count(0)


@pytest.mark.parametrize("place", ["#/tag/QRTV-2345", "#/scan", "#/job/x/as_found/heights"])
def test_f07_f09_a_tab_of_an_iphone_takes_nothing_in_and_says_how_to_install(new_hands, place):
    page = new_hands(user_agent=IPHONE).page
    page.goto(f"{new_hands().url}/app{place}")

    expect(page.get_by_text("Add to Home Screen")).to_be_visible()
    expect(page.get_by_text("A browser tab on this phone cannot save anything")).to_be_visible()
    expect(page.get_by_role("button", name="Save")).to_have_count(0)


def test_f09_a_pairing_code_is_not_used_up_in_a_tab_of_an_iphone(new_hands, shop_of_one):
    hands = new_hands(user_agent=IPHONE)
    paired = len([row for row in shop_of_one[1].pull().json["people"]])
    asked: list[str] = []
    hands.page.on("request", lambda request: asked.append(request.url))
    hands.page.goto(f"{hands.url}/door")
    hands.page.get_by_role("button", name="technician").click()

    expect(hands.page.get_by_text("Add to Home Screen")).to_be_visible()
    assert paired and not [url for url in asked if url.endswith("/door/pair")]


def test_f09_a_tag_opened_in_a_tab_of_an_iphone_says_where_to_type_its_code(new_hands):
    hands = new_hands(user_agent=IPHONE)
    hands.page.goto(f"{hands.url}/t/{TAG}")
    expect(hands.page.get_by_text("There, type the tag code")).to_contain_text(TAG)
    hands.press("Vehicles")

    expect(hands.page.get_by_text("Add Axlewright to the home screen first")).to_be_visible()


def test_f09_what_is_written_all_the_same_is_refused_in_words(hands):
    """A screen that reads alone has a form too: what goes through it is not kept either."""
    hands.open_tag(TAG)
    hands.open_job("bar rebuilt")
    hands.back()
    expect(hands.state).to_contain_text("Everything is at the shop")
    hands.page.add_init_script(
        f"Object.defineProperty(navigator, 'userAgent', {{value: {IPHONE!r}}});"
    )
    hands.page.reload()
    hands.page.get_by_text("Write a note").click()
    hands.page.get_by_label("Note").fill("grease")
    hands.press("Save note")

    expect(hands.page.locator(".alarm")).to_contain_text(
        "NOT SAVED. A browser tab on this phone cannot save"
    )
    expect(hands.state).to_contain_text("Everything is at the shop")


@pytest.mark.parametrize("mode", ["standalone", "iPad that says it is a Mac"])
def test_f09_only_tabs_of_iphones_and_ipads_are_kept_from_taking_in(new_hands, mode):
    standalone = "Object.defineProperty(navigator, 'standalone', {value: true});"
    mac = """Object.defineProperty(navigator, 'platform', {value: 'MacIntel'});
      Object.defineProperty(navigator, 'maxTouchPoints', {value: 5});"""
    hands = new_hands(user_agent=IPHONE) if mode == "standalone" else new_hands()
    hands.page.add_init_script(standalone if mode == "standalone" else mac)
    hands.page.goto(f"{hands.url}/app#/scan")

    help_shown = hands.page.get_by_text("Add to Home Screen")
    if mode == "standalone":
        expect(hands.page.get_by_role("heading", name="Scan a tag")).to_be_visible()
        expect(help_shown).to_have_count(0)
    else:
        expect(help_shown).to_be_visible()


def test_f08_a_store_that_may_be_cleared_is_told_until_the_browser_promises_not_to(
    launch, shop_of_one, tmp_path
):
    context = launch(tmp_path / "profile", "none")
    hands = Hands(context.pages[0], shop_of_one[0].url)
    hands.pair()
    hands.reach_the_heights(TAG)
    hands.read("8 3/4")
    hands.state.click()
    warning = hands.page.get_by_text("This browser may delete its data")
    expect(warning).to_be_visible()
    context.new_cdp_session(hands.page).send(
        "Browser.grantPermissions",
        {"origin": shop_of_one[0].url, "permissions": ["durableStorage"]},
    )
    hands.back()
    hands.page.reload()
    hands.read("8 5/8")
    hands.state.click()

    expect(warning).to_have_count(0)
