"""Characters that nobody sees are refused in names, in a sentence, by every way in."""

import json
import zipfile

import pytest
from kit.entries import hire, make_entry, verdicts

from webapp.door import one_time_links
from webapp.shoplog import BadBackup, ShopLog
from webapp.shoplog.export_import import bring_in, export
from webapp.shoplog.returned_entries import (
    NAMELESS,
    seal_key,
    sealed_for_phones,
    take_returned,
)

HIDDEN = {
    "zero-width space": "\u200b",
    "zero-width joiner": "\u200d",
    "right-to-left override": "\u202e",
    "isolate": "\u2066",
    "NUL": "\u0000",
    "bell": "\u0007",
    "line feed": "\n",
    "line separator": "\u2028",
    "next line": "\u0085",
    "soft hyphen": "\u00ad",
    "byte order mark": "\ufeff",
    "Hangul filler": "\u3164",
    "blank of Braille": "\u2800",
    "tag character": "\U000e0041",
}
FORMS = {
    "/desk/people": {"role": "technician"},
    "/desk/vehicles/new": {"units": "mm", "driving_side": "left"},
    "/desk/set-up": {"units": "mm", "driving_side": "left"},
}
HAS = "a character that nobody sees"
SEEN = ["Renée O'Neill", "Łukasz 中 🚚", "Crane No. 4 (red)", "a b"]


@pytest.mark.parametrize("character", list(HIDDEN.values()), ids=list(HIDDEN))
def test_a_name_with_a_hidden_character_is_refused_at_the_desk_and_by_a_phone(
    lead, phone, log, character
):
    name = f"Gray{character}hauler"
    before = (log.people(), log.vehicles(), log.settings())

    for path, more in FORMS.items():
        page = lead.post(path, data={"name": name, **more})
        assert page.status_code == 400, path
        assert HAS in page.text, path
    [answer] = phone.push(phone.entry("vehicle", {"name": name})).json["answers"]

    assert answer["verdict"] == "refused"
    assert "each of which is seen" in answer["reason"]
    assert (log.people(), log.vehicles(), log.settings()) == before


@pytest.mark.parametrize("name", SEEN)
def test_a_name_that_is_seen_is_kept(lead, phone, log, name):
    assert lead.post("/desk/people", data={"name": name, **FORMS["/desk/people"]}).status_code < 400
    [answer] = phone.push(phone.entry("vehicle", {"name": name})).json["answers"]

    assert answer["verdict"] == "stored"
    assert name in {row["name"] for row in log.people()}


def test_the_first_leads_name_is_seen_too(app, client, log):
    key = one_time_links.make(log.folder, one_time_links.SET_UP)
    with log.writing() as db:
        db.execute("DELETE FROM access")
        db.execute("UPDATE people SET role = 'technician'")
    form = {"key": key, "name": "Orla\u200bB", "passphrase": "x", "again": "x"}

    assert HAS in client.post("/door/link", data=form).text


def test_an_import_with_a_hidden_character_in_a_name_is_refused(shop, log_folder, tmp_path):
    hire(shop)
    shop.close()
    export(log_folder, tmp_path / "whole.zip")
    with zipfile.ZipFile(tmp_path / "whole.zip") as packed:
        lines = packed.read("log.jsonl").decode().splitlines()
    read = [json.loads(line) for line in lines]
    for line in read:
        if "person" in line:
            line["person"]["name"] += "\u200b"
    with zipfile.ZipFile(tmp_path / "changed.zip", "w") as packed:
        packed.writestr("log.jsonl", "\n".join(map(json.dumps, read)))

    with pytest.raises(BadBackup, match="each of which is seen"):
        bring_in(tmp_path / "changed.zip", tmp_path / "other")


@pytest.mark.parametrize(
    "name", ["Da\u202ena", "\ud800", "Dana\udfff", "  ", "\u200b", "Bram", " BRAM "]
)
def test_a_phone_that_names_somebody_lost_oddly_or_as_somebody_else_names_nobody(
    shop, crew, tmp_path, name
):
    shop.append(crew.phone, [make_entry(crew.phone)])
    held = sealed_for_phones(shop, shop.pull(0, 10)["entries"])
    with ShopLog(tmp_path / "older") as older:
        older.add_person("Bram", "lead")
        with older.writing() as db:
            db.execute("INSERT INTO facts VALUES ('seal_key', ?)", [seal_key(shop).hex()])
        answers = take_returned(older, held, {crew.technician: name})

        assert "stored" in verdicts(answers)
        assert [row["name"] for row in older.people()] == ["Bram", NAMELESS]
