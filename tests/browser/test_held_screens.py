"""A held advice leaves no instruction on any screen of the phone: no turns, no length, no green."""

import re

import pytest
from kit.held_sheets import HELD, KNOWN
from kit.worked_sheets import LIMITS, changed

pytestmark = pytest.mark.browser
VEHICLE, JOB = "v", "j"
# Each screen that shows what a round comes to, with what its address or its sliders give it.
SCREENS = {
    "job": {},
    "heights": {},
    "centering": {},
    "track_bar": {},
    "drag_link": {},
    "play": {},
    "clearance": {},
    "torque": {},
    "change": {"what": "bar_turned"},
    "travel": {"plan": {"name": "Higher", "axle_end_up": 40}},
    "hand_in": {},
    "vehicle": {"id": VEHICLE},
}
# Shows every screen for each sheet, as the compiled arithmetic and the phone's own scripts do.
SHOW = """async ([build, sheets, entries, screens]) => {
  const at = (name) => import(`/shell/${build}/js/${name}`);
  const {job_view: view} = await at('reckon.js');
  const made = view.job_view;
  let sheet = null;
  view.job_view = (...given) => {
    const found = made(...given);
    found.sheets.as_found = sheet;
    return found;
  };
  const store = {
    entriesOf: async (asked) => entries.filter((entry) =>
      Object.entries(asked).every(([name, value]) => entry[name] === value)),
    fact: async () => undefined,
    facts: async () => ({}),
    draft: async () => null,
  };
  const anything = {get: (kept, name) => name in kept ? kept[name] : async () => []};
  const app = new Proxy({
    store: new Proxy(store, anything), flip: false, tape: null, phone: {person: 'p'}, local: {},
    readBack: null, refuses: null, install: {offer: () => null},
  }, {get: (kept, name) => name in kept ? kept[name] : () => null});
  const shown = [];
  for (sheet of sheets) {
    for (const [name, params] of Object.entries(screens)) {
      const {show} = await at(`screens/${name}.js`);
      const {parts} = await show(app, {id: 'j', round: 'as_found', ...params});
      const main = document.createElement('main');
      main.append(...parts.flat(Infinity).filter(Boolean));
      const spoken = [...main.querySelectorAll('[aria-label]')]
        .map((each) => each.getAttribute('aria-label'));
      const green = [...main.querySelectorAll('.is-inside, .band, .limit, .after')]
        .map((each) => each.getAttribute('class'));
      // What is logged or picked is in the hands of who does it; cautions hold at all times.
      for (const each of main.querySelectorAll('label, legend, .cautions, .caution-fold')) {
        each.remove();
      }
      const lines = [...main.querySelectorAll('*')].filter((each) => !each.children.length)
        .map((each) => each.textContent);
      shown.push({name, green, text: [main.textContent, ...lines, ...spoken].join('\\n')});
    }
  }
  return shown;
}"""
ORDERS = re.compile(
    r"(?:\bturns?|\bflats?) (?:in|out)\b|as advised|(?<!no )\blonger\b|\bshorter\b|\bMake the\b"
    r"|\bLeave the track bar\b|Correct it|\bCenter the (?:axle|steering wheel)\b|\bSet the toe\b"
    r"|Make bar and link"
)


def entries():
    """A job under way on a vehicle with a name."""
    head = {"vehicle": VEHICLE, "phone": "phone", "person": "p", "typed": None, "v": 1,
            "made_at": "2026-11-26T08:00:00.000+01:00", "build": "b"}  # fmt: skip
    record = {"name": "Plow 3", "units": "mm", "rail_width": 800}
    opened = {"axle": "front", "round": "as_found", "about": "pulls"}
    return [
        {**head, "id": "1", "local_no": 1, "seq": 1, "kind": "vehicle", "job": None,
         "round": None, "body": record},
        {**head, "id": "2", "local_no": 2, "seq": 2, "kind": "job", "job": JOB, "round": None,
         "body": opened},
    ]  # fmt: skip


def shown(page, build, sheets):
    """For each sheet and each screen {name, green, text}."""
    return page.evaluate(SHOW, [build, sheets, entries(), SCREENS])


def whole(unit, **parts):
    """A sheet as a round has it."""
    sheet = changed(KNOWN, **{"steering": {"wheel_deg": 20}, **parts})
    return {**sheet, "units": unit, "limits": {**LIMITS, **sheet.get("limits", {})}}


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_no_screen_of_a_held_round_tells_anybody_to_set_anything(page, shelf, unit):
    codes = list(HELD)
    found = shown(page, shelf.build, [whole(unit, **HELD[code]) for code in codes])

    assert len(found) == len(codes) * len(SCREENS)
    wrong = []
    for index, screen in enumerate(found):
        code = codes[index // len(SCREENS)]
        orders = sorted(
            {line for line in screen["text"].split("\n") if ORDERS.search(line)}, key=len
        )
        wrong += [(code, screen["name"], line[:150]) for line in orders[:2]]
        wrong += [(code, screen["name"], each) for each in screen["green"]]
    assert wrong == []


def test_the_same_screens_tell_what_to_set_where_nothing_holds(page, shelf):
    found = {each["name"]: each for each in shown(page, shelf.build, [whole("mm")])}

    for name in ("job", "centering", "track_bar", "drag_link", "change"):
        assert ORDERS.search(found[name]["text"]), name
    assert "Make bar and link parallel" in found["travel"]["text"]
    assert found["centering"]["green"] != []
