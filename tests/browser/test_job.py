"""The technician's whole job on the phone's own screens, with the network and without it."""

import pytest
from hands import ABORTING, Hands
from kit.entries import new_id
from playwright.sync_api import expect
from yard import TAG, expected_answer

from webapp.shoplog.chain import check_folder

pytestmark = pytest.mark.browser


@pytest.fixture
def hands(new_hands):
    """A technician with an unpaired phone in front of the shop."""
    return new_hands()


def measure(hands, about="bar rebuilt"):
    """From the vehicle's page to the answer."""
    hands.open_job(about)
    hands.make_ready()
    hands.read("8 3/4")
    hands.read("8 5/8")
    hands.press("Next: centering")
    for reading in ("8 7/16", "8 7/16", "8", "8 1/16"):
        hands.read(reading)


def hand_in(hands):
    """From the answer to the hand-in."""
    hands.press("Next: track bar")
    hands.press("Checked: values on file are still right")
    hands.step("Hand in")
    hands.press("Hand in", exact=True)
    expect(hands.page.get_by_text("Handed in.")).to_be_visible()


def the_job(phone):
    """The entries of the only job, as the shop has them."""
    return [entry for entry in phone.pull(most=500).json["entries"] if entry["job"]]


@pytest.fixture
def desk(browser, shop_of_one):
    """The lead's desk, signed in, on the page of what waits."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    page.goto(f"{shop_of_one[0].url}/door")
    page.get_by_role("button", name="lead").click()
    expect(page.get_by_role("heading", name="Pending review")).to_be_visible()
    yield page
    context.close()


def hear_the_shop(hands):
    """What the phone does when it is taken out of the pocket."""
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


def test_the_whole_job_with_the_network(hands, shop_of_one):
    """From the tag code to the lead's eyes, with the sentence that the command line says too."""
    hands.pair()
    hands.open_tag(TAG.lower())
    measure(hands)
    assert hands.answer == expected_answer()
    hand_in(hands)
    expect(hands.state).to_contain_text("Everything is at the shop")
    made = the_job(shop_of_one[1])
    assert [e["typed"] for e in made if e["kind"] == "reading"][2:] == [
        "8 7/16",
        "8 7/16",
        "8",
        "8 1/16",
    ]
    assert made[-1]["kind"] == "hand_in"


def test_the_whole_job_from_a_cold_start_without_the_network(hands, shop_of_one):
    """One visit is enough: the tag opens, the job is done, and the shop gets it afterward."""
    hands.pair()
    context = hands.page.context
    hands.page.close()
    context.set_offline(True)
    hands.page = context.new_page()
    hands.page.goto(f"{hands.url}/t/{TAG}")
    measure(hands)
    assert hands.answer == expected_answer()
    hand_in(hands)
    expect(hands.state).to_contain_text("on this phone only")
    expect(
        hands.page.get_by_text("It is on this phone only, until the phone reaches the shop again.")
    ).to_be_visible()
    assert the_job(shop_of_one[1]) == []
    context.set_offline(False)
    hands.page.locator(".state").click()
    hands.press("Try the shop again")
    expect(hands.state).to_contain_text("Everything is at the shop")
    assert the_job(shop_of_one[1])[-1]["kind"] == "hand_in"


def test_the_phone_learns_what_the_lead_decides(hands, desk):
    """Sent back with a reason, handed in again, accepted: each appears without a reload."""
    hands.pair()
    hands.open_tag(TAG)
    measure(hands)
    hand_in(hands)
    expect(hands.page.get_by_text("The shop has it.")).to_be_visible()
    open_at_the_desk(desk)
    desk.get_by_label("Reason (required to send it").fill("Measure the right side again")
    desk.get_by_role("button", name="Send back").click()
    hear_the_shop(hands)
    expect(hands.page.get_by_role("button", name="Hand in", exact=True)).to_be_visible()
    hands.back()
    expect(hands.page.get_by_text("Measure the right side again").first).to_be_visible()
    hands.page.get_by_role("link", name="Hand in").click()
    hands.press("Hand in", exact=True)
    expect(hands.page.get_by_text("The shop has it.")).to_be_visible()
    open_at_the_desk(desk)
    desk.get_by_role("button", name="Accept").click()
    hear_the_shop(hands)
    expect(hands.page.get_by_text("Accepted by the lead.")).to_be_visible()


def open_at_the_desk(desk):
    """From what waits to the job of the vehicle."""
    desk.goto(desk.url.split("/desk")[0] + "/desk")
    desk.get_by_role("link", name="Plow 3").click()
    expect(desk.locator(".answer").first).to_contain_text("The axle sits")


def test_a_phone_killed_in_the_middle_of_a_reading(launch, shop_of_one, tmp_path):
    """What was kept is there once, and what was being typed comes back."""
    server, phone = shop_of_one
    first = launch(tmp_path / "profile", "none")
    hands = Hands(first.pages[0], server.url)
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    hands.read("8 3/4")
    hands.enter("8 5/8")
    hands.page.evaluate(DRAFT_IS_KEPT, "8 5/8")
    address = hands.page.url
    first.close()
    again = launch(tmp_path / "profile", "none")
    page = again.pages[0]
    page.goto(address)
    expect(page.locator(".pad-figure")).to_have_value("8 5/8")
    Hands(page, server.url).press("Save right 1")
    expect(page.get_by_text("Next: centering")).to_be_visible()
    expect(page.locator(".state")).to_contain_text("Everything is at the shop")
    readings = [entry["typed"] for entry in the_job(phone) if entry["kind"] == "reading"]
    assert readings == ["8 3/4", "8 5/8"]


# Settles once the text being typed is a draft on disk.
DRAFT_IS_KEPT = """async (text) => {
  const app = document.querySelector('script[src]').src;
  const store = await (await import(app.replace('app.js', 'store/store.js'))).open();
  const written = async () => (await store.drafts()).some((draft) => draft.text === text);
  while (!await written()) await new Promise((go) => setTimeout(go, 20));
}"""


def test_f01_a_reading_that_is_not_kept_stays_in_the_field(hands):
    """An aborted transaction is told in red, nothing is shown as kept, and a second try works."""
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    hands.enter("8 3/4")
    hands.page.evaluate(ABORTING)
    hands.keep_button.click()
    expect(hands.page.locator(".alarm")).to_contain_text("NOT SAVED")
    expect(hands.page.locator(".pad-figure")).to_have_value("8 3/4")
    expect(hands.page.get_by_role("button", name="Strike it")).to_have_count(0)
    hands.page.evaluate("stopAborting()")
    hands.keep_button.click()
    expect(hands.page.get_by_role("button", name="left 1: 8 3/4")).to_be_visible()


# The transaction is kept from its end by one question after the other.
HOLDING = """() => {
  const {add} = IDBObjectStore.prototype;
  let held = true;
  window.letGo = () => { held = false; };
  IDBObjectStore.prototype.add = function (...values) {
    const asked = add.apply(this, values);
    const askOn = () => { if (held) this.get('nothing').onsuccess = askOn; };
    asked.addEventListener('success', askOn);
    return asked;
  };
}"""


TOP = "document.querySelector('.answer').getBoundingClientRect().top"


def at_the_last_reading(hands):
    """A job with all but the last of its readings, that one typed."""
    hands.pair()
    hands.open_tag(TAG)
    hands.type_the_last_reading()


def test_the_answer_is_there_while_the_last_reading_is_still_being_kept(hands):
    """It is not called kept before it is, and then stays where it is on the whole screen."""
    at_the_last_reading(hands)
    hands.page.evaluate(HOLDING)
    hands.keep_button.click()
    foreseen = hands.page.locator(".foreseen")
    expect(foreseen.locator(".answer")).to_have_text(expected_answer())
    expect(foreseen).to_contain_text("Saving on this phone.")
    expect(hands.page.get_by_role("button", name="Strike it")).to_have_count(0)
    there = hands.page.evaluate(TOP)
    hands.page.evaluate("letGo()")
    expect(hands.page.get_by_role("button", name="right 2: 8 1/16")).to_be_visible()
    expect(foreseen).to_have_count(0)
    assert hands.answer == expected_answer()
    assert hands.page.evaluate(TOP) == there


def test_f01_an_answer_goes_again_when_its_reading_is_not_kept(hands):
    at_the_last_reading(hands)
    hands.page.evaluate(ABORTING)
    hands.keep_button.click()
    expect(hands.page.locator(".alarm")).to_contain_text("NOT SAVED")
    expect(hands.page.locator(".answer")).to_have_count(0)
    expect(hands.page.locator(".pad-figure")).to_have_value("8 1/16")
    hands.page.evaluate("stopAborting()")
    hands.keep_button.click()
    expect(hands.page.locator(".answers .answer")).to_have_text(expected_answer())


def test_a_long_list_of_vehicles_comes_whole_and_stays_where_it_was_scrolled_to(hands, shop_of_one):
    phone = shop_of_one[1]
    names = [f"Carrier {number:02}" for number in range(40)]
    made = [phone.entry("vehicle", {"name": name}, vehicle=new_id()) for name in names]
    assert phone.push(*made).status == 200
    hands.pair()
    rows = hands.page.locator(".vehicles li")
    expect(rows).to_have_count(41)
    assert rows.locator("b").all_inner_texts() == [*names, "Plow 3"]
    rows.last.scroll_into_view_if_needed()
    scrolled = hands.page.evaluate("scrollY")
    assert scrolled > 1000

    assert (
        phone.push(phone.entry("vehicle", {"name": "Zinc tipper"}, vehicle=new_id())).status == 200
    )
    hear_the_shop(hands)
    expect(rows).to_have_count(42)
    assert hands.page.evaluate("scrollY") == scrolled


def test_a_struck_reading_stays_struck_through_and_can_be_brought_back(hands):
    """Nothing is erased: a strike has a reason, and the undo is a strike of the strike."""
    hands.pair()
    hands.open_tag(TAG)
    measure(hands)
    hands.page.get_by_role("button", name="right 1: 8,").click()
    hands.page.get_by_label("Misread").check()
    hands.press("Strike", exact=True)
    expect(hands.page.locator(".reading.struck")).to_have_count(1)
    expect(hands.keep_button).to_have_text("Save right 2 of 2")
    hands.page.locator(".reading.struck").click()
    expect(hands.page.locator(".reading.struck")).to_have_count(0)
    assert hands.answer == expected_answer()


def test_bad_input_is_told_at_the_field_and_stays(hands):
    """A sentence that says what to do, choices where there are any, and nothing typed is lost."""
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    figure = hands.page.locator(".pad-figure")
    figure.fill("4-4.5")
    hands.keep_button.click()
    expect(hands.page.locator(".pad-says")).to_contain_text("range")
    expect(figure).to_have_value("4-4.5")
    figure.fill("71/8")
    hands.keep_button.click()
    hands.press("7 1/8 in")
    expect(figure).to_have_value("7 1/8 in")
    hands.keep_button.click()
    expect(hands.page.get_by_role("button", name="left 1: 7 1/8 in")).to_be_visible()


def test_handing_in_incomplete_needs_a_reason(hands, shop_of_one):
    """What is missing is listed; the reason goes with it."""
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.page.get_by_role("link", name="Hand in, nothing yet").click()
    expect(hands.page.get_by_text("Not checked: Floor level.")).to_be_visible()
    hands.press("Hand in incomplete")
    expect(hands.page.get_by_text("Say why it is handed in incomplete.")).to_be_visible()
    hands.page.get_by_label("Why it is handed in incomplete").first.fill("lift needed elsewhere")
    hands.press("Hand in incomplete")
    expect(hands.page.get_by_text("The shop has it.")).to_be_visible()
    handed = the_job(shop_of_one[1])[-1]["body"]
    assert handed["reason"] == "lift needed elsewhere"
    assert "No reading on the left." in handed["missing"]


def test_what_was_not_confirmed_or_not_begun_is_named_before_handing_in(hands):
    hands.pair()
    hands.open_tag(TAG)
    measure(hands)
    bar = hands.page.get_by_role("link", name="Track bar, ")
    expect(bar).to_have_accessible_name("Track bar, carried over")
    hands.step("Hand in")
    rest = hands.page.get_by_text("Every step that was started is complete.")
    expect(rest).to_contain_text("Carried over, not confirmed: Track bar.")
    expect(rest).to_contain_text("Not started: Drag link, Play, Clearance, Torque.")
    hands.step("Track bar")
    hands.press("Checked: values on file are still right")
    expect(bar).to_have_accessible_name("Track bar, done")
    hands.step("Hand in")
    expect(rest).not_to_contain_text("Carried over")


def test_readings_far_apart_are_doubted_beside_the_answer(hands):
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    for height in ("8 3/4", "8 5/8"):
        hands.read(height)
    hands.press("Next: centering")
    for reading in ("8 7/16", "8 7/16", "8", "8 3/16"):
        hands.read(reading)
    doubt = hands.page.locator("main p:visible", has_text="The right does not repeat")
    expect(doubt).to_have_count(1)
    hands.step("Hand in")
    expect(doubt).to_have_count(1)


def test_a_tag_that_nobody_knows_yet_opens_once_the_shop_does(hands, shop_of_one):
    """The phone says what it waits for."""
    hands.pair()
    hands.page.goto(f"{hands.url}/t/ABCD-2345")
    expect(hands.page.get_by_text("This phone does not know the tag ABCD-2345.")).to_be_visible()
    phone = shop_of_one[1]
    other = new_id()
    entries = [
        phone.entry("vehicle", {"name": "Late tender"}, vehicle=other),
        phone.entry("tag", {"code": "ABCD-2345"}, vehicle=other),
    ]
    phone.push(*entries)
    hear_the_shop(hands)
    expect(hands.page.get_by_role("heading", name="Late tender")).to_be_visible()


def test_whoever_picks_a_face_stays_at_the_choices(hands):
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.step("Centering")
    hands.page.locator(".settings summary").click()
    hands.page.get_by_label("knuckle face").click()
    asked = hands.page.locator(".settings summary")
    expect(asked).to_contain_text("Knuckle face to the outer face of the rail")
    expect(hands.page.get_by_label("knuckle face")).to_be_checked()
    expect(asked).to_be_in_viewport()


def test_the_vehicle_says_when_its_last_answer_was_measured(hands, shop_of_one):
    phone = shop_of_one[1]
    hands.pair()
    hands.open_tag(TAG)
    measure(hands)
    expect(hands.state).to_contain_text("Everything is at the shop")
    opened = next(entry for entry in the_job(phone) if entry["kind"] == "job")
    hands.page.goto(f"{hands.url}/t/{TAG}")
    day = opened["made_at"][:10]
    expect(hands.page.get_by_text(f"Last measured {day}, as found.")).to_be_visible()


def test_nothing_leaves_the_shop(hands):
    """Every request of a whole job goes to the shop's own address (F32)."""
    asked = []
    hands.page.context.on("request", lambda request: asked.append(request.url))
    hands.pair()
    hands.open_tag(TAG)
    measure(hands)
    assert asked and all(url.startswith((hands.url, "data:", "blob:")) for url in asked)


def test_the_service_kept_one_row_per_entry(hands, shop_of_one):
    """The log's own check finds nothing after a job."""
    server, phone = shop_of_one
    hands.pair()
    hands.open_tag(TAG)
    measure(hands)
    hand_in(hands)
    expect(hands.state).to_contain_text("Everything is at the shop")
    ids = [entry["id"] for entry in phone.pull(most=500).json["entries"]]
    assert len(ids) == len(set(ids))
    assert check_folder(server.folder) == []
