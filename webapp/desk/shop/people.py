"""People: who works in the shop, what they may do, and how they come in."""

from typing import Any

from flask import flash, make_response, redirect, render_template, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response as AnyResponse
from wtforms import Field, RadioField, SelectChoice, StringField
from wtforms.validators import DataRequired, Length, ValidationError

from webapp.desk.blueprint import bp
from webapp.desk.context import build, current_person, the_log
from webapp.desk.forms import all_seen, stripped
from webapp.door import one_time_links
from webapp.door.address import canonical
from webapp.shoplog.rows import Row

ROLES = [
    SelectChoice("technician", "technician: measures and hands in, on a phone"),
    SelectChoice("lead", "lead: the same, plus reviews jobs and manages the shop at the desk"),
]
LAST_LEAD = "Nobody else can sign in as a lead: add another one with a passphrase first."


class PersonForm(FlaskForm):
    """A person's name and role; `others` are the names that are taken."""

    name = StringField(
        "Name",
        filters=[stripped],
        validators=[
            DataRequired("Enter the name: it is shown next to every reading."),
            Length(max=80, message="Keep the name under 80 characters."),
            all_seen,
        ],
    )
    role = RadioField("Role", choices=ROLES, default="technician")
    others: frozenset[str] = frozenset()

    def validate_name(self, field: Field) -> None:
        """A name that nobody else has."""
        if field.data.casefold() in self.others:
            raise ValidationError(
                "Somebody with this name already works here: make the names different."
            )


@bp.route("/people")
def people() -> str:
    """Everybody, with their phones, and the form for one more."""
    return people_page(person_form(None, formdata=None))


@bp.route("/people", methods=["POST"])
def add_person() -> AnyResponse:
    """One more person; on to their page, where a phone is paired."""
    form = person_form(None)
    if not form.validate():
        return make_response(people_page(form), 400)
    person = the_log().add_person(form.name.data, form.role.data, own_id())
    flash(f"{person['name']} was added. Pair a phone next.")
    return redirect(url_for("desk.person", person=person["id"]), 303)


@bp.route("/people/<person>")
def person(person: str) -> str:
    """One person: name and role, phones, the way in at the desk."""
    row = the_log().person(person)
    return person_page(row, person_form(person, formdata=None, data=row))


@bp.route("/people/<person>", methods=["POST"])
def change_person(person: str) -> AnyResponse:
    """Another name or role from here on."""
    row, form = the_log().person(person), person_form(person)
    if not form.validate():
        return make_response(person_page(row, form), 400)
    if row["role"] == "lead" and form.role.data != "lead" and is_last_lead(person):
        form.role.errors = [LAST_LEAD]
        return make_response(person_page(row, form), 409)
    the_log().change_person(person, form.name.data, form.role.data, own_id())
    flash(f"{form.name.data}: saved.")
    return redirect(url_for("desk.person", person=person), 303)


@bp.route("/people/<person>/passphrase", methods=["POST"])
def new_passphrase(person: str) -> str:
    """The page with a link that opens once, with which this lead chooses a passphrase."""
    row = the_log().person(person)
    key = one_time_links.make(the_log().folder, one_time_links.PASSPHRASE, person, made_by=own_id())
    the_log().record_at_door("link_made", person, own_id())
    address = f"{canonical()}{url_for('door.link', key=key)}"
    return person_page(row, person_form(person, formdata=None, data=row), link=address)


@bp.route("/people/<person>/out", methods=["POST"])
def end_access(person: str) -> AnyResponse:
    """No way in any more, by phone or at the desk; what they recorded stays."""
    row = the_log().person(person)
    if is_last_lead(person):
        flash(LAST_LEAD)
        return redirect(url_for("desk.person", person=person), 303)
    # First what could still let them in again afterward.
    one_time_links.forget(the_log().folder, one_time_links.PASSPHRASE, person)
    the_log().end_pairings(person)
    for phone in phones_of(person):
        the_log().revoke_phone(phone["id"], own_id())
    the_log().set_passphrase(person, None, own_id())
    flash(f"{row['name']} no longer has access. Everything recorded stays.")
    return redirect(url_for("desk.person", person=person), 303)


def own_id() -> str:
    """Who does this: the id of the lead who is signed in."""
    return str(current_person()["id"])


def person_form(own: str | None, **options: Any) -> PersonForm:
    """The form, which knows everybody else's name."""
    form = PersonForm(**options)
    rows = the_log().people()
    form.others = frozenset(row["name"].casefold() for row in rows if row["id"] != own)
    return form


def people_page(form: PersonForm) -> str:
    """The list with the form as typed."""
    rows = [
        {**row, "phones": phones_of(row["id"]), "enters": enters(row)} for row in the_log().people()
    ]
    return render_template("desk/people.html", form=form, rows=rows)


def person_page(row: Row, form: PersonForm, link: str | None = None) -> str:
    """One person's page with the form as typed, and a new link where one was made."""
    return render_template(
        "desk/person.html",
        form=form,
        row=row,
        phones=phones_of(row["id"]),
        enters=enters(row),
        is_self=row["id"] == own_id(),
        build=build(),
        link=link,
    )


def enters(row: Row) -> bool:
    """Whether this person can come in at the desk."""
    return row["role"] == "lead" and the_log().passphrase_hash_of(row["id"]) is not None


def is_last_lead(person: str) -> bool:
    """Whether nobody else can come in at the desk."""
    return not any(enters(row) for row in the_log().people() if row["id"] != person)


def phones_of(person: str) -> list[Row]:
    """This person's phones, the one paired last first."""
    mine = [row for row in the_log().phones() if row["person"] == person]
    return [row for row in reversed(mine) if row["kind"] == "phone"]
