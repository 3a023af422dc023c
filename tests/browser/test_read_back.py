"""Each reading spoken as it is kept, by a voice that the phone has itself."""

import pytest
from hands import wait_for
from playwright.sync_api import expect
from yard import TAG

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


def turn_voice_on(hands):
    """Give the phone a voice and turn the switch on, which speaks once."""
    hands.page.evaluate(VOICE, True)
    hands.state.click()
    hands.page.get_by_label("Speak each reading when it is saved").check()
    wait_for(hands.page, "said.length === 1")
    hands.back()


def test_each_reading_is_spoken_as_it_is_kept_once_the_switch_is_on(hands):
    turn_voice_on(hands)
    hands.page.context.set_offline(True)
    hands.reach_the_heights(TAG)
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
    hands.torque_figure("Jam nuts", "65", "lb-ft")
    hands.torqued("At the nut", "Dry", "Manual, page 212")

    wait_for(hands.page, "said.length === 5")
    assert [words for words, _ in hands.page.evaluate("said.slice(1)")] == [
        "Track bar, frame end, movement along the bar, zero point zero two inches,"
        " both ways together",
        "Track bar, frame end, hole, the long way, zero point six zero five inches",
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
