"""The phone's own storage when its page or the whole browser dies."""

import os
import re
import signal
import subprocess
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from chrome import flags, prepare
from playwright.sync_api import BrowserContext, Error, Page, Playwright
from shelf import Shelf
from store_counts import counts

pytestmark = pytest.mark.browser


@pytest.fixture
def killable(
    chromium: str, playwright: Playwright, tmp_path: Path, shelf: Shelf
) -> Iterator[tuple[subprocess.Popen, BrowserContext]]:
    """A Chromium in a process group of its own on the profile `tmp_path`, and its context."""
    command = [
        chromium,
        *flags(),
        "--headless=new",
        "--remote-debugging-port=0",
        f"--user-data-dir={tmp_path}",
    ]
    process = subprocess.Popen(
        [*command, "--remote-debugging-port=0", "about:blank"],
        stderr=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        text=True,
        start_new_session=True,
    )
    address = next(filter(None, (re.search(r"ws://\S+", line) for line in process.stderr)))
    browser = playwright.chromium.connect_over_cdp(address[0])
    yield process, prepare(browser.contexts[0], shelf.build)
    with suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    process.stderr.close()


@pytest.mark.skipif(not hasattr(os, "killpg"), reason="Process groups are killed by POSIX signals.")
def test_f06_twenty_saves_survive_a_killed_browser(
    killable: tuple, launch: Callable[..., BrowserContext], tmp_path: Path, shelf: Shelf
) -> None:
    process, context = killable
    mortal = context.new_page()
    mortal.goto(f"{shelf.origin}/blank")
    mortal.evaluate("keepReadings(20)")
    os.killpg(process.pid, signal.SIGKILL)
    process.wait()

    reborn = launch(tmp_path, shelf.build).new_page()
    reborn.goto(f"{shelf.origin}/blank")
    assert counts(reborn)["onPhoneOnly"] == 20


def crash(page: Page) -> None:
    """End the page's process as the system does when memory is short."""
    with page.expect_event("crash"), suppress(Error):
        page.goto("chrome://crash")


def test_f13_a_draft_survives_a_crash(page: Page, shelf: Shelf) -> None:
    page.evaluate("phoneStore().then((store) => store.putDraft('left', '14 3/8'))")
    page.evaluate("phoneStore().then((store) => store.putDraft('right', '14 1/'))")

    crash(page)

    again = page.context.new_page()
    again.goto(f"{shelf.origin}/blank")
    assert again.evaluate("phoneStore().then((store) => store.drafts())") == [
        {"key": "left", "text": "14 3/8"},
        {"key": "right", "text": "14 1/"},
    ]


def test_f13_a_crash_amid_keeping_leaves_all_or_nothing(page: Page, shelf: Shelf) -> None:
    before = page.evaluate("keepReadings(2)")
    page.evaluate("""async () => {
      const store = await phoneStore();
      const many = await Promise.all(Array.from({length: 400}, (_, value) => reading(value)));
      store.keep(many);
    }""")

    crash(page)

    again = page.context.new_page()
    again.goto(f"{shelf.origin}/blank")
    after = again.evaluate("unsentIds()")
    assert after[:2] == before
    assert len(after) in (2, 402)
