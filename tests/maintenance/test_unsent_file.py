"""What a phone saved to a file is taken in at the shop PC, by the rules of a push."""

import json

import pytest
from kit.entries import BODIES, decision, make_entry, new_id, stored_ids

from webapp.command import main
from webapp.shoplog import BadBackup, LogInUse, NotFound, ShopLog
from webapp.shoplog.full_check import check_all
from webapp.shoplog.unsent_file import bring_in_unsent


@pytest.fixture
def saved(tmp_path):
    """Writes entries as a phone saves them; the file."""

    def save(*entries):
        file = tmp_path / "axlewright-unsent.jsonl"
        # A phone does not escape what is no ASCII, line separators among it.
        lines = [json.dumps(each, ensure_ascii=False) + "\n" for each in entries]
        file.write_text("".join(lines), "utf-8", newline="\n")
        return file

    return save


def test_f12_what_a_phone_saved_is_taken_in_once(shop, crew, saved, log_folder, capsys):
    text = {"text": "two\u2028lines, 14⅜"}
    note = make_entry(crew.phone, "note", local_no=8, body=text)
    entries = [make_entry(crew.phone, local_no=7), note]
    shop.append(crew.phone, entries[:1], {"last_local_no": 7, "pending_count": 1})
    before = next(row for row in shop.phones() if row["id"] == crew.phone)
    shop.close()
    file = saved(*entries)
    for said in ("Added 1 entry; 1 already there", "Added 0 entries; 2 already there"):
        assert main(["import", "--data", str(log_folder), str(file)]) == 0
        assert said in capsys.readouterr().out

    with ShopLog(log_folder) as log:
        assert stored_ids(log) == [each["id"] for each in entries]
        assert log.pull(0, 9)["entries"][1]["body"] == text
        [after] = [row for row in log.phones() if row["id"] == crew.phone]
    assert after["last_local_no"] == 8
    # Nobody heard the phone itself.
    assert [after[name] for name in ("last_contact", "pending_count")] == [
        before[name] for name in ("last_contact", "pending_count")
    ]
    assert check_all(log_folder) == []


def test_what_its_person_may_not_do_is_refused_with_the_reason(
    shop, crew, saved, log_folder, capsys
):
    shop.close()
    file = saved(decision(crew.phone, new_id()), make_entry(crew.phone))

    assert main(["import", "--data", str(log_folder), str(file)]) == 0

    said = capsys.readouterr().out
    assert "Only a lead can make or strike a decision" in said
    assert "Added 1 entry" in said and "Not accepted (refused): 1" in said


def test_nothing_is_taken_of_a_phone_that_the_shop_does_not_know(shop, crew, saved, log_folder):
    shop.close()
    with pytest.raises(NotFound, match="does not know that phone"):
        bring_in_unsent(saved(make_entry(crew.phone), make_entry(new_id())), log_folder)

    with ShopLog(log_folder) as log:
        assert stored_ids(log) == []


def test_entries_of_two_phones_go_into_one_chain(shop, crew, saved, log_folder):
    shop.close()
    entries = [make_entry(crew.phone), make_entry(crew.leads_phone), make_entry(crew.phone)]

    bring_in_unsent(saved(*entries), log_folder)

    with ShopLog(log_folder) as log:
        assert sorted(stored_ids(log)) == sorted(each["id"] for each in entries)
    assert check_all(log_folder) == []


@pytest.mark.parametrize("line", ["{", "[]", '{"phone": 7}'])
def test_a_file_that_is_no_phones_is_refused_whole(shop, crew, saved, log_folder, line):
    shop.close()
    file = saved(make_entry(crew.phone, body=dict(BODIES["reading"])))
    file.write_text(file.read_text("utf-8") + line, "utf-8")

    with pytest.raises(BadBackup, match="Line 2"):
        bring_in_unsent(file, log_folder)
    with ShopLog(log_folder) as log:
        assert stored_ids(log) == []


def test_no_file_and_a_running_service_are_told(shop, crew, saved, log_folder, tmp_path):
    with pytest.raises(LogInUse):
        bring_in_unsent(saved(make_entry(crew.phone)), log_folder)
    with pytest.raises(NotFound, match="no file"):
        bring_in_unsent(tmp_path / "none.jsonl", log_folder)
