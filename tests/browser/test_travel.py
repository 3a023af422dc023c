"""Through the travel: drawing, figures and plans move as the arithmetic says, in mm and inches."""

import re
import uuid

import pytest
from hands import Hands
from playwright.sync_api import Page, expect
from yard import BAR, LINK, RECORD

from webapp.reckon.checks.bump_steer import bump_steer
from webapp.reckon.checks.drag_link import linkage
from webapp.reckon.checks.track_bar import shift_at
from webapp.reckon.checks.what_if import plan_found, what_if
from webapp.reckon.sentences.plan_rows import plan_rows
from webapp.reckon.terms import toward

pytestmark = pytest.mark.browser

MARK = 25.4 / 16  # one step of a slider on an inch tape, in mm
THIN = "\u202f"
AXLE_UP = "Track bar's axle end up"
DRAWN_LARGER = 3

# The ends of bar, link and axle as they are drawn, [x, y] each.
DRAWN = """() => {
  const figure = document.querySelector('main figure');
  const ends = (kind) => figure.querySelector(`path.${kind}`).getAttribute('d')
    .slice(1).split('L').map((end) => end.split(' ').map(Number));
  const tube = figure.querySelector('rect.mass');
  return {bar: ends('bar'), link: ends('link'),
    axle: ['x', 'y'].map((name) => Number(tube.getAttribute(name)))};
}"""
# The paths of a curve's figure by their kinds, and the place of the travel that is marked on it.
CURVE = """(figure) => ({
  now: figure.querySelector('path.curve-now')?.getAttribute('d'),
  then: figure.querySelector('path.bar-then')?.getAttribute('d'),
  marks: figure.querySelectorAll('circle').length,
})"""


def filed(leads_phone, units):
    """A vehicle with bar and drag link on file, measured in these units: (vehicle id, tag)."""
    vehicle, tag = str(uuid.uuid4()), "TRVL-2345"
    record = {**RECORD, "units": units, "drag_links": {"front": LINK}}
    sent = [
        leads_phone.entry("vehicle", record, vehicle=vehicle),
        leads_phone.entry("tag", {"code": tag}, vehicle=vehicle),
    ]
    assert [each["verdict"] for each in leads_phone.push(*sent).json["answers"]] == ["stored"] * 2
    return vehicle, tag


def through_the_travel(hands: Hands, tag: str) -> Page:
    """The travel screen of a job just opened on the vehicle with this tag."""
    hands.pair()
    hands.open_tag(tag)
    hands.open_job("what if")
    hands.step("Track bar")
    hands.press("Travel and what-if")
    expect(hands.page.get_by_label("Travel", exact=True)).to_be_visible()
    return hands.page


@pytest.fixture
def hands(new_hands, leads_phone):
    """A technician of a shop whose lead is still to file the vehicles."""
    made = new_hands()
    made.leads_phone = leads_phone
    return made


@pytest.fixture
def in_mm(hands):
    """The travel screen of a vehicle that is measured in mm."""
    return through_the_travel(hands, filed(hands.leads_phone, "mm")[1])


@pytest.fixture
def in_inches(hands):
    """The travel screen of a vehicle that is measured in inches."""
    return through_the_travel(hands, filed(hands.leads_phone, "in")[1])


def slide(page: Page, label: str, value: object) -> None:
    """Set a slider to a number of its steps."""
    page.get_by_label(label, exact=True).fill(str(value))


def figure(page: Page, title: str):
    """The figure of one curve."""
    return page.locator(".curves figure", has_text=title)


def says_at(travel: float, unit: str, words: str) -> str:
    """The live sentence at a travel, as CPython reckons it."""
    steered = bump_steer(BAR, linkage(LINK), travel)
    side = "left" if steered > 0 else "right"
    steers = f"the wheels steer {abs(steered):.2f}° to the {side}"
    return f"{words}: the axle sits {toward(shift_at(BAR, travel), unit)}, {steers}."


def test_the_drawing_goes_where_the_arithmetic_takes_the_axle(in_mm):
    """Bar, link and axle rise with the travel and go sideways by the shift; the frame stands."""
    ride = in_mm.evaluate(DRAWN)
    run = abs(ride["bar"][1][0] - ride["bar"][0][0])
    scale = run / (BAR["length"] ** 2 - 114**2 - 18**2) ** 0.5
    for travel in (-100, -40, 25, 80):
        slide(in_mm, "Travel", travel)
        drawn = in_mm.evaluate(DRAWN)
        # Left of the axle is left on the screen, and up is up.
        went = [-shift_at(BAR, travel) * DRAWN_LARGER * scale, -travel * scale]
        for part in ("bar", "link"):
            assert drawn[part][0] == ride[part][0]
            moved = [now - then for now, then in zip(drawn[part][1], ride[part][1], strict=True)]
            assert moved == pytest.approx(went, abs=0.05), (part, travel)
        moved = [now - then for now, then in zip(drawn["axle"], ride["axle"], strict=True)]
        assert moved == pytest.approx(went, abs=0.05), travel


def test_the_live_sentence_has_the_arithmetics_figures(in_mm):
    """Shift and steer at each travel, in words that also stand for the drawing and the curves."""
    answer = in_mm.locator(".answer")
    expect(answer).to_have_text(
        "At ride height: the axle sits in the middle, the wheels stay straight."
    )
    for travel, name in (
        (-100, "100\u202fmm of droop"),
        (-37, "37\u202fmm of droop"),
        (80, "80\u202fmm of bump"),
    ):
        slide(in_mm, "Travel", travel)
        says = says_at(travel, "mm", name)
        expect(answer).to_have_text(says)
        expect(in_mm.locator("main figure svg").first).to_have_attribute("aria-label", says)
        expect(figure(in_mm, "Bump steer").locator("svg")).to_have_attribute(
            "aria-label", f"Bump steer, {says}"
        )
    expect(in_mm.locator(".slider b").first).to_have_text("80\u202fmm of bump")


def test_the_slider_goes_by_finger_and_by_keys(in_mm):
    """A finger drags it, arrows go one mark, Home and End to the stops; words tell where it is."""
    slider = in_mm.get_by_label("Travel", exact=True)
    slider.focus()
    for key, value, words in (
        ("ArrowRight", "1", "1\u202fmm of bump"),
        ("ArrowLeft", "0", "At ride height"),
        ("Home", "-100", "100\u202fmm of droop"),
        ("End", "80", "80\u202fmm of bump"),
    ):
        slider.press(key)
        expect(slider).to_have_value(value)
        expect(slider).to_have_attribute("aria-valuetext", words)
    box = slider.bounding_box()
    middle = box["y"] + box["height"] / 2
    in_mm.mouse.move(box["x"] + box["width"] - 20, middle)
    in_mm.mouse.down()
    in_mm.mouse.move(box["x"] + box["width"] / 4, middle, steps=5)
    dragged = float(slider.input_value())
    in_mm.mouse.up()
    assert -80 < dragged < -30
    expect(in_mm.locator(".answer")).to_have_text(
        says_at(dragged, "mm", f"{-dragged:g}\u202fmm of droop")
    )


def compared(page: Page) -> list:
    """The table of plan and today: [name, today, plan] of each row."""
    rows = page.locator("table.compare tbody tr").all()
    return [[cell.inner_text() for cell in row.locator("th, td").all()] for row in rows]


def reckoned(unit: str, **plan: float) -> list:
    """The same rows as CPython reckons them."""
    today, then = (plan_found(BAR, LINK, each) for each in ({}, plan))
    return [[r["name"], r["today"], r["then"]] for r in plan_rows(today, then, unit, "none")]


def test_a_plan_stands_beside_today_with_todays_curve_behind(in_mm):
    """Each slider of a mount changes the table as the arithmetic does, and adds its curve."""
    expect(in_mm.get_by_text("Move a slider to compare a plan with today.")).to_be_visible()
    shift, steer = figure(in_mm, "Sideways shift"), figure(in_mm, "Bump steer")
    today = steer.evaluate(CURVE)
    assert (today["then"], today["marks"]) == (None, 1)

    slide(in_mm, AXLE_UP, 40)
    assert compared(in_mm) == reckoned("mm", axle_end_up=40)
    planned = steer.evaluate(CURVE)
    assert planned["then"] not in (None, planned["now"]) and planned["marks"] == 2
    assert shift.evaluate(CURVE)["then"] is not None

    slide(in_mm, "Pitman ball down", 25)
    slide(in_mm, "More ride height", -20)
    plan = {"axle_end_up": 40, "pitman_down": 25, "height_change": -20}
    assert compared(in_mm) == reckoned("mm", **plan)
    assert "−20\u202fmm" in in_mm.locator(".slider", has_text="More ride height").inner_text()

    for label in (AXLE_UP, "Pitman ball down", "More ride height"):
        slide(in_mm, label, 0)
    assert compared(in_mm) == []
    assert steer.evaluate(CURVE) == today


@pytest.mark.parametrize(
    ("button", "raised"),
    [("Make bar and link parallel", "parallel_raise"), ("Least bump steer", "least_steer_raise")],
)
def test_a_raise_is_set_as_the_arithmetic_finds_it(in_mm, button, raised):
    """The slider stands at the raise that was solved for, and the table shows what it gives."""
    in_mm.get_by_label("Name of the plan").fill("taller bracket")
    in_mm.get_by_role("button", name=button).click()
    found = what_if(BAR, LINK, [])
    wanted = round(found[raised], 1)
    row = in_mm.locator(".slider", has_text=AXLE_UP)
    expect(row.locator("b")).to_have_text(f"{wanted:g}{THIN}mm")
    expect(row.locator("input")).to_have_value(str(round(wanted)))
    assert compared(in_mm) == reckoned("mm", axle_end_up=wanted)
    expect(in_mm.get_by_label("Name of the plan")).to_have_value("taller bracket")
    if raised == "parallel_raise":
        assert ["Bar angle minus link angle", "3.4°", "0.0°"] in compared(in_mm)


def keep_plan(page: Page, name: str) -> None:
    """Keep what the sliders stand at under a name."""
    page.get_by_label("Name of the plan").fill(name)
    page.get_by_role("button", name="Save plan").click()


def test_a_plan_without_a_name_or_a_move_is_not_kept(in_mm):
    """Each time the form says what it lacks."""
    fault = in_mm.locator(".plan .fault")
    in_mm.get_by_role("button", name="Save plan").click()
    expect(fault).to_have_text("Enter a name for the plan.")
    keep_plan(in_mm, "nothing")
    expect(fault).to_have_text("Move a slider first: this plan changes nothing.")
    expect(in_mm.get_by_text("Plans saved with this job")).to_have_count(0)


def test_a_plan_is_kept_offline_opened_again_and_seen_at_the_desk(hands, in_mm, new_hands):
    """It survives a reload without the shop, sets the sliders again, and reaches the lead."""
    page = in_mm
    page.context.set_offline(True)
    slide(page, AXLE_UP, 40)
    slide(page, "Pitman ball down", -15)
    keep_plan(page, "taller bracket")
    expect(page.locator(".rows .row", has_text="taller bracket")).to_be_visible()
    page.reload()
    expect(page.get_by_text("Move a slider to compare a plan with today.")).to_be_visible()
    page.locator(".rows .row", has_text="taller bracket").click()
    expect(page.get_by_label(AXLE_UP, exact=True)).to_have_value("40")
    assert compared(page) == reckoned("mm", axle_end_up=40, pitman_down=-15)

    page.context.set_offline(False)
    expect(hands.state).to_contain_text("Everything is at the shop")
    job = re.search(r"#/job/([^/]+)/", page.url)[1]
    desk = at_the_desk(hands, new_hands, job)
    logged = desk.locator("tr", has_text="Plan: taller bracket")
    expect(logged).to_contain_text("track bar's axle end up 40 mm, pitman ball down −15 mm")


def at_the_desk(hands: Hands, new_hands, job: str) -> Page:
    """The lead's page of a job."""
    desk = new_hands(viewport={"width": 1280, "height": 800}, has_touch=False).page
    desk.goto(f"{hands.url}/door")
    desk.get_by_role("button", name="lead").click()
    desk.goto(f"{hands.url}/desk/jobs/{job}")
    return desk


def test_a_plan_is_named_in_the_log_and_can_be_struck(hands, in_mm, new_hands):
    """Crossed out with a reason it is no plan of the job any more; the desk says so too."""
    slide(in_mm, AXLE_UP, 40)
    keep_plan(in_mm, "taller bracket")
    expect(in_mm.get_by_text("Plans saved with this job")).to_be_visible()
    hands.back()
    in_mm.locator("summary", has_text="Everything logged").click()
    words = f"Plan: taller bracket, track bar's axle end up 40{THIN}mm"
    told = f"You saved the plan “taller bracket”: track bar's axle end up 40{THIN}mm."
    expect(in_mm.locator(".log")).to_contain_text(told)
    hands.press(f"Strike: {words}")
    in_mm.get_by_label("Another reason").fill("bracket not to be had")
    in_mm.locator("dialog .main").click()
    expect(in_mm.locator(".log .struck-out")).to_have_text(told)
    hands.press("Continue: ride height")
    hands.step("Track bar")
    hands.press("Travel and what-if")
    expect(in_mm.get_by_label("Name of the plan")).to_be_visible()
    expect(in_mm.get_by_text("Plans saved with this job")).to_have_count(0)
    expect(hands.state).to_contain_text("Everything is at the shop")
    desk = at_the_desk(hands, new_hands, re.search(r"#/job/([^/]+)/", in_mm.url)[1])
    logged = desk.locator("tr.struck", has_text="Plan: taller bracket")
    expect(logged).to_contain_text("bracket not to be had")


def test_a_vehicle_in_inches_is_told_in_inches_throughout(in_inches):
    """Sliders go by sixteenths, and no length on the screen stands in mm alone."""
    slide(in_inches, "Travel", -32)
    expect(in_inches.locator(".answer")).to_have_text(
        says_at(-32 * MARK, "in", f"2{THIN}in of droop")
    )
    in_inches.get_by_label("Travel", exact=True).press("End")
    # Full bump is no whole mark: the slider goes to the stop itself.
    expect(in_inches.locator(".answer")).to_have_text(
        says_at(80, "in", f"≈{THIN}3 5/32{THIN}in of bump")
    )
    slide(in_inches, AXLE_UP, 25)
    row = in_inches.locator(".slider", has_text=AXLE_UP)
    expect(row.locator("b")).to_have_text(f"1 9/16{THIN}in")
    assert compared(in_inches) == reckoned("in", axle_end_up=25 * MARK)
    keep_plan(in_inches, "an inch and a half")
    expect(in_inches.get_by_text("an inch and a half")).to_be_visible()
    shown = in_inches.locator("main").inner_text()
    assert re.findall(rf"(?<!\()\d{THIN}mm", re.sub(rf"\([\d.]+{THIN}mm\)", "", shown)) == []
    named = figure(in_inches, "Sideways shift").locator("text").all_text_contents()
    assert "in" in named and "+3.1" in named and "−3.9" in named


def test_without_the_travel_the_screen_says_what_to_enter(hands):
    """A bar whose travel is not known cannot be shown on its way."""
    vehicle = str(uuid.uuid4())
    short = {key: value for key, value in BAR.items() if key not in ("bump", "droop")}
    record = {**RECORD, "track_bars": {"front": short}}
    hands.leads_phone.push(hands.leads_phone.entry("vehicle", record, vehicle=vehicle))
    hands.pair()
    hands.page.goto(f"{hands.url}/app#/vehicle/{vehicle}")
    hands.open_job()
    hands.page.evaluate("location.hash = location.hash.replace('heights', 'travel')")
    expect(hands.page.get_by_text("Enter bump and droop travel of the track bar")).to_be_visible()
    expect(hands.page.locator("input[type=range]")).to_have_count(0)
