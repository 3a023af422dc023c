"""What must hold between the fields of an entry, where each of them is right by itself."""

from .joint_terms import RUBBER_WHY
from .sheet_faults import check_number
from .sheet_rules import BAR_RULES, LINK_RULES, RULES

# Steps of which a sheet has each reading under its own name.
IN_SHEET = ["heights", "centering", "track_bar", "drag_link"]
RULE_OF: dict = {}
for each in RULES:
    RULE_OF[each[0]] = each
LENGTHS = [rule[0] for rule in BAR_RULES + LINK_RULES if rule[1] in ["number", "above zero"]]


def rules_broken(kind: str, body: dict) -> list:
    """A sentence for each rule between fields that a body breaks; its fields are right by type."""
    if kind == "reading":
        return reading_rules(body)
    if kind == "pick":
        return pick_rules(body)
    if kind == "decision" and body["verdict"] == "sent_back":
        if len((body["reason"] or "").strip(" \t\n\r")) == 0:
            return ["A job is sent back with a reason: say what has to be done."]
    if kind == "vehicle":
        return links_rules(body) + due_rules(body)
    return []


def range_fault(path: str, value: object) -> str:
    """What a sheet has against a number in a field of it, by the field's path; often nothing."""
    rule = RULE_OF.get(path)
    if rule is None or value is None:
        return ""
    return check_number(value, "number" if rule[1] == "numbers" else rule[1], rule[2])


def path_of(step: str, field: str) -> str:
    """Where a sheet has what is read in a field of a step."""
    for part in ["toe", "wheelbase"]:
        if field.startswith(f"{part}_"):
            return f"{part}.{field[len(part) + 1 :]}"
    return f"{step}.{field}"


def links_rules(body: dict) -> list:
    """The lengths of bars and links are such as a sheet can have."""
    found: list = []
    for name, part in [["track_bars", "track_bar"], ["drag_links", "drag_link"]]:
        for axle in list(body.get(name) or {}):
            link = body[name][axle]
            for field in list(link):
                path = f"{part}.{field}"
                if path in LENGTHS:
                    says = range_fault(path, link[field])
                    if len(says) > 0:
                        where = f"{axle} {part.replace('_', ' ')}"
                        found.append(f"The {where}'s {field.replace('_', ' ')} {says}.")
    return found


def reading_rules(body: dict) -> list:
    """The rules of a reading, by its step."""
    if body["step"] in IN_SHEET:
        says = range_fault(path_of(body["step"], body["field"]), body["value"])
        return [f"The reading's value {says}."] if len(says) > 0 else []
    if body["step"] == "play":
        return play_rules(body)
    if body["step"] == "clearance":
        if (body.get("value") is None) == (body.get("mark") is None):
            return ["A clearance is a gap in mm or a mark: one of the two."]
    if body["step"] == "torque":
        return torque_rules(body)
    return []


def play_rules(body: dict) -> list:
    """A size is more than nothing, and a reading both ways adds up."""
    if body["field"] != "along" and body["value"] == 0:
        return ["A bolt, hole, sleeve or edge measures more than 0. Measure it again."]
    pair = body.get("pair")
    if pair is not None and abs(pair[0] + pair[1] - body["value"]) > 1e-6:
        return ["The two ways of the reading do not add up to its value."]
    return []


def torque_rules(body: dict) -> list:
    """A figure comes with its source, and rubber was clamped with the weight on it."""
    if body.get("moved") is not None:
        return []
    if body.get("rubber") is True and body.get("on_springs") is not True:
        return [RUBBER_WHY]
    if body.get("value") is None or len(body.get("source") or "") == 0:
        return ["A torque needs its figure and where the figure comes from."]
    return []


def pick_rules(body: dict) -> list:
    """The rules of a pick, by what is picked."""
    if body["step"] == "play" and body["field"] == "limit":
        limits = body["value"]
        if limits.get("maker_limit") is not None and limits.get("maker_source") is None:
            return ["The maker's limit needs its source: manual, page or part sheet."]
    if body["step"] == "torque" and body["field"] == "recheck":
        return when_rules("The re-check", body["value"])
    return []


def due_rules(body: dict) -> list:
    """What is due on an axle says when."""
    found: list = []
    for name, title in [["rechecks", "A re-check"], ["remeasure", "Measuring an axle again"]]:
        for plan in (body.get(name) or {}).values():
            if plan is not None:
                found.extend(when_rules(title, plan))
    return found


def when_rules(title: str, plan: dict) -> list:
    """A plan has a day, a distance in km or mi, or both."""
    far = plan.get("distance") is not None
    if far and plan.get("unit") is None:
        return [f"{title} needs the unit of its distance: km or mi."]
    if not far and plan.get("date") is None:
        return [f"{title} needs a day, a distance in km or mi, or both."]
    return []
