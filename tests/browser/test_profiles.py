"""Phones that were last opened under an earlier build: what they hold opens under this one."""

import json
from pathlib import Path

import pytest
from kit.phones import Phone
from playwright.sync_api import Page, expect
from shop_pages import ALL_SENT, ShopPage, until

pytestmark = pytest.mark.browser

PROFILES = sorted((Path(__file__).parent.parent / "data").glob("phone_v*.json"))
# Makes the stores as that build made them, and fills them as that build left them.
FREEZE = """({version, stores, facts}) => new Promise((resolve, reject) => {
  const asked = indexedDB.open('axlewright', version);
  asked.onerror = () => reject(asked.error);
  asked.onupgradeneeded = () => {
    for (const {name, keyPath, indexes} of stores) {
      const store = asked.result.createObjectStore(name, {keyPath});
      for (const [index, path, options] of indexes) store.createIndex(index, path, options);
    }
  };
  asked.onsuccess = () => {
    const names = stores.map(({name}) => name);
    const transaction = asked.result.transaction(names, 'readwrite');
    for (const {name, rows} of stores) {
      for (const row of rows) transaction.objectStore(name).put(row);
    }
    for (const [name, value] of Object.entries(facts)) {
      transaction.objectStore('facts').put({name, value});
    }
    transaction.oncomplete = () => { asked.result.close(); resolve(); };
    transaction.onabort = () => reject(transaction.error);
  };
})"""
STATES = """phoneStore().then((store) => store.entriesOf({kind: 'reading'}))
  .then((all) => all.map(({id, state, local_no}) => [id, state, local_no]))"""


def profile_of(path: Path, shop_page: ShopPage) -> dict:
    """A frozen profile whose pairing is that of this shop's phone."""
    text = path.read_text("utf-8")
    profile = json.loads(text.replace("33333333-3333-4333-8333-333333333333", shop_page.phone.id))
    profile["facts"] = {**profile["facts"], **shop_page.facts()}
    return profile


@pytest.fixture(params=PROFILES, ids=lambda path: path.stem)
def frozen(request: pytest.FixtureRequest, shop_page: ShopPage) -> tuple[Page, dict]:
    """A page that finds a profile as an earlier build left it."""
    profile = profile_of(request.param, shop_page)
    page = shop_page.context.new_page()
    page.goto(f"{shop_page.origin}/blank")
    page.evaluate(FREEZE, profile)
    return page, profile


def test_f10_what_an_earlier_build_kept_is_the_same_under_this_one(
    frozen: tuple[Page, dict],
) -> None:
    page, profile = frozen
    [rows] = [store["rows"] for store in profile["stores"] if store["name"] == "entries"]
    readings = [row for row in rows if row["kind"] == "reading"]

    assert sorted(page.evaluate(STATES)) == sorted(
        [row["id"], row["state"], row["local_no"]] for row in readings
    )
    unsent = page.evaluate("unsentIds()")
    assert unsent == [row["id"] for row in rows if row["state"] == "kept"]
    assert page.evaluate("phoneStore().then((store) => store.draft('left'))") == "14 3/8"


def test_f39_what_an_earlier_build_left_is_sent_by_this_one_once(
    frozen: tuple[Page, dict], shop_page: ShopPage, real_server: tuple
) -> None:
    page, profile = frozen
    [rows] = [store["rows"] for store in profile["stores"] if store["name"] == "entries"]
    # This shop lacks also what that build had sent to it, so it is offered all again.
    own = [row["id"] for row in rows if row["phone"] == shop_page.phone.id]
    [new] = page.evaluate("keepReadings(1)")

    page.evaluate("meetShop()")

    until(page, f"{ALL_SENT[:-2]}().then((sent) => sent && shop.state().trouble === null)")
    phone: Phone = real_server[1]
    stored = {entry["id"]: entry["local_no"] for entry in phone.pull().json["entries"]}
    assert set(stored) == {*own, new}
    # Numbers go on where that build left off.
    assert stored[new] == 5


def test_f10_the_first_screen_opens_on_rows_that_an_earlier_build_made(
    frozen: tuple[Page, dict], shop_page: ShopPage
) -> None:
    page, _ = frozen
    page.goto(f"{shop_page.origin}/app")

    expect(page.locator(".vehicles a")).to_have_count(1)
    expect(page.locator(".vehicles")).to_contain_text("not measured yet")
