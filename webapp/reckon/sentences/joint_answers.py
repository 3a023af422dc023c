"""What play, clearance and torque come to, each in one sentence in runs (see terms)."""

from ..joint_terms import joint_title, pair_words, where_words
from ..numbers import counted
from ..terms import degrees, joined
from ..typed.dial import show_fine
from ..typed.lengths import show_amount

NOT_SAFE = "Finding nothing does not make it safe."


def play_told(found: dict, unit: str) -> list:
    """What the joints of a round come to: what is outside first, then how far the axle can move."""
    outside = [each for each in found["joints"] if each["state"] == "outside"]
    says: list = []
    for one in outside:
        says = joined(says, ["", joint_title(one["joint"]), " is outside its limit."])
    if found.get("axle_movement") is not None:
        says = joined(says, movement_told(found, unit))
    if found.get("link_steer_deg") is not None:
        says = joined(says, link_told(found))
    measured = [each for each in found["joints"] if each["along"] is not None]
    if len(measured) == 0:
        return joined(says, ["No movement is recorded yet."])
    if len(says) == 0:
        count = counted(len(measured), "joint")
        says = ["", count, f" measured, none outside a known limit. {NOT_SAFE}"]
    return says


def movement_told(found: dict, unit: str) -> list:
    """How far the play in the track bar lets the axle move."""
    moved = show_fine(found["axle_movement"], unit, places=1)
    if found.get("steer_deg") is None:
        return ["Play in the track bar lets the axle move ", moved, " sideways."]
    return [
        "Play in the track bar lets the axle move ", moved, " sideways: ",
        free_words(found["steer_deg"], found.get("rim_deg")), ".",
    ]  # fmt: skip


def link_told(found: dict) -> list:
    """How far the play in the drag link leaves the steering free."""
    free = free_words(found["link_steer_deg"], found.get("link_rim_deg"))
    return ["Play in the drag link leaves ", free, "."]


def free_words(steer: float, rim: float | None) -> str:
    """A dead band in words, at the steering wheel where the ratio is known."""
    if rim is None:
        return f"{degrees(steer, 2)} of free steer"
    return f"{degrees(rim, 1)} free at the steering wheel"


def clearance_told(found: dict, unit: str) -> list:
    """What the pairs of a round come to: contact first, then the least gap, then what is open."""
    says: list = []
    pairs = [each for each in found["pairs"] if each["least"] is not None]
    touching = [each for each in pairs if each["state"] == "contact"]
    for one in touching:
        marked = one["gap"] == "witness_mark"
        says = joined(says, contact_told(one, " left a mark " if marked else " touch "))
    if len(touching) == 0 and len(pairs) > 0:
        says = least_told(sorted(pairs, key=lambda each: each["least"])[0], unit)
    for one in found["pairs"]:
        if len(one["unchecked"]) > 0:
            says = joined(says, [unchecked_words(one)])
    return says


def contact_told(pair: dict, verb: str) -> list:
    """Where the parts of a pair touch."""
    return [
        "",
        capital(" and ".join(pair["between"])),
        f"{verb}{where_words(pair['at'])}.",
    ]


def least_told(pair: dict, unit: str) -> list:
    """The least gap of all, and where; one under the house limit asks for room."""
    where = f" {where_words(pair['at'])}"
    if pair["state"] == "tight":
        where += f", under the house limit of {show_amount(pair['limit'], unit)}. Make room"
    where += "."
    least = show_amount(pair["least"], unit)
    return ["The least gap is ", least, f": {pair_words(pair['between'])}{where}"]


def unchecked_words(pair: dict) -> str:
    """How many places of a pair nobody looked at."""
    count = len(pair["unchecked"])
    return f"{capital(pair_words(pair['between']))}: {counted(count, 'place')} not checked."


def torque_told(found: dict) -> list:
    """What the fasteners of a round come to: what moved first, then what lacks something."""
    says: list = []
    bolts = found["fasteners"]
    for one in bolts:
        if one["moved"] is True:
            says = joined(says, ["", f"{capital(one['fastener'])} moved", "."])
        if one["moved_before"]:
            says = joined(
                says, ["", f"{capital(one['fastener'])} moved", ", and was torqued again."]
            )
    waiting = [each for each in bolts if each["due"] is True]
    lacking = [each for each in bolts if len(each["why"]) > 0 and each["moved"] is not True]
    if len(waiting) > 0:
        return joined(says, ["", counted(len(waiting), "fastener"), " still to check again."])
    if len(lacking) > 0:
        return joined(says, ["", capital(lacking[0]["fastener"]), f": {lacking[0]['why'][0]}"])
    if len(says) > 0:
        return says
    checked = [each for each in bolts if each["moved"] is False]
    if len(checked) > 0:
        return ["", counted(len(checked), "fastener"), " checked again, none moved."]
    sources: list = []
    for one in bolts:
        if one["source"] is not None and one["source"] not in sources:
            sources.append(one["source"])
    return ["", counted(len(bolts), "fastener"), f" torqued. Figures from: {'; '.join(sources)}."]


def capital(text: str) -> str:
    """The text with a capital at its beginning."""
    return text[:1].upper() + text[1:]
