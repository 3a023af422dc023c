"""The phone and a real shop in step, over networks as they are."""

from collections.abc import Callable
from pathlib import Path

import pytest
from badproxy import BadProxy
from playwright.sync_api import Route
from shop_pages import ALL_SENT, PUSH, VEHICLE, ShopPage, batches_only, until

from webapp.shoplog import ShopLog
from webapp.shoplog.backup import back_up, restore

pytestmark = pytest.mark.browser

NO_BACKGROUND_SYNC = "delete globalThis.SyncManager;"
NO_ONLINE_EVENT = "addEventListener('online', (event) => event.stopImmediatePropagation(), true);"
NO_LOCKS = "Object.defineProperty(Navigator.prototype, 'locks', {value: undefined});"
PULLED = "phoneStore().then((store) => store.entriesOf({vehicle: %r}))"


@pytest.mark.parametrize("script", [NO_BACKGROUND_SYNC, NO_BACKGROUND_SYNC + NO_ONLINE_EVENT])
def test_f15_readings_leave_without_any_help_of_the_browser(
    shop_page: ShopPage, script: str
) -> None:
    shop_page.context.add_init_script(script)
    page = shop_page.open()
    page.evaluate("use('sync/schedule')")
    shop_page.context.set_offline(True)
    ids = page.evaluate("(meetShop(), keepReadings(3))")
    until(page, "globalThis.states?.at(-1)?.trouble === 'unreachable'")

    shop_page.context.set_offline(False)

    until(page, ALL_SENT)
    assert shop_page.arrived() == ids


def test_a_reading_kept_while_the_shop_is_near_leaves_at_once(shop_page: ShopPage) -> None:
    page = shop_page.open()
    page.evaluate("phoneStore().then((store) => store.setFact('tick_ms', 3600000))")
    page.evaluate("meetShop()")
    until(page, "states.at(-1)?.heard")

    [kept] = page.evaluate("keepReadings(1)")
    page.evaluate("shop.nudge()")

    until(page, ALL_SENT)
    assert shop_page.arrived() == [kept]


def test_f22_one_tab_sends_at_a_time_and_the_next_takes_over(shop_page: ShopPage) -> None:
    first, second = shop_page.open(), shop_page.open()
    ids = first.evaluate("keepReadings(3)")
    held: list[Route] = []
    shop_page.context.route(PUSH, lambda route: held.append(route))
    first.evaluate("meetShop({patience: 60000})")
    until(first, "navigator.locks.query().then(({held}) => held.length === 1)")
    second.evaluate("meetShop({patience: 60000})")
    until(second, "navigator.locks.query().then(({pending}) => pending.length === 1)")
    assert len(held) == 1

    shop_page.context.unroute(PUSH)
    first.close()

    until(second, ALL_SENT)
    assert shop_page.arrived() == ids


def test_f22_two_tabs_without_locks_store_each_entry_once(shop_page: ShopPage) -> None:
    shop_page.context.add_init_script(NO_LOCKS)
    first, second = shop_page.open(), shop_page.open()
    ids = first.evaluate("keepReadings(20)")

    first.evaluate("meetShop()")
    second.evaluate("meetShop()")

    for page in (first, second):
        until(page, ALL_SENT)
        until(page, "shop.state().heard && shop.state().trouble === null")
    assert shop_page.arrived() == ids


def test_f23_when_the_shop_was_last_heard_is_known_before_it_answers(shop_page: ShopPage) -> None:
    heard = "2026-11-25T09:00:00.000Z"
    page = shop_page.open()
    page.evaluate("use('sync/schedule')")
    page.evaluate("(heard) => phoneStore().then((s) => s.setFact('heard', heard))", heard)
    shop_page.context.set_offline(True)

    page.evaluate("meetShop()")

    until(page, "shop.state().trouble === 'unreachable'")
    assert page.evaluate("shop.state().heard") == heard
    assert page.evaluate("states[0].heard") == heard


ONE_AT_A_TIME = """() => {
  const real = globalThis.fetch;
  globalThis.most = 0;
  globalThis.fetches = 0;
  let now = 0;
  globalThis.fetch = async (...values) => {
    fetches += 1;
    most = Math.max(most, now += 1);
    try { return await real(...values); } finally { now -= 1; }
  };
}"""


@pytest.fixture
def behind_proxy(
    shop_page: ShopPage, bad_proxy: Callable[[int], BadProxy]
) -> tuple[ShopPage, BadProxy]:
    """The shop page, reaching its shop through a proxy that can go silent."""
    proxy = bad_proxy(shop_page.server.port)
    shop_page.origin = proxy.origin
    return shop_page, proxy


def test_f23_f24_a_silent_network_is_told_and_holds_nobody_up(
    behind_proxy: tuple[ShopPage, BadProxy],
) -> None:
    shop_page, proxy = behind_proxy
    page = shop_page.open()
    page.evaluate(ONE_AT_A_TIME)
    page.evaluate("meetShop({patience: 800})")
    until(page, "states.at(-1)?.heard")

    proxy.silent = True
    page.evaluate("shop.nudge()")
    until(page, "shop.state().trouble === 'unreachable'")
    heard = page.evaluate("shop.state().heard")
    ids = page.evaluate("(shop.nudge(), keepReadings(3))")
    until(page, "fetches > 4")
    assert page.evaluate("navigator.onLine") is True
    assert page.evaluate("shop.state()") == {
        "heard": heard,
        "sending": False,
        "trouble": "unreachable",
        "says": "The shop does not answer. Readings are saved on this phone and sent when it does.",
    }
    assert shop_page.arrived() == []

    proxy.silent = False
    until(page, ALL_SENT)
    assert shop_page.arrived() == ids
    assert page.evaluate("most") == 1


def test_f26_replies_lost_after_the_shop_stored_make_no_second_row(shop_page: ShopPage) -> None:
    page = shop_page.open()
    [kept] = page.evaluate("keepReadings(1)")
    lost: list[int] = []

    def lose(route: Route) -> None:
        lost.append(route.fetch().status)
        if len(lost) <= 5:
            route.abort()
        else:
            route.continue_()

    shop_page.context.route(PUSH, batches_only(lose))
    page.evaluate("meetShop()")

    until(page, ALL_SENT)
    assert lost == [200] * 6
    assert shop_page.arrived() == [kept]
    [record] = page.evaluate(PULLED % VEHICLE)
    assert record["state"] == "stored" and record["seq"] > 0


def test_f33_clocks_far_off_lose_nothing_and_change_no_order(shop_page: ShopPage) -> None:
    page = shop_page.open()
    ids = []
    for moment in ("1970-01-02T00:00:00Z", "2040-06-01T12:00:00Z", "2026-11-25T09:42:07Z"):
        page.clock.set_system_time(moment)
        ids += page.evaluate("keepReadings(2)")
        page.evaluate("globalThis.shop ? shop.nudge() : meetShop()")
        until(page, ALL_SENT)
        other = shop_page.phone.entry(vehicle=VEHICLE)
        shop_page.phone.push(other)
        ids.append(other["id"])

    page.evaluate("shop.nudge()")
    until(page, f"{PULLED % VEHICLE}.then((all) => all.length === 9)")
    assert [entry["id"] for entry in page.evaluate(PULLED % VEHICLE)] == ids
    assert shop_page.arrived() == ids


def test_f37_a_restored_shop_is_offered_what_it_lost(shop_page: ShopPage, tmp_path: Path) -> None:
    server, page = shop_page.server, shop_page.open()
    before = page.evaluate("keepReadings(5)")
    page.evaluate("meetShop()")
    until(page, ALL_SENT)
    server.stop()
    with ShopLog(server.folder) as log:
        back_up(log, tmp_path / "backup.db")
    server.start()
    after = page.evaluate("keepReadings(5)")
    until(page, ALL_SENT)
    assert shop_page.arrived() == before + after
    server.stop()
    restore(tmp_path / "backup.db", server.folder)

    server.start()

    until(page, "states.some(({says}) => says.startsWith('The shop restored a backup'))")
    until(page, ALL_SENT)
    assert shop_page.arrived() == before + after


def test_a_phone_that_starts_empty_reads_the_log_up_to_its_end(shop_page: ShopPage) -> None:
    vehicle = shop_page.phone.vehicle
    for _ in range(12):
        entries = [shop_page.phone.entry() for _ in range(50)]
        assert shop_page.phone.push(*entries).status == 200
    page = shop_page.open()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))

    page.evaluate("meetShop()")

    until(page, f"{PULLED % vehicle}.then((all) => all.length === 600)")
    pulls = [url.partition("?")[2] for url in asked if "/log/pull" in url]
    # The log's numbers count the door's own lines too, which no phone is given.
    first = shop_page.phone.pull(most=500).json
    end = first["high_water"]
    assert first["more"]
    assert pulls[:2] == [
        f"since=0&most=500&recent_until={end}",
        f"since={first['next']}&most=500&recent_until={end}",
    ]
    until(page, "phoneStore().then((s) => s.fact('people')).then((all) => all)")
    people = page.evaluate("phoneStore().then((store) => store.fact('people'))")
    assert shop_page.phone.person["name"] in {person["name"] for person in people.values()}
