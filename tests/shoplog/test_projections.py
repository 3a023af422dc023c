"""Vehicles, tags and jobs follow the entries, and a pull leaves old jobs out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.entries import (
    BODIES,
    HIRED,
    JOB,
    VEHICLE,
    a_whole_job,
    decision,
    make_entry,
    new_id,
    stored_ids,
    strike,
)

from webapp.reckon.log.fold import fold_job, fold_vehicle
from webapp.shoplog import NotFound

TABLES = ("vehicles", "tags", "merged", "jobs", "words", "due", "held_numbers")


def vehicle_patch(phone, body, **changes):
    """A patch of a vehicle's record."""
    return make_entry(phone, "vehicle", body=body, **changes)


def tag(phone, code, **changes):
    """A tag put on a vehicle."""
    return make_entry(phone, "tag", body={"code": code}, **changes)


def projected(shop):
    """Every row of every projection."""
    with shop.reading() as db:
        return {
            table: sorted(map(tuple, db.execute(f"SELECT * FROM {table}")), key=repr)
            for table in TABLES
        }


def test_a_vehicles_record_is_its_patches_laid_over_each_other(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone, "vehicle"), tag(crew.phone, "K7RM-4TQX")])
    shop.append(crew.phone, [vehicle_patch(crew.phone, {"units": "mm", "note": "loud", "x": 1})])

    row = shop.vehicle(VEHICLE)

    assert row == {
        "id": VEHICLE,
        "name": "Gray hauler",
        "units": "mm",
        "driving_side": None,
        "retired": False,
        "tags": ["K7RM-4TQX"],
        "record": fold_vehicle(shop.entries_of_vehicle(VEHICLE)),
    }
    assert "x" not in row["record"]


def test_a_vehicle_that_only_a_job_names_is_known_without_a_name(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone, "job")])

    assert shop.vehicle(VEHICLE)["name"] == ""
    assert shop.vehicles() == [shop.vehicle(VEHICLE)]


def test_the_entries_of_a_vehicle_are_those_without_a_job(shop, crew):
    about_it = [make_entry(crew.phone, "vehicle"), make_entry(crew.phone, "note", job=None)]
    shop.append(crew.phone, [*a_whole_job(crew.phone, JOB), *about_it])

    assert [entry["id"] for entry in shop.entries_of_vehicle(VEHICLE)] == [
        e["id"] for e in about_it
    ]


@pytest.mark.parametrize(
    ("search", "found"),
    [
        ("", ["Gray hauler", "Étude", "straße"]),
        ("HAUL", ["Gray hauler"]),
        (" étude ", ["Étude"]),
        ("strasse", ["straße"]),
        ("k7rm", ["Étude"]),
        ("%", []),
        ("loud", ["straße"]),
    ],
)
def test_vehicles_are_searched_by_name_note_and_tag(shop, crew, search, found):
    ids = [new_id() for _ in range(3)]
    bodies = [{"name": "Gray hauler"}, {"name": "Étude"}, {"name": "straße", "note": "loud"}]
    patches = [
        vehicle_patch(crew.phone, body, vehicle=vehicle)
        for vehicle, body in zip(ids, bodies, strict=True)
    ]
    shop.append(crew.phone, [*patches, tag(crew.phone, "K7RM-4TQX", vehicle=ids[1])])

    assert sorted(row["name"] for row in shop.vehicles(search)) == sorted(found)


def test_a_tag_leads_to_the_vehicle_it_was_put_on_last(shop, crew):
    other = new_id()
    first, moved = (
        tag(crew.leads_phone, "K7RM-4TQX"),
        tag(crew.leads_phone, "K7RM-4TQX", vehicle=other),
    )
    shop.append(crew.leads_phone, [first, moved])

    assert shop.vehicle_by_tag("k7rm-4tqx ")["id"] == other
    assert shop.vehicle(VEHICLE)["tags"] == []
    assert shop.vehicle(other)["tags"] == ["K7RM-4TQX"]


def test_a_tag_whose_move_was_struck_leads_back(shop, crew):
    other = new_id()
    moved = tag(crew.phone, "K7RM-4TQX", vehicle=other)
    shop.append(crew.phone, [tag(crew.phone, "K7RM-4TQX"), moved])
    shop.append(crew.phone, [strike(crew.phone, moved["id"], vehicle=other, job=None)])

    assert shop.vehicle_by_tag("K7RM-4TQX")["id"] == VEHICLE
    assert shop.vehicle(other)["tags"] == []


@pytest.mark.parametrize(
    "ask",
    [
        lambda shop: shop.vehicle(new_id()),
        lambda shop: shop.vehicle_by_tag("AAAA-AAAA"),
        lambda shop: shop.job(new_id()),
    ],
)
def test_what_the_log_never_heard_of_is_not_found(shop, ask):
    with pytest.raises(NotFound):
        ask(shop)


def test_a_job_goes_its_way_past_the_lead(shop, crew):
    job, measured, hand_in = a_whole_job(crew.phone, JOB)
    accepted = decision(crew.leads_phone, hand_in["id"])
    back = strike(crew.leads_phone, accepted["id"])
    states = []
    for entry in (job, measured, hand_in, accepted, back):
        shop.append(entry["phone"], [entry])
        states.append(shop.job(JOB)["state"])

    assert states == ["open", "open", "pending", "accepted", "pending"]


def test_a_jobs_row_says_who_did_what_and_when(shop, crew):
    job, measured, hand_in = a_whole_job(crew.phone, JOB)
    shop.append(crew.phone, [job, measured, hand_in])
    verdict = decision(crew.leads_phone, hand_in["id"], "sent_back", made_at="2026-11-26T08:00:00Z")
    shop.append(crew.leads_phone, [verdict, make_entry(crew.leads_phone, "note")])

    assert shop.job(JOB) == {
        "id": JOB,
        "vehicle": VEHICLE,
        "axle": "front",
        "about": "pulls to the left",
        "state": "sent_back",
        "opened_seq": HIRED + 1,
        "opened_by": crew.technician,
        "opened_at": job["made_at"],
        "handed_in_seq": HIRED + 3,
        "handed_in_by": crew.technician,
        "handed_in_at": hand_in["made_at"],
        "decided_seq": HIRED + 4,
        "decided_by": crew.lead,
        "decided_at": "2026-11-26T08:00:00Z",
        "last_seq": HIRED + 5,
        "recent": 1,
        "second_of": None,
        "accepted_seq": None,
    }


def test_jobs_are_listed_by_state_and_vehicle(shop, crew):
    jobs = [new_id() for _ in range(3)]
    other = new_id()
    for job, vehicle in zip(jobs, (VEHICLE, other, VEHICLE), strict=True):
        shop.append(crew.phone, [make_entry(crew.phone, "job", job=job, vehicle=vehicle)])
    for job in (jobs[2], jobs[0]):
        shop.append(crew.phone, [make_entry(crew.phone, "hand_in", job=job)])

    assert [row["id"] for row in shop.jobs()] == jobs[::-1]
    assert [row["id"] for row in shop.jobs(state="pending")] == [jobs[2], jobs[0]]
    assert [row["id"] for row in shop.jobs(vehicle=other)] == [jobs[1]]
    assert shop.jobs(state="pending", vehicle=other) == []
    assert [row["id"] for row in shop.jobs(start=1, most=1)] == [jobs[1]]


MOVES = st.tuples(
    st.sampled_from([*BODIES, "strike", "replace", "decision", "decision", "hand_in"]),
    st.integers(0, 1),
    st.integers(0, 2),
    st.integers(0, 10_000),
    st.booleans(),
)


@given(moves=st.lists(MOVES, min_size=1, max_size=30), size=st.integers(1, 8))
def test_projections_made_afresh_are_those_kept_up_entry_by_entry(long_log, long_crew, moves, size):
    made = entries_of(moves, long_crew)
    for first in range(0, len(made), size):
        for phone in (long_crew.phone, long_crew.leads_phone):
            batch = [each for each in made[first : first + size] if each["phone"] == phone]
            long_log.append(phone, batch)
    kept_up = projected(long_log)
    long_log.rebuild()

    assert projected(long_log) == kept_up
    for job in {entry["job"] for entry in made} & {row["id"] for row in long_log.jobs()}:
        folded = fold_job(long_log.entries_of_job(job))
        assert long_log.job(job)["state"] == folded["state"]


def entries_of(moves, crew):
    """Entries about two vehicles and three jobs, of which later ones point at earlier ones."""
    vehicles, jobs = [new_id(), new_id()], [new_id() for _ in range(3)]
    made = []
    for kind, vehicle, job, pointer, in_job in moves:
        leads = kind in ("decision", "limit") or (kind == "vehicle" and in_job)
        phone = crew.leads_phone if leads else crew.phone
        entry = make_entry(phone, "reading" if kind == "replace" else kind)
        if entry["vehicle"]:
            entry["vehicle"] = vehicles[vehicle]
        if entry["job"]:
            entry["job"] = jobs[job]
        if kind == "strike" and not in_job:
            entry["job"] = None
        if kind == "vehicle" and in_job:
            entry["body"] = {**entry["body"], "merged_into": vehicles[1 - vehicle]}
        if kind == "tag" and in_job:
            entry["body"] = {**entry["body"], "first": True}
        point(entry, kind, made[pointer % len(made)]["id"] if made else new_id())
        made.append(entry)
    return made


def point(entry, kind, target):
    """Let a strike, a correction or a decision point at an earlier entry."""
    key = {"strike": "target", "replace": "replaces", "decision": "hand_in"}.get(kind)
    if key:
        entry["body"] = {**entry["body"], key: target}


def accepted_job(shop, crew, vehicle):
    """The ids of the entries of one more accepted job of this vehicle."""
    job = new_id()
    entries = a_whole_job(crew.phone, job, vehicle)
    shop.append(crew.phone, entries)
    verdict = decision(crew.leads_phone, entries[-1]["id"], job=job, vehicle=vehicle)
    shop.append(crew.leads_phone, [verdict])
    return [entry["id"] for entry in (*entries, verdict)]


def pull_all(shop, recent_until, most):
    """The ids of a whole pull, page by page."""
    ids, page = [], {"next": 0, "more": True}
    while page["more"]:
        page = shop.pull(page["next"], most, recent_until)
        ids += [entry["id"] for entry in page["entries"]]
    assert page["next"] == page["high_water"]
    return ids


@pytest.mark.parametrize(("most", "looked_at"), [(3, 20_000), (500, 20_000), (500, 5), (2, 3)])
def test_a_fresh_phone_gets_recent_and_unfinished_jobs_and_all_that_is_no_job(
    shop, crew, monkeypatch, most, looked_at
):
    monkeypatch.setattr("webapp.shoplog.views.queries.MAX_LOOKED_AT", looked_at)
    other = new_id()
    record = make_entry(crew.phone, "vehicle")
    unfinished = a_whole_job(crew.phone, new_id())
    shop.append(crew.phone, [record, *unfinished])
    jobs = [accepted_job(shop, crew, VEHICLE) for _ in range(9)]
    others = accepted_job(shop, crew, other)
    head = shop.high_water()
    late = make_entry(crew.phone, "note", job=shop.entry(jobs[0][0])["job"])
    shop.append(crew.phone, [late])

    recent = [entry for job in jobs[3:] for entry in job]
    expected = [record["id"], *(e["id"] for e in unfinished), *recent, *others, late["id"]]

    assert pull_all(shop, head, most) == expected
    assert pull_all(shop, 0, most) == stored_ids(shop)


def test_a_job_sent_back_is_unfinished_however_old(shop, crew):
    opened = a_whole_job(crew.phone, JOB)
    shop.append(crew.phone, opened)
    shop.append(crew.leads_phone, [decision(crew.leads_phone, opened[-1]["id"], "sent_back")])
    for _ in range(7):
        accepted_job(shop, crew, VEHICLE)

    assert opened[0]["id"] in pull_all(shop, shop.high_water(), 500)


def test_a_batch_whose_projections_fail_is_not_kept_at_all(shop, crew, monkeypatch):
    def break_down(_):
        raise RuntimeError("no fold today")

    monkeypatch.setattr("webapp.reckon.log.fold.fold_job", break_down)
    before = projected(shop)
    with pytest.raises(RuntimeError, match="no fold today"):
        shop.append(crew.phone, [make_entry(crew.phone, "job")])

    assert stored_ids(shop) == []
    assert projected(shop) == before
