"""What a phone holds goes to the shop as a file, when there is no other way."""

import json
from pathlib import Path

import pytest
from hands import Hands
from playwright.sync_api import expect
from yard import TAG

from webapp.command import main
from webapp.shoplog import ShopLog
from webapp.shoplog.chain import check_folder

pytestmark = pytest.mark.browser
# What lets go of an address of something kept in memory, and when.
LET_GO = """() => {
  globalThis.waits = [];
  const wait = setTimeout;
  globalThis.setTimeout = (work, ms, ...more) => {
    if (ms === 60000) waits.push(more[0] ?? ms);
    return wait(work, ms, ...more);
  };
  globalThis.gone = 0;
  URL.revokeObjectURL = () => { gone += 1; };
}"""


def save_unsent(hands: Hands, folder: Path) -> Path:
    """Press the button; the file that the browser saved."""
    with hands.page.expect_download() as download:
        hands.press("Save unsent to a file")
    saved = folder / download.value.suggested_filename
    download.value.save_as(saved)
    return saved


def test_unsent_entries_reach_the_shop_in_a_file_and_once(new_hands, shop_of_one, tmp_path):
    server, _ = shop_of_one
    hands = new_hands()
    hands.pair()
    expect(hands.state).to_contain_text("Everything is at the shop")
    hands.page.context.set_offline(True)
    hands.open_tag(TAG)
    hands.open_job("cable is out")
    hands.make_ready()
    hands.read("8 3/4")
    hands.state.click()
    hands.page.evaluate(LET_GO)
    expect(hands.page.get_by_text("8 on this phone only")).to_have_count(2)
    saved = save_unsent(hands, tmp_path)

    assert hands.page.evaluate("[waits.length, gone]") == [1, 0]
    assert saved.name == "axlewright-unsent.jsonl"
    entries = [json.loads(line) for line in saved.read_text("utf-8").splitlines()]
    kinds = ["job", "pick", *["tick"] * 5, "reading"]
    assert [entry["kind"] for entry in entries] == kinds
    assert (entries[-1]["typed"], entries[-1]["body"]["value"]) == ("8 3/4", 8.75 * 25.4)
    server.stop()
    assert main(["import", "--data", str(server.folder), str(saved)]) == 0
    with ShopLog(server.folder) as log:
        there = {row["id"] for row in log.pull(0, 99)["entries"]}
    assert {entry["id"] for entry in entries} <= there

    server.start()
    hands.page.context.set_offline(False)
    hands.press("Try the shop again")
    expect(hands.state).to_contain_text("Everything is at the shop", timeout=60_000)
    assert check_folder(server.folder) == []
