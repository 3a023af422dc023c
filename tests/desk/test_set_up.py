"""The shop's set-up and the health of its service, at the desk."""

import re

import pytest
from kit.desk_pages import at_desk, text_of
from kit.entries import stored_ids

from webapp.desk.shop import health
from webapp.maintenance import backups
from webapp.reckon.numbers import THIN

CHOSEN = {"name": "Bennett and Daughters", "units": "in", "driving_side": "right"}
LIMITS = {"offset": "1/8", "repeat": "1.5 mm", "face_u": "0.5 mm"}


def test_the_first_set_up_keeps_name_units_side_and_limits(lead, log):
    reply = lead.post("/desk/set-up", data={**CHOSEN, **LIMITS})

    assert reply.headers["Location"] == "/desk/people"
    assert log.settings() == {f"shop_{name}": value for name, value in CHOSEN.items()}
    bodies = [entry[5] for entry in at_desk(log)]
    assert [(body["name"], body["value"]) for body in bodies] == [
        ("offset", 3.175),
        ("repeat", 1.5),
        ("face_u", 0.5),
    ]


def test_a_new_vehicle_begins_as_the_shop_chose(lead):
    lead.post("/desk/set-up", data={**CHOSEN, **LIMITS})

    page = lead.get("/desk/vehicles/new").text

    assert 'checked id="units-1" name="units" type="radio" value="in"' in page
    assert 'checked id="driving_side-1" name="driving_side" type="radio" value="right"' in page


@pytest.mark.parametrize(
    ("units", "offered"),
    [("mm", ["3 mm", "1.5 mm", "0.5 mm"]), ("in", ["1/8 in", "1/16 in", "1/64 in"])],
)
def test_the_limits_are_offered_in_the_shops_units(lead, log, units, offered):
    log.set_settings({"shop_units": units}, None)

    page = lead.get("/desk/set-up").text.replace(THIN, " ")

    fields = [tag for tag in re.findall("<input[^>]*>", page) if "data-in-mm" in tag]
    assert [re.search(' value="([^"]*)"', tag)[1] for tag in fields] == offered
    assert [re.search(f' data-in-{units}="([^"]*)"', tag)[1] for tag in fields] == offered


def test_limits_that_were_offered_in_inches_are_taken(lead, log):
    offered = {"offset": f"1/8{THIN}in", "repeat": f"1/16{THIN}in", "face_u": f"1/64{THIN}in"}

    lead.post("/desk/set-up", data={**CHOSEN, **offered})

    assert [entry[5]["value"] for entry in at_desk(log)] == [3.175, 1.5875, 0.396875]


def test_later_the_limits_are_set_on_their_own_page_only(lead, log):
    lead.post("/desk/set-up", data={**CHOSEN, **LIMITS})
    before = stored_ids(log)

    page = lead.get("/desk/set-up")
    lead.post("/desk/set-up", data={**CHOSEN, "name": "Bennett", **LIMITS})

    assert 'name="offset"' not in page.text
    assert stored_ids(log) == before
    assert log.settings()["shop_name"] == "Bennett"


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"name": ""}, "Enter a name for the shop"),
        ({"offset": "90"}, "between 0.02 and 2 in (0.5 and 50 mm)"),
        ({"units": "mm", "offset": "90"}, "between 0.5 and 50 mm."),
        ({"repeat": "3/4-16"}, "thread"),
        ({"units": "cubits"}, "Not a valid choice"),
    ],
)
def test_what_is_wrong_is_said_and_nothing_is_kept(lead, log, wrong, says):
    reply = lead.post("/desk/set-up", data={**CHOSEN, **LIMITS, **wrong})

    assert reply.status_code == 400
    assert says in text_of(reply)
    assert log.settings() == {}
    assert stored_ids(log) == []


def test_a_first_limit_that_no_shop_has_is_asked_back_with_its_likeliest_meaning(lead, log):
    asked = lead.post("/desk/set-up", data={**CHOSEN, **LIMITS, "offset": "30 mm"})

    assert asked.status_code == 400 and stored_ids(log) == []
    assert "An offset limit of" in text_of(asked) and "Did you mean 3" in text_of(asked)
    assert 'name="offset-meant" value="3\u202fmm"' in asked.text
    assert 'value="30 mm"' in asked.text
    meant = {**CHOSEN, **LIMITS, "offset": "30 mm", "offset-meant": "3\u202fmm"}
    assert lead.post("/desk/set-up", data=meant).status_code == 303
    assert [entry[5]["value"] for entry in at_desk(log)] == [3.0, 1.5, 0.5]


def test_a_first_limit_that_is_so_is_kept_with_the_answer(lead, log):
    key = "implausible limit.offset range 30.00"
    odd = {**CHOSEN, **LIMITS, "offset": "30 mm", "offset-so_it_is": key}

    assert lead.post("/desk/set-up", data={**odd, "offset": "31 mm"}).status_code == 400
    assert lead.post("/desk/set-up", data=odd).status_code == 303
    assert [(entry[0], entry[5].get("key")) for entry in at_desk(log)] == [
        ("limit", None),
        ("limit", None),
        ("limit", None),
        ("confirm", key),
    ]


def test_the_health_page_names_what_a_lead_has_to_know(lead, log):
    page = text_of(lead.get("/desk/health"))

    for words in (
        "Certificate",
        "Database not checked yet",
        "Disk",
        "Write-ahead log",
        "SQLite",
        f"Epoch {log.epoch}",
    ):
        assert words in page
    assert str(log.folder) in page


def test_the_health_page_tells_of_the_last_backup(lead, log, tmp_path):
    before = text_of(lead.get("/desk/health"))
    backups.make(log.folder, [tmp_path / "to"])
    after = text_of(lead.get("/desk/health"))

    assert "No backup has been made yet." in before and "All is well." not in before
    assert "The last backup was made less than a minute ago." in after


def test_the_set_up_and_the_health_page_agree_on_how_the_service_fares(
    lead, log, tmp_path, monkeypatch
):
    checks = health.the_health
    monkeypatch.setattr(health, "the_health", lambda: {**checks(), "state": "ok"})
    pages = ("/desk/set-up", "/desk/health")
    before = [text_of(lead.get(page)) for page in pages]
    backups.make(log.folder, [tmp_path / "to"])
    after = [text_of(lead.get(page)) for page in pages]

    assert ["Something needs attention." in page for page in before] == [True, True]
    assert ["All is well." in page for page in after] == [True, True]


def test_what_has_to_be_seen_to_stands_on_every_page(lead, monkeypatch):
    assert 'role="alert"' not in lead.get("/desk").text
    full = {"says": "The shop PC's disk is almost full: 3 MB are free."}
    monkeypatch.setattr(
        health, "the_health", lambda: {"state": "warn", "epoch": 1, "checks": {"disk": full}}
    )

    assert "almost full" in text_of(lead.get("/desk"))
