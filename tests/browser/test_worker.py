"""The service worker: the app opens without the network, and only ever as a whole of one build."""

import pytest
from playwright.sync_api import BrowserContext, Page
from shelf import Shelf
from shop_pages import ShopPage

pytestmark = pytest.mark.browser

START = """async () => {
  globalThis.updates = [];
  const {startWorker} = await use('worker');
  globalThis.worker = await startWorker({onUpdate: ({state}) => updates.push(state)});
}"""
FOREIGN = (
    200,
    {"Content-Type": "text/html"},
    b"<!doctype html><title>Sign in to the Wi-Fi</title>",
)


def start(page: Page) -> None:
    """Register the worker from this page."""
    page.evaluate(START)


def install(page: Page) -> None:
    """Register the worker and wait until it has the whole shell."""
    start(page)
    page.wait_for_function("updates.includes('first')")


def deploy(shelf: Shelf, page: Page, build: str) -> None:
    """Serve another build, and have the page look for it."""
    shelf.build = build
    page.evaluate("worker.check()")


def title_without_network(context: BrowserContext, url: str) -> str:
    """What opens at this address while nothing can be reached."""
    context.set_offline(True)
    page = context.new_page()
    page.goto(url)
    return page.title()


@pytest.mark.parametrize("path", ["/app", "/t/K7RM-4TQX", "/t/K7RM-4TQX?again=1"])
def test_the_app_opens_without_the_network_after_one_visit(
    page: Page, context: BrowserContext, shelf: Shelf, path: str
) -> None:
    install(page)

    assert title_without_network(context, shelf.origin + path) == "build-a"


def test_every_asset_of_the_shell_is_there_without_the_network(
    page: Page, context: BrowserContext, shelf: Shelf
) -> None:
    install(page)
    context.set_offline(True)

    statuses = page.evaluate("""async () => {
      const names = ['store/store', 'store/database', 'sync/schedule', 'store/entries', 'worker'];
      const paths = names.map((name) => `/shell/${testBuild}/js/${name}.js`);
      return Promise.all(paths.map((path) => fetch(path).then(({status}) => status)));
    }""")
    assert statuses == [200] * 5


def test_f16_a_new_build_takes_over_when_the_person_says_so(page: Page, shelf: Shelf) -> None:
    install(page)
    page.goto(f"{shelf.origin}/app")
    start(page)

    deploy(shelf, page, "build-b")
    page.wait_for_function("updates.includes('ready')")
    assert page.title() == "build-a"

    with page.expect_navigation(timeout=5000):
        assert page.evaluate("worker.apply()") is True
    assert page.title() == "build-b"


def test_f17_a_page_of_the_build_before_keeps_its_assets(
    page: Page, context: BrowserContext, shelf: Shelf
) -> None:
    install(page)
    other = context.new_page()
    other.goto(f"{shelf.origin}/blank")
    start(other)
    deploy(shelf, page, "build-b")
    page.wait_for_function("updates.includes('ready')")
    with page.expect_navigation():
        page.evaluate("worker.apply()")

    other.wait_for_function("updates.includes('changed')")
    context.set_offline(True)
    assert (
        other.evaluate("fetch('/shell/build-a/js/sync/schedule.js').then(({status}) => status)")
        == 200
    )


def test_old_builds_are_dropped_but_for_the_one_before(page: Page, shelf: Shelf) -> None:
    install(page)
    for build in ("build-b", "build-c"):
        deploy(shelf, page, build)
        page.wait_for_function("updates.includes('ready')")
        with page.expect_navigation():
            page.evaluate("worker.apply()")
        start(page)

    page.evaluate("until(() => caches.keys().then((names) => names.length === 2))")
    assert page.evaluate("caches.keys()") == ["axlewright build-b", "axlewright build-c"]


@pytest.mark.parametrize(
    "answer",
    [
        pytest.param((500, {}, b""), id="fault"),
        pytest.param((404, {}, b""), id="missing"),
        pytest.param((302, {"Location": "/app"}, b""), id="redirect"),
        pytest.param(FOREIGN, id="foreign page"),
    ],
)
@pytest.mark.parametrize("path", ["/app", "/shell/build-b/js/store/store.js"])
def test_f18_f20_a_build_that_does_not_come_whole_is_not_taken(
    page: Page, context: BrowserContext, shelf: Shelf, path: str, answer: tuple
) -> None:
    install(page)

    shelf.spoiled[path] = answer
    deploy(shelf, page, "build-b")

    page.wait_for_function("updates.includes('failed')")
    assert page.evaluate("caches.keys()") == ["axlewright build-a"]
    assert title_without_network(context, f"{shelf.origin}/app") == "build-a"


def test_f20_a_foreign_page_at_the_first_visit_does_not_become_the_app(
    page: Page, shelf: Shelf
) -> None:
    shelf.spoiled["/app"] = FOREIGN
    start(page)

    page.wait_for_function("updates.includes('none')")

    assert page.evaluate("caches.keys()") == []


def test_answers_of_the_shop_and_the_desk_never_pass_through_the_worker(
    page: Page, shelf: Shelf
) -> None:
    install(page)
    paths = ["/log/pull", "/desk", "/door", "/build.json"]
    for path in paths:
        shelf.spoiled[path] = (200, {"Content-Type": "application/json"}, b"{}")

    page.evaluate("(paths) => Promise.all(paths.map((path) => fetch(path)))", paths)

    assert set(paths) <= set(shelf.asked)
    cached = page.evaluate("""async () => {
      const caching = await caches.open('axlewright build-a');
      return (await caching.keys()).map(({url}) => new URL(url).pathname);
    }""")
    assert "/app" in cached
    assert all(path == "/app" or path.startswith("/shell/build-a/") for path in cached)


def test_the_real_app_starts_cold_without_its_shop_after_one_visit(shop_page: ShopPage) -> None:
    context, server = shop_page.context, shop_page.server
    page = context.new_page()
    page.goto(f"{server.url}/app")
    page.evaluate("until(() => Boolean(navigator.serviceWorker.controller))")
    page.close()
    server.stop()

    cold = context.new_page()
    cold.goto(f"{server.url}/app")

    cold.get_by_role("main").locator("*").first.wait_for()
    assert "Axlewright" in cold.title()


def test_f53_without_a_worker_the_page_is_told(page: Page) -> None:
    page.evaluate("""() => {
      Object.defineProperty(navigator, 'serviceWorker', {value: undefined});
    }""")

    start(page)

    assert page.evaluate("updates") == ["none"]


def test_f53_a_refused_registration_is_told(page: Page, shelf: Shelf) -> None:
    shelf.spoiled["/sw.js"] = (404, {}, b"")

    start(page)

    assert page.evaluate("updates") == ["none"]
