"""The house limits: what each does, who set it and why, and a form to set it anew."""

from datetime import date
from typing import Any

from flask import abort, flash, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from webapp.desk.asked_back import as_meant, confirming
from webapp.desk.blueprint import bp
from webapp.desk.context import Names, people, shop_units, the_log
from webapp.desk.formats import day
from webapp.desk.forms import LimitForm
from webapp.desk.write import write_or_explain
from webapp.reckon.limits import HOUSE_LIMITS, in_force
from webapp.reckon.log import fold
from webapp.reckon.numbers import THIN, trimmed
from webapp.reckon.sentences.limit_words import LIMIT_NAMES, OF_ANGLES, limit_words
from webapp.reckon.typed.length_grammar import INCH
from webapp.reckon.typed.lengths import inches_of, parse_length
from webapp.shoplog.rows import Row

# In what a new limit is typed, the unit of a bare number first.
ASKED_IN = {"mm": "mm or in", "in": "in or mm", "angle": "degrees in 25 mm"}
# What each limit does, what it bounds where its value stands beside its name, and within which
# bounds in mm, or in degrees, a shop can set it.
EXPLAINED: dict[str, Row] = {
    "offset": {
        "bounds": "each way",
        "does": "How far the middle of the axle may be from the middle of the frame, each way. "
        "Inside, outside and too close to call are judged against it.",
        "least": 0.5,
        "most": 50.0,
    },
    "repeat": {
        "bounds": "one side",
        "does": "How far apart the readings on one side may be. "
        "Beyond that the side does not repeat: look for play first.",
        "least": 0.1,
        "most": 25.0,
    },
    "face_u": {
        "does": "How true the faces are that the tape starts from, as one standard uncertainty "
        "each. A larger value widens the interval, so more results are too close to call.",
        "least": 0.05,
        "most": 10.0,
    },
    "lean": {
        "does": "How much higher the frame may stand over one end of the axle than over the other, "
        "and how far its height may change between rounds. Beyond it nothing is adjusted until the "
        "cause is known.",
        "least": 3.0,
        "most": 60.0,
    },
    "bolt_clearance": {
        "does": "How loose a bolt of the bar or the drag link may sit in its hole. "
        "A looser one is repaired before anything is adjusted.",
        "least": 0.1,
        "most": 3.0,
    },
    "clearance": {
        "bounds": "at least",
        "does": "The smallest gap between two parts. Anything less is tight; "
        "without this limit a gap is recorded and not judged.",
        "least": 0.5,
        "most": 100.0,
    },
    "bump_steer": {
        "bounds": "at most",
        "does": "How much the wheels may steer in 25 mm of bump or droop, in degrees. "
        "Without this limit bump steer is shown and not judged.",
        "least": 0.05,
        "most": 5.0,
    },
}


def limit_title(name: str) -> str:
    """The name of a limit as a title."""
    return str(LIMIT_NAMES[name].capitalize())


def bounds_title(name: str) -> str:
    """The name of a limit and what it bounds, for where its value follows."""
    bounds = EXPLAINED[name].get("bounds")
    return f"{limit_title(name)}, {bounds}" if bounds else limit_title(name)


def set_words(entry: Row, units: str) -> str:
    """A limit as it was set, in the unit that it was typed in first."""
    name, mm, typed = entry["body"]["name"], entry["body"]["value"], entry.get("typed") or ""
    if name in OF_ANGLES:
        return str(limit_words(name, mm, units))
    typed_in = parse_length(typed, units).get("unit") or units
    if typed_in == "in" and not inches_of(mm, 32)["exact"]:
        return f"{trimmed(mm / INCH, 4)}{THIN}in ({trimmed(mm, 2)}{THIN}mm)"
    if typed_in == "mm" and units == "in":
        return f"{trimmed(mm, 2)}{THIN}mm ({trimmed(mm / INCH, 4)}{THIN}in)"
    return str(limit_words(name, mm, typed_in))


@bp.route("/limits")
def limits() -> str:
    """The house limits with their history."""
    return limits_page()


@bp.route("/limits/<name>", methods=["POST"])
def set_limit(name: str) -> AnyResponse:
    """Set one limit from today or another day on."""
    if name not in EXPLAINED:
        abort(404)
    form = limit_form(name)
    form.value.data = as_meant(request.form, form.value.name)
    if form.validate() and save_limit(name, form):
        return redirect(url_for("desk.limits"), 303)
    return make_response(limits_page({name: form}), 400)


def save_limit(name: str, form: LimitForm) -> bool:
    """Whether the log took the limit; its reason stands at the value when it did not."""
    body = {"name": name, "value": form.amount, "reason": form.reason.data}
    on = "from now on"
    if form.since.data not in (None, date.today()):
        body["from"] = form.since.data.isoformat()
        on = f"from {day(body['from'])}"
    drafts = [{"kind": "limit", "body": body, "typed": form.value.data}]
    if not write_or_explain(drafts + confirming(form.confirmed), form.value):
        return False
    amount = set_words({"body": body, "typed": form.value.data}, form.units)
    flash(f"{limit_title(name)} is {amount} {on}.")
    return True


def limit_form(name: str, **options: Any) -> LimitForm:
    """The form of one limit, which knows its bounds."""
    form = LimitForm(prefix=name, **options)
    form.path = f"limit.{name}"
    form.is_angle, form.units = name in OF_ANGLES, shop_units()
    form.value.label.text = f"New limit, {ASKED_IN['angle' if form.is_angle else form.units]}"
    form.least, form.most = EXPLAINED[name]["least"], EXPLAINED[name]["most"]
    of_name = limits_named(the_log().limit_entries(), name)
    counting = fold.last_of(in_force(of_name, date.today().isoformat()))
    if counting is not None:
        form.earliest = date.fromisoformat(began(counting))
    return form


def limits_named(entries: list[Row], name: str) -> list[Row]:
    """Every setting of one limit that stands."""
    stand = fold.of_kind(fold.standing(entries), "limit")
    return [entry for entry in stand if entry["body"]["name"] == name]


def began(entry: Row) -> str:
    """The day from which a setting counts."""
    return str(entry["body"].get("from") or entry["made_at"][:10])


def ahead(entries: list[Row], name: str) -> list[str]:
    """What a limit will be from which day on; a later setting takes the place of earlier ones."""
    found: list[Row] = []
    for entry in limits_named(entries, name):
        found = [each for each in found if began(each) < began(entry)] + [entry]
    today = date.today().isoformat()
    return [
        f"{set_words(each, shop_units())} from {day(began(each))}"
        for each in found
        if (each["body"].get("from") or "") > today
    ]


def limits_page(typed: dict[str, LimitForm] | None = None) -> str:
    """The page, with a form in which somebody typed already kept as it is."""
    entries = the_log().limit_entries()
    today = date.today().isoformat()
    names, units = people(), shop_units()
    stands = {entry["id"] for entry in fold.standing(entries)}
    boxes = [
        {
            **about,
            "name": name,
            "title": limit_title(name),
            "shows": in_force_words(in_force(entries, today), name, units),
            "ahead": ahead(entries, name),
            "form": (typed or {}).get(name) or limit_form(name, formdata=None),
            "history": history_of(entries, name, stands, names),
        }
        for name, about in EXPLAINED.items()
    ]
    return render_template("desk/limits.html", boxes=boxes, delivered=HOUSE_LIMITS)


def in_force_words(entries: list[Row], name: str, units: str) -> str:
    """What one limit is under these entries: as it was set, as delivered, or not set."""
    counting = fold.last_of(limits_named(entries, name))
    if counting is not None:
        return set_words(counting, units)
    return str(limit_words(name, HOUSE_LIMITS[name], units)) if name in HOUSE_LIMITS else "not set"


def history_of(entries: list[Row], name: str, stands: set[str], names: Names) -> list[Row]:
    """Every setting of one limit, the latest first."""
    return [
        {
            "shows": set_words(entry, shop_units()),
            "who": names.then(entry["person"], entry["made_at"]),
            "at": entry["made_at"],
            "reason": entry["body"]["reason"],
            "from": entry["body"].get("from"),
            "stands": entry["id"] in stands,
        }
        for entry in reversed(fold.of_kind(entries, "limit"))
        if entry["body"]["name"] == name
    ]
