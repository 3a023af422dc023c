"""Sheets on hold: one that is clean, and what about it holds for each reason."""

from kit.worked_sheets import SAMPLE, changed

FILED = {
    "heights": {"left": 221.0, "right": 220.0},
    "track_bar": {
        "frame_end": "left",
        "length": 862,
        "frame_height": 612,
        "axle_height": 498,
        "adjuster": {"kind": "one_end", "pitch": 1.5875, "step": 0.5},
    },
}
BEFORE = {"offset": 5.1, "expanded": 0.9, "heights": {"left": [221.0], "right": [220.0]}}
KNOWN = changed(SAMPLE, before=BEFORE, on_file=FILED)

HEIGHTS = {"left": [271.0], "right": [270.0]}
JOINT = {"joint": "axle end", "of": "track_bar", "along": [0.4, 0.5]}
HELD = {
    "does_not_repeat": {"centering": {"left": [214.3, 201.6]}},
    "sum_differs": {"centering": {"known_sum": 392.5}},
    "moved_unexplained": {"before": {"offset": -0.5}},
    "height_changed": {"heights": HEIGHTS, "before": {"offset": -1.5}},
    "leans": {"heights": {"left": [221.0], "right": [180.0]}, "before": None, "on_file": None},
    "joint_outside": {"play": [{**JOINT, "house_limit": 0.5}]},
    "wheel_wanders": {"steering": {"wheel_deg": 0, "after_bumps": [30, 90, -30]}},
    "differs_from_file": {"track_bar": {"length": 826}},
    "implausible": {"centering": {"left": [9271.0, 9271.0]}, "before": None},
    "one_side_differs": {
        "centering": {"left": [217.1, 217.1], "known_sum": 418, "known_sum_u": 0, "read_to": 1.0},
        "before": {"offset": 5.4, "expanded": 0.7},
    },
    "wrong_side": {"before": {"offset": 2.3, "length_change": 3.0}, "on_file": None},
    "links_older": {"older": ["drag_link"]},
    "thread_left": {"track_bar": {"adjuster": {"kind": "one_end", "pitch": 1.5, "thread_left": 2}}},
}
