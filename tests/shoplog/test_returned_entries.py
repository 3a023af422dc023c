"""What a restored shop lost comes back from phones, with the shop's own seal on it."""

import pytest
from kit.entries import make_entry, stored_ids, verdicts

from webapp.shoplog import ShopLog
from webapp.shoplog.backup import back_up, restore
from webapp.shoplog.returned_entries import seal, seal_key, take_returned
from webapp.shoplog.views.missing_numbers import made_and_here


@pytest.fixture
def sealed(shop, crew):
    """Entries of the technician and the lead as a phone pulled them, seals and all."""
    seal_key(shop)
    limit = make_entry(crew.leads_phone, "limit")
    shop.append(crew.leads_phone, [limit])
    shop.append(crew.phone, [make_entry(crew.phone, local_no=number) for number in (1, 2)])
    return with_seals(shop, shop.pull(0, 100)["entries"])


def with_seals(log, entries):
    """These entries as a pull hands them out."""
    return [{**entry, "seal": seal(seal_key(log), entry)} for entry in entries]


def test_f37_entries_of_others_come_back_with_their_makers_and_times(
    shop, crew, log_folder, tmp_path
):
    seal_key(shop)
    back_up(shop, tmp_path / "backup.db")
    shop.append(crew.leads_phone, [make_entry(crew.leads_phone, "limit")])
    shop.append(crew.phone, [make_entry(crew.phone)])
    lost = shop.pull(0, 100)["entries"]
    held = with_seals(shop, lost)
    shop.close()
    restore(tmp_path / "backup.db", log_folder)
    with ShopLog(log_folder) as restored:
        answers = take_returned(restored, held[::-1])

        assert verdicts(answers) == ["stored", "stored"]
        found = restored.pull(0, 100)["entries"]
        assert sorted(found, key=str) == sorted(
            ({**entry, "seq": 12 - entry["seq"]} for entry in lost), key=str
        )
        assert restored.check() == []


def test_f37_what_is_there_already_is_not_doubled(shop, sealed):
    answers = take_returned(shop, sealed)

    assert verdicts(answers) == ["already"] * 3
    assert len(stored_ids(shop)) == 3


def change_value(entry):
    entry["body"] = {**entry["body"], "value": 999}


def change_person(entry):
    entry["person"] = entry["phone"]


def change_time(entry):
    entry["received_at"] = "2020-01-01T00:00:00.000+00:00"


def change_id(entry):
    entry["id"] = make_entry(entry["phone"])["id"]


def no_seal(entry):
    del entry["seal"]


def odd_seal(entry):
    entry["seal"] = {"\ud800": 1}


def no_body(entry):
    del entry["body"]


@pytest.mark.parametrize(
    "change", [change_value, change_person, change_time, change_id, no_seal, odd_seal, no_body]
)
def test_f37_nobody_can_hand_back_what_the_shop_never_had(shop, crew, sealed, change):
    entry = {**sealed[0]}
    change(entry)

    [answer] = take_returned(shop, [entry])

    assert answer["verdict"] == "refused"
    assert "never had this entry" in answer["reason"]
    assert len(stored_ids(shop)) == 3


@pytest.mark.parametrize("entry", [None, 3, {}, {"phone": "x", "person": "y"}])
def test_f37_what_says_nobody_made_it_is_refused(shop, crew, entry):
    [answer] = take_returned(shop, [entry])

    assert answer["verdict"] == "refused"


def test_f37_a_phone_and_a_person_that_the_backup_lacks_are_put_on_file_without_a_way_in(
    shop, crew, sealed, tmp_path
):
    with ShopLog(tmp_path / "older") as older:
        with older.writing() as db:
            db.execute("INSERT INTO facts VALUES ('seal_key', ?)", [seal_key(shop).hex()])
        answers = take_returned(older, sealed, {crew.lead: "Bram"})

        assert verdicts(answers) == ["stored"] * 3
        people = {row["id"]: (row["name"], row["role"]) for row in older.people()}
        assert people[crew.lead] == ("Bram", "technician")
        assert people[crew.technician] == ("somebody whose name was lost", "technician")
        assert all(row["revoked_at"] and not row["credential_hash"] for row in older.phones())


def test_f12_numbers_that_never_arrived_are_named(shop, crew):
    numbers = [1, 2, 3, 5, 6, 9]
    batch = [make_entry(crew.phone, local_no=number) for number in numbers]
    shop.append(crew.phone, batch, {"last_local_no": 12, "pending_count": 3})

    [row, leads] = made_and_here(shop)

    assert (row["made"], row["here"], row["missing"]) == (12, 6, 6)
    assert row["ranges"] == [[4, 4], [7, 8], [10, 12]]
    assert row["pending_count"] == 3
    assert (leads["made"], leads["missing"], leads["ranges"]) == (0, 0, [])


def test_f12_a_number_used_twice_counts_once(shop, crew):
    shop.append(crew.phone, [make_entry(crew.phone, local_no=1) for _ in range(2)])

    [row, _] = made_and_here(shop)

    assert (row["made"], row["here"], row["missing"]) == (1, 1, 0)
    assert len(stored_ids(shop)) == 2


def test_f12_the_numbers_of_one_person_can_be_asked_for(shop, crew):
    assert [row["id"] for row in made_and_here(shop, crew.lead)] == [crew.leads_phone]
