"""A technician's way through the screens, every state of them inspected, in both themes."""

import pytest
from faked_devices import IPHONE
from hands import Hands
from inspector import Inspector
from playwright.sync_api import expect
from shelf import STATIC
from yard import TAG, put_in_the_yard

pytestmark = pytest.mark.browser
ICON = STATIC / "icons" / "icon-192.png"
LEVERS = {"Axle tube height": "16 1/2", "Rail height": "27"}


def test_every_screen_of_a_job(browser, real_server, leads_phone):
    """From an unpaired phone to a job that is handed in."""
    server, _ = real_server
    put_in_the_yard(leads_phone)
    # The checker puts its script into the page, which the app's own policy would refuse.
    context = browser.new_context(has_touch=True, bypass_csp=True)
    hands = Hands(context.new_page(), server.url)
    inspector = Inspector(hands.page)
    hands.page.goto(f"{server.url}/app")
    expect(hands.page.get_by_text("not paired with a shop yet")).to_be_visible()
    inspector.look("unpaired")
    hands.pair()
    inspector.look("vehicles")
    tags(hands, inspector)
    hands.open_tag(TAG)
    hands.page.get_by_text("Open a job").click()
    inspector.look("vehicle")
    hands.page.get_by_text("Open a job").click()
    hands.open_job("bar rebuilt")
    inspector.look("ride height, ready")
    hands.make_ready()
    inspector.look("ride height, reading")
    hands.read("8 3/4")
    hands.read("8 5/8")
    inspector.look("ride height, done")
    measure(hands, inspector)
    bar(hands, inspector)
    link(hands, inspector)
    change(hands, inspector)
    hand_in(hands, inspector)
    context.close()


def tags(hands, inspector):
    """Scanning, and the tag that nobody knows."""
    hands.page.get_by_role("link", name="Scan a tag").click()
    hands.press("Open", exact=True)
    expect(hands.page.get_by_text("A tag code has eight letters and digits")).to_be_visible()
    inspector.look("scan")
    hands.back()
    hands.open_tag("QRTV-2345")
    hands.press("Add this vehicle")
    hands.page.get_by_text("Attach it to a vehicle on file").click()
    inspector.look("new tag")
    hands.back()


def photos(hands, inspector):
    """A photo, the note found by its words, and the phone's own screen with both."""
    hands.page.get_by_role("link", name="Take a photo").click()
    inspector.look("photo")
    file = {"name": "1.png", "mimeType": "image/png", "buffer": ICON.read_bytes()}
    hands.page.locator("input[type=file]").set_input_files(file)
    expect(hands.page.get_by_text("1 photo in this job")).to_be_visible()
    inspector.look("photo taken")
    hands.back()
    hands.page.get_by_text("Write a note").click()
    hands.page.get_by_label("Note").fill("hairline crack")
    inspector.look("note")
    hands.press("Save note")
    hands.page.evaluate("location.hash = '#/'")
    hands.page.get_by_role("searchbox").fill("crack")
    expect(hands.page.get_by_text("In notes")).to_be_visible()
    inspector.look("note found")
    hands.page.get_by_role("link", name="hairline crack").click()


def test_the_screen_in_a_tab_of_an_iphone(browser, real_server, leads_phone):
    """How to put the app on the home screen, which stands in place of what takes something in."""
    context = browser.new_context(user_agent=IPHONE, bypass_csp=True)
    page = context.new_page()
    page.goto(f"{real_server[0].url}/t/{TAG}")
    expect(page.get_by_text("Add to Home Screen")).to_be_visible()
    Inspector(page).look("install")
    context.close()


def measure(hands, inspector):
    """The centering screens."""
    hands.press("Next: centering")
    hands.page.locator(".settings summary").click()
    inspector.look("centering, face and method")
    hands.page.locator(".settings summary").click()
    hands.page.locator(".pad-figure").fill("21/4")
    hands.keep_button.click()
    inspector.look("centering, asked back")
    hands.page.locator(".pad-figure").fill("")
    for reading in ("8 7/16", "8 7/16", "8", "8 1/16"):
        hands.read(reading)
    hands.page.locator("summary", has_text="Why").click()
    inspector.look("answer")
    hands.page.get_by_role("button", name="right 1: 8,").click()
    inspector.look("strike")
    hands.press("Cancel")


def bar(hands, inspector):
    """The track bar screens."""
    hands.press("Next: track bar")
    inspector.look("track bar")
    hands.open_value("Frame end on the")
    inspector.look("frame end")
    hands.leave_the_walk()
    hands.open_value("Fore-aft lead")
    inspector.look("fore-aft lead")
    hands.leave_the_walk()
    for name, text in LEVERS.items():
        hands.open_value(name)
        inspector.look(name)
        hands.leave_the_walk()
        hands.read_value(name, text)
    hands.open_value("Adjuster")
    inspector.look("adjuster")
    hands.leave_the_walk()


def link(hands, inspector):
    """The drag link screens, empty and full."""
    hands.step("Drag link")
    inspector.look("drag link, nothing known")
    for name in ("Frame end on the", "Link length", "Fore-aft lead", "Steering arm", "Toe ahead"):
        hands.open_value(name)
        inspector.look(f"drag link, {name}")
        hands.leave_the_walk()
    hands.open_value("Steering ratio")
    hands.press("Save steering ratio")
    expect(hands.page.get_by_text("Write the ratio as a number")).to_be_visible()
    inspector.look("drag link, ratio refused")
    hands.leave_the_walk()
    hands.open_value("Steering wheel sits")
    hands.page.locator("form input").fill("1/4 turn")
    hands.press("Save steering wheel")
    expect(hands.page.get_by_role("button", name="90 deg left", exact=True)).to_be_visible()
    inspector.look("drag link, wheel asked back")
    hands.leave_the_walk()
    hands.measure_link()
    inspector.look("drag link")
    hands.press("Travel and what-if")
    set_sliders(hands.page)
    inspector.look("through the travel")
    hands.page.go_back()


def set_sliders(page):
    """Full droop, with a plan beside today."""
    page.get_by_label("Travel", exact=True).fill("-100")
    page.get_by_label("Track bar's axle end up").fill("40")
    for row in ("Axle bracket's lever", "Frame bracket's lever"):
        expect(page.get_by_role("row", name=row)).to_contain_text("\u00d7 1.00")


def change(hands, inspector):
    """The change screens, and the next round begun."""
    hands.step("Change")
    inspector.look("change, what was done")
    for what in ("Bracket moved", "Track bar turned"):
        hands.page.get_by_label(what).click()
        inspector.look(f"change, {what}")
        hands.press("Something else")
    hands.log_change("Track bar turned")
    inspector.look("change, logged")
    hands.back()
    hands.page.locator(".hold-point summary").first.click()
    inspector.look("job, stale")
    hands.page.get_by_role("link", name="Start round: as left").click()
    expect(hands.page.get_by_text("front axle, as left")).to_be_visible()
    hands.page.get_by_role("link", name="Centering").first.click()
    for reading in ("8 1/4", "8 1/4", "8 1/4", "8 1/4"):
        hands.read(reading)
    hands.back()
    hands.page.get_by_text("Numbers that changed").click()
    inspector.look("job, two rounds")


def hand_in(hands, inspector):
    """The last screens: what is missing, the job, what the phone holds."""
    hands.page.context.set_offline(True)
    photos(hands, inspector)
    hands.page.get_by_role("link", name="Hand in").click()
    expect(hands.page.get_by_role("heading", name="Still missing")).to_be_visible()
    inspector.look("hand in")
    hands.page.get_by_label("Why it is handed in incomplete").first.fill("lift needed elsewhere")
    hands.press("Hand in incomplete")
    expect(hands.page.get_by_text("Handed in.")).to_be_visible()
    inspector.look("handed in")
    hands.back()
    hands.page.locator("summary", has_text="Everything logged").click()
    inspector.look("job")
    hands.state.click()
    expect(hands.page.get_by_role("heading", name="On this phone", exact=True)).to_be_visible()
    inspector.look("held")
    hands.page.evaluate("location.hash = '#/vehicle/nobody'")
    expect(hands.page.get_by_text("This vehicle is not on this phone")).to_be_visible()
    inspector.look("unknown vehicle")
    hands.page.evaluate("location.hash = '#/'")
    hands.page.get_by_role("searchbox").fill("no such truck")
    inspector.look("nothing found")


def test_the_screens_of_play_clearance_and_torque(browser, real_server, leads_phone):
    """Lists, pads, grid, forms and the recheck."""
    server, _ = real_server
    put_in_the_yard(leads_phone)
    context = browser.new_context(has_touch=True, bypass_csp=True)
    hands = Hands(context.new_page(), server.url)
    inspector = Inspector(hands.page)
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job("joints and bolts")
    play(hands, inspector)
    clearance(hands, inspector)
    torque(hands, inspector)
    recheck(hands, inspector)
    context.close()


def play(hands, inspector):
    """The joints, the pads of one, and all of it."""
    hands.step("Play")
    inspector.look("play")
    hands.page.locator("summary", has_text="Another joint").click()
    hands.press("Continue")
    inspector.look("play, another joint")
    hands.open_joint("Track bar, frame end")
    inspector.look("play, along the bar")
    hands.page.get_by_label("wheel rocked lightly").check()
    hands.key_in("0.4+0.5")
    hands.keep_button.click()
    inspector.look("play, asked back")
    hands.press("0.4 thou + 0.5 thou")
    hands.keep_button.click()
    inspector.look("play, less than a gauge shows")
    hands.page.locator(".pad-figure").fill("16 + 18")
    hands.keep_button.click()
    hands.page.locator(".rows .row", has_text="Bolt").click()
    for name, text in {"Bolt": "0.55", "Hole, the long way": "0.6"}.items():
        inspector.look(f"play, {name}")
        hands.gauge(text)
    hands.leave_the_walk()
    hands.page.locator("summary", has_text="Is anything loose?").click()
    hands.page.locator("summary", has_text="No known limit").click()
    inspector.look("play, one joint")
    hands.all_joints()
    inspector.look("play, begun")


def clearance(hands, inspector):
    """The pairs, the grid, and the tape below it."""
    hands.press("Next: clearance")
    inspector.look("clearance")
    hands.open_pair("Track bar to tie rod")
    inspector.look("clearance, grid")
    hands.press("Touches")
    expect(hands.place("at ride height, left lock")).to_have_text("touches")
    hands.press("Gap")
    hands.page.locator(".pad-figure").fill("11 13/32")
    hands.keep_button.click()
    expect(hands.place("at ride height, wheels straight")).to_contain_text("11 13/32 in")
    inspector.look("clearance, gap")
    hands.back()
    inspector.look("clearance, begun")


def torque(hands, inspector):
    """The fasteners, the figure, how it was turned with the gate, and the re-check."""
    hands.press("Next: torque")
    inspector.look("torque")
    hands.page.locator(".rows .row", has_text="Frame-end bolt").click()
    inspector.look("torque, figure")
    hands.page.locator(".pad-figure").fill("118 N·m")
    hands.press("Next: how it was turned")
    hands.page.get_by_label("Rubber bushing in this joint").check()
    hands.torqued("At the bolt", "Locking compound", "")
    inspector.look("torque, how and gate")
    hands.page.get_by_label("The weight is on the springs").check()
    hands.torqued("At the bolt", "Locking compound", "shop manual")
    hands.page.locator("summary", has_text="When to check again").click()
    inspector.look("torque, begun")


def recheck(hands, inspector):
    """What waits, moved or not, and what moved."""
    hands.page.goto(hands.page.url.replace("as_found", "recheck"))
    expect(hands.page.locator(".answer")).to_contain_text("still to check again")
    inspector.look("recheck")
    hands.page.locator(".rows .row", has_text="Frame-end bolt").click()
    inspector.look("recheck, one bolt")
    hands.press("It moved")
    expect(hands.page.locator(".answer")).to_have_text("Frame-end bolt moved.")
    inspector.look("recheck, moved")
