"""Who may strike what is decided by what is struck, also where that comes in after its strike."""

import pytest
from kit.entries import BODIES, VEHICLE, make_entry, new_id, strike, verdicts

from webapp.reckon.log.fold import standing
from webapp.shoplog import ShopLog
from webapp.shoplog.backup import back_up, restore
from webapp.shoplog.full_check import check_all
from webapp.shoplog.returned_entries import seal_key, sealed_for_phones, take_returned


def pulled(log):
    """Every entry as a phone pulls it, seals and all."""
    return sealed_for_phones(log, log.pull(0, 1000)["entries"])


def stands(log, entry):
    """Whether an entry stands, by everything that phones read."""
    return entry["id"] in {each["id"] for each in standing(log.pull(0, 1000)["entries"])}


@pytest.fixture
def lost(shop, crew, log_folder, tmp_path):
    """Restores a backup that lacks what was sent since: the log as it then is, and what is lost."""
    opened = []

    def lose(*sent):
        seal_key(shop)
        back_up(shop, tmp_path / "backup.db")
        for entry in sent:
            assert verdicts(shop.append(entry["phone"], [entry])) == ["stored"]
        held = [each for each in pulled(shop) if each["id"] in {made["id"] for made in sent}]
        shop.close()
        restore(tmp_path / "backup.db", log_folder)
        opened.append(ShopLog(log_folder))
        return opened[0], held

    yield lose
    for log in opened:
        log.close()
        assert check_all(log_folder) == []


def leads_entry(crew, kind):
    """An entry that only a lead may write."""
    if kind == "vehicle":
        return make_entry(crew.leads_phone, "vehicle", body={"retired": True})
    return make_entry(crew.leads_phone, kind)


LEADS = ["limit", "pass_over", "close_item", "vehicle"]


@pytest.mark.parametrize("kind", LEADS)
def test_a_technician_strikes_nothing_of_a_lead_that_a_restore_lost(lost, crew, kind):
    entry = leads_entry(crew, kind)
    log, held = lost(entry)
    struck = strike(crew.phone, entry["id"], vehicle=entry["vehicle"], job=entry["job"])

    log.append(crew.phone, [struck])
    take_returned(log, held)

    assert stands(log, entry)
    [undone] = [each for each in pulled(log) if each["body"].get("target") == struck["id"]]
    assert undone["phone"] == undone["person"] == log.server_id
    assert "Only a lead" in undone["body"]["reason"]


@pytest.mark.parametrize("kind", LEADS)
def test_it_ends_alike_where_the_strike_is_handed_back_before_what_it_strikes(lost, crew, kind):
    """Also in a second log that lost both: a seal says what was never held against its target."""
    entry = leads_entry(crew, kind)
    log, held = lost(entry)
    log.append(
        crew.phone,
        [strike(crew.phone, entry["id"], vehicle=entry["vehicle"], job=entry["job"])],
    )
    ahead = pulled(log)[-1:]
    with log.writing() as db:
        key = db.execute("SELECT value FROM facts WHERE name = 'seal_key'").fetchone()[0]
    with ShopLog(log.folder.parent / "other") as other:
        with other.writing() as db:
            db.execute("INSERT OR REPLACE INTO facts VALUES ('seal_key', ?)", [key])
        assert verdicts(take_returned(other, ahead + held)) == ["stored"] * 2
        assert stands(other, entry)
    assert verdicts(take_returned(log, held)) == ["stored"]
    assert stands(log, entry)


def test_a_patch_that_replaces_a_leads_patch_which_was_lost_counts_for_nothing(lost, crew):
    entry = leads_entry(crew, "vehicle")
    log, held = lost(entry)
    body = {"name": "Mine now", "replaces": entry["id"]}

    log.append(crew.phone, [make_entry(crew.phone, "vehicle", body=body)])
    take_returned(log, held)

    assert stands(log, entry)
    assert log.vehicle(VEHICLE)["record"]["retired"]
    assert "name" not in log.vehicle(VEHICLE)["record"]


def test_nobody_takes_off_a_tag_of_somebody_else_that_was_lost(lost, crew):
    entry = make_entry(crew.leads_phone, "tag")
    log, held = lost(entry)

    log.append(crew.phone, [strike(crew.phone, entry["id"], job=None)])
    take_returned(log, held)

    assert stands(log, entry)


def test_a_strike_of_a_strike_reaches_through_what_was_lost(lost, crew):
    limit = make_entry(crew.leads_phone, "limit")
    struck = strike(crew.leads_phone, limit["id"], vehicle=None, job=None)
    log, held = lost(limit, struck)

    log.append(crew.phone, [strike(crew.phone, struck["id"], vehicle=None, job=None)])
    for each in reversed(held):
        take_returned(log, [each])

    assert not stands(log, limit)


def test_what_a_technician_may_strike_is_struck_also_where_it_was_lost(lost, crew):
    entry = make_entry(crew.leads_phone, "reading")
    log, held = lost(entry)

    log.append(crew.phone, [strike(crew.phone, entry["id"])])
    take_returned(log, held)

    assert not stands(log, entry)


def test_what_a_lead_struck_stays_struck_also_where_the_lead_was_lost(lost, crew):
    limit = make_entry(crew.leads_phone, "limit")
    struck = strike(crew.leads_phone, limit["id"], vehicle=None, job=None)
    log, held = lost(limit, struck)
    log.change_person(crew.lead, "Bram", "technician")

    take_returned(log, held[::-1])

    assert not stands(log, limit)


def test_a_lead_brings_back_what_the_shop_pc_took_for_forbidden(lost, crew):
    limit = make_entry(crew.leads_phone, "limit")
    log, held = lost(limit)
    struck = strike(crew.phone, limit["id"], vehicle=None, job=None)
    log.append(crew.phone, [struck])
    take_returned(log, held)
    [undone] = [each for each in pulled(log) if each["body"].get("target") == struck["id"]]
    place = {"vehicle": None, "job": None}

    answers = [
        log.append(phone, [strike(phone, undone["id"], **place)])[0]
        for phone in (crew.phone, crew.leads_phone)
    ]

    assert verdicts(answers) == ["refused", "stored"]
    assert not stands(log, limit)


def test_a_job_that_was_accepted_stays_so_where_its_decision_was_lost_and_struck(lost, crew):
    job = new_id()
    work = [make_entry(crew.phone, kind, job=job) for kind in ("job", "reading", "hand_in")]
    body = {**BODIES["decision"], "hand_in": work[-1]["id"]}
    decided = make_entry(crew.leads_phone, "decision", job=job, body=body)
    log, held = lost(*work, decided)
    take_returned(log, held[:-1])

    log.append(crew.phone, [strike(crew.phone, decided["id"], job=job)])
    assert log.job(job)["state"] == "pending"
    take_returned(log, held[-1:])

    assert log.job(job)["state"] == "accepted"


def test_many_strikes_of_what_nobody_has_are_taken_and_looked_at_no_more(shop, crew):
    batch = [strike(crew.phone, new_id()) for _ in range(100)]

    assert verdicts(shop.append(crew.phone, batch)) == ["stored"] * 100
    assert verdicts(shop.append(crew.phone, [make_entry(crew.phone)])) == ["stored"]
