"""The phone as Chromium shows it: processor slowed four times, network shaped, by its protocol.

The phone is paired with a shop of about 1,000 entries and has pulled all of them.
"""

import statistics
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import long_log
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, expect, sync_playwright
from shop_bench import Line, running

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
from chrome import find_chromium, flags
from hands import Hands, wait_for
from yard import TAG, put_in_the_yard

SLOWED = 4
PHONE = {"viewport": {"width": 360, "height": 800}, "has_touch": True}
# Round trip in ms; bytes a second down and up.
NETWORKS = {
    "fast Wi-Fi": (10, 3_750_000, 3_750_000),
    "poor Wi-Fi": (300, 50_000, 25_000),
    "offline": None,
}
# A screen is usable once its links or its main button are on it and that frame is painted.
WATCH = """
globalThis.seen = {long: [], usable: null, clicked: null, answered: null};
new PerformanceObserver((list) => seen.long.push(...list.getEntries().map((e) => e.duration)))
  .observe({type: 'longtask', buffered: true});
const painted = (then) => requestAnimationFrame(() => {
  const channel = new MessageChannel();
  channel.port1.onmessage = () => then(performance.now());
  channel.port2.postMessage(null);
});
addEventListener('click', (event) => {
  Object.assign(seen, {clicked: event.timeStamp, answered: null});
}, true);
new MutationObserver(() => {
  if (seen.usable === null && document.querySelector('.rows a, form, button.main')) {
    seen.usable = 0;
    painted((time) => { seen.usable = time; });
  }
  if (seen.clicked && seen.answered === null && document.querySelector('.answer')) {
    seen.answered = 0;
    painted((time) => { seen.answered = time - seen.clicked; });
  }
}).observe(document, {childList: true, subtree: true});
"""
FIRST_PAINT = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null"

Figures = dict[str, float]


def measure(folder: Path, runs: int) -> dict[str, Any]:
    """Bytes of the first load, loads and reopenings by network, answer time, memory."""
    long_log.begin(folder, 1000)
    with running(folder, role="lead") as shop, chromium() as browser:
        put_in_the_yard(shop.phones[0])
        url = shop.server.url
        first = {name: first_load(browser, url, name, runs) for name in list(NETWORKS)[:2]}
        with paired(browser, url) as hands:
            again = {name: reopen(hands, name, runs) for name in NETWORKS}
            answers = answered(hands, runs)
        return {"bytes": bytes_of(shop.server.port), "first": first, "again": again, **answers}


@contextmanager
def chromium() -> Iterator[Browser]:
    """The system's Chromium."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=find_chromium(), args=flags())
        yield browser
        browser.close()


def bytes_of(port: int) -> int:
    """What everything that the app keeps takes on the network, compressed."""
    line = Line(port)
    paths = ["/app", "/sw.js", "/manifest.webmanifest", *shell_paths(line.page("/sw.js"))]
    return sum(compressed(port, path) for path in paths)


def shell_paths(worker: str) -> list[str]:
    """The files that the service worker keeps."""
    listed = worker.split("const SHELL = [", 1)[1].split("];", 1)[0]
    return [path.strip(' "') for path in listed.split(",")]


def compressed(port: int, path: str) -> int:
    """The size of one compressed answer's body."""
    line = Line(port)
    line.connection.request("GET", path, headers={"Accept-Encoding": "gzip, br"})
    with line.connection.getresponse() as answer:
        assert answer.status == 200, path
        return len(answer.read())


def shape(context: BrowserContext, page: Page, network: str, slowed: int = SLOWED) -> CDPSession:
    """Slow the page's processor and shape its network."""
    session = context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": slowed})
    session.send("Network.enable")
    given = NETWORKS[network]
    context.set_offline(given is None)
    if given:
        trip, down, up = given
        shaped = {"latency": trip, "downloadThroughput": down, "uploadThroughput": up}
        session.send("Network.emulateNetworkConditions", {"offline": False, **shaped})
    return session


def opened(context: BrowserContext, url: str, network: str) -> Figures:
    """Open the app in a fresh page, and what that took."""
    page = context.new_page()
    session = shape(context, page, network)
    received: list[float] = []
    session.on("Network.loadingFinished", lambda done: received.append(done["encodedDataLength"]))
    page.goto(f"{url}/app")
    wait_for(page, "seen.usable > 0")
    page.wait_for_load_state("load")
    seen = page.evaluate("seen")
    found = {
        "paint": page.evaluate(FIRST_PAINT) or seen["usable"],
        "usable": seen["usable"],
        "long": len(seen["long"]),
        "longest": max(seen["long"], default=0),
        "kb": sum(received) / 1000,
    }
    page.close()
    return found


def middle(found: list[Figures]) -> Figures:
    """The median of each figure."""
    return {name: statistics.median(each[name] for each in found) for name in found[0]}


def first_load(browser: Browser, url: str, network: str, runs: int) -> Figures:
    """The app for the first time, in browsers that hold nothing yet."""
    found = []
    for _ in range(runs):
        context = browser.new_context(**PHONE)
        context.add_init_script(WATCH)
        found.append(opened(context, url, network))
        context.close()
    return middle(found)


def reopen(hands: Hands, network: str, runs: int) -> Figures:
    """The app again on a phone that has it; the first time is not counted."""
    context = hands.page.context
    found = [opened(context, hands.url, network) for _ in range(runs + 1)]
    context.set_offline(False)
    return middle(found[1:])


@contextmanager
def paired(browser: Browser, url: str) -> Iterator[Hands]:
    """A paired phone that has everything."""
    context = browser.new_context(**PHONE)
    context.add_init_script(WATCH)
    hands = Hands(context.new_page(), url)
    hands.pair()
    expect(hands.page.locator(".rows a").nth(9)).to_be_visible()
    yield hands
    context.close()


def answered(hands: Hands, runs: int) -> Figures:
    """From the last touch to the painted answer, in ms, offline; and the memory of scripts, MB."""
    context = hands.page.context
    found = [last_touch(hands) for _ in range(runs + 1)]
    session = context.new_cdp_session(hands.page)
    session.send("Performance.enable")
    session.send("HeapProfiler.collectGarbage")
    metrics = session.send("Performance.getMetrics")["metrics"]
    heap = next(each["value"] for each in metrics if each["name"] == "JSHeapUsedSize")
    return {"answer": statistics.median(found[1:]), "heap": heap / 1e6}


def last_touch(hands: Hands) -> float:
    """Measure a job up to its last reading, then slow the phone and keep that one, in ms."""
    hands.page.goto(f"{hands.url}/t/{TAG}")
    hands.type_the_last_reading("for the clock")
    session = shape(hands.page.context, hands.page, "offline")
    hands.keep_button.click()
    wait_for(hands.page, "seen.answered > 0")
    found = hands.page.evaluate("seen.answered")
    session.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    session.detach()
    hands.page.context.set_offline(False)
    return float(found)
