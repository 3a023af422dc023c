"""A page that is closed while it sends: the rest goes the next time, and nothing goes twice."""

import pytest
from playwright.sync_api import Route
from shop_pages import ALL_SENT, PUSH, ShopPage, sent, until

pytestmark = pytest.mark.browser

# Readings with a long text each, some 300 kB of them; a closing page may send 64 kB at most.
MUCH = """async () => {
  const store = await phoneStore();
  const made = await Promise.all(Array.from({length: 400}, (_, value) => reading(value + 1)));
  for (const entry of made) entry.body.why = 'x'.repeat(600);
  return (await store.keep(made)).map(({id}) => id);
}"""


def test_f14_a_page_closed_amid_sending_loses_and_doubles_nothing(shop_page: ShopPage) -> None:
    page = shop_page.open()
    ids = page.evaluate(MUCH)
    held: list[Route] = []

    def second_is_held(route: Route) -> None:
        if held or len(sent(route.request)["entries"]) == 0:
            route.continue_()
        elif shop_page.arrived():
            held.append(route)
        else:
            route.continue_()

    page.route(PUSH, second_is_held)
    page.evaluate("meetShop({patience: 60000})")
    while not held:
        page.evaluate("new Promise((done) => setTimeout(done, 20))")
    page.close()
    assert 0 < len(shop_page.arrived()) < len(ids)

    again = shop_page.open()
    again.evaluate("meetShop()")

    until(again, ALL_SENT)
    arrived = shop_page.phone.pull(most=500).json["entries"]
    assert [entry["id"] for entry in arrived] == ids
