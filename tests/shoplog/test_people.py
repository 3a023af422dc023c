"""People, phones, pairings and facts are kept as they were given."""

import sqlite3
from datetime import UTC, datetime, timedelta

import pytest
from kit.entries import new_id

from webapp.shoplog import NotFound, ShopLog
from webapp.shoplog.people import utc_now
from webapp.shoplog.views.missing_numbers import made_and_here


def in_minutes(minutes):
    """A time as the log writes it, so many minutes from now."""
    return (datetime.now(UTC) + timedelta(minutes=minutes)).isoformat(timespec="milliseconds")


def test_people_are_listed_by_name(shop, crew):
    assert [(person["name"], person["role"]) for person in shop.people()] == [
        ("Bram", "lead"),
        ("Orla", "technician"),
    ]


def test_a_person_changes_name_and_role(shop, crew):
    shop.change_person(crew.technician, "Orla M", "lead")

    assert shop.person(crew.technician) == {"id": crew.technician, "name": "Orla M", "role": "lead"}


@pytest.mark.parametrize(("name", "role"), [("", "lead"), ("Ines", "owner")])
def test_a_person_has_a_name_and_a_known_role(shop, name, role):
    with pytest.raises(sqlite3.IntegrityError):
        shop.add_person(name, role)

    assert shop.people() == []


def test_a_phone_is_found_by_its_credential(shop, crew):
    phone = shop.add_phone(crew.technician, "blue phone", "hash of a secret")

    assert shop.phone_by_credential("hash of a secret") == phone == shop.phone(phone["id"])
    assert phone["kind"] == "phone"
    assert phone["revoked_at"] is None
    assert phone["last_contact"] is None


def test_a_credential_belongs_to_one_phone(shop, crew):
    shop.add_phone(crew.technician, "blue phone", "hash")
    with pytest.raises(sqlite3.IntegrityError):
        shop.add_phone(crew.lead, "red phone", "hash")


def test_phones_paired_in_one_moment_are_listed_as_they_were_paired(shop, crew, monkeypatch):
    monkeypatch.setattr("webapp.shoplog.people.utc_now", lambda: "2026-03-02T08:00:00.000Z")
    paired = [shop.add_phone(crew.lead, "a phone", f"hash {n}")["id"] for n in range(20)]

    assert [row["id"] for row in shop.phones() if row["id"] in paired] == paired
    assert [row["id"] for row in made_and_here(shop) if row["id"] in paired] == paired


def test_a_revoked_phone_stays_known_with_the_time_of_its_first_revocation(shop, crew):
    first = shop.revoke_phone(crew.phone)["revoked_at"]
    again = shop.revoke_phone(crew.phone)["revoked_at"]

    assert again == first <= utc_now()
    assert shop.phone(crew.leads_phone)["revoked_at"] is None
    assert len(shop.phones()) == 2


def test_a_renewed_phone_is_the_same_one_with_another_credential(shop, crew):
    shop.revoke_phone(crew.phone)
    shop.renew_phone(crew.phone, "another hash")

    assert shop.phone_by_credential("another hash")["id"] == crew.phone
    assert shop.phone(crew.phone)["revoked_at"] is None
    with pytest.raises(NotFound):
        shop.renew_phone(shop.desk_of(crew.lead)["id"], "a third hash")


def test_the_desk_is_one_phone_per_person_without_a_credential(shop, crew):
    desk = shop.desk_of(crew.lead)

    assert shop.desk_of(crew.lead) == desk
    assert shop.desk_of(crew.technician)["id"] != desk["id"]
    assert (desk["kind"], desk["credential_hash"]) == ("desk", None)


def test_a_pairing_code_is_used_once(shop, crew):
    shop.add_pairing("hash", crew.technician, in_minutes(5))

    assert shop.use_pairing("hash")["name"] == "Orla"
    with pytest.raises(NotFound, match="make a new one at the desk"):
        shop.use_pairing("hash")


def test_a_pairing_code_expires(shop, crew):
    shop.add_pairing("hash", crew.technician, in_minutes(-1))

    with pytest.raises(NotFound, match="has expired"):
        shop.use_pairing("hash")


@pytest.mark.parametrize(
    "ask",
    [
        lambda shop: shop.person(new_id()),
        lambda shop: shop.change_person(new_id(), "Ines", "lead"),
        lambda shop: shop.phone(new_id()),
        lambda shop: shop.phone_by_credential("hash"),
        lambda shop: shop.add_phone(new_id(), "a phone", "hash"),
        lambda shop: shop.desk_of(new_id()),
        lambda shop: shop.revoke_phone(new_id()),
        lambda shop: shop.add_pairing("hash", new_id(), in_minutes(5)),
        lambda shop: shop.use_pairing("hash"),
        lambda shop: shop.fact("color"),
    ],
)
def test_what_is_not_there_is_not_found(shop, ask):
    with pytest.raises(NotFound):
        ask(shop)

    assert shop.phones() == []


def test_a_fact_is_made_once_and_kept(log_folder):
    with ShopLog(log_folder) as shop:
        made = shop.fact_or_make("secret_key", lambda: "first")
    with ShopLog(log_folder) as shop:
        again = shop.fact_or_make("secret_key", lambda: "second")

        assert made == again == shop.fact("secret_key") == "first"
