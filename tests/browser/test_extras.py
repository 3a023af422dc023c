"""Search, reading back, the screen kept lit, and the app on the home screen."""

import pytest
from hands import Hands, wait_for
from kit.entries import new_id
from playwright.sync_api import expect
from pretending import IPHONE
from yard import TAG, VEHICLE

pytestmark = pytest.mark.browser
# The phone's own voice, as far as the app can tell; `said` is what it was given to speak.
VOICE = """(own) => {
  globalThis.said = [];
  const voices = [{lang: 'de-DE', localService: true}, {lang: 'en-US', localService: false}];
  if (own) voices.push({lang: 'en-GB', localService: true}, {lang: 'en-US', localService: true});
  globalThis.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
  const speaker = Object.assign(new EventTarget(), {
    getVoices: () => voices, cancel() {}, speak: ({text, lang}) => said.push([text, lang]),
  });
  Object.defineProperty(globalThis, 'speechSynthesis', {configurable: true, value: speaker});
}"""
LOCKS = """() => {
  globalThis.locks = [];
  Object.defineProperty(navigator, 'wakeLock', {value: {request: async () => {
    const lock = {released: false, release() { this.released = true; }};
    locks.push(lock);
    return lock;
  }}});
}"""
LIT = "locks.filter(({released}) => !released).length"
OFFER = """() => {
  globalThis.prompted = 0;
  const offer = new Event('beforeinstallprompt', {cancelable: true});
  offer.prompt = () => { prompted += 1; };
  dispatchEvent(offer);
  return offer.defaultPrevented;
}"""


@pytest.fixture
def hands(new_hands):
    """A technician who has come in."""
    hands = new_hands()
    hands.come_in()
    return hands


def turn_voice_on(hands):
    """Give the phone a voice and turn the switch on, which speaks once."""
    hands.page.evaluate(VOICE, True)
    hands.state.click()
    hands.page.get_by_label("Speak each reading when it is saved").check()
    wait_for(hands.page, "said.length === 1")
    hands.press("Back", exact=True)


def at_the_heights(hands):
    """Go to where the first height is read."""
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()


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
        expect(hands.page.get_by_role("link", name="Plow 3")).to_have_count(1)
    search.fill("crack hair")
    expect(hands.page.locator(".found a")).to_have_count(1)
    hands.page.get_by_role("link", name="Hairline crack, left").click()

    expect(hands.page.get_by_role("heading", name="wanders")).to_be_visible()


def test_each_reading_is_spoken_as_it_is_kept_once_the_switch_is_on(hands):
    turn_voice_on(hands)
    hands.page.context.set_offline(True)
    at_the_heights(hands)
    hands.read("8 3/4")

    wait_for(hands.page, "said.length === 2")
    assert hands.page.evaluate("said[1]") == ["left, eight and three quarters", "en-US"]
    hands.page.reload()
    hands.page.evaluate(VOICE, True)
    hands.read("8 5/8")
    wait_for(hands.page, "said.length === 1")
    assert hands.page.evaluate("said[0][0]") == "right, eight and five eighths"


def test_what_is_kept_is_spoken_as_it_was_typed_in_every_step(hands):
    turn_voice_on(hands)
    hands.open_tag(TAG)
    hands.open_job()
    hands.step("Play")
    hands.open_joint("Track bar, frame end")
    hands.gauge("16 + 4")
    hands.size("Hole, the long way", "0.605")
    hands.all_joints()
    hands.step("Drag link")
    hands.write_value("Steering ratio", "18.5", "Save steering ratio")
    hands.step("Torque")
    hands.torque_figure("Jam nuts", "65", "lbf·ft")
    hands.torqued("At the nut", "Dry", "Manual, page 212")

    wait_for(hands.page, "said.length === 5")
    assert [words for words, _ in hands.page.evaluate("said.slice(1)")] == [
        "Track bar, frame end, movement along the bar, nought point nought two inches,"
        " both ways together",
        "Track bar, frame end, hole, the long way, nought point six nought five inches",
        "ratio, eighteen point five",
        "jam nuts, sixty-five pound-feet",
    ]


def test_without_a_voice_on_the_phone_itself_nothing_is_spoken_and_it_says_why(hands):
    hands.page.evaluate(VOICE, False)
    hands.state.click()
    hands.page.get_by_text("Speak each reading when it is saved").click()

    expect(hands.page.get_by_text("no English voice that works offline")).to_be_visible()
    expect(hands.page.get_by_label("Speak each reading when it is saved")).not_to_be_checked()
    assert hands.page.evaluate("said") == []


def test_the_screen_stays_lit_while_something_is_measured(hands):
    hands.page.evaluate(LOCKS)
    at_the_heights(hands)
    wait_for(hands.page, f"{LIT} === 1")
    hands.page.evaluate("locks[0].released = true")
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    wait_for(hands.page, f"{LIT} === 1 && locks.length === 2")
    hands.press("Back", exact=True)

    wait_for(hands.page, f"{LIT} === 0")


def test_the_screen_stays_lit_while_it_is_said_how_a_bolt_was_turned(hands):
    hands.open_tag(TAG)
    hands.open_job()
    hands.step("Torque")
    hands.page.evaluate(LOCKS)
    hands.torque_figure("Jam nuts", "65", "lbf·ft")
    expect(hands.page.get_by_label("Source of the maker’s figure")).to_be_visible()

    assert hands.page.evaluate(f"[locks.length, {LIT}]") == [1, 1]


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


def test_installing_is_offered_once_when_the_job_of_a_first_reading_is_left(hands):
    assert hands.page.evaluate(OFFER) is True
    offer = hands.page.get_by_text("Add Axlewright to the home screen")
    at_the_heights(hands)
    heights = hands.page.url
    expect(offer).to_have_count(0)
    hands.read("8 3/4")
    hands.read("8 5/8")
    hands.press("Back", exact=True)
    expect(hands.page.get_by_role("link", name="Ride height")).to_be_visible()
    expect(offer).to_have_count(0)
    hands.press("Back", exact=True)
    expect(offer).to_be_visible()
    hands.press("Add", exact=True)
    assert hands.page.evaluate("prompted") == 1
    hands.page.goto(heights)
    hands.page.reload()
    hands.page.evaluate(OFFER)
    hands.press("Next: centering")
    hands.read("8")
    hands.press("Back", exact=True)
    hands.press("Back", exact=True)
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
    hands.press("Back", exact=True)
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
    hands.come_in()
    at_the_heights(hands)
    hands.read("8 3/4")
    hands.state.click()
    warning = hands.page.get_by_text("This browser may delete its data")
    expect(warning).to_be_visible()
    context.new_cdp_session(hands.page).send(
        "Browser.grantPermissions",
        {"origin": shop_of_one[0].url, "permissions": ["durableStorage"]},
    )
    hands.press("Back", exact=True)
    hands.page.reload()
    hands.read("8 5/8")
    hands.state.click()

    expect(warning).to_have_count(0)
