"""Play, clearance and torque on the phone: few touches, nothing lost, nothing judged too kindly."""

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser
SOURCE = "shop manual, page 12"


@pytest.fixture
def hands(hands_at_vehicle):
    """A technician with a job open on the vehicle of the yard, at its first step."""
    hands_at_vehicle.open_job("joints and bolts")
    return hands_at_vehicle


def kept(hands, kind="reading"):
    """The bodies of one kind that the shop holds, once it holds all of this phone's."""
    expect(hands.state).to_contain_text("Everything is at the shop")
    made = hands.shop.pull(most=500).json["entries"]
    return [entry["body"] for entry in made if entry["kind"] == kind and entry["job"]]


def as_in(hands, unit):
    """Turn the pad, which opens in the vehicle's unit, to another."""
    hands.page.locator(".pad .alt", has_text=unit).first.click()


def sweep(hands, words):
    """Mark the place that is asked for and let the next one be asked for."""
    hands.press(words, exact=True)


def torque(hands, fastener="Frame-end bolt"):
    """A whole torque of a fastener."""
    hands.torque_figure(fastener, "118", "N·m")
    hands.torqued("At the bolt", "Dry", SOURCE)


def test_a_job_with_play_clearance_and_torque_reaches_the_lead(hands, browser):
    """All three without the network, in the words that the lead then reads."""
    hands.page.context.set_offline(True)
    hands.step("Play")
    play(hands)
    expect(hands.page.locator(".answer")).to_contain_text(
        "lets the axle move 0.036 in (0.9 mm) sideways"
    )
    hands.press("Next: clearance")
    clear(hands)
    expect(hands.page.locator(".answer")).to_contain_text(
        "Track bar and tie rod touch at full bump, left lock."
    )
    hands.press("Next: torque")
    torque(hands)
    expect(hands.page.locator(".answer")).to_contain_text("1 fastener torqued")
    hands.page.context.set_offline(False)
    hands.state.click()
    hands.press("Try the shop again")
    expect(hands.state).to_contain_text("Everything is at the shop")
    says = at_the_desk(hands, browser)
    assert "Track bar to tie rod contact, 12 of 12 checked" in says
    assert "0.9 mm (0.4 mm + 0.5 mm)" in says
    assert SOURCE in says


def play(hands):
    """The frame end of the bar: both ways of the dial, bolt and hole."""
    hands.open_joint("Track bar, frame end")
    as_in(hands, "mm")
    hands.gauge("0.4 + 0.5")
    hands.page.locator(".rows .row", has_text="Bolt").click()
    as_in(hands, "mm")
    hands.gauge("14.1")
    hands.size("Hole, the long way", "15.2")
    hands.size("Hole, the short way", "14.6")
    expect(hands.page.get_by_text("Repair choices, for comparison")).to_be_visible()
    hands.all_joints()


def clear(hands):
    """Every place of one pair: three gaps at ride height, contact, then free of each other."""
    hands.open_pair("Track bar to tie rod")
    hands.press("Gap")
    for _ in range(3):
        hands.enter("2 1/4")
        hands.keep_button.click()
        expect(hands.page.locator(".pad-figure")).to_have_value("")
    hands.press("Touches")
    expect(hands.place("at full bump, left lock")).to_have_text("touches")
    for _ in range(8):
        expect(hands.page.locator(".pad-figure")).to_have_value("")
        hands.enter("1 1/2")
        hands.keep_button.click()
    expect(hands.page.locator(".pad")).to_have_count(0)
    hands.press("All pairs")


def at_the_desk(hands, browser):
    """What the job's page says to the lead."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto(f"{hands.url}/door")
    page.get_by_role("button", name="lead").click()
    expect(page.get_by_role("heading", name="Pending review")).to_be_visible()
    job = next(e["job"] for e in hands.shop.pull(most=500).json["entries"] if e["kind"] == "job")
    page.goto(f"{hands.url}/desk/jobs/{job}")
    says = " ".join(page.locator("main").inner_text().replace("\u202f", " ").split())
    context.close()
    return says


def test_a_dial_reading_counts_both_ways_and_keeps_each(hands):
    """What is kept is the two movements, how the joint was rocked, and their sum."""
    hands.step("Play")
    hands.open_joint("Track bar, axle end")
    hands.page.get_by_text("bar pried lightly").click()
    expect(hands.page.locator("summary", has_text="bar pried lightly")).to_be_visible()
    hands.gauge("16 + 18")
    [body] = kept(hands)
    assert body["pair"] == pytest.approx([0.4064, 0.4572])
    assert body["value"] == pytest.approx(0.8636)
    assert (body["joint"], body["of"], body["unit"]) == ("axle end", "track_bar", "in")
    assert body["how"] == "bar pried lightly at the joint"


def test_a_dial_reading_that_could_mean_two_things_is_asked_back(hands):
    """0.4 among thousandths may be inches: the choices are there to touch, the text stays."""
    hands.step("Play")
    hands.open_joint("Track bar, frame end")
    hands.key_in("0.4 + 0.5")
    hands.keep_button.click()
    expect(hands.page.locator(".pad-says")).to_contain_text("inches or thousandths")
    expect(hands.page.locator(".pad-figure")).to_have_value("0.4 + 0.5")
    hands.press("0.4 thou + 0.5 thou")
    expect(hands.page.locator(".pad-figure")).to_have_value("0.4 thou + 0.5 thou")
    for left in ("0.4 thou + 0.5", "0.4 thou + 0.", "0.4 thou + 0", "0.4 thou + "):
        hands.press("Backspace")
        expect(hands.page.locator(".pad-figure")).to_have_value(left)


def test_a_size_of_nothing_is_not_kept(hands):
    """A bolt of 0 would make the whole round unreadable: it is told at the pad."""
    hands.step("Play")
    hands.open_joint("Track bar, frame end")
    hands.press("Bolt, hole and limits")
    hands.page.locator(".rows .row", has_text="Bolt").click()
    hands.key_in("0")
    hands.keep_button.click()
    expect(hands.page.locator(".pad-says")).to_contain_text("of zero is not a reading")
    assert kept(hands) == []


def test_limits_are_kept_apart_and_the_maker_s_needs_its_source(hands):
    """Without where it stands the maker's figure is not kept."""
    hands.step("Play")
    hands.open_joint("Track bar, frame end")
    hands.gauge("35")
    hands.page.locator("summary", has_text="No known limit").click()
    hands.page.get_by_label("Maker’s limit").fill("0.5 mm")
    hands.page.get_by_label("House limit").fill("x")
    hands.press("Save limits")
    expect(hands.page.get_by_text("Say where the figure comes from")).to_be_visible()
    expect(hands.page.get_by_text("is not part of a reading")).to_be_visible()
    hands.page.get_by_label("Source of the maker’s figure").fill(SOURCE)
    hands.page.get_by_label("House limit").fill("1 mm")
    hands.press("Save limits")
    expect(hands.page.locator(".says")).to_contain_text(
        "outside the maker's figure of 0.020\u202fin"
    )
    expect(hands.page.locator(".says")).to_contain_text("inside the house limit of 0.039\u202fin")
    [body] = kept(hands, "pick")
    assert body["value"]["maker_source"] == SOURCE


def test_what_is_loose_and_a_joint_of_another_name(hands):
    """Both stand in the list of joints."""
    hands.step("Play")
    hands.page.locator("summary", has_text="Another joint").click()
    hands.press("Continue")
    expect(hands.page.get_by_text("Enter a name")).to_be_visible()
    hands.page.get_by_label("What the joint is called").fill("Idler arm")
    hands.press("Continue")
    hands.gauge("12")
    hands.page.locator("summary", has_text="Is anything loose?").click()
    hands.page.get_by_label("Bolt in the bracket's hole").check()
    expect(hands.page.locator(".says")).to_contain_text("The stud or bolt is loose in its hole")
    repair = hands.page.locator(".box", has=hands.page.get_by_role("heading", name="Repair"))
    expect(repair).to_contain_text("Replace the worn part. Never drill")
    expect(hands.page.locator(".rows .row")).to_have_text(
        [re.compile(name) for name in ("Movement", "Bolt", "long way", "short way")]
    )
    hands.all_joints()
    expect(hands.page.locator(".rows .row", has_text="Idler arm")).to_contain_text("0.012 in")


def test_contact_takes_one_touch_a_place_and_any_place_two(hands):
    """The next place is asked for by itself; another is touched first."""
    hands.step("Clearance")
    hands.open_pair("Track bar to oil pan")
    sweep(hands, "Touches")
    expect(hands.place("at ride height, left lock")).to_have_text("touches")
    hands.place("at full droop, right lock").click()
    sweep(hands, "Witness mark")
    expect(hands.place("at full droop, right lock")).to_have_text("mark")
    expect(hands.place("crossed up, left lock")).to_have_attribute("aria-pressed", "true")
    bodies = kept(hands)
    assert [(b["state"], b["lock"], b["mark"]) for b in bodies] == [
        ("ride", "left", "touches"),
        ("full_droop", "right", "witness mark"),
    ]
    assert all(body["between"] == ["track bar", "oil pan"] for body in bodies)


def test_a_place_read_again_replaces_what_was_there(hands):
    """One gap stands a place; the first stays in the log."""
    hands.step("Clearance")
    hands.open_pair("Tire to frame")
    sweep(hands, "Touches")
    expect(hands.place("at ride height, left lock")).to_have_text("touches")
    hands.place("at ride height, left lock").click()
    hands.press("Gap")
    hands.page.locator(".pad-figure").fill("3/8")
    hands.keep_button.click()
    expect(hands.place("at ride height, left lock")).to_have_text("3/8 in")
    first, second = kept(hands)
    assert "replaces" not in first
    assert second["value"] == pytest.approx(9.525)
    assert second["replaces"]


def test_what_was_found_before_a_change_is_asked_for_again_place_by_place(hands):
    """The grid keeps the old gap, says that it is old, and goes to that place again."""
    hands.step("Clearance")
    hands.open_pair("Track bar to oil pan")
    sweep(hands, "Touches")
    hands.back()
    hands.step("Change")
    hands.page.get_by_label("Drag link turned").click()
    hands.press("Something else")
    hands.page.get_by_label("Track bar turned").click()
    hands.page.get_by_label("Turns").fill("1")
    hands.page.get_by_label("out, longer").check()
    hands.log_change_now()
    hands.step("Clearance")
    notice = hands.page.locator(".stale-notice")
    expect(notice).to_contain_text("Check the clearance again: the track bar was turned")
    hands.open_pair("Track bar to oil pan")
    old = hands.page.locator(".cell.overtaken.now")
    expect(old).to_have_attribute("aria-label", re.compile("left lock: touches, before the change"))
    hands.press("Touches", exact=True)
    expect(hands.page.locator(".cell.overtaken")).to_have_count(0)
    hands.back()
    expect(notice).to_have_count(0)


def test_left_is_left_in_the_grid_unless_it_is_turned(hands):
    """Whoever faces the other way sees the locks the other way round."""
    hands.step("Clearance")
    hands.open_pair("Track bar to oil pan")
    heads = hands.page.locator(".places-grid thead th")
    expect(heads).to_have_text(["Left lock", "Straight", "Right lock"])
    hands.state.click()
    hands.page.get_by_label("Show left and right as seen from the front").check()
    hands.page.go_back()
    hands.open_pair("Track bar to oil pan")
    expect(heads).to_have_text(["Right lock", "Straight", "Left lock"])


def test_a_pair_of_other_parts_is_listed_with_what_was_not_checked(hands):
    """Its name is made of two, and 11 places stay open."""
    hands.step("Clearance")
    hands.page.locator("summary", has_text="Another pair").click()
    hands.page.get_by_label("One part").fill("Exhaust")
    hands.page.get_by_label("The other part").fill("track bar")
    hands.press("Continue")
    sweep(hands, "Touches")
    expect(hands.place("at ride height, left lock")).to_have_text("touches")
    hands.back()
    expect(hands.page.locator(".answer")).to_contain_text(
        "Exhaust to track bar: 11 places not checked."
    )


def test_a_rubber_bush_is_not_kept_before_the_weight_is_on_the_springs(hands):
    """The gate says why, and what was entered stays."""
    hands.step("Torque")
    hands.torque_figure("Frame-end bolt", "118", "N·m")
    hands.page.get_by_label("Rubber bushing in this joint").check()
    expect(hands.page.get_by_text("the rubber is twisted at ride height and tears")).to_be_visible()
    hands.torqued("At the nut", "Oiled", SOURCE)
    expect(hands.page.get_by_text("Not saved: check that the weight is on")).to_be_visible()
    assert kept(hands) == []
    hands.page.get_by_label("The weight is on the springs").check()
    hands.page.locator(".torque-form .main").click()
    expect(hands.page.locator(".answer")).to_contain_text("1 fastener torqued")
    [body] = kept(hands)
    assert (body["value"], body["figure"], body["end"]) == (118, "118 N·m", "nut")
    assert body["rubber"] and body["on_springs"]


def test_a_figure_needs_its_unit_and_its_source(hands):
    """A bare number is asked back; without a source nothing is kept."""
    hands.step("Torque")
    hands.page.locator(".rows .row", has_text="Jam nuts").click()
    hands.key_in("87")
    hands.press("Next: how it was turned")
    expect(hands.page.locator(".pad-says")).to_contain_text("Is that N·m or lb-ft?")
    hands.page.locator(".pad-says").get_by_role("button", name="lb-ft").click()
    hands.press("Next: how it was turned")
    expect(hands.page.locator(".answer")).to_have_text("87 lb-ft (118 N·m)")
    hands.torqued("At the nut", "Dry", " ")
    expect(hands.page.get_by_text("Say where the figure comes from")).to_be_visible()
    assert kept(hands) == []


def test_a_printed_pair_that_does_not_agree_is_flagged(hands):
    """The step says it beside the fastener, and the second figure is kept too."""
    hands.step("Torque")
    hands.torque_figure("Axle-end bolt", "118", "N·m")
    hands.page.get_by_label("Same figure printed in another unit").fill("66 lbf ft")
    hands.torqued("At the bolt", "New fastener", SOURCE)
    row = hands.page.locator(".rows .row", has_text="Axle-end bolt")
    expect(row).to_contain_text("The two printed figures are 24% apart")
    [body] = kept(hands)
    assert body["also_figure"] == "66 lbf ft"
    assert body["also"] == pytest.approx(89.48, abs=0.01)


def test_a_further_angle_and_a_tolerance_are_kept(hands):
    """40 then 90°, and 525 ± 75, as they are printed."""
    hands.step("Torque")
    hands.page.locator(".rows .row", has_text="Jam nuts").click()
    hands.page.locator(".pad-figure").fill("40 N·m then 90°")
    hands.press("Next: how it was turned")
    hands.torqued("At the nut", "Dry", SOURCE)
    hands.page.locator(".rows .row", has_text="Drag link clamps").click()
    hands.page.locator(".pad-figure").fill("525 ± 75 ft-lb")
    hands.press("Next: how it was turned")
    hands.press("As the jam nuts: at the nut, dry")
    hands.page.locator(".torque-form .main").click()
    expect(hands.page.locator(".answer")).to_contain_text("2 fasteners torqued")
    first, second = kept(hands)
    assert (first["value"], first["then_angle"]) == (40, 90)
    assert second["tolerance"] == pytest.approx(101.69, abs=0.01)
    assert (second["source"], second["end"]) == (SOURCE, "nut")


def test_a_recheck_asks_for_every_bolt_and_says_what_moved(hands):
    """Due by distance and day; then moved or not, with the value found."""
    hands.step("Torque")
    torque(hands)
    torque(hands, "Axle-end bolt")
    hands.page.locator("summary", has_text="When to check again").click()
    hands.press("500 mi, 4 weeks")
    hands.press("Save re-check")
    expect(hands.page.locator("summary", has_text="Check again after 500 mi")).to_be_visible()
    hands.page.goto(hands.page.url.replace("as_found", "recheck"))
    expect(hands.page.locator(".answer")).to_contain_text("2 fasteners still to check again.")
    hands.page.locator(".rows .row", has_text="Frame-end bolt").click()
    hands.key_in("80")
    hands.page.locator(".keys").get_by_role("button", name="N·m", exact=True).click()
    hands.press("It moved")
    expect(hands.page.locator(".answer")).to_contain_text("Frame-end bolt moved.")
    hands.page.locator(".rows .row", has_text="Axle-end bolt").click()
    hands.press("It did not move")
    expect(hands.page.locator(".answer")).to_have_text("Frame-end bolt moved.")
    moved, stayed = kept(hands)[2:]
    assert (moved["moved"], moved["value"], moved["figure"]) == (True, 80, "80 N·m")
    assert (stayed["moved"], stayed["value"]) == (False, None)


def test_a_bolt_that_moved_is_torqued_again_and_both_stay_on_the_log(hands):
    """The recheck goes on until the bolt has its figure again."""
    hands.step("Torque")
    torque(hands)
    hands.page.goto(hands.page.url.replace("as_found", "recheck"))
    row = hands.page.locator(".rows .row", has_text="Frame-end bolt")
    row.click()
    hands.press("It moved")
    expect(row).to_contain_text("It moved. Fit a new bolt and nut where the maker says so")
    row.click()
    expect(hands.page.locator(".notice", has_text="then torque it again")).to_be_visible()
    hands.press("As carried over: 118 N·m")
    hands.press("Next: how it was turned")
    hands.page.locator(".torque-form .main").click()

    expect(row).to_contain_text("torqued again")
    expect(hands.page.locator(".answer")).to_have_text(
        "Frame-end bolt moved, and was torqued again."
    )
    _, moved, anew = kept(hands)
    assert moved["moved"] is True
    assert (anew["value"], anew["source"]) == (118, SOURCE) and "replaces" not in anew


def test_every_entry_of_the_three_steps_is_a_line_of_the_log(hands):
    """As a sentence; a reading can be struck there, by the words that the lead reads too."""
    hands.step("Clearance")
    hands.open_pair("Track bar to oil pan")
    sweep(hands, "Touches")
    expect(hands.place("at ride height, left lock")).to_have_text("touches")
    hands.back()
    hands.back()
    hands.page.locator("summary", has_text="Everything logged").click()
    line = "Clearance: track bar to oil pan, at ride height, left lock, touches"
    hands.page.get_by_role("button", name=f"Strike: {line}").click()
    hands.page.get_by_label("Misread").check()
    hands.press("Strike", exact=True)
    told = "You checked track bar to oil pan at ride height, left lock: touches."
    expect(hands.page.locator(".log .struck-out", has_text=told)).to_be_visible()
    hands.page.get_by_role("link", name="Clearance", exact=False).first.click()
    expect(hands.page.locator(".answer")).to_have_count(0)


def test_f13_a_gap_being_typed_comes_back_after_the_app_was_killed(hands):
    """The text is a draft of that place alone."""
    hands.step("Clearance")
    hands.open_pair("Tire to frame")
    hands.press("Gap")
    hands.page.locator(".pad-figure").fill("1 3/4")
    hands.page.evaluate(DRAFT_IS_KEPT, "1 3/4")
    hands.page.reload()
    hands.open_pair("Tire to frame")
    hands.press("Gap")
    expect(hands.page.locator(".pad-figure")).to_have_value("1 3/4")


# Settles once the text being typed is a draft on disk.
DRAFT_IS_KEPT = """async (text) => {
  const app = document.querySelector('script[src]').src;
  const store = await (await import(app.replace('app.js', 'store/store.js'))).open();
  const written = async () => (await store.drafts()).some((draft) => draft.text === text);
  while (!await written()) await new Promise((go) => setTimeout(go, 20));
}"""
