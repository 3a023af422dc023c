"""The shop's set-up: its name, the units it measures in, where drivers sit, its first limits."""

from typing import Any

from flask import flash, make_response, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response as AnyResponse
from wtforms import Field, RadioField, StringField
from wtforms.validators import DataRequired, Length, ValidationError

from webapp.desk.asked_back import (
    Asked,
    as_meant,
    confirming,
    is_open,
    odd,
    out_of_bounds,
    unreadable,
)
from webapp.desk.blueprint import bp
from webapp.desk.context import current_person, shop_units, the_log
from webapp.desk.forms import SIDES, UNITS, all_seen, stripped
from webapp.desk.shop.health import how_it_fares
from webapp.desk.shop.limits import EXPLAINED
from webapp.desk.write import Draft, write_or_explain
from webapp.door.address import canonical
from webapp.reckon.limits import fold_limits
from webapp.reckon.numbers import THIN
from webapp.reckon.typed.lengths import parse_length, show_inches, show_limit
from webapp.shoplog.rows import Row

REASON = "Chosen when the shop was set up."
# The limits that are asked for at set-up; the others are set when somebody wants them.
ASKED = ("offset", "repeat", "face_u")
UNIT_NAMES = [choice.value for choice in UNITS]


class SetUpForm(FlaskForm):
    """The shop's own settings."""

    name = StringField(
        "Name of the shop",
        filters=[stripped],
        validators=[
            DataRequired("Enter a name for the shop: it is shown on phones and printouts."),
            Length(max=50, message="Keep the name under 50 characters."),
            all_seen,
        ],
    )
    units = RadioField("New vehicles are measured in", choices=UNITS, default="mm")
    driving_side = RadioField("In new vehicles the driver sits on the", choices=SIDES)


def within_bounds(form: "LimitsForm", field: Field) -> None:
    """Nothing when the field holds a length that may be this limit; else ValidationError."""
    asked, confirmed = asked_of(field.name, field.data, form.bare)
    form.asked[field.name], form.confirmed[field.name] = asked, confirmed
    if asked is not None:
        raise ValidationError(asked["says"])


def asked_of(name: str, text: str, bare: str) -> tuple[Asked | None, Asked | None]:
    """What a limit as typed asks back, and what it asked that the form answers."""
    found, about = parse_length(text, bare), EXPLAINED[name]
    if not found["ok"]:
        return unreadable(found), None
    least, most = float(about["least"]), float(about["most"])
    asked = odd(f"limit.{name}", found["value"], bare)
    if not least <= found["value"] <= most:
        return out_of_bounds(asked, least, most, bare), None
    if asked is not None and is_open(asked, request.form, name):
        return asked, None
    return None, asked


class LimitsForm(FlaskForm):
    """The three house limits, asked for once; later they are set one by one, with a reason."""

    # The unit of a number without one; what is asked back, and what was asked and answered.
    bare = "mm"
    asked: dict[str, Asked | None]
    confirmed: dict[str, Asked | None]
    offset = StringField("Offset, such as 3 mm or 1/8 in", filters=[stripped])
    repeat = StringField("Repeat, such as 1.5 mm or 1/16 in", filters=[stripped])
    face_u = StringField("Face, such as 0.5 mm or 1/64 in", filters=[stripped])
    validate_offset = validate_repeat = validate_face_u = within_bounds

    def offer(self, units: str, limits: Row) -> None:
        """Take bare numbers in these units, and fill in these limits as a shop would type them.

        Each field also names its limit in each unit, for the script that follows the choice.
        """
        self.bare = units
        self.asked, self.confirmed = {}, {}
        for name in ASKED:
            usual = {unit: as_shops_say(limits[name], unit) for unit in UNIT_NAMES}
            self[name].render_kw = {f"data-in-{unit}": text for unit, text in usual.items()}
            if self.is_submitted():
                self[name].data = as_meant(request.form, name)
            else:
                self[name].data = usual[units]


@bp.route("/set-up")
def set_up() -> str:
    """The set-up page: settings and service status."""
    return page(SetUpForm(formdata=None, data=chosen()), limits_form(formdata=None))


@bp.route("/set-up", methods=["POST"])
def change_set_up() -> AnyResponse:
    """Keep what was chosen."""
    form, limits = SetUpForm(), limits_form()
    sound = [each.validate() for each in (form, limits) if each is not None]
    if not all(sound) or not (limits is None or write_or_explain(drafts_of(limits), limits.offset)):
        return make_response(page(form, limits), 400)
    names = ("name", "units", "driving_side")
    the_log().set_settings(
        {f"shop_{name}": form[name].data for name in names}, current_person()["id"]
    )
    flash(f"{form.name.data}: saved.")
    first = limits is not None
    return redirect(url_for("desk.people" if first else "desk.set_up"), 303)


def chosen() -> dict[str, str]:
    """What the shop chose before, without the `shop_` of the settings' names."""
    usual = {"driving_side": "left"}
    kept = {name.removeprefix("shop_"): value for name, value in the_log().settings().items()}
    return {**usual, **kept}


def limits_form(**options: Any) -> LimitsForm | None:
    """The form for the limits until the shop has set one; None after that."""
    entries = the_log().limit_entries()
    if entries:
        return None
    form = LimitsForm(**options)
    units = request.form.get("units", shop_units())
    form.offer(units if units in UNIT_NAMES else "mm", fold_limits(entries))
    return form


def as_shops_say(mm: float, unit: str) -> str:
    """A limit as it would be typed in a unit: in inches to the nearest 1/64."""
    if unit == "mm":
        return str(show_limit(mm, unit))
    return str(show_inches(mm, 64)).removeprefix("≈" + THIN)


def drafts_of(form: LimitsForm) -> list[Draft]:
    """The limits of the form as entries for the log."""
    values = {name: parse_length(form[name].data, form.bare)["value"] for name in ASKED}
    drafts: list[Draft] = [
        {
            "kind": "limit",
            "body": {"name": name, "value": value, "reason": REASON},
            "typed": form[name].data,
        }
        for name, value in values.items()
    ]
    return drafts + [each for name in ASKED for each in confirming(form.confirmed[name])]


def page(form: SetUpForm, limits: LimitsForm | None) -> str:
    """The page with the forms as typed."""
    return render_template(
        "desk/set_up.html",
        form=form,
        limits=limits,
        asked={name: EXPLAINED[name] for name in ASKED},
        address=canonical(),
        person=current_person(),
        all_well=how_it_fares()["all_well"],
    )
