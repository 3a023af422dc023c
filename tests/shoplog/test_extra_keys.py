"""Keys that a body's contract does not name: stored, and without any effect on what is reckoned."""

import ast
from pathlib import Path
from random import Random

import pytest
from kit.entries import BODIES, VEHICLE, make_entry, verdicts
from kit.generated import ROUNDS, World

from webapp.reckon.limits import fold_limits
from webapp.reckon.log.due import due_of
from webapp.reckon.log.fold import ON_FILE, fold_job, fold_vehicle, record_at
from webapp.reckon.log.sheet_of_round import sheet_for
from webapp.shoplog.rules.kinds import body_schema, name_of_body
from webapp.shoplog.rules.record import VehiclePatch

WEBAPP = Path(__file__).parents[2] / "webapp"
# What a patch says beside what it puts on file, and what only the fold puts there.
NOT_ON_FILE = {"replaces", "from_job", "merged_into", "id", "tags", "confirmed"}
ODD = [5, "x", ["leans 41.00"], {"front": 5}, [{"a": 1}], None, True]
CONFIRM = {"job": None, "round": None}


def names_in(*folders):
    """Every text in this code that could be the name of a key."""
    files = [path for folder in folders for path in (WEBAPP / folder).rglob("*.py")]
    nodes = [node for path in files for node in ast.walk(ast.parse(path.read_text("utf-8")))]
    texts = {node.value for node in nodes if isinstance(node, ast.Constant)}
    return sorted(text for text in texts if isinstance(text, str) and text.isidentifier())


NAMES = names_in("reckon", "desk")


def with_extra(entry, value):
    """The entry, its body with this value under every name that its contract does not have."""
    known = body_schema(name_of_body(entry["kind"], entry["body"]))["properties"]
    more = {name: value for name in NAMES if name not in known}
    return {**entry, "body": {**more, **entry["body"]}}


def reckoned(entries, job):
    """What a vehicle with one job comes to: record, what is due, limits, and each round's sheet."""
    about = [each for each in entries if each["vehicle"] and not each["job"]]
    within = [each for each in entries if each["job"] == job]
    record, folded = fold_vehicle(about), fold_job(within)
    facts = {name: folded[name] for name in ("axle", "about", "state", "rounds", "second_of")}
    sheets = [sheet_for(within, name, record, {}) for name in ROUNDS]
    limits = fold_limits([each for each in entries if each["kind"] == "limit"])
    return record, record_at(about, folded), due_of(about), limits, facts, sheets


def test_a_patch_puts_on_file_what_its_contract_names():
    assert set(ON_FILE) == set(VehiclePatch.__annotations__) - NOT_ON_FILE


def test_extra_keys_of_any_entry_change_nothing():
    world = World(Random(7), vehicles=1, jobs=1)
    made = [{**world.entry("p", n), "seq": n, "person": "a"} for n in range(1, 120)]
    [job] = world.jobs
    plainly = reckoned(made, job)

    for value in ODD:
        assert reckoned([with_extra(each, value) for each in made], job) == plainly


def record_in(shop):
    """The vehicle's record in the shop's log."""
    return shop.vehicle(VEHICLE)["record"]


def test_a_patch_confirms_nothing_whoever_writes_it(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone, "vehicle"), make_entry(crew.phone, "job")])
    before = record_in(shop)

    for phone in (crew.phone, crew.leads_phone):
        for value in ODD:
            patch = make_entry(phone, "vehicle", body={"confirmed": value})
            [answer] = shop.append(phone, [patch])
            assert answer["verdict"] == "refused"
            assert "confirmed must be left out: the log fills it in itself" in answer["reason"]
    said = make_entry(crew.leads_phone, "confirm", **CONFIRM)

    assert record_in(shop) == before
    assert verdicts(shop.append(crew.leads_phone, [said])) == ["stored"]
    assert record_in(shop)["confirmed"] == [BODIES["confirm"]["key"]]


@pytest.mark.parametrize("value", ODD)
def test_what_an_older_build_stored_as_confirmed_counts_for_nothing(shop, crew, monkeypatch, value):
    shop.append(crew.phone, [make_entry(crew.phone, "vehicle")])
    with monkeypatch.context() as older:
        older.setattr("webapp.shoplog.entries.body_faults", lambda *_: [])
        patch = make_entry(crew.phone, "vehicle", body={"confirmed": value})
        assert verdicts(shop.append(crew.phone, [patch])) == ["stored"]
    said = make_entry(crew.leads_phone, "confirm", **CONFIRM)

    assert "confirmed" not in record_in(shop)
    assert verdicts(shop.append(crew.leads_phone, [said])) == ["stored"]
    assert record_in(shop)["confirmed"] == [BODIES["confirm"]["key"]]
