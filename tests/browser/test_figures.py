"""The drawings themselves: to scale, each line told from the others, every label to be read."""

import math
from itertools import product

import pytest
from chrome import prepare
from kit.worked_sheets import SAMPLE, changed
from legible import bad_labels

from webapp.reckon.assess import assess

pytestmark = pytest.mark.browser
SIDES = ["left", "right"]
DRAW = """async ([build, sheet, findings, flip, width, size]) => {
  const {draw} = await import(`/shell/${build}/js/figures/axle_view.js`);
  const look = document.createElement('link');
  Object.assign(look, {rel: 'stylesheet', href: `/shell/${build}/css/look.css`});
  const read = new Promise((go) => { look.onload = go; });
  document.head.replaceChildren(look);
  await read;
  document.documentElement.style.fontSize = size;
  const figure = document.createElement('figure');
  figure.style.width = `${width}px`;
  figure.append(draw({sheet, findings}, {flip}));
  document.body.replaceChildren(figure);
}"""
# How far across and up a line goes, in the drawing's own units.
REACH = """(kind) => {
  const box = document.querySelector(`path.${kind}`).getBBox();
  return [box.width, box.height];
}"""


@pytest.fixture
def draw(browser, real_server):
    """Draws a sheet across the axle on a blank page: draw(sheet, flip, width, text size)."""
    server, phone = real_server
    build = phone.ask("GET", "/build.json").json["build"]
    context = prepare(browser.new_context(), build)
    page = context.new_page()
    page.goto(f"{server.url}/blank")

    def drawn(sheet, flip=False, width=325, size=""):
        page.evaluate(DRAW, [build, sheet, assess(sheet), flip, width, size])
        return page

    yield drawn
    context.close()


HISTORY = """async ([build, points]) => {
  const {draw} = await import(`/shell/${build}/js/figures/history.js`);
  const figure = document.createElement('figure');
  figure.append(draw({points}));
  document.body.replaceChildren(figure);
}"""
INTERVAL = """async ([build, findings]) => {
  const {draw, fromFindings} = await import(`/shell/${build}/js/figures/interval.js`);
  const data = fromFindings(findings);
  document.body.replaceChildren(draw(data), draw(data, {small: true}));
}"""
GREEN = ".is-inside, .band, .limit"
KEYS = ("offset", "expanded", "limit", "state")


def centered(**parts):
    """The sample's sheet with its axle in the middle, so that nothing is drawn enlarged."""
    return changed(SAMPLE, centering={"left": [208, 208], "right": [208, 208]}, **parts)


def test_no_drawing_of_a_held_round_is_green(draw):
    """Neither its mark nor the band of its limit, in the interval, the history, and from behind."""
    loose = [{"joint": "axle end", "of": "track_bar", "along": 2.0, "house_limit": 0.5}]
    held, free = assess(centered(play=loose)), assess(centered())
    page = draw(centered(play=loose))
    assert page.locator(GREEN).count() == 0
    build = page.evaluate("document.querySelector('link').href.split('/')[4]")

    for found, green in ((held, False), (free, True)):
        point = {key: found["centering"][key] for key in KEYS}
        point["held"] = found["advice"]["state"] == "hold"
        points = [{**point, "unit": "mm", "label": "as found", "at": "Nov 25"}]
        for script, given in ((INTERVAL, found), (HISTORY, points)):
            page.evaluate(script, [build, given])
            assert (page.locator(GREEN).count() > 0) is green


def run(link):
    return math.sqrt(
        link["length"] ** 2
        - (link["frame_height"] - link["axle_height"]) ** 2
        - link["fore_aft"] ** 2
    )


def test_bar_and_drag_link_are_drawn_to_one_scale(draw):
    page = draw(centered())
    bar, link = SAMPLE["track_bar"], SAMPLE["drag_link"]

    across, up = page.evaluate(REACH, "bar")
    link_across, link_up = page.evaluate(REACH, "link")

    assert link_across / across == pytest.approx(run(link) / run(bar), rel=0.01)
    assert up / across == pytest.approx(114 / run(bar), rel=0.02)
    assert link_up / link_across == pytest.approx(67 / run(link), rel=0.02)


def test_the_drag_link_is_named_and_drawn_otherwise_than_the_bar(draw):
    page = draw(SAMPLE)

    assert page.locator("path.link-core").count() == 2
    words = page.locator("text").all_text_contents()
    assert {"track bar", "drag link"} <= set(words)
    spoken = page.locator("svg").get_attribute("aria-label")
    assert "drag link with its frame end on the left" in spoken


def test_a_drag_link_that_is_not_known_is_left_out(draw):
    for missing in ("frame_end", "length", "frame_height", "axle_height"):
        page = draw(changed(SAMPLE, drag_link={missing: None}))

        assert page.locator("path.bar").count() == 1
        assert page.locator("path.link").count() == 0
        assert "drag link" not in page.locator("text").all_text_contents()


def test_labels_do_not_meet_whatever_the_ends_and_the_size(draw):
    views = product(SIDES, SIDES, [False, True], [215, 325], ["", "200%"])
    for bar_end, link_end, flip, width, size in views:
        ends = {"track_bar": {"frame_end": bar_end}, "drag_link": {"frame_end": link_end}}
        page = draw(changed(SAMPLE, **ends), flip, width, size)

        assert page.locator("path.link").count() > 0
        assert bad_labels(page) == [], (bar_end, link_end, flip, width, size)


REACH_OF_LABELS = """() => {
  const wheels = [...document.querySelectorAll('rect.line')].map((each) => each.getBBox());
  const [first, last] = wheels.sort((one, other) => one.x - other.x);
  const labels = [...document.querySelectorAll('text.lit')].map((each) => each.getBBox());
  return labels.filter(({x, width}) => x < first.x + first.width || x + width > last.x).length;
}"""


def test_no_label_of_an_end_lies_on_a_wheel(draw):
    """A short frame with its bracket far out puts the bar's ends beside the wheels."""
    near = {"left": [206.0, 206.0], "right": [206.0, 206.0]}
    for side, out in product(SIDES, [300, 460]):
        bar = {"frame_end": side, "frame_end_from_center": out, "length": 880}
        page = draw(changed(SAMPLE, centering=near, track_bar=bar, drag_link=None))

        assert page.evaluate(REACH_OF_LABELS) == 0, (side, out)


# The same wear of a hole, which holds the advice whatever the offset is.
WORN = [{"joint": "frame end", "of": "track_bar", "along": 0.4, "bolt": 14.1, "hole_long": 15.2}]
INTERVAL = """async ([build, findings]) => {
  const {draw, fromFindings} = await import(`/shell/${build}/js/figures/interval.js`);
  document.body.replaceChildren(draw(fromFindings(findings)));
}"""


@pytest.mark.parametrize("play", [None, WORN], ids=["adjust", "hold"])
def test_a_drawing_names_a_move_only_where_the_advice_is_to_adjust(draw, play):
    page = draw(changed(SAMPLE, play=play))

    assert page.get_by_text("move 5.4 mm to the right").count() == (1 if play is None else 0)


@pytest.mark.parametrize("left", [208, 220], ids=["inside", "outside"])
def test_the_interval_of_a_held_round_is_shown_as_held_and_leads_nowhere(draw, left):
    sheet = changed(centered(), centering={"left": [left, left]}, play=WORN)
    page = draw(sheet)
    page.evaluate(INTERVAL, [page.evaluate("testBuild"), assess(sheet)])

    assert page.get_by_text(", on hold").count() == 1
    assert page.locator(".is-inside, .is-outside, .after").count() == 0
