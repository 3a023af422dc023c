"""What the browser tests share: Chromium, blank pages for the app's modules, and a bad network."""

from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from badproxy import BadProxy
from chrome import find_chromium, flags, prepare
from hands import Hands
from kit.phones import Phone
from kit.servers import Server
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Error,
    Page,
    Playwright,
    expect,
    sync_playwright,
)
from shelf import Shelf, serving
from shop_pages import ShopPage
from yard import TAG, put_in_the_yard

Shop = tuple[Server, Phone]

# A machine that runs other things beside the tests is slow, and no screen is wrong for that.
expect.set_options(timeout=20_000)


@pytest.fixture(scope="session")
def chromium() -> str:
    """The path of the system's Chromium; without one these tests fail, and say what is missing."""
    found = find_chromium()
    if not found:
        pytest.fail("No Chromium found: install one, or name it in AXLEWRIGHT_CHROMIUM.")
    return found


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The driver of all browsers."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def browser(playwright: Playwright, chromium: str) -> Iterator[Browser]:
    """One Chromium that gives every test its own empty context."""
    browser = playwright.chromium.launch(executable_path=chromium, args=flags())
    yield browser
    browser.close()


@pytest.fixture
def context(browser: Browser, shelf: Shelf) -> Iterator[BrowserContext]:
    """A browser context with nothing stored, for pages of the shelf."""
    context = browser.new_context()
    yield prepare(context, shelf.build)
    context.close()


@pytest.fixture
def page(context: BrowserContext, shelf: Shelf) -> Page:
    """A blank page on the shelf's origin."""
    page = context.new_page()
    page.goto(f"{shelf.origin}/blank")
    return page


@pytest.fixture
def launch(playwright: Playwright, chromium: str) -> Iterator[Callable[..., BrowserContext]]:
    """Opens a Chromium on a profile folder that outlives it: launch(profile, build)."""
    opened = []

    def open_profile(profile: Path, build: str) -> BrowserContext:
        context = playwright.chromium.launch_persistent_context(
            profile, executable_path=chromium, args=flags()
        )
        opened.append(context)
        return prepare(context, build)

    yield open_profile
    for context in opened:
        with suppress(Error):
            context.close()


@pytest.fixture
def shelf() -> Iterator[Shelf]:
    """A server of the app's static files alone."""
    with serving(Shelf()) as shelf:
        yield shelf


@pytest.fixture
def bad_proxy() -> Iterator[Callable[[int], BadProxy]]:
    """Makes proxies to a port of this machine that can be told to misbehave."""
    made: list[BadProxy] = []

    def make(port: int) -> BadProxy:
        made.append(BadProxy(port))
        return made[-1]

    yield make
    for proxy in made:
        proxy.close()


@pytest.fixture
def shop_page(browser: Browser, real_server: tuple[Server, Phone]) -> Iterator[ShopPage]:
    """Blank pages of a browser whose phone is paired with a real shop."""
    context = browser.new_context()
    yield ShopPage(context, *real_server)
    context.close()


@pytest.fixture
def shop_of_one(real_server: Shop, leads_phone: Phone) -> Shop:
    """The real service with one vehicle on file: (server, a technician's phone)."""
    put_in_the_yard(leads_phone)
    return real_server


@pytest.fixture
def new_hands(
    browser: Browser, shop_of_one: tuple[Server, Phone]
) -> Iterator[Callable[..., Hands]]:
    """Gives an unpaired phone to a technician, as the browser's options say."""
    contexts = []

    def give(**options: Any) -> Hands:
        phone = {"viewport": {"width": 360, "height": 800}, "has_touch": True}
        contexts.append(browser.new_context(**{**phone, **options}))
        return Hands(contexts[-1].new_page(), shop_of_one[0].url)

    yield give
    for context in contexts:
        context.close()


@pytest.fixture
def hands(new_hands: Callable[..., Hands]) -> Hands:
    """A technician with a paired phone, at the list of vehicles."""
    made = new_hands()
    made.pair()
    return made


@pytest.fixture
def hands_at_vehicle(new_hands: Callable[..., Hands], shop_of_one: Shop) -> Hands:
    """A technician with a paired phone who has opened the vehicle of the yard."""
    made = new_hands()
    made.shop = shop_of_one[1]
    made.pair()
    made.open_tag(TAG)
    return made
