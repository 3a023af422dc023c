"""What can be searched for, what is due, second readings and vehicles that are one and the same."""

import pytest
from kit.entries import JOB, VEHICLE, a_whole_job, decision, make_entry, new_id, strike, verdicts

from webapp.shoplog import NotFound, ShopLog


def note(phone, text, **changes):
    """A note with this text."""
    return make_entry(phone, "note", body={"text": text}, **changes)


def patch(phone, body, **changes):
    """A patch of a vehicle's record."""
    return make_entry(phone, "vehicle", body=body, **changes)


def kinds_found(shop, search):
    """The kinds of what a search finds."""
    return sorted(row["kind"] for row in shop.find(search, 20))


def test_a_search_finds_vehicles_what_jobs_are_about_and_notes(shop, crew):
    tag = make_entry(crew.phone, "tag")
    shop.append(crew.phone, [patch(crew.phone, {"name": "Gray hauler"}), tag])
    shop.append(crew.phone, [make_entry(crew.phone, "job"), note(crew.phone, "Bush is torn")])

    assert kinds_found(shop, "GRAY haul") == ["vehicle"]
    assert kinds_found(shop, "k7rm-4t") == ["vehicle"]
    assert kinds_found(shop, "pulls") == ["job"]
    assert [row["job"] for row in shop.find("torn", 20)] == [JOB]
    assert kinds_found(shop, "gray torn") == kinds_found(shop, '"*') == []


def test_a_note_that_was_struck_is_found_no_more_until_it_stands_again(shop, crew):
    text = note(crew.phone, "Bush is torn")
    struck = strike(crew.phone, text["id"])
    shop.append(crew.phone, [make_entry(crew.phone, "job"), text, struck])
    gone = kinds_found(shop, "torn")
    shop.append(crew.phone, [strike(crew.phone, struck["id"])])

    assert gone == []
    assert kinds_found(shop, "torn") == ["note"]


def test_a_batch_that_fails_leaves_nothing_to_be_found(shop, crew, monkeypatch):
    monkeypatch.setattr("webapp.shoplog.views.search_index.keep_notes", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        shop.append(crew.phone, [patch(crew.phone, {"name": "Gray hauler"})])

    assert shop.find("gray", 20) == []


def test_a_log_kept_by_another_version_is_made_afresh_when_it_opens(shop, crew, log_folder):
    shop.append(crew.phone, [patch(crew.phone, {"name": "Gray hauler"})])
    with shop.writing() as db:
        db.execute("DELETE FROM words")
        db.execute("UPDATE facts SET value = 'before' WHERE name = 'projections'")
    shop.close()

    with ShopLog(log_folder) as again:
        assert kinds_found(again, "gray") == ["vehicle"]


def test_what_is_due_comes_by_its_day_and_by_distance_alone_last(shop, crew):
    plans = [{"distance": 800, "unit": "km"}, {"date": "2026-12-24"}, {"date": "2026-11-30"}]
    ids = [new_id() for _ in plans]
    for vehicle, plan in zip(ids, plans, strict=True):
        asked = patch(crew.leads_phone, {"rechecks": {"front": plan}}, vehicle=vehicle)
        shop.append(crew.leads_phone, [asked])

    assert [row["vehicle"] for row in shop.due()] == [ids[2], ids[1], ids[0]]
    assert shop.due(most=1)[0]["what"] == "recheck"


def test_nothing_is_due_on_a_retired_vehicle_nor_once_it_is_settled(shop, crew):
    asked = {"remeasure": {"front": {"date": "2026-11-30"}, "rear": None}}
    shop.append(crew.leads_phone, [patch(crew.leads_phone, asked)])
    first = [(row["axle"], row["what"], row["day"]) for row in shop.due()]
    shop.append(crew.leads_phone, [patch(crew.leads_phone, {"retired": True})])
    retired = shop.due()
    shop.append(
        crew.leads_phone,
        [patch(crew.leads_phone, {"retired": False, "remeasure": {"front": None}})],
    )

    assert first == [("front", "remeasure", "2026-11-30")]
    assert retired == shop.due() == []


@pytest.mark.parametrize("wrong", [{"front": {}}, {"middle": None}, {"front": {"date": "soon"}}])
def test_what_says_no_day_and_no_distance_is_refused(shop, crew, wrong):
    asked = patch(crew.leads_phone, {"remeasure": wrong})

    assert verdicts(shop.append(crew.leads_phone, [asked])) == ["refused"]


def opened_as_second(phone, job, first):
    """The opening of a job that is a second reading of another."""
    body = {"axle": "front", "round": "as_left", "about": "Second reading", "second_of": first}
    return make_entry(phone, "job", job=job, body=body)


def test_second_readings_are_found_by_the_job_they_repeat(shop, crew):
    second = new_id()
    shop.append(crew.phone, [*a_whole_job(crew.phone, JOB)])
    shop.append(crew.leads_phone, [opened_as_second(crew.leads_phone, second, JOB)])

    assert [row["id"] for row in shop.seconds(JOB)] == [second]
    assert [row["id"] for row in shop.seconds()] == [second]
    assert shop.seconds(second) == []


def test_a_lead_who_asked_for_a_second_reading_may_decide_about_it(shop, crew):
    second = new_id()
    shop.append(crew.leads_phone, [opened_as_second(crew.leads_phone, second, JOB)])
    [_, _, hand_in] = a_whole_job(crew.phone, second)
    shop.append(crew.phone, [hand_in])
    verdict = decision(crew.leads_phone, hand_in["id"], job=second)

    assert verdicts(shop.append(crew.leads_phone, [verdict])) == ["stored"]


def test_the_lead_makes_one_vehicle_of_two_and_parts_them_again(shop, crew):
    other = new_id()
    tag = make_entry(crew.phone, "tag", vehicle=other)
    shop.append(crew.phone, [patch(crew.phone, {"name": "Gray hauler"}), tag])
    shop.append(crew.phone, a_whole_job(crew.phone, JOB, other))
    merging = patch(crew.leads_phone, {"merged_into": VEHICLE}, vehicle=other)
    shop.append(crew.leads_phone, [merging])

    assert [row["id"] for row in shop.vehicles()] == [VEHICLE]
    assert shop.vehicle(other)["id"] == shop.vehicle_by_tag("K7RM-4TQX")["id"] == VEHICLE
    assert shop.job(JOB)["vehicle"] == VEHICLE

    shop.append(
        crew.leads_phone, [strike(crew.leads_phone, merging["id"], vehicle=other, job=None)]
    )

    assert {row["id"] for row in shop.vehicles()} == {VEHICLE, other}
    assert shop.job(JOB)["vehicle"] == shop.vehicle_by_tag("K7RM-4TQX")["id"] == other


def test_a_tag_that_leads_nowhere_is_said_to(shop):
    with pytest.raises(NotFound, match="No vehicle carries the tag"):
        shop.vehicle_by_tag("AAAA-2222")
