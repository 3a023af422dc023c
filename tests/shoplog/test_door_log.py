"""People, settings and the door are lines of the chained log, and what is kept is held to them."""

from datetime import UTC, datetime, timedelta

import pytest
from kit.entries import make_entry, stored_ids, strike, verdicts

from webapp.shoplog import ShopLog, door_log
from webapp.shoplog.backup import back_up, restore
from webapp.shoplog.entries import Refused
from webapp.shoplog.export_import import bring_in, export
from webapp.shoplog.full_check import check_all, make_afresh
from webapp.shoplog.rules.own_kinds import MOST_NAMED, OWN_KINDS


def test_what_is_changed_of_people_is_a_line_of_the_log_with_who_did_it(shop, crew):
    shop.change_person(crew.technician, "Orla M", "lead", crew.lead)
    shop.revoke_phone(crew.phone, crew.lead)
    shop.set_settings({"shop_name": "North yard"}, crew.lead)
    shop.set_passphrase(crew.technician, "hash", crew.technician)

    passphrase, setting, revoked, renamed, *_ = shop.door_entries()
    assert renamed["body"] == {"person": crew.technician, "name": "Orla M", "role": "lead"}
    assert (revoked["body"]["event"], revoked["body"]["of_phone"]) == ("phone_revoked", crew.phone)
    assert setting["body"] == {"name": "shop_name", "value": "North yard"}
    assert passphrase["body"] == {"event": "passphrase_set", "about": crew.technician}
    assert {each["person"] for each in (setting, revoked, renamed)} == {crew.lead}
    assert {each["phone"] for each in (setting, revoked, renamed)} == {shop.server_id}
    assert shop.check() == []


def test_what_stays_as_it_was_is_no_line(shop, crew):
    shop.revoke_phone(crew.phone)
    shop.set_settings({"shop_name": "North yard"})
    before = shop.high_water()

    shop.revoke_phone(crew.phone)
    shop.set_settings({"shop_name": "North yard"})
    shop.change_person(crew.lead, "Bram", "lead")

    assert shop.high_water() == before


def test_no_phone_and_no_form_writes_or_strikes_what_the_shop_pc_writes(shop, crew):
    own = shop.door_entries()[0]
    bodies = {
        "person": {"person": crew.technician, "name": "Orla", "role": "lead"},
        "setting": {"name": "shop_name", "value": "Mine"},
        "door": {"event": "signed_in", "about": crew.lead},
    }
    assert bodies.keys() == OWN_KINDS.keys()
    for phone in (crew.phone, crew.leads_phone):
        made = [
            make_entry(phone, "note", kind=kind, body=body, vehicle=None, job=None)
            for kind, body in bodies.items()
        ]
        answers = shop.append(phone, made)
        assert verdicts(answers) == ["refused"] * 3
        assert "Only the shop PC itself writes" in answers[0]["reason"]
        struck = shop.append(phone, [strike(phone, own["id"], vehicle=None, job=None)])
        assert "nobody strikes or replaces it" in struck[0]["reason"]
    draft = {"kind": "person", "body": bodies["person"]}
    assert verdicts(shop.write_at_desk(crew.lead, [draft], "ab12")) == ["refused"]


def test_phones_do_not_get_what_the_shop_pc_writes(shop, crew):
    entry = make_entry(crew.phone)
    shop.append(crew.phone, [entry])

    assert stored_ids(shop) == [entry["id"]]
    kinds = [each["kind"] for each in shop.pull(0, 100, own=True)["entries"]]
    assert kinds == ["person", "person", "door", "door", "reading"]


@pytest.fixture
def clock(monkeypatch):
    """A clock that stands until it is set: `clock(minutes)` sets it so far from its start."""
    start = datetime(2026, 11, 25, 9, tzinfo=UTC)

    def to(minutes):
        now = (start + timedelta(minutes=minutes)).isoformat(timespec="milliseconds")
        monkeypatch.setattr(door_log, "utc_now", lambda: now)

    to(0)
    return to


def test_a_window_of_failed_sign_ins_is_one_entry_with_a_count(shop, clock):
    people = [shop.add_person(f"Person {number}", "lead")["name"] for number in range(9)]
    before = shop.high_water()
    for number in range(200):
        shop.count_failed_sign_in(people[number % 9].upper(), f"192.0.2.{number}")

    assert shop.high_water() == before
    assert shop.failed_sign_ins()["count"] == 200
    clock(15)
    assert shop.failed_sign_ins() is None
    [entry] = shop.door_entries(most=1)
    assert (entry["body"]["event"], entry["body"]["count"]) == ("sign_in_failed", 200)
    assert len(entry["body"]["names"]) == len(entry["body"]["sources"]) == MOST_NAMED
    assert shop.high_water() == before + 1


@pytest.mark.parametrize("typed", ["correct horse battery", "", "Orla ", "\x00", "\ud800"])
def test_what_no_person_is_called_is_kept_nowhere(shop, crew, log_folder, clock, typed):
    shop.count_failed_sign_in(typed, "192.0.2.7")
    shop.count_failed_sign_in("ORLA", "192.0.2.7")

    assert shop.failed_sign_ins()["names"] == ["an unknown name", "Orla"]
    clock(15)
    assert shop.failed_sign_ins() is None
    assert shop.door_entries(most=1)[0]["body"]["names"] == ["an unknown name", "Orla"]


def test_a_stranger_cannot_fill_the_log_of_the_door_in_a_day_or_with_a_clock_set_back(shop, clock):
    before = shop.high_water()
    for minute in range(24 * 60):
        clock(minute)
        shop.count_failed_sign_in("\ud800\x00" + "x" * 10_000, "y" * 500)
    assert shop.high_water() - before <= 96
    clock(-60)
    shop.count_failed_sign_in("Orla", "192.0.2.7")
    assert shop.failed_sign_ins()["count"] == 1
    assert shop.check() == []


def test_failed_sign_ins_are_still_counted_after_the_service_was_killed(shop, log_folder, clock):
    shop.count_failed_sign_in("Orla", "192.0.2.7")
    shop.close()
    with ShopLog(log_folder) as again:
        again.count_failed_sign_in("Orla", "192.0.2.7")
        assert again.failed_sign_ins()["count"] == 2


TAMPERED = {
    "a role": ("UPDATE people SET role = 'lead' WHERE name = 'Orla'", "The person"),
    "a name": ("UPDATE people SET name = 'Bram' WHERE name = 'Orla'", "The person"),
    "a setting": ("UPDATE facts SET value = 'Ours' WHERE name = 'shop_name'", "The setting"),
    "a new setting": ("INSERT INTO facts VALUES ('shop_units', 'in')", "The setting"),
    "a passphrase": (
        "INSERT INTO access (person, passphrase_hash) "
        "SELECT id, 'mine' FROM people WHERE name = 'Orla'",
        "The passphrase",
    ),
    "a phone's revocation": ("UPDATE phones SET revoked_at = NULL", "The phone"),
    "whose phone it is": (
        "UPDATE phones SET person = (SELECT id FROM people WHERE name = 'Orla')",
        "The phone",
    ),
    "a passkey that nobody added": (
        "INSERT INTO passkeys (id, person, name, credential, sign_count, added_at) "
        "SELECT 'mine', id, 'my key', x'01', 0, '2026-11-25' FROM people WHERE name = 'Bram'",
        "The passkey",
    ),
    "a passkey's public key": ("UPDATE passkeys SET credential = x'01'", "The passkey"),
    "whose passkey it is": (
        "UPDATE passkeys SET person = (SELECT id FROM people WHERE name = 'Orla')",
        "The passkey",
    ),
    "a passkey that is gone": ("DELETE FROM passkeys", "The passkey"),
    "a person that nobody added": (
        "INSERT INTO people VALUES ('11111111-2222-4333-8444-555555555555', 'Eve', 'lead')",
        "The person",
    ),
}


@pytest.mark.parametrize("what", TAMPERED)
def test_check_says_what_is_kept_otherwise_than_the_log_says_and_puts_it_back(
    shop, crew, log_folder, what
):
    shop.set_settings({"shop_name": "North yard"}, crew.lead)
    shop.revoke_phone(crew.phone, crew.lead)
    add_passkey(shop, crew.lead)
    assert check_all(log_folder) == []
    statement, thing = TAMPERED[what]
    with shop.writing() as db:
        db.execute(statement)

    found = check_all(log_folder)
    assert found and all(each.startswith(thing) for each in found)
    shop.close()
    make_afresh(log_folder)

    assert check_all(log_folder) == []
    with ShopLog(log_folder) as log:
        leads = [row["name"] for row in log.people() if row["role"] == "lead"]
        assert leads == ["Bram"]
        assert log.settings() == {"shop_name": "North yard"}
        kept = [row["credential"] for row in log.passkeys_of(crew.lead)]
        assert kept == ([] if "gone" in what or "public" in what else [b"public key"])


def add_passkey(log, person, name="office PC"):
    """A passkey of this person."""
    row = {"id": f"key {name}", "person": person, "name": name, "credential": b"public key"}
    log.add_passkey({**row, "sign_count": 0, "added_at": "2026-11-25T10:00:00.000+00:00"})


@pytest.mark.parametrize("ends", ["a new passphrase", "no way in", "another role", "removed"])
def test_passkeys_that_ended_are_not_missed_by_the_check(shop, crew, log_folder, ends):
    add_passkey(shop, crew.lead)
    add_passkey(shop, crew.lead, "tablet")
    if ends == "another role":
        shop.change_person(crew.lead, "Bram", "technician")
    elif ends == "removed":
        shop.remove_passkey("key tablet", crew.lead)
    else:
        shop.set_passphrase(crew.lead, "hash" if "new" in ends else None)

    assert len(shop.passkeys_of(crew.lead)) == (ends == "removed")
    assert check_all(log_folder) == []


def test_a_restore_is_a_line_of_the_log(shop, crew, log_folder, tmp_path):
    back_up(shop, tmp_path / "backup.db")
    shop.close()
    epoch = restore(tmp_path / "backup.db", log_folder)
    for _ in range(2):
        with ShopLog(log_folder) as log:
            restored = [e["body"] for e in log.door_entries() if e["body"].get("epoch")]
    assert restored == [{"event": "restored", "about": None, "epoch": epoch}]
    assert check_all(log_folder) == []


def test_an_import_brings_the_door_along_and_leaves_people_as_they_are_here(
    shop, crew, log_folder, tmp_path
):
    """Two copies of a folder went apart: what is on file here counts, and both are told."""
    back_up(shop, tmp_path / "backup.db")
    restore(tmp_path / "backup.db", tmp_path / "copy")
    with ShopLog(tmp_path / "copy") as copy:
        copy.change_person(crew.technician, "Orla Smith", "lead")
        copy.set_passphrase(crew.technician, "hash")
    export(tmp_path / "copy", tmp_path / "out.zip")
    shop.change_person(crew.technician, "Orla Novak", "technician")
    shop.close()

    bring_in(tmp_path / "out.zip", log_folder)

    assert check_all(log_folder) == []
    with ShopLog(log_folder) as log:
        assert log.person(crew.technician)["name"] == "Orla Novak"
        assert log.person(crew.technician)["role"] == "technician"
        names = [name for _, name in log.names_over_time()[crew.technician]]
        assert set(names) == {"Orla", "Orla Smith", "Orla Novak"}
        lines = log.high_water()
    bring_in(tmp_path / "out.zip", log_folder)
    with ShopLog(log_folder) as log:
        assert log.high_water() == lines


def test_an_export_of_another_shop_is_sound_where_it_is_brought_in(shop, crew, tmp_path):
    shop.append(crew.phone, [make_entry(crew.phone)])
    export(shop.folder, tmp_path / "out.zip")

    bring_in(tmp_path / "out.zip", tmp_path / "new")

    assert check_all(tmp_path / "new") == []


def test_settings_of_another_shop_come_as_lines_and_set_nothing_here(shop, crew, tmp_path):
    shop.set_settings({"shop_name": "North yard"}, crew.lead)
    export(shop.folder, tmp_path / "out.zip")

    bring_in(tmp_path / "out.zip", tmp_path / "new")

    assert check_all(tmp_path / "new") == []
    make_afresh(tmp_path / "new")
    with ShopLog(tmp_path / "new") as log:
        assert log.settings() == {}
        assert "North yard" in {entry["body"].get("value") for entry in log.door_entries()}


def test_a_line_of_a_person_that_cannot_be_read_is_in_no_name_s_way(shop, crew):
    with shop.writing() as db:
        db.execute("DROP TRIGGER entries_never_change")
        about = "WHERE kind = 'person' AND body ->> '$.person' = ?"
        db.execute(f"UPDATE entries SET body = '[]' {about}", [crew.lead])

    assert list(shop.names_over_time()) == [crew.technician]
    assert "unreadable" in {entry["kind"] for entry in shop.door_entries()}
    shop.own_before()


def test_the_log_of_the_door_is_asked_by_person_and_day(shop, crew):
    shop.record_at_door("signed_in", crew.lead, crew.lead, how="passphrase")
    shop.record_at_door("link_made", crew.technician, crew.lead)
    about = [e["body"].get("event") for e in shop.door_entries(crew.technician)]

    assert about == ["link_made", "phone_paired", None]
    assert [e["body"].get("event") for e in shop.door_entries(crew.lead, most=2)] == [
        "link_made",
        "signed_in",
    ]
    today = datetime.now().astimezone().date().isoformat()
    assert len(shop.door_entries(since=today, until=today)) == 6
    assert shop.door_entries(until="2020-01-01") == shop.door_entries(since="2999-01-01") == []
    last = shop.door_entries(most=1)[0]["seq"]
    assert len(shop.door_entries(before=last)) == 5


def test_a_kept_row_and_its_line_are_stored_together_or_not_at_all(shop, crew):
    with shop.writing() as db:
        db.execute(
            "CREATE TRIGGER full BEFORE INSERT ON entries BEGIN SELECT RAISE(ABORT, 'full'); END"
        )
    before = shop.people()

    for change in (
        lambda: shop.add_person("Ines", "lead"),
        lambda: shop.change_person(crew.lead, "Ines", "lead"),
    ):
        with pytest.raises(Refused, match="full"):
            change()
    assert shop.people() == before
