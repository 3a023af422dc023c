"""Every form of the desk: only the lead's own pages may send it."""

import re

import pytest
from kit.desk_pages import VEHICLE, at_desk, handed_in, text_of
from kit.desk_sessions import sign_in_as
from kit.entries import add_people
from kit.page_forms import forms_of
from kit.phones import Phone, asking

from webapp import create_app
from webapp.desk import expired_form
from webapp.door.pairing import new_pairing_code

POSTS = [
    "/desk/jobs/2b8c5a90-1f44-4a37-8e0b-5c3d9e7f2002/decision",
    "/desk/vehicles/new",
    f"/desk/vehicles/{VEHICLE}",
    "/desk/tags",
    "/desk/limits/offset",
]


@pytest.fixture
def guarded(tmp_path):
    """A service with form tokens, as it is served."""
    app = create_app({"DATA": tmp_path / "guarded", "DEMO": True})
    add_people(app.extensions["shoplog"])
    yield app
    app.extensions["shoplog"].close()


def token(page):
    return re.search(r'name="csrf_token" value="([^"]+)"', page.text).group(1)


@pytest.fixture
def guarded_lead(guarded):
    """The lead's browser at that service."""
    client = guarded.test_client()
    client.post("/door/demo/lead", data={"csrf_token": token(client.get("/door"))})
    return client


@pytest.mark.parametrize("address", POSTS)
def test_a_form_without_a_token_is_refused(guarded, guarded_lead, address):
    answer = guarded_lead.post(address, data={"name": "Gray hauler", "blank": "1"})

    there = "/jobs/" not in address and VEHICLE not in address
    assert answer.status_code == (400 if there else 404)
    assert ("This form was opened in another session." in answer.text) is there
    assert at_desk(guarded.extensions["shoplog"]) == []


def test_a_form_with_its_token_is_taken(guarded, guarded_lead):
    page = guarded_lead.get("/desk/vehicles/new")
    form = {"name": "Gray hauler", "units": "mm", "driving_side": "left", "note": ""}

    answer = guarded_lead.post("/desk/vehicles/new", data={**form, "csrf_token": token(page)})

    assert answer.status_code == 303
    assert [entry[5] for entry in at_desk(guarded.extensions["shoplog"])] == [form]


def log_of(app):
    return app.extensions["shoplog"]


@pytest.fixture
def long_job(guarded, guarded_lead):
    """A job that waits for the lead, with a hold point open."""
    person = next(row for row in log_of(guarded).people() if row["name"] == "Dana Reyes")
    code = new_pairing_code(log_of(guarded), person["id"])
    return handed_in(Phone(asking(guarded.test_client()), code))


# The form by its address with what somebody typed into it, and the page that it stands on.
TYPED = {
    "decision": ("/desk/jobs/JOB/decision", "/desk/jobs/JOB", {"reason": "Left bolt, again"}),
    "pass_over": (
        "/desk/jobs/JOB/pass_over",
        "/desk/jobs/JOB",
        {"reason": "No road test yet", "hold_point": "road"},
    ),
    "add_vehicle": (
        "/desk/vehicles/new",
        "/desk/vehicles/new",
        {"name": "Gray hauler 2", "note": "Snow side", "units": "in", "driving_side": "right"},
    ),
    "change_vehicle": (
        f"/desk/vehicles/{VEHICLE}",
        f"/desk/vehicles/{VEHICLE}",
        {"name": "Gray one", "note": "Bar is bent", "units": "in", "driving_side": "right"},
    ),
    "remeasure": (
        f"/desk/vehicles/{VEHICLE}/remeasure",
        f"/desk/vehicles/{VEHICLE}",
        {"axle": "rear", "date": "2031-05-07", "distance": "4812", "unit": "mi"},
    ),
    "close_item": (
        f"/desk/vehicles/{VEHICLE}/close_item",
        f"/desk/vehicles/{VEHICLE}",
        {
            "axle": "front",
            "says": "Not looked at: torque of the fasteners.",
            "reason": "torqued at the dealer",
        },
    ),
    "keep_known_values": (
        f"/desk/vehicles/{VEHICLE}/known_values",
        f"/desk/vehicles/{VEHICLE}",
        {"lean-front": "10", "lean-front-side": "right"},
    ),
    "merge": (
        f"/desk/vehicles/{VEHICLE}/merge",
        f"/desk/vehicles/{VEHICLE}",
        {"other": "The other hauler"},
    ),
    "set_limit": (
        "/desk/limits/offset",
        "/desk/limits",
        {"offset-value": "4.25 mm", "offset-reason": "Heavier springs"},
    ),
    "change_set_up": (
        "/desk/set-up",
        "/desk/set-up",
        {
            "name": "Bennett and Daughters",
            "units": "in",
            "driving_side": "right",
            "offset": "4.25 mm",
        },
    ),
    "add_person": ("/desk/people", "/desk/people", {"name": "Will Ashford", "role": "lead"}),
    "change_person": ("/desk/people/LEAD", "/desk/people/LEAD", {"name": "Orla", "role": "lead"}),
    "make_tags": ("/desk/tags", "/desk/tags", {"blank": "17", "vehicles": VEHICLE, "top": "11.5"}),
}


def everything(log):
    """What a form could have changed."""
    return log.pull(0, 1000), log.people(), log.settings()


@pytest.mark.parametrize("form", TYPED)
def test_f41_a_form_with_an_old_token_keeps_what_was_typed_and_goes_with_one_more_press(
    guarded, guarded_lead, long_job, form
):
    [lead] = [row["id"] for row in log_of(guarded).people() if row["role"] == "lead"]
    names = {"JOB": long_job.id, "LEAD": lead}
    address, page = (re.sub("JOB|LEAD", lambda m: names[m[0]], each) for each in TYPED[form][:2])
    typed, before = TYPED[form][2], everything(log_of(guarded))
    last = str(log_of(guarded).high_water())
    more = {"verdict": "sent_back", "last_seq": last, "seen": last} if "jobs" in address else {}

    forms = forms_of(guarded_lead.get(page), address)
    whole = max(forms, key=lambda fields: len(fields.keys() & typed.keys()))
    sent = {**whole, **typed, **more, "csrf_token": "of another session"}
    old = guarded_lead.post(address, data=sent)

    assert old.status_code == 400
    assert everything(log_of(guarded)) == before
    assert "What you typed is still here" in text_of(old)
    [shown] = [fields for fields in forms_of(old, address) if typed.items() <= fields.items()]

    answer = guarded_lead.post(address, data={**shown, **more})

    assert answer.status_code in {302, 303}
    assert "is still here" not in guarded_lead.get(page).text


def test_f41_every_form_of_the_desk_that_takes_text_is_among_them(guarded):
    posts = {
        rule.endpoint
        for rule in guarded.url_map.iter_rules()
        if rule.endpoint.startswith("desk.") and "POST" in rule.methods
    }
    # These have nothing but buttons, or, for a passkey, what the browser answers beside a name.
    pressed = {
        "end_access",
        "add_passkey",
        "begin_own_passkey",
        "end_session_there",
        "remove_passkey",
        "new_passphrase",
        "pairing",
        "part",
        "replace_tag",
        "retire",
        "revoke",
    }

    assert posts == {f"desk.{name}" for name in [*TYPED, *pressed]}
    assert TYPED.keys() == expired_form.CHECK_FOR_THEMSELVES | expired_form.ON_A_VEHICLES_PAGE


def test_f41_a_button_with_an_old_token_does_nothing_and_says_so(guarded, guarded_lead, long_job):
    before = everything(log_of(guarded))

    answer = guarded_lead.post(f"/desk/vehicles/{VEHICLE}/retire", data={"retired": "yes"})

    assert answer.status_code == 400
    assert "Nothing was done: reload it" in answer.text
    assert everything(log_of(guarded)) == before


def test_f41_what_was_typed_outlives_a_session_that_ended_meanwhile(guarded, guarded_lead):
    page = guarded_lead.get("/desk/vehicles/new")
    typed = {"name": "Gray hauler", "units": "mm", "driving_side": "left", "note": 'A "long" tale'}
    guarded_lead.post("/door/sign-out", data={"csrf_token": token(page)})

    signed_out = guarded_lead.post("/desk/vehicles/new", data={**typed, "csrf_token": token(page)})
    assert signed_out.status_code == 401
    [held] = forms_of(signed_out, "/desk/vehicles/new")
    assert typed.items() <= held.items()

    door = guarded_lead.get("/door")
    guarded_lead.post("/door/demo/lead", data={"csrf_token": token(door)})
    again = guarded_lead.post("/desk/vehicles/new", data=held)
    assert at_desk(log_of(guarded)) == []
    guarded_lead.post("/desk/vehicles/new", data=forms_of(again, "/desk/vehicles/new")[0])

    assert [entry[5] for entry in at_desk(log_of(guarded))] == [typed]


@pytest.mark.parametrize("address", POSTS)
def test_whoever_is_signed_out_sends_nothing(client, log, address):
    assert client.post(address, data={"name": "Gray hauler"}).status_code == 401
    assert at_desk(log) == []


@pytest.mark.parametrize("address", POSTS)
def test_a_technician_sends_nothing(app, client, log, address):
    sign_in_as(app, client, "Dana Reyes")

    assert client.post(address, data={"name": "Gray hauler"}).status_code == 403
    assert at_desk(log) == []
