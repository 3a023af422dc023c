"""A technician's phone of the bad week: a Chromium on a profile of its own that can be killed."""

import os
import re
import signal
import subprocess
import time
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

from chrome import flags
from kit.pictures import name_of
from playwright.sync_api import Error, Page, Playwright

from webapp.phone.compiler.bundle import SCRIPT_ADDRESS, in_order, joined
from webapp.phone.compiler.compile import compile_scope, reckon_texts
from webapp.phone.compiler.finished import asked_by
from webapp.phone.shell_files import static_folder

PATIENCE_MS = 20_000
TICK_MS = 400
JOB = "22222222-2222-4222-8222-222222222222"
VEHICLE = "11111111-1111-4111-8111-111111111111"

# What the page does with the store, without a module that would have to be fetched by itself: a
# phone keeps the joined app only, and a build that it still uses may be gone from the shop.
HAND = """import * as store from './store/store.js';
import * as entries from './store/entries.js';
globalThis.use = async (name) => ({store, entries})[name];
globalThis.phoneStore = store.open;
"""
# Makes entries of some kind and keeps them one after the other; what was kept is told at once.
KEEP = """async ([kind, bodies, where]) => {
  const {makeEntry, BUILD} = await use('entries');
  const store = await phoneStore();
  const phone = (await store.fact('phone')).id;
  const kept = [];
  for (const body of bodies) {
    const entry = makeEntry({kind, body, ...where}, {phone, build: BUILD});
    try {
      kept.push((await store.keep([entry]))[0].id);
    } catch (error) {
      if (error.name !== 'NotKept') throw error;
    }
  }
  return kept;
}"""
# Keeps a photo with the entry that names it, in one step.
SHOOT = """async ([sha256, bytes, where]) => {
  const {makeEntry, BUILD} = await use('entries');
  const store = await phoneStore();
  const phone = (await store.fact('phone')).id;
  const body = {sha256, of: 'weld', width: 1600, height: 1200, bytes: bytes.length};
  const entry = makeEntry({kind: 'photo', body, ...where}, {phone, build: BUILD});
  const photo = {sha256, bytes: Uint8Array.from(bytes).buffer, made_at: entry.made_at};
  try {
    return (await store.keep([entry], {photos: [photo]}))[0].id;
  } catch (error) {
    if (error.name !== 'NotKept') throw error;
    return null;
  }
}"""
# The phone's clock is moved by so many milliseconds for this page.
MOVE_CLOCK = """(shift) => {
  const Real = globalThis.RealDate ??= Date;
  globalThis.Date = class extends Real {
    constructor(...values) { values.length ? super(...values) : super(Real.now() + shift); }
    static now() { return Real.now() + shift; }
  };
}"""
HOLDS = """async () => {
  const store = await phoneStore();
  const [unsent, needing, lent] = [await store.unsent(), await store.needYou(), await store.lent()];
  const shots = [await store.photos.inState('kept'), await store.photos.inState('needs_you')];
  const {cursor = 0, epoch} = await store.facts();
  const ids = (records) => records.map(({id}) => id);
  const refused = needing.map(({id, reason}) => [id, reason]);
  return {unsent: ids(unsent), needing: refused, lent: ids(lent), cursor, epoch,
    photos: shots.flat().map(({sha256}) => sha256)};
}"""
LOG = """async (vehicle) => {
  const entries = await (await phoneStore()).entriesOf({vehicle});
  return entries.map(({id, seq}) => [id, seq ?? null]);
}"""
# What goes to the shop without anybody's help.
SENT = ("unsent", "lent", "photos")
PAIRED = "async () => Boolean(await (await phoneStore()).fact('phone'))"
NUDGE = "document.dispatchEvent(new Event('visibilitychange'))"


@cache
def hand() -> str:
    """HAND and the modules that it needs, as one script to be run in the page."""
    folder = static_folder()
    paths = (folder / "js").rglob("*.js")
    texts = {path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in paths}
    modules = {**texts, "js/hand.js": HAND}
    asked = asked_by(modules, in_order(modules, "js/hand.js"))
    script = joined(modules, "js/hand.js", compile_scope(reckon_texts(), asked))
    # A script that is evaluated has no address of its own; its build is that of the page's app.
    return script.replace(SCRIPT_ADDRESS, "document.querySelector('script[src]').src")


class BadPhone:
    """One phone; everything that its screen called kept is in `kept`, photos in `shots`."""

    def __init__(self, playwright: Playwright, chromium: str, profile: Path, origin: str) -> None:
        """A phone that reaches the shop at `origin`; not switched on yet."""
        self.playwright, self.chromium = playwright, chromium
        self.profile, self.origin = profile, origin
        self.kept: list[str] = []
        self.shots: list[str] = []
        self.process: subprocess.Popen[str] | None = None
        self.page: Page

    def switch_on(self, path: str = "/app") -> None:
        """Start the browser on its profile and open the app, as far as it opens."""
        command = [self.chromium, *flags(), "--headless=new", "--remote-debugging-port=0"]
        self.process = subprocess.Popen(
            [*command, f"--user-data-dir={self.profile}", "about:blank"],
            stderr=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            text=True,
            start_new_session=True,
        )
        assert self.process.stderr is not None
        said = (re.search(r"ws://\S+", line) for line in self.process.stderr)
        address = next(found[0] for found in said if found)
        self.browser = self.playwright.chromium.connect_over_cdp(address)
        context = self.browser.contexts[0]
        context.set_default_timeout(PATIENCE_MS)
        self.page = context.new_page()
        self.open(path)

    def pair(self, code: str) -> None:
        """Switch it on for the first time, by a pairing code; it is somebody's afterward."""
        self.switch_on(f"/app#pair={code}")
        self.page.wait_for_function(PAIRED)
        self.page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    def open(self, path: str = "/app") -> None:
        """Load the app, from the network or from what the worker keeps."""
        self.page.goto(self.origin + path)
        self.page.locator(".state").wait_for()
        self.page.evaluate(hand())
        tick = "(tick) => phoneStore().then((store) => store.setFact('tick_ms', tick))"
        self.page.evaluate(tick, TICK_MS)

    def kill(self) -> None:
        """End the browser at once, as an empty battery would."""
        assert self.process is not None and self.process.stderr is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self.process.stderr.close()
        with suppress(Error):
            self.browser.close()
        self.process = None

    def switch_off(self) -> None:
        """Kill it when it is on."""
        if self.process is not None:
            self.kill()

    def keep(self, kind: str, *bodies: dict[str, Any], **where: Any) -> None:
        """Keep entries, and remember those that were called kept."""
        place = {"vehicle": VEHICLE, "job": JOB, "round": "as_found", **where}
        self.kept += self.page.evaluate(KEEP, [kind, list(bodies), place])

    def shoot(self, body: bytes) -> None:
        """Keep a photo, and remember it and its entry when they were called kept."""
        place = {"vehicle": VEHICLE, "job": JOB, "round": "as_found"}
        kept = self.page.evaluate(SHOOT, [name_of(body), list(body), place])
        if kept is not None:
            self.kept.append(kept)
            self.shots.append(name_of(body))

    def begin_to_keep(self, kind: str, *bodies: dict[str, Any]) -> None:
        """Begin to keep entries without waiting to be told."""
        place = {"vehicle": VEHICLE, "job": None, "round": None}
        self.page.evaluate(f"(given) => {{ ({KEEP})(given); }}", [kind, list(bodies), place])

    def holds(self) -> dict[str, Any]:
        """What the store says that the shop does not have."""
        found: dict[str, Any] = self.page.evaluate(HOLDS)
        return found

    def nudge(self) -> None:
        """What happens when the phone is taken out of the pocket."""
        self.page.evaluate(NUDGE)

    def settle(self, high_water: int, seconds: float = 60) -> dict[str, Any]:
        """What it still holds once it has nothing to send and has read all, or after this time."""
        until = time.monotonic() + seconds
        held = self.holds()
        while any(held[name] for name in SENT) or held["cursor"] < high_water:
            if time.monotonic() > until:
                return held
            self.nudge()
            time.sleep(0.2)
            held = self.holds()
        return held

    def log(self) -> list[list[Any]]:
        """The ids and sequence numbers of the vehicle's entries, in the order of its screens."""
        found: list[list[Any]] = self.page.evaluate(LOG, VEHICLE)
        return found
