"""A shop that is no longer trusted looks to a page like one that is out of reach."""

import pytest
from playwright.sync_api import expect
from shop_pages import ALL_SENT, ShopPage, until

pytestmark = pytest.mark.browser


def test_f21_after_some_failures_both_causes_are_named_and_readings_are_kept(
    shop_page: ShopPage,
) -> None:
    page = shop_page.open()
    page.evaluate("use('sync/schedule')")
    shop_page.context.route("**/log/*", lambda route: route.abort("failed"))
    page.evaluate("meetShop()")

    until(page, "(shop.nudge(), shop.state().says.includes('still trusts the shop'))")

    ids = page.evaluate("keepReadings(2)")
    assert page.evaluate("unsentIds()") == ids
    shop_page.context.unroute("**/log/*")
    page.evaluate("shop.nudge()")
    until(page, f"{ALL_SENT[:-2]}().then((sent) => sent && shop.state().says === '')")
    assert shop_page.arrived() == ids


def test_f23_a_single_failure_is_no_reason_to_suspect_the_certificate(
    shop_page: ShopPage,
) -> None:
    page = shop_page.open()
    page.evaluate("use('sync/schedule')")
    page.evaluate("phoneStore().then((store) => store.setFact('tick_ms', 3600000))")
    shop_page.context.set_offline(True)

    page.evaluate("meetShop()")

    until(page, "shop.state().trouble === 'unreachable'")
    assert page.evaluate("shop.state().says").startswith("The shop does not answer.")


def test_f32_the_app_asks_nobody_but_the_shop(shop_page: ShopPage) -> None:
    asked: list[str] = []
    shop_page.context.on("request", lambda request: asked.append(request.url))
    page = shop_page.open()
    page.goto(f"{shop_page.origin}/app")
    expect(page.locator(".state")).to_contain_text("In contact.")

    page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    assert len(asked) > 3
    assert [url for url in asked if not url.startswith((shop_page.origin, "blob:", "data:"))] == []
