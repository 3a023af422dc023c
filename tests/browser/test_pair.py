"""Phones join, are turned away and join again; the lead's pages for people, in Chromium."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from hands import Hands
from kit.pictures import jpeg, name_of
from playwright.sync_api import Page, expect
from shop_pages import until
from yard import TAG, put_in_the_yard

from webapp.shoplog.files.photo_files import photo_files

pytestmark = pytest.mark.browser


@pytest.fixture
def server(real_server, leads_phone):
    """The shop, with a vehicle in its yard."""
    put_in_the_yard(leads_phone)
    return real_server[0]


@pytest.fixture
def phones_browser(browser):
    """The phone's browser."""
    context = browser.new_context(has_touch=True, viewport={"width": 360, "height": 640})
    yield context
    context.close()


@pytest.fixture
def desk(browser, server):
    """The lead at the desk, on a page that shows Dana Reyes."""
    context = browser.new_context(bypass_csp=True)
    page = context.new_page()
    page.goto(f"{server.url}/door")
    page.get_by_role("button", name="lead").click()
    page.goto(f"{server.url}/desk/people")
    page.get_by_role("link", name="Dana Reyes").click()
    yield page
    context.close()


def new_code(desk: Page) -> str:
    """A pairing code that the lead shows; the page goes back to the person."""
    desk.get_by_role("button", name="Pair a phone").click()
    code = desk.locator(".figure-of code").inner_text()
    desk.get_by_role("link", name="Done").click()
    return code


def join(page: Page, code: str) -> None:
    """Type the code on the phone's screen for it."""
    page.get_by_label("Pairing code").fill(code)
    page.get_by_role("button", name="Pair", exact=True).click()


def test_an_unpaired_phone_joins_with_the_code_typed(server, phones_browser, desk):
    page = phones_browser.new_page()
    page.goto(f"{server.url}/app")
    page.get_by_role("link", name="Pair it").click()

    join(page, new_code(desk).lower().replace("-", " "))

    expect(page.get_by_role("heading", name="Vehicles")).to_be_visible()
    expect(page.locator(".head")).to_contain_text("Dana Reyes")
    expect(page.locator(".rows a")).to_have_count(1)


def test_a_code_that_is_used_up_is_said_and_the_screen_stays(server, phones_browser, desk):
    code = new_code(desk)
    page, other = phones_browser.new_page(), phones_browser.browser.new_context().new_page()
    page.goto(f"{server.url}/app#pair={code}")
    expect(page.locator(".head")).to_contain_text("Dana Reyes")

    other.goto(f"{server.url}/app#/pair")
    join(other, code)

    expect(other.get_by_role("alert")).to_contain_text("was used, has expired")
    expect(other.get_by_label("Pairing code")).to_be_visible()
    other.context.close()


def test_a_qr_scanned_while_the_app_is_open_asks_before_it_pairs(server, phones_browser, desk):
    page = phones_browser.new_page()
    page.goto(f"{server.url}/app")
    expect(page.get_by_role("link", name="Pair it")).to_be_visible()
    code = new_code(desk)

    page.evaluate("(code) => { location.hash = `pair=${code}`; }", code)
    expect(page.get_by_label("Pairing code")).to_have_value(code)
    page.get_by_role("button", name="Pair", exact=True).click()

    expect(page.locator(".head")).to_contain_text("Dana Reyes")


def test_f43_a_revoked_phone_keeps_its_entries_and_hands_them_over_when_paired_again(
    server, phones_browser, desk
):
    hands = Hands(phones_browser.new_page(), server.url)
    hands.page.goto(f"{server.url}/app#pair={new_code(desk)}")
    hands.wait_for_worker()
    expect(hands.page.locator(".rows a")).to_have_count(1)
    desk.reload()
    desk.get_by_role("button", name="Revoke").first.click()
    hands.open_tag(TAG)
    hands.open_job("pulls to the left")
    state = hands.page.locator(".state")
    expect(state).to_contain_text("not paired")
    expect(state).to_contain_text("1 on this phone only")

    state.click()
    hands.page.get_by_role("link", name="Pair this phone again").click()
    expect(hands.page.get_by_text("Dana Reyes’s")).to_be_visible()
    join(hands.page, new_code(desk))

    expect(state).to_contain_text("Everything is at the shop.")
    desk.reload()
    expect(desk.locator("tbody tr").first.get_by_text("nothing")).to_be_visible()


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1280])
def test_the_leads_pages_for_people_and_the_shop_are_accessible_and_fit(desk, theme, width):
    desk.emulate_media(color_scheme=theme)
    desk.set_viewport_size({"width": width, "height": 800})
    looks = [lambda: None, lambda: desk.get_by_role("button", name="Pair a phone").click()]
    nav = desk.get_by_role("navigation").last
    for name in ("People and phones", "Shop", "Health"):
        looks.append(lambda name=name: nav.get_by_role("link", name=name, exact=True).last.click())

    for look in looks:
        look()
        found = Axe().run(desk)
        assert not found.response["violations"], found.generate_report()
        assert desk.evaluate("document.documentElement.scrollWidth") <= width, desk.url


def test_the_phones_screen_for_joining_is_accessible(server, browser):
    context = browser.new_context(bypass_csp=True, viewport={"width": 360, "height": 640})
    page = context.new_page()
    page.goto(f"{server.url}/app#/pair")
    expect(page.get_by_label("Pairing code")).to_be_visible()

    found = Axe().run(page)

    assert not found.response["violations"], found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    context.close()


WORDS = """([expires, address]) => use('parts/shop/connection').then((connection) => [
  connection.certificateWords(expires, Date.parse('2026-11-25T10:00:00Z')),
  connection.movedWords(address, 'https://axlewright.local:8700')])"""


@pytest.mark.parametrize(
    ("expires", "says"),
    [
        (None, None),
        ("2027-01-10T10:00:00+00:00", None),
        ("2027-01-09T09:00:00+00:00", "expires in 44 days"),
        ("2026-11-24T09:00:00+00:00", "has expired"),
    ],
)
def test_f21_the_phone_warns_of_the_certificate_45_days_ahead(page, expires, says):
    warned, moved = page.evaluate(WORDS, [expires, "https://axlewright.local:8700"])

    assert moved is None
    assert (warned is None) if says is None else says in warned


def test_f29_a_phone_left_under_another_address_hands_over_what_it_holds(shop_page):
    page = shop_page.open()
    [kept] = page.evaluate("keepReadings(1)")
    page.evaluate("(photo) => keepPhoto(photo)", [name_of(jpeg()), list(jpeg())])
    shop_page.server.stop()
    shop_page.server.start(ADDRESS="https://axlewright.local:8700")

    page.evaluate("meetShop()")
    until(page, "states.some(({trouble}) => trouble === 'moved')")

    assert "a new address" in page.evaluate("shop.state().says")
    counts = page.evaluate("phoneStore().then((store) => store.counts())")
    assert (counts["onPhoneOnly"], counts["photos"]) == (0, 0)
    facts = page.evaluate("phoneStore().then((store) => store.facts())")
    assert facts["address"] == "https://axlewright.local:8700"
    shop_page.server.stop()
    shop_page.server.start()
    assert kept in shop_page.arrived()
    assert photo_files(shop_page.server.folder).keys() == {name_of(jpeg())}


def test_f29_a_phone_that_was_opened_under_another_address_is_told_where_to_go(page):
    _, moved = page.evaluate(WORDS, [None, "https://192.168.1.20:8700"])

    assert "The shop is now at https://192.168.1.20:8700" in moved
