"""The bad week: phones, shop PC and network misbehave at random, and nothing may be lost.

Real browsers with the real app, the real service in a process of its own, a proxy between them
that goes silent, hangs up, swallows replies and dawdles. At the end everything is healed, and:
every entry that a phone called kept is in the log exactly once, or that phone shows that it holds
it; so is every photo, byte for byte; the chain is whole; every phone shows the same log. The same
seed makes the same choices.
"""

import json
import random
import shutil
import tempfile
import time
from collections import Counter
from contextlib import ExitStack, suppress
from pathlib import Path
from typing import Any

from bad_phone import MOVE_CLOCK, BadPhone
from badproxy import BadProxy
from chrome import find_chromium
from kit.phones import Phone, asking_at
from kit.pictures import jpeg
from kit.servers import Server
from playwright.sync_api import Playwright, TimeoutError

from webapp.door.pairing import new_pairing_code
from webapp.maintenance import backups
from webapp.phone.shell_files import static_folder
from webapp.shoplog import ShopLog
from webapp.shoplog.files.photo_files import PHOTOS, photo_files
from webapp.shoplog.full_check import awaited_photos, check_all

DAY_MS = 24 * 3600 * 1000
NAMES = ("Dana Reyes", "Frank Delgado")


class BadWeek:
    """The shop, its phones and everything that can happen to them."""

    def __init__(self, folder: Path, playwright: Playwright, chromium: str, seed: int) -> None:
        """A shop before anything goes wrong, with nothing switched on yet."""
        self.folder, self.chance = folder, random.Random(seed)
        self.playwright, self.chromium = playwright, chromium
        self.done: Counter[str] = Counter()
        self.builds = self.shots = 0
        self.static = folder / "static"
        shutil.copytree(static_folder(), self.static)
        self.data = folder / "data"
        self.running = ExitStack()
        self.phones: list[BadPhone] = []

    def begin(self) -> None:
        """Start the service and a phone for each technician, paired and open."""
        codes = self.hire()
        self.server = Server(self.data).start(STATIC=self.static)
        self.running.callback(self.server.kill)
        self.watcher = Phone(asking_at(self.server.url), codes.pop())
        self.proxy = BadProxy(self.server.port)
        self.running.callback(self.proxy.close)
        for number, code in enumerate(codes):
            profile = self.folder / f"phone {number}"
            phone = BadPhone(self.playwright, self.chromium, profile, self.proxy.origin)
            self.running.callback(phone.switch_off)
            phone.pair(code)
            self.phones.append(phone)
        self.back_up()

    def hire(self) -> list[str]:
        """A pairing code for each technician's phone, and one for who looks on."""
        with ShopLog(self.data) as log:
            log.add_person("Orla Bennett", "lead")
            people = [log.add_person(name, "technician") for name in NAMES]
            return [new_pairing_code(log, person["id"]) for person in [*people, people[0]]]

    def live(self, actions: int) -> None:
        """Let so many things happen."""
        names, weights = zip(*ACTIONS.items(), strict=True)
        for _ in range(actions):
            name = self.chance.choices(names, weights)[0]
            self.done[name] += 1
            getattr(self, name)()

    def someone(self) -> BadPhone:
        """A phone that is switched on, by chance."""
        return self.chance.choice(self.phones)

    def read(self) -> None:
        """Somebody takes readings."""
        side = self.chance.choice(["left", "right"])
        body = {"step": "heights", "field": side, "unit": "mm", "read_to": 1}
        values = [self.chance.randint(1800, 2600) / 10 for _ in range(self.chance.randint(1, 6))]
        self.someone().keep("reading", *[{**body, "value": value} for value in values])

    def strike(self) -> None:
        """Somebody crosses out an entry of anybody's."""
        made = [name for phone in self.phones for name in phone.kept]
        if made:
            body = {"target": self.chance.choice(made), "reason": "misread"}
            self.someone().keep("strike", body)

    def write(self) -> None:
        """Somebody writes a note about the vehicle."""
        self.someone().keep("note", {"text": "grease on the bracket"}, job=None, round=None)

    def shoot(self) -> None:
        """Somebody takes photos, no two alike."""
        phone = self.someone()
        for _ in range(self.chance.randint(1, 2)):
            self.shots += 1
            phone.shoot(jpeg(fill=self.chance.randint(1, 30) * 1000 + self.shots))

    def kill_phone(self) -> None:
        """A phone dies, perhaps while it keeps readings, and is switched on again."""
        phone = self.someone()
        if self.chance.random() < 0.5:
            phone.begin_to_keep("note", {"text": "half way"}, {"text": "down the stairs"})
            time.sleep(self.chance.uniform(0, 0.02))
        phone.kill()
        phone.switch_on()

    def reload_phone(self) -> None:
        """Somebody loads the page again."""
        self.someone().open()

    def kill_server(self) -> None:
        """The shop PC dies and is started again."""
        self.server.kill()
        self.server.start(STATIC=self.static)

    def restart_server(self) -> None:
        """The service is stopped in good order and started again."""
        self.server.stop()
        self.server.start(STATIC=self.static)

    def update(self) -> None:
        """The shop PC gets a new build; phones change over where they are offered to."""
        self.builds += 1
        page = self.static / "manifest.webmanifest"
        manifest = {
            **json.loads(page.read_text("utf-8")),
            "description": f"App version {self.builds}",
        }
        page.write_text(json.dumps(manifest), "utf-8")
        self.restart_server()

    def change_over(self) -> None:
        """Somebody sees that a new build is ready, and changes over."""
        phone = self.someone()
        phone.nudge()
        button = phone.page.get_by_role("button", name="Update now")
        if button.count():
            button.click()
            # The page loads itself again once the new build is in charge; somebody impatient does.
            with suppress(TimeoutError):
                phone.page.wait_for_event("load", timeout=5_000)
            phone.open()

    def silence(self) -> None:
        """The network swallows everything for a while."""
        self.misbehave("silent", True)

    def deafness(self) -> None:
        """What phones send arrives, and no reply comes back."""
        self.misbehave("deaf", True)

    def dawdle(self) -> None:
        """The network is slow for a while."""
        self.misbehave("delay", self.chance.uniform(0.02, 0.2))

    def misbehave(self, how: str, value: Any) -> None:
        """Misbehave while somebody works, then behave again."""
        setattr(self.proxy, how, value)
        self.read()
        for phone in self.phones:
            phone.nudge()
        time.sleep(self.chance.uniform(0.1, 1.0))
        self.proxy.heal()

    def hang_up(self) -> None:
        """Every connection is cut."""
        for phone in self.phones:
            phone.nudge()
        self.proxy.hang_up()

    def walk_off(self) -> None:
        """A phone is out of reach while its owner works."""
        phone = self.someone()
        phone.page.context.set_offline(True)
        phone.keep("note", {"text": "behind the shed"}, job=None, round=None)
        if self.chance.random() < 0.5:
            phone.open()
        phone.page.context.set_offline(False)

    def move_clock(self) -> None:
        """A phone's clock jumps, by minutes or by years."""
        shift = self.chance.choice([-56 * 365, -1, 0.01, 1, 14 * 365]) * DAY_MS
        phone = self.someone()
        phone.page.evaluate(MOVE_CLOCK, shift)
        phone.keep("note", {"text": "what day is it"}, job=None, round=None)

    def back_up(self) -> None:
        """A backup is made while the service runs."""
        backups.make(self.data, [self.folder / "backups"])

    def restore(self) -> None:
        """The newest backup is put back, on a disk that lost every photo since."""
        self.server.stop()
        shutil.rmtree(self.data / PHOTOS, ignore_errors=True)
        backups.put_back(self.folder / "backups", self.data)
        self.server.start(STATIC=self.static)

    def end(self) -> dict[str, Any]:
        """Heal everything, let everybody finish, and tell what was found."""
        self.proxy.heal()
        self.settle()
        rows = self.rows()
        held = [phone.settle(rows[-1]["seq"]) for phone in self.phones]
        found = {
            **verdict(self.phones, rows, held),
            **self.pictures(held),
            "faults": check_all(self.data) + awaited_photos(self.data),
            "screens": [phone.page.locator(".state").inner_text() for phone in self.phones],
        }
        return {**found, "done": dict(self.done), "entries": len(rows), "held": held}

    def pictures(self, held: list[dict[str, Any]]) -> dict[str, Any]:
        """How many photos were called kept, and which of them are nowhere any more."""
        there = photo_files(self.data)
        shots = [
            (name, holds)
            for phone, holds in zip(self.phones, held, strict=True)
            for name in phone.shots
        ]
        gone = [name for name, holds in shots if name not in {*there, *holds["photos"]}]
        return {"photos": len(shots), "photos_lost": gone}

    def settle(self) -> None:
        """Let every phone send all it has, then read what the others sent."""
        for phone in self.phones:
            phone.settle(0)

    def rows(self) -> list[dict[str, Any]]:
        """The whole log."""
        found: list[dict[str, Any]] = []
        page: dict[str, Any] = {"next": 0, "more": True}
        while page["more"]:
            page = self.watcher.pull(page["next"]).json
            found += page["entries"]
        return found

    def close(self) -> None:
        """Switch off whatever was switched on."""
        self.running.close()


def verdict(
    phones: list[BadPhone], rows: list[dict[str, Any]], held: list[dict[str, Any]]
) -> dict[str, Any]:
    """What was lost, doubled or shown differently; all empty when the week was survived."""
    stored = Counter(row["id"] for row in rows)
    order = [[row["id"], row["seq"]] for row in rows]
    lost = [
        name
        for phone, holds in zip(phones, held, strict=True)
        for name in phone.kept
        if name not in stored
        and name not in {*holds["unsent"], *(each for each, _ in holds["needing"])}
    ]
    return {
        "kept": sum(len(phone.kept) for phone in phones),
        "lost": lost,
        "doubled": [name for name, count in stored.items() if count > 1],
        "outstanding": sum(
            len(each[name]) for each in held for name in ("unsent", "needing", "photos")
        ),
        "disagree": [number for number, phone in enumerate(phones) if phone.log() != order],
    }


# What can happen, and how often against the other things.
ACTIONS = {
    "read": 30,
    "strike": 8,
    "write": 5,
    "shoot": 6,
    "kill_phone": 5,
    "reload_phone": 4,
    "kill_server": 5,
    "restart_server": 2,
    "update": 3,
    "change_over": 5,
    "silence": 5,
    "deafness": 6,
    "dawdle": 4,
    "hang_up": 6,
    "walk_off": 6,
    "move_clock": 4,
    "back_up": 4,
    "restore": 4,
}


def bad_week(seed: int, actions: int, driver: Playwright) -> dict[str, Any]:
    """What one bad week came to; see `verdict`."""
    chromium = find_chromium()
    assert chromium, "No Chromium found: install one, or name it in AXLEWRIGHT_CHROMIUM."
    began = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="bad-week-") as folder:
        week = BadWeek(Path(folder), driver, chromium, seed)
        try:
            week.begin()
            week.live(actions)
            return {**week.end(), "seconds": round(time.monotonic() - began)}
        finally:
            week.close()


def survived(found: dict[str, Any]) -> bool:
    """Whether nothing was lost, doubled, damaged or shown differently."""
    bad = ("lost", "photos_lost", "doubled", "faults", "disagree")
    return not any(found[name] for name in bad)
