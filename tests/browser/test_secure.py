"""A real shop over TLS, as people meet it: trust, set-up, joining, offline, revoked.

Chromium trusts the shop's authority through its own store of certificates; errors of certificates
are never ignored.
"""

from pathlib import Path

import pytest
from kit.desk_pages import qr_texts
from kit.passphrases import PASSPHRASE
from kit.secure import NAME, SecureShop
from playwright.sync_api import BrowserContext, Error, Page, Playwright, expect
from trusting import at_home, trust

pytestmark = pytest.mark.browser

HERE = f"--host-resolver-rules=MAP {NAME} 127.0.0.1, MAP other.bennett.example 127.0.0.1"
REGISTERED = "navigator.serviceWorker.register('/sw.js').then(() => 'registered', (e) => e.name)"


@pytest.fixture
def shop(tmp_path):
    """A shop at a name, not set up yet."""
    shop = SecureShop(tmp_path / "shop", NAME).start()
    yield shop
    shop.stop()


@pytest.fixture
def home(tmp_path):
    """The home of somebody, in which nothing is trusted yet."""
    return tmp_path / "home"


@pytest.fixture
def open_browser(playwright: Playwright, chromium: str, home: Path):
    """Opens browsers that live in that home and find the shop's name on this computer."""
    with at_home(playwright, chromium, home, HERE) as opener:
        yield opener


def set_up(page: Page, shop: SecureShop) -> None:
    """Make the first lead, name the shop, put a technician on the list."""
    page.goto(shop.link)
    page.get_by_label("Your name").fill("Orla Bennett")
    page.get_by_label("Passphrase, 12").fill(PASSPHRASE)
    page.get_by_label("Passphrase again").fill(PASSPHRASE)
    page.get_by_role("button", name="Make me the lead").click()
    page.get_by_label("Name of the shop").fill("Bennett and Daughters")
    page.get_by_role("button", name="Save").click()
    page.get_by_label("Name").fill("Dana Reyes")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_role("heading", name="Dana Reyes", exact=True)).to_be_visible()


class Shown:
    """A page as the reader of QR codes takes it."""

    def __init__(self, page: Page) -> None:
        self.text = page.content()


def pairing_address(page: Page) -> str:
    """What the QR for a phone that trusts the shop says."""
    page.get_by_role("button", name="Pair a phone").click()
    expect(page.get_by_role("heading", name="A phone that already trusts the shop")).to_be_visible()
    return qr_texts(Shown(page))[-1]


def join(context: BrowserContext, address: str) -> Page:
    """The app as the phone's camera opens it."""
    page = context.new_page()
    page.goto(address)
    expect(page.locator(".state")).to_contain_text("In contact.")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    return page


def test_f53_a_phone_joins_by_the_pairing_qr_works_offline_and_gets_nothing_once_revoked(
    shop, home, open_browser
):
    trust(home, shop.authority)
    desk = open_browser("desk").new_page()
    set_up(desk, shop)
    phone = open_browser("phone")

    page = join(phone, pairing_address(desk))
    expect(page.locator(".head")).to_contain_text("Dana Reyes")
    phone.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", name="My day")).to_be_visible()
    assert page.evaluate("Boolean(navigator.serviceWorker.controller)")

    desk.goto(f"{shop.address}/desk/people")
    desk.get_by_role("link", name="Dana Reyes").click()
    desk.get_by_role("button", name="Revoke", exact=True).click()
    phone.set_offline(False)
    page.reload()
    expect(page.locator(".state")).to_contain_text("not paired")


def with_device(page: Page) -> None:
    """Give the browser of this page a device with passkeys, as a PC with a fingerprint reader."""
    tools = page.context.new_cdp_session(page)
    tools.send("WebAuthn.enable")
    tools.send(
        "WebAuthn.addVirtualAuthenticator",
        {
            "options": {
                "protocol": "ctap2",
                "transport": "internal",
                "hasResidentKey": True,
                "hasUserVerification": True,
                "isUserVerified": True,
                "automaticPresenceSimulation": True,
            }
        },
    )


def test_a_lead_signs_in_with_a_passkey_and_signing_out_leaves_no_trace(shop, home, open_browser):
    trust(home, shop.authority)
    page = open_browser("desk").new_page()
    with_device(page)
    set_up(page, shop)
    page.goto(f"{shop.address}/desk/access")
    page.get_by_label("Name of this device").fill("office PC")
    page.get_by_role("button", name="Add a passkey").click()
    expect(page.locator(".said")).to_contain_text("office PC: you can sign in with this passkey.")
    page.get_by_label("Name of this device").fill("office PC")
    page.get_by_role("button", name="Add a passkey").click()
    expect(page.locator("[data-says]")).to_contain_text("has a passkey for you already")
    # As the phone app keeps what it holds at this address.
    page.evaluate("caches.open('kept').then(() => { indexedDB.open('kept'); })")

    page.get_by_role("button", name="Sign out", exact=True).first.click()
    expect(page.get_by_role("button", name="Sign in", exact=True)).to_be_visible()
    page.go_back()
    expect(page.get_by_label("Passphrase")).to_be_visible()
    assert page.evaluate("caches.has('kept')")
    assert page.evaluate("indexedDB.databases().then((all) => all.map((each) => each.name))")

    page.goto(f"{shop.address}/door")
    page.get_by_role("button", name="Sign in with a passkey").click()
    expect(page.get_by_role("heading", name="Pending review")).to_be_visible()
    page.goto(f"{shop.address}/desk/access")
    expect(page.get_by_role("cell", name="with a passkey")).to_be_visible()
    page.get_by_role("button", name="Remove").click()
    expect(page.locator(".said")).to_contain_text("this passkey was removed here")
    page.get_by_role("button", name="Sign out", exact=True).first.click()
    expect(page.get_by_role("button", name="Sign in with a passkey")).to_have_count(0)


def test_f53_f54_without_trust_in_the_shop_nothing_of_it_opens(shop, home, open_browser):
    home.mkdir()
    page = open_browser("phone").new_page()

    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(f"{shop.address}/app")


def test_f53_a_service_worker_registers_over_the_shops_own_certificate(shop, home, open_browser):
    trust(home, shop.authority)
    page = open_browser("phone").new_page()
    page.goto(f"{shop.address}/app")

    assert page.evaluate(REGISTERED) == "registered"
    assert page.evaluate("performance.getEntriesByType('navigation')[0].nextHopProtocol") == "h2"


def test_f55_the_page_of_trust_turns_to_trusted_and_leads_on_without_a_code(
    shop, home, open_browser
):
    home.mkdir()
    stranger = open_browser("stranger").new_page()
    stranger.goto(f"{shop.helper}/#pair=ABCD-EFGH")
    expect(stranger.locator("#state")).to_contain_text("Not trusted yet")
    expect(stranger.locator("#on")).to_be_hidden()
    stranger.context.close()

    trust(home, shop.authority)
    page = open_browser("phone").new_page()
    page.goto(f"{shop.helper}/#pair=ABCD-EFGH")

    expect(page.locator("#state")).to_contain_text("Trusted.")
    leads_to = page.get_by_role("link", name="Open the app").get_attribute("href")
    assert leads_to == f"{shop.address}/app"


def test_f30_a_phone_that_does_not_find_the_name_is_told_so(
    shop, home, playwright: Playwright, chromium: str
):
    trust(home, shop.authority)
    nowhere = f"--host-resolver-rules=MAP {NAME} ~NOTFOUND"
    with at_home(playwright, chromium, home, nowhere) as opener:
        page = opener("phone").new_page()
        page.goto(shop.helper)

        expect(page.locator("#state")).to_contain_text("cannot find log.bennett.example")


def test_f29_under_another_address_there_is_nothing_but_where_the_shop_lives(
    shop, home, open_browser
):
    trust(home, shop.authority)
    page = open_browser("phone").new_page()

    page.goto(f"https://127.0.0.1:{shop.port}/app#pair=ABCD-EFGH")

    expect(page.get_by_role("link")).to_have_text(shop.address)
    expect(page.get_by_role("button")).to_have_count(0)
    assert page.evaluate(REGISTERED) != "registered"
