"""Two rounds side by side: which of their numbers changed, and what both measured."""

from ..numbers import mean
from ..terms import ROUND_WORDS, wheel_position
from ..typed.lengths import show_amount

WORST = "Worst over the travel"
# Of the numbers behind the answer, those that say how the axle steers.
STEERS = ["Total toe, in positive", WORST]


def since_words(before: dict) -> str:
    """Since which round something moved, from what a sheet was held against."""
    if before.get("of") == "this_job":
        return f"since the round before, {ROUND_WORDS[before['round']]}"
    if before.get("of") == "pending":
        return "since the last round, handed in and not accepted yet"
    return "since the last accepted round"


def changed_numbers(first: dict, then: dict) -> list:
    """The numbers that two findings show differently, as {name, before, after} rows.

    What only one of them shows is `not known` in the other.
    """
    before = by_name(first.get("numbers") or [])
    after = by_name(then.get("numbers") or [])
    names = list(before) + [added for added in list(after) if added not in before]
    rows: list = []
    for name in names:
        if before.get(name) != after.get(name):
            rows.append(
                {
                    "name": name,
                    "before": before.get(name) or "not known",
                    "after": after.get(name) or "not known",
                }
            )
    return rows


def by_name(rows: list) -> dict:
    """What each row shows, by its name; of two with one name the last."""
    shows: dict = {}
    for row in rows:
        shows[row["name"]] = row["shows"]
    return shows


def measured_twice(before: dict, after: dict) -> list:
    """What two rounds both know beside the centering: {name, before, after} rows.

    The worst steer of a linkage that stayed as it was is no measurement, and left out.
    """
    rows: list = []
    for name in list(before):
        known = before[name] is not None and after.get(name) is not None
        if known and (name != WORST or before[name] != after[name]):
            rows.append({"name": name, "before": before[name], "after": after[name]})
    return rows


def beside_centering(sheet: dict, found: dict, unit: str) -> dict:
    """Ride heights, steering wheel, toe and worst steer of a round, as far as it knows them."""
    shows = by_name(found.get("numbers") or [])
    known: dict = {}
    heights = sheet.get("heights") or {}
    for side in ["left", "right"]:
        if len(heights.get(side) or []) > 0:
            known[f"Ride height {side}"] = show_amount(mean(heights[side]), unit)
    if found.get("steering") is not None:
        known["Steering wheel"] = wheel_position(found["steering"]["wheel_deg"])
    for name in STEERS:
        known[name] = shows.get(name)
    return known
