"""The phone's own storage when disks fill and connections drop."""

import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page
from shelf import STATIC, Shelf
from store_counts import counts
from store_text import steps_of_transactions

pytestmark = pytest.mark.browser


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A folder on a disk of its own of 96 MB, or a skipped test that says why there is none."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=96m", "tmpfs", str(folder)]
    if (
        not shutil.which("mount")
        or subprocess.run(mount, capture_output=True, check=False).returncode
    ):
        pytest.skip("A small disk cannot be mounted here: that needs Linux and root.")
    yield folder
    subprocess.run(["umount", "--lazy", str(folder)], check=True)


def fill(folder: Path) -> Path:
    """A file that takes all the room left on the folder's disk."""
    filler = folder / "filler"
    with filler.open("wb", buffering=0) as file, suppress(OSError):
        while True:
            file.write(bytes(4096))
    return filler


def test_f01_a_full_disk_keeps_nothing_and_says_so(
    launch: Callable[..., BrowserContext], small_disk: Path, shelf: Shelf
) -> None:
    page = launch(small_disk / "profile", shelf.build).new_page()
    page.goto(f"{shelf.origin}/blank")
    page.evaluate("keepReadings(1)")
    page.evaluate("phoneStore().then((store) => store.putDraft('left', '14 3/8'))")
    filler = fill(small_disk)

    outcome = page.evaluate("""async () => {
      globalThis.entry = await reading(2);
      entry.typed = Array.from(crypto.getRandomValues(new Uint8Array(60000))).join(' ');
      return outcome((await phoneStore()).keep([entry], {dropDraft: 'left'}));
    }""")
    assert outcome[0] == "NotKept"
    # Depending on what the disk refused first, the browser closes the store or just the write.
    assert outcome[1].startswith(("Not saved:", "The data on this phone does not open. Nothing"))

    filler.unlink()
    page.evaluate("""async () => {
      const store = await phoneStore();
      if (await store.draft('left') !== '14 3/8') throw new Error('the draft is gone');
      await store.keep([entry], {dropDraft: 'left'});
    }""")
    assert counts(page)["onPhoneOnly"] == 2


def clear_site_data(page: Page, origin: str) -> None:
    """Have the browser drop the open database, as it does when the person clears its data."""
    session = page.context.new_cdp_session(page)
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "indexeddb"})


def test_f02_a_dropped_connection_is_opened_again(page: Page, shelf: Shelf) -> None:
    page.evaluate("keepReadings(2)")
    clear_site_data(page, shelf.origin)

    page.evaluate("reading(3).then((entry) => { globalThis.entry = entry; })")
    refused = page.evaluate("phoneStore().then((store) => outcome(store.keep([entry])))")
    assert refused[0] == "NotKept"
    assert "was deleted, by somebody or by the browser" in refused[1]
    page.evaluate("keepReadings(3)")

    assert counts(page)["onPhoneOnly"] == 3


BREAK_TRANSACTIONS = """(times) => {
  const real = IDBDatabase.prototype.transaction;
  let left = times;
  IDBDatabase.prototype.transaction = function (...values) {
    if (left-- > 0) throw new DOMException('Connection lost', 'UnknownError');
    return real.apply(this, values);
  };
}"""


def test_f02_one_lost_connection_is_not_noticed(page: Page) -> None:
    page.evaluate("phoneStore()")
    page.evaluate(BREAK_TRANSACTIONS, 1)

    page.evaluate("keepReadings(1)")

    assert counts(page)["onPhoneOnly"] == 1


def test_f02_a_lost_store_is_told_and_the_draft_survives_a_reload(page: Page) -> None:
    page.evaluate("phoneStore().then((store) => store.putDraft('left', '14 3/8'))")
    page.evaluate("reading(1).then((entry) => { globalThis.entry = entry; })")
    page.evaluate(BREAK_TRANSACTIONS, 1_000_000)

    name, says = page.evaluate("phoneStore().then((store) => outcome(store.keep([entry])))")
    assert name == "NotKept"
    assert says.startswith("The storage on this phone stopped responding. Reload this page")

    page.reload()
    assert page.evaluate("phoneStore().then((store) => store.draft('left'))") == "14 3/8"


def test_f03_ten_saves_across_a_forced_close_are_each_kept_or_refused(
    page: Page, shelf: Shelf
) -> None:
    page.evaluate("phoneStore()")
    page.evaluate("""() => {
      const save = async (value) => {
        const entry = await reading(value);
        return String(await outcome((await phoneStore()).keep([entry])));
      };
      globalThis.outcomes = Promise.all(Array.from({length: 10}, (_, value) => save(value)));
    }""")
    clear_site_data(page, shelf.origin)

    outcomes = page.evaluate("outcomes")
    assert len(outcomes) == 10
    assert all(outcome == "kept" or outcome.startswith("NotKept,") for outcome in outcomes)
    # Clearing took away what was kept before it, and nothing can have come back.
    assert counts(page)["onPhoneOnly"] <= outcomes.count("kept")
    [last] = page.evaluate("keepReadings(1)")
    assert last in page.evaluate(
        "phoneStore().then((s) => s.unsent()).then((all) => all.map(({id}) => id))"
    )


def test_f04_a_store_that_does_not_open_is_told_and_never_thrown_away(page: Page) -> None:
    page.evaluate("""() => {
      globalThis.thrownAway = 0;
      indexedDB.deleteDatabase = () => { thrownAway += 1; };
      IDBFactory.prototype.open = function () {
        const asked = {error: new DOMException('No backing store', 'UnknownError')};
        setTimeout(() => asked.onerror(), 0);
        return asked;
      };
    }""")

    name, says = page.evaluate("outcome(phoneStore())")

    assert name == "StoreBroken"
    assert says.startswith("The data on this phone does not open.")
    assert page.evaluate("thrownAway") == 0


SILENT_OPEN = """() => {
  const real = IDBFactory.prototype.open;
  globalThis.speak = [];
  IDBFactory.prototype.open = function (...values) {
    const asked = {};
    speak.push(() => {
      const late = real.apply(indexedDB, values);
      for (const name of ['onupgradeneeded', 'onsuccess', 'onerror']) {
        late[name] = (event) => { asked.result = late.result; asked[name](event); };
      }
    });
    return asked;
  };
}"""


def test_f05_a_store_that_does_not_answer_is_told_in_time_and_may_answer_later(page: Page) -> None:
    page.evaluate(SILENT_OPEN)

    outcome = page.evaluate("""async () => {
      const begun = performance.now();
      const error = await phoneStore().catch((broken) => broken);
      globalThis.later = error.later;
      return {name: error.name, says: error.says, took: performance.now() - begun};
    }""")
    assert outcome["name"] == "StoreBroken"
    assert outcome["says"].startswith("The storage on this phone does not respond.")
    assert outcome["took"] < 4000

    assert page.evaluate("(speak[0](), later.then((store) => store.counts()))") == {
        "onPhoneOnly": 0,
        "photos": 0,
        "oldest": None,
        "needYou": 0,
    }


def test_f06_kept_means_on_disk(page: Page) -> None:
    page.evaluate("""() => {
      const real = IDBDatabase.prototype.transaction;
      globalThis.durable = [];
      IDBDatabase.prototype.transaction = function (...values) {
        const transaction = real.apply(this, values);
        if (transaction.mode === 'readwrite') durable.push(transaction.durability);
        return transaction;
      };
    }""")

    page.evaluate("keepReadings(2)")

    assert page.evaluate("durable") == ["strict", "strict"]


def test_f08_the_answer_to_asking_for_persistence_is_kept(
    launch: Callable[..., BrowserContext], tmp_path: Path, shelf: Shelf
) -> None:
    page = launch(tmp_path, shelf.build).new_page()
    page.goto(f"{shelf.origin}/blank")
    assert page.evaluate("phoneStore().then((store) => store.persist())") is False
    assert page.evaluate("phoneStore().then((store) => store.fact('persisted'))") is False

    page.context.new_cdp_session(page).send(
        "Browser.grantPermissions", {"origin": shelf.origin, "permissions": ["durableStorage"]}
    )
    assert page.evaluate("phoneStore().then((store) => store.persist())") is True
    assert page.evaluate("phoneStore().then((store) => store.fact('persisted'))") is True


def test_f10_a_newer_version_in_another_tab_is_let_through(page: Page, shelf: Shelf) -> None:
    ids = page.evaluate("keepReadings(3)")
    page.evaluate("""async () => {
      globalThis.heard = [];
      globalThis.store = await phoneStore();
      store.onChange((what) => heard.push(what));
      globalThis.entry = await reading(4);
    }""")
    newer = page.context.new_page()
    newer.goto(f"{shelf.origin}/blank")

    outbox = newer.evaluate("""() => new Promise((resolve, reject) => {
      const asked = indexedDB.open('axlewright', 99);
      asked.onblocked = () => reject(new Error('blocked'));
      asked.onsuccess = () => {
        const all = asked.result.transaction('entries').objectStore('entries').getAllKeys();
        all.onsuccess = () => resolve(all.result);
      };
    })""")

    assert sorted(outbox) == sorted(ids)
    page.wait_for_function("heard.includes('yield')")
    assert page.evaluate("outcome(store.keep([entry]))") == [
        "NotKept",
        "A newer version of this app is in use on this phone. Reload this page.",
    ]


def test_f11_slow_work_before_keeping_does_not_lose_the_entry(page: Page) -> None:
    page.evaluate("""async () => {
      const store = await phoneStore();
      const entry = await reading(1);
      await new Promise((resolve) => setTimeout(resolve, 500));
      entry.typed = String((await crypto.subtle.digest('SHA-256', new Uint8Array(8))).byteLength);
      await store.keep([entry]);
    }""")
    assert counts(page)["onPhoneOnly"] == 1


def test_f11_no_step_of_a_transaction_waits_for_anything() -> None:
    store = (STATIC / "js" / "store" / "store.js").read_text(encoding="utf-8")
    database = (STATIC / "js" / "store" / "database.js").read_text(encoding="utf-8")
    transact = database[
        database.index("function transact") : database.index("One connection to the phone")
    ]

    assert len(steps_of_transactions(store)) > 5
    assert not [step for step in steps_of_transactions(store) if "await" in step]
    assert "async (transaction" not in store
    assert "await" not in transact
