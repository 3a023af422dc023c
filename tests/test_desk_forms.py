"""Every form of the desk: only the lead's own pages may send it."""

import re

import pytest
from desk_kit import VEHICLE, at_desk
from entries import add_people

from webapp import create_app

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
    answer = guarded_lead.post(address, data={"name": "Grey hauler", "blank": "1"})

    assert answer.status_code == 400
    assert "This form was opened in another session." in answer.text
    assert at_desk(guarded.extensions["shoplog"]) == []


def test_a_form_with_its_token_is_taken(guarded, guarded_lead):
    page = guarded_lead.get("/desk/vehicles/new")
    form = {"name": "Grey hauler", "units": "mm", "driving_side": "left", "note": ""}

    answer = guarded_lead.post("/desk/vehicles/new", data={**form, "csrf_token": token(page)})

    assert answer.status_code == 303
    assert [entry[5] for entry in at_desk(guarded.extensions["shoplog"])] == [form]


@pytest.mark.parametrize("address", POSTS)
def test_whoever_is_signed_out_sends_nothing(client, log, address):
    assert client.post(address, data={"name": "Grey hauler"}).status_code == 401
    assert at_desk(log) == []


@pytest.mark.parametrize("address", POSTS)
def test_a_technician_sends_nothing(client, log, address):
    technician = next(row for row in log.people() if row["role"] == "technician")
    with client.session_transaction() as session:
        session["person"] = technician["id"]

    assert client.post(address, data={"name": "Grey hauler"}).status_code == 403
    assert at_desk(log) == []
