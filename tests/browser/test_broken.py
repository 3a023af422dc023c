"""A store that is damaged for good: nothing is given up without being told what it costs."""

import pytest
from faked_devices import DAMAGED
from kit.phones import Phone
from playwright.sync_api import Page, expect
from shop_pages import ShopPage

pytestmark = pytest.mark.browser


@pytest.fixture
def damaged(shop_page: ShopPage) -> Page:
    """The app, its store damaged while it holds two entries that the shop lacks."""
    shop_page.context.add_init_script(DAMAGED)
    page = shop_page.open()
    page.evaluate("keepReadings(2)")
    page.route("**/log/*", lambda route: route.abort())
    page.goto(f"{shop_page.origin}/app")
    expect(page.locator(".state")).to_contain_text("2 on this phone only")
    page.evaluate("sessionStorage.setItem('damaged', 'yes')")
    page.reload()
    expect(page.get_by_text("The data on this phone does not open.")).to_be_visible()
    expect(page.get_by_role("button", name="Words on this screen")).to_have_count(0)
    return page


def test_f66_a_store_deleted_under_an_open_page_is_told_and_nothing_more_is_taken(
    shop_page: ShopPage,
) -> None:
    page = shop_page.open()
    page.evaluate("keepReadings(2)")
    page.route("**/log/*", lambda route: route.abort())
    page.goto(f"{shop_page.origin}/app")
    expect(page.locator(".state")).to_contain_text("2 on this phone only")
    session = page.context.new_cdp_session(page)
    storage = {"origin": shop_page.origin, "storageTypes": "indexeddb"}
    session.send("Storage.clearDataForOrigin", storage)

    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")

    gone = page.get_by_text("2 entries that the shop does not have are gone")
    expect(gone).to_be_visible()
    page.evaluate("location.hash = '#/pair'")
    expect(page.get_by_role("heading", name="Pair this phone")).to_be_visible()
    page.goto(f"{shop_page.origin}/app")
    expect(page.get_by_text("not paired with a shop yet")).to_be_visible()


# The rows of the list cannot be looked at as the app starts.
NO_ROWS = """
const get = IDBObjectStore.prototype.get;
IDBObjectStore.prototype.get = function (key) {
  if (key === 'row_fields') throw new DOMException('It cannot be read.', 'UnknownError');
  return get.call(this, key);
};
"""


def test_f04_rows_that_cannot_be_made_anew_are_told_and_leave_no_blank_screen(
    shop_page: ShopPage,
) -> None:
    page = shop_page.open()
    page.evaluate("keepReadings(2)")
    shop_page.context.add_init_script(NO_ROWS)
    page.goto(f"{shop_page.origin}/app")

    expect(page.get_by_text("Everything saved before is still there")).to_be_visible()
    expect(page.get_by_role("button", name="Try again")).to_be_visible()


def thrown_away(page: Page) -> bool:
    """Whether the app deleted its store."""
    return page.evaluate("sessionStorage.getItem('thrown away') === 'yes'")


def press(page: Page, name: str) -> None:
    """Press a button by its words."""
    page.get_by_role("button", name=name).click()


def test_f04_giving_a_store_up_names_what_is_lost_and_asks_twice(damaged: Page) -> None:
    press(damaged, "Delete the data and start over")

    expect(damaged.get_by_text("it had 2 entries that the shop does not have")).to_be_visible()
    expect(damaged.get_by_text("lost for good")).to_be_visible()
    assert not thrown_away(damaged)

    press(damaged, "Keep it and try again")
    expect(damaged.get_by_text("The data on this phone does not open.")).to_be_visible()
    assert not thrown_away(damaged)


def test_f04_a_new_store_is_made_once_that_is_agreed(damaged: Page, real_server: tuple) -> None:
    press(damaged, "Delete the data and start over")
    with damaged.expect_navigation():
        press(damaged, "Delete 2 entries and start over")

    expect(damaged.locator(".state")).to_be_visible()
    assert thrown_away(damaged)
    assert damaged.evaluate("localStorage.getItem('axlewright held')") != ""
    phone: Phone = real_server[1]
    assert phone.pull().json["entries"] == []


def test_f04_a_store_of_which_nothing_is_known_is_said_to_be_so(damaged: Page) -> None:
    damaged.evaluate("localStorage.clear()")

    press(damaged, "Delete the data and start over")

    expect(damaged.get_by_text("It may have entries that the shop does not have")).to_be_visible()
    expect(
        damaged.get_by_role("button", name="Delete what is in it and start over")
    ).to_be_visible()


def test_f05_a_store_that_is_only_slow_cannot_be_given_up(shop_page: ShopPage) -> None:
    shop_page.context.add_init_script("IDBFactory.prototype.open = () => ({});")
    page = shop_page.context.new_page()

    page.goto(f"{shop_page.origin}/app")

    expect(page.get_by_text("The storage on this phone does not respond.")).to_be_visible()
    expect(page.get_by_role("button", name="Delete the data and start over")).to_have_count(0)
