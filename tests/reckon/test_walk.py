"""The walk: what each step asks for, what is missing, how far each step is."""

from kit.worked_sheets import SAMPLE, changed

from webapp.reckon.log.links_of_round import BAR_READINGS
from webapp.reckon.step_names import BAR_NAMES
from webapp.reckon.walk.missing import missing
from webapp.reckon.walk.steps import (
    BAR_ASKS,
    CAUTIONS,
    STEPS,
    ask_centering,
    ask_heights,
    face_refused,
    places,
)


def says(sheet, step):
    return [each["says"] for each in missing(sheet) if each["step"] == step]


def state_of(sheet, step, state="open"):
    return next(each["state"] for each in places(sheet, state) if each["step"] == step)


def test_every_step_of_the_walk_has_its_cautions():
    assert all(CAUTIONS[each["step"]] for each in STEPS)


def test_each_reading_of_the_bar_has_a_name_and_says_what_to_measure():
    assert list(BAR_ASKS) == list(BAR_NAMES) == BAR_READINGS


def test_no_bar_is_incomplete_for_want_of_what_only_lever_arms_need():
    assert [SAMPLE["track_bar"][name] for name in ["axle_tube_height", "rail_height"]] == [
        None,
        None,
    ]
    assert says(SAMPLE, "track_bar") == []


def test_questions_name_side_face_and_method():
    assert "left side" in ask_heights("left")
    assert ask_centering("hub", "square_to_rail").startswith("Hub face to the outer face")
    assert ask_centering("rotor", "plumb_bob").startswith("Rotor face and rail dropped")
    assert ask_centering("other", "plumb_bob").startswith("Face and rail")


def test_another_face_is_refused_with_what_to_do():
    assert face_refused("hub").startswith("Readings from the hub face stand in this round")
    assert face_refused("hub").endswith("Strike them first, or go on with that face.")


def test_a_whole_sheet_misses_nothing_of_these_steps():
    for step in ["heights", "centering", "track_bar"]:
        assert says(SAMPLE, step) == []
        assert state_of(SAMPLE, step) == "done"


def test_an_empty_sheet_misses_everything_in_the_order_of_the_walk():
    steps = [each["step"] for each in missing({})]

    assert steps[0] == "heights"
    assert steps.index("centering") < steps.index("track_bar")
    assert all(each["state"] == "empty" for each in places({}, "open"))


def test_what_is_missing_is_said():
    sheet = changed(
        SAMPLE,
        standing="hanging",
        ready={"tires": False},
        heights={"left": []},
        centering={"left": [], "right": [203]},
        track_bar={"length": None},
    )

    assert says(sheet, "heights") == [
        "The axle is hanging: measure again with the load on the springs.",
        "Not checked: Tires the same size and at pressure.",
        "No ride height on the left.",
    ]
    assert says(sheet, "centering") == [
        "No reading on the left.",
        "Take a second reading on the right.",
    ]
    assert says(sheet, "track_bar") == ["The track bar needs its length from eye to eye."]


def test_a_step_is_begun_once_anything_of_it_is_there():
    assert state_of({"centering": {"left": [200]}}, "centering") == "begun"
    assert state_of({"standing": "on_wheels"}, "heights") == "begun"
    assert state_of({"ready": {"level": True}}, "heights") == "begun"
    assert state_of({"ready": {"level": False}}, "heights") == "empty"


def test_handing_in_is_done_until_the_lead_sends_it_back():
    states = ["open", "pending", "accepted", "sent_back"]

    assert [state_of(SAMPLE, "hand_in", state) for state in states] == [
        "empty",
        "done",
        "done",
        "empty",
    ]
