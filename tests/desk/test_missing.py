"""The page that says what the shop does not have."""

import re
from datetime import UTC, datetime, timedelta

from kit.desk_pages import text_of

from webapp.desk.shop.missing import backup_says, held_says, numbers_in_words
from webapp.maintenance import backups

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


def page(lead):
    response = lead.get("/desk/missing")
    assert response.status_code == 200
    return text_of(response)


def test_f12_readings_that_were_made_and_never_arrived_are_named(phone, lead):
    entries = [phone.entry() for _ in range(5)]
    phone.push(*entries[:3], pending_count=2, last_local_no=5)

    shown = page(lead)

    assert "Dana Reyes Dana Reyes's phone" in shown
    assert re.search(r"5 3 2: no\. 4 to 5\. It reported that it still has 2\.", shown)


def test_f12_a_wiped_phone_that_was_paired_again_leaves_its_gap_on_the_page(new_phone, lead):
    phone = new_phone()
    entries = [phone.entry() for _ in range(5)]
    phone.push(*entries[:3], pending_count=2, last_local_no=5)
    again = new_phone()
    again.push(again.entry())

    shown = page(lead)
    told = again.ask("GET", "/log/missing", None, again.headers).json["phones"]

    assert "2: no. 4 to 5" in shown
    assert [(row["id"], row["missing"], row["ranges"]) for row in told] == [(phone.id, 2, [[4, 5]])]


def test_f12_a_phone_is_not_told_of_its_own_numbers_or_those_of_others(new_phone):
    phone, other = new_phone(), new_phone("Frank Delgado")
    for each in (phone, other):
        each.push(each.entry(), last_local_no=9)

    assert phone.ask("GET", "/log/missing", None, phone.headers).json["phones"] == []


def test_f12_what_a_phone_no_longer_says_it_holds_is_to_be_measured_again():
    row = {"missing": 3, "pending_count": 1}

    assert held_says(row).startswith(
        "It reported that it still has 1. It does not mention 2 entries"
    )
    assert held_says({"missing": 0, "pending_count": 4}) == "All received."


def test_f34_an_entry_that_clashes_is_shown_to_the_lead(phone, lead):
    first = phone.entry("note", {"text": "left bolt loose"})
    phone.push(first)
    phone.push({**first, "body": {"text": "right bolt loose"}})

    shown = page(lead)

    assert "Counts: Note: left bolt loose. Set aside: Note: right bolt loose." in shown


def test_f18_a_phone_on_an_older_build_is_listed_as_behind(phone, lead):
    phone.push(phone.entry())
    assert "old app version" in page(lead)

    phone.push(phone.entry(), build=phone.ask("GET", "/build.json").json["build"])
    assert "old app version" not in page(lead)


def test_running_numbers_are_listed_as_people_do():
    assert numbers_in_words([[4, 4], [7, 8]]) == "4, 7 to 8"


def test_f48_the_age_of_the_last_backup_is_shown(app, lead, tmp_path):
    assert "No backup has been made yet" in page(lead)

    backups.make(app.extensions["shoplog"].folder, [tmp_path / "to"])

    assert "The last backup was made less than a minute ago." in page(lead)


def test_f48_a_backup_that_is_old_or_failed_asks_for_somebody():
    good, fault = (NOW - timedelta(hours=3)).isoformat(), "The disk is full."

    fresh = backup_says({"good": good, "fault": None}, NOW)
    failed = backup_says({"good": good, "fault": fault}, NOW)
    never = backup_says({"good": None, "fault": fault}, NOW)
    old = backup_says({"good": (NOW - timedelta(days=3)).isoformat(), "fault": None}, NOW)

    near = backup_says({"good": good, "fault": None, "same_disk": True}, NOW)

    assert fresh == {"says": "The last backup was made 3 hours ago.", "act": False}
    assert "Every copy is on the disk of the log itself" in near["says"]
    assert failed["says"].endswith("ago. The last try failed: The disk is full.")
    assert never["says"] == "The last try failed: The disk is full."
    assert [each["act"] for each in (failed, never, old)] == [True, True, True]
