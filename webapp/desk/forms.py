"""The desk's forms, each field with the sentence that says what is wrong with it."""

from datetime import date
from typing import Any, NoReturn

from flask import request
from flask_wtf import FlaskForm
from wtforms import (
    BooleanField,
    DateField,
    Field,
    FloatField,
    HiddenField,
    IntegerField,
    RadioField,
    SelectChoice,
    SelectField,
    SelectMultipleField,
    StringField,
    TextAreaField,
)
from wtforms.validators import (
    DataRequired,
    InputRequired,
    Length,
    NumberRange,
    Optional,
    ValidationError,
)
from wtforms.widgets import CheckboxInput, ListWidget, TextInput

from webapp.desk.asked_back import Asked, is_open, odd, out_of_bounds, unreadable
from webapp.desk.formats import day
from webapp.reckon.typed.angles import parse_angle
from webapp.reckon.typed.lengths import parse_length
from webapp.reckon.walk.steps import STEPS
from webapp.shoplog.rules.values import HIDDEN_SAYS, LONGEST_TEXT, holds_hidden

SIDES = [SelectChoice("left"), SelectChoice("right")]
UNITS = [SelectChoice("mm", "millimeters"), SelectChoice("in", "inches")]
BACK_TO = [
    SelectChoice("", "the whole job"),
    *(SelectChoice(each["step"], each["title"]) for each in STEPS if each["step"] != "hand_in"),
]
WHOLE = "whole number"
PAPERS = [SelectChoice("a4", "A4"), SelectChoice("letter", "Letter")]


def stripped(text: str | None) -> str:
    """The text without blanks around it."""
    return (text or "").strip()


def all_seen(_: FlaskForm, field: Field) -> None:
    """Nothing when every character of a name is seen; else ValidationError."""
    if holds_hidden(field.data or ""):
        raise ValidationError(HIDDEN_SAYS)


def between(least: float, most: float, what: str, kind: str = "number") -> list[object]:
    """A number in these bounds, said in one sentence."""
    says = f"{what}: enter a {kind} from {least:g} to {most:g}."
    return [InputRequired(says), NumberRange(least, most, says)]


class DecisionForm(FlaskForm):
    """Accept, send back or ask for a second reading; `last_seq` is what the lead had seen."""

    verdict = HiddenField()
    last_seq = HiddenField()
    step = SelectField("Back to", choices=BACK_TO, default="")
    reason = TextAreaField("Reason (required to send it back)", filters=[stripped])
    unread = BooleanField("Accept without the second reading, which is not handed in yet")

    def validate_verdict(self, field: Field) -> None:
        """One of the three buttons."""
        if field.data not in ("accepted", "sent_back", "kept", "second"):
            raise ValidationError("Choose Accept, Send back or Ask for a second reading.")

    def validate_reason(self, field: Field) -> None:
        """A reason when it is sent back."""
        if self.verdict.data == "sent_back" and not field.data:
            raise ValidationError("Say what has to be done: the technician will read this.")
        if len(field.data) > 1000:
            raise ValidationError("Keep the reason under 1000 characters.")


class PassOverForm(FlaskForm):
    """Pass one hold point over; `seen` is the last entry of the job that the lead had seen."""

    hold_point = HiddenField()
    seen = HiddenField()
    reason = TextAreaField("Reason for passing it over", filters=[stripped])

    def validate_reason(self, field: Field) -> None:
        """A reason, always."""
        if not field.data:
            raise ValidationError("Say why: the record shows it next to your name.")
        if len(field.data) > 1000:
            raise ValidationError("Keep the reason under 1000 characters.")


class VehicleForm(FlaskForm):
    """What the lead files of a vehicle."""

    name = StringField(
        "Name",
        filters=[stripped],
        validators=[
            DataRequired("Enter the name the shop uses for the vehicle."),
            Length(max=120, message="Keep the name under 120 characters."),
            all_seen,
        ],
    )
    units = RadioField("Measured in", choices=UNITS, default="mm")
    driving_side = RadioField("Driver sits on the", choices=SIDES, default="left")
    note = TextAreaField(
        "Note",
        filters=[stripped],
        validators=[
            Length(max=LONGEST_TEXT, message=f"Keep the note under {LONGEST_TEXT} characters.")
        ],
    )


class Day(DateField):
    """A day, or nothing."""

    def process_formdata(self, valuelist: list[str]) -> None:
        """The day; what is none is refused in a sentence."""
        try:
            super().process_formdata(valuelist)
        except ValueError as error:
            raise ValueError("Enter a date such as 2026-12-24.") from error


class LimitForm(FlaskForm):
    """One house limit: a length as people write it, and why."""

    value = StringField("New limit", filters=[stripped])
    since = Day("Applies from (today if left empty)", validators=[Optional()])
    reason = TextAreaField(
        "Reason",
        filters=[stripped],
        validators=[
            DataRequired("Say why the shop sets this limit, for anyone who asks later."),
            Length(max=1000, message="Keep the reason under 1000 characters."),
        ],
    )
    # In mm, or in degrees in 25 mm of travel.
    amount: float = 0.0
    is_angle = False
    # Of a number without a unit.
    units = "mm"
    least: float = 0.0
    most: float = 0.0
    earliest = date.min
    # The path of the limit in the table of ranges, what is asked back about the value, and what
    # was asked and answered.
    path = ""
    asked: Asked | None = None
    confirmed: Asked | None = None

    def validate_since(self, field: Field) -> None:
        """A day on which the limit of today counted already, or a later one."""
        if field.data is not None and field.data < self.earliest:
            began = day(self.earliest.isoformat())
            raise ValidationError(
                f"The current limit started on {began}: enter that date or a later one."
            )

    def validate_value(self, field: Field) -> None:
        """A length or an angle within what makes sense for this limit."""
        found = parse_angle(field.data) if self.is_angle else parse_length(field.data, self.units)
        if not found["ok"]:
            self.ask(unreadable(found))
        self.amount = found["value"]
        asked = odd(self.path, self.amount, self.units)
        if not self.least <= self.amount <= self.most:
            units = "degrees" if self.is_angle else self.units
            self.ask(out_of_bounds(asked, self.least, self.most, units))
        if asked is not None and is_open(asked, request.form, field.name):
            self.ask(asked)
        self.confirmed = asked

    def ask(self, asked: Asked) -> NoReturn:
        """Let the field ask this."""
        self.asked = asked
        raise ValidationError(asked["says"])


class Millimeters(FloatField):
    """A number with a decimal point or comma; what is none is refused by its bounds."""

    def process_formdata(self, valuelist: list[str]) -> None:
        """The number, or None."""
        try:
            self.data = float(valuelist[0].replace(",", ".")) if valuelist else None
        except ValueError:
            self.data = None


class Whole(IntegerField):
    """A whole number; what is none is refused by its bounds."""

    # A field of type number hands a decimal comma on as nothing at all.
    widget = TextInput()
    data: Any

    def __init__(self, *args: Any, **options: Any) -> None:
        """A field for which a phone shows its digits."""
        super().__init__(*args, render_kw={"inputmode": "numeric"}, **options)

    def process_formdata(self, valuelist: list[str]) -> None:
        """The number, or None."""
        try:
            self.data = int(valuelist[0]) if valuelist else None
        except ValueError:
            self.data = None


class GridForm(FlaskForm):
    """The grid of a label sheet, in millimeters."""

    paper = SelectField("Paper", choices=PAPERS, default="a4")
    columns = Whole("Columns", default=3, validators=between(1, 8, "Columns", WHOLE))
    rows = Whole("Rows", default=7, validators=between(1, 20, "Rows", WHOLE))
    side = Millimeters("Left and right edge, mm", default=7.25, validators=between(0, 50, "Edge"))
    top = Millimeters("Top and bottom edge, mm", default=15.15, validators=between(0, 60, "Edge"))
    across = Millimeters("Gap across, mm", default=2.5, validators=between(0, 20, "Gap across"))
    down = Millimeters("Gap down, mm", default=0, validators=between(0, 20, "Gap down"))
    skip = Whole(
        "Labels already used",
        default=0,
        validators=[Optional(), *between(0, 159, "Labels already used", WHOLE)],
    )


class TagForm(GridForm):
    """Which tags to print, on which grid of labels."""

    vehicles = SelectMultipleField(
        "Vehicles", option_widget=CheckboxInput(), widget=ListWidget(prefix_label=False)
    )
    blank = Whole("How many", default=0, validators=between(0, 60, "Blank tags", WHOLE))
    codes: dict[str, list[str]]
    there_are_more: bool
