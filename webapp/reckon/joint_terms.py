"""Play, clearance and torque in words: what is asked, what is usual, what to be careful of."""

from .numbers import THIN, fixed, trimmed
from .typed.torque_figures import out_of_nm

RUBBER_LOADED = "Clamp a rubber bushing only with the weight on the springs."
NAMELESS_FASTENER = "A fastener without a name"
STATES = {
    "ride": "at ride height",
    "full_bump": "at full bump",
    "full_droop": "at full droop",
    "crossed_up": "crossed up",
}
LOCKS = {"left": "left lock", "straight": "wheels straight", "right": "right lock"}

JOINTS: list = [
    {"joint": "frame end", "of": "track_bar", "title": "Track bar, frame end"},
    {"joint": "axle end", "of": "track_bar", "title": "Track bar, axle end"},
    {"joint": "drag link frame end", "of": "drag_link", "title": "Drag link, frame end"},
    {"joint": "drag link axle end", "of": "drag_link", "title": "Drag link, axle end"},
    {"joint": "left tie rod end", "of": "steering", "title": "Tie rod, left end"},
    {"joint": "right tie rod end", "of": "steering", "title": "Tie rod, right end"},
]
OF_WORDS = {"track_bar": "track bar", "drag_link": "drag link", "steering": "steering"}
HOWS = [
    "wheel rocked lightly by hand",
    "steering rocked a little each way",
    "bar pried lightly at the joint",
]
PLAY_NAMES = {
    "along": "Movement along the bar",
    "bolt": "Bolt",
    "hole_long": "Hole, the long way",
    "hole_short": "Hole, the short way",
    "sleeve": "Sleeve bore",
    "edge": "Hole's middle to the edge",
}
PLAY_ASKS = {
    "along": "Dial indicator on the bracket, its tip on the bar. Enter one way, or both ways with "
    "+.",
    "bolt": "Shank of the bolt where it sits in the bracket.",
    "hole_long": "Hole in the bracket, where it is widest.",
    "hole_short": "The same hole, at right angles to the long way.",
    "sleeve": "Bore of the sleeve that the bolt passes through.",
    "edge": "From the middle of the hole to the nearest edge of the bracket.",
}
# Asked for a hole that is to be repaired, as no steering part's is.
OF_THE_BAR = ["sleeve", "edge"]
GAUGE_UNITS = {"mm": "millimeters", "thou": "thousandths of an inch", "in": "inches"}
LOOSE_NAMES = {
    "sleeve_in_rubber": "Sleeve in its rubber",
    "sleeve_narrow": "Sleeve narrower than the bracket",
    "bolt_in_sleeve": "Bolt in the sleeve",
    "bolt_in_hole": "Bolt in the bracket's hole",
    "bracket": "Bracket on frame or axle",
    "thread_in_hole": "Threads bear in the hole",
}
PAIRS: list = [
    ["track bar", "differential cover"],
    ["track bar", "oil pan"],
    ["track bar", "tie rod"],
    ["drag link", "track bar"],
    ["tire", "frame"],
]
APART = "never near each other"
STATE_NAMES = {
    "ride": "Ride height",
    "full_bump": "Full bump",
    "full_droop": "Full droop",
    "crossed": "Crossed up",
}
LOCK_NAMES = {"left": "Left lock", "straight": "Straight", "right": "Right lock"}
FASTENERS = ["frame-end bolt", "axle-end bolt", "jam nuts", "drag link clamps"]
ENDS = {"nut": "at the nut", "bolt": "at the bolt"}
THREADS = {
    "dry": "dry",
    "oiled": "oiled",
    "locking compound": "locking compound",
    "new fastener": "new fastener",
}
ASK_FIGURE = "The maker's figure as printed, never one from a chart of bolt sizes and grades."
ASK_CHECK = "Check it slowly, below its figure. Enter the value you find, or leave it empty."
NEVER_DERIVED = (
    "The figure comes from the vehicle's or part's maker. It is never worked out from a "
    "bolt's size and grade: one maker gives the same joint two figures for two bolts."
)
RUBBER_WHY = RUBBER_LOADED + (
    " Clamped while the axle hangs, the rubber is twisted at ride height and tears. "
    "Set the vehicle down first."
)
CAUTIONS = {
    "play": [
        "Rock lightly and look along the bar: some joints tilt by design.",
        "Keep fingers out of holes and brackets. Nobody touches the steering wheel without "
        "calling out first.",
        "Look from below and from the wheel well. Finding nothing does not make it safe.",
    ],
    "clearance": [
        "Turn the steering lock to lock with everybody clear. Rated stands under the frame at "
        "full droop.",
        "Look again after bigger tires or a lift: the old stops no longer stop in time.",
        "A place that was not looked at is not clear.",
    ],
    "torque": [
        "Take the side load off the bar before a bolt comes out: block the axle and frame.",
        RUBBER_LOADED,
        "Mark each nut and bolt with paint once it is torqued.",
    ],
}


def joint_title(name: str) -> str:
    """How a joint is called where no bar stands beside it."""
    for each in JOINTS:
        if each["joint"] == name:
            return each["title"]
    return name[:1].upper() + name[1:]


def fields_of(of: str) -> list:
    """What is measured at a joint of this part, by the names of PLAY_NAMES."""
    return [name for name in PLAY_NAMES if of == "track_bar" or name not in OF_THE_BAR]


def pair_words(between: list) -> str:
    """A pair of parts in words: track bar to tie rod."""
    return " to ".join(between)


def apart_words(between: list) -> str:
    """That two parts never come near each other, in a sentence."""
    words = f"{pair_words(between)}: {APART}."
    return words[:1].upper() + words[1:]


def state_words(state: str) -> str:
    """A travel state in words, by the name that the log or a sheet gives it."""
    return STATES.get("crossed_up" if state == "crossed" else state, state)


def where_words(place: dict) -> str:
    """Where in travel and steering a place {state, lock} is: at full bump, left lock."""
    state = place["state"]
    lock = place["lock"]
    where = state_words(state) if state else "at an unrecorded place in the travel"
    return f"{where}, {LOCKS.get(lock, lock) if lock else 'lock not recorded'}"


def ask_gap(between: list, place: dict) -> str:
    """What to measure for a clearance at a place {state, lock}."""
    return f"Smallest gap, {pair_words(between)}, {where_words(place)}."


def show_torque(nm: float, unit: str) -> str:
    """A torque in both units: 118 N·m (87 lb-ft), the other way around in inches."""
    pounds = out_of_nm(nm, "lb-ft")
    if unit == "in":
        return f"{trimmed(pounds, 1)}{THIN}lb-ft ({fixed(nm, 0)}{THIN}N·m)"
    return f"{trimmed(nm, 1)}{THIN}N·m ({fixed(pounds, 0)}{THIN}lb-ft)"


def recheck_words(due: dict) -> str:
    """When the bolts are to be checked again: after 800 km or on 2026-12-24."""
    words: list = []
    if due.get("distance") is not None:
        words.append(f"after {trimmed(due['distance'], 0)}{THIN}{due.get('unit') or 'km'}")
    if due.get("date") is not None:
        words.append(f"on {due['date']}")
    return " or ".join(words)
