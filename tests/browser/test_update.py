"""A new build under a running app: offered, never forced, and never under something half typed."""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hands import ABORTING
from kit.phones import Phone, asking_at
from kit.servers import Server
from playwright.sync_api import Browser, Page, expect

from webapp.door.pairing import new_pairing_code
from webapp.phone.shell_files import static_folder
from webapp.shoplog import ShopLog

pytestmark = pytest.mark.browser


class Deployed:
    """A shop whose app can be given another build, and a page of a paired phone."""

    def __init__(self, folder: Path, browser: Browser) -> None:
        """Serve the first build and open it."""
        self.static = folder / "static"
        shutil.copytree(static_folder(), self.static)
        with ShopLog(folder / "data") as log:
            person = log.add_person("Dana Reyes", "technician")["id"]
            log.add_person("Orla Bennett", "lead")
            codes = [new_pairing_code(log, person) for _ in range(2)]
        self.server = Server(folder / "data").start(STATIC=self.static)
        self.other = Phone(asking_at(self.server.url), codes.pop())
        self.page: Page = browser.new_context().new_page()
        self.page.set_default_timeout(20_000)
        self.page.goto(f"{self.server.url}/app#pair={codes.pop()}")
        self.page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    def deploy(self) -> str:
        """Serve another build on the same folder; its id."""
        path = self.static / "manifest.webmanifest"
        manifest = json.loads(path.read_text("utf-8"))
        path.write_text(json.dumps({**manifest, "description": "the next"}), "utf-8")
        self.server.stop()
        self.server.start(STATIC=self.static)
        self.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        expect(self.page.get_by_text("A new version of the app is ready.")).to_be_visible()
        return self.other.ask("GET", "/build.json").json["build"]

    def build(self) -> str:
        """The build that the page runs."""
        return self.page.evaluate("document.querySelector('script').src.split('/')[4]")


@pytest.fixture
def deployed(tmp_path: Path, browser: Browser) -> Iterator[Deployed]:
    """A shop with the app open on a phone."""
    shop = Deployed(tmp_path, browser)
    yield shop
    shop.page.context.close()
    shop.server.kill()


def test_f17_an_update_waits_until_nothing_is_half_typed(deployed: Deployed) -> None:
    page = deployed.page
    box = page.get_by_role("searchbox")
    box.fill("HND")
    build = deployed.deploy()

    page.get_by_role("button", name="Update now").click()

    expect(page.get_by_text("There is unsaved input.")).to_be_visible()
    expect(box).to_have_value("HND")
    assert deployed.build() != build

    box.fill("")
    box.blur()
    with page.expect_navigation():
        page.get_by_role("button", name="Update now").click()
    page.locator(".state").wait_for()
    assert deployed.build() == build


def test_f17_screens_of_the_build_before_go_on_with_and_without_the_network(
    deployed: Deployed,
) -> None:
    page, before = deployed.page, deployed.build()
    deployed.deploy()

    page.locator(".state").click()
    expect(page.get_by_role("heading", name="On this phone")).to_be_visible()
    page.context.set_offline(True)
    page.get_by_role("button", name="Back", exact=True).click()
    expect(page.get_by_role("searchbox")).to_be_visible()
    again = page.context.new_page()
    again.goto(f"{deployed.server.url}/app")
    expect(again.get_by_role("searchbox")).to_be_visible()

    assert deployed.build() == before


def test_f16_an_update_takes_over_while_a_request_of_the_build_before_hangs(
    deployed: Deployed,
) -> None:
    page = deployed.page
    page.route("**/log/*", lambda _: None)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    build = deployed.deploy()

    with page.expect_navigation(timeout=10_000):
        page.get_by_role("button", name="Update now").click()

    page.locator(".state").wait_for()
    assert deployed.build() == build


def fail_to_keep(page: Page) -> None:
    """Try to make a vehicle of a blank tag on a phone that keeps nothing."""
    page.get_by_role("searchbox").fill("QRTV-2345")
    page.get_by_role("button", name="Open", exact=True).click()
    page.evaluate(ABORTING)
    page.get_by_label("Name the shop uses").fill("Wagon 4")
    page.get_by_role("button", name="Add this vehicle").click()
    expect(page.locator(".alarm")).to_contain_text("NOT SAVED")


def test_f17_a_new_build_does_not_take_an_alarm_away(deployed: Deployed) -> None:
    fail_to_keep(deployed.page)
    deployed.deploy()

    expect(deployed.page.locator(".alarm")).to_contain_text("NOT SAVED")
    expect(deployed.page.locator(".alarm")).to_be_in_viewport()
    deployed.page.get_by_role("button", name="Close").click()
    expect(deployed.page.locator(".alarm")).to_have_count(0)
    expect(deployed.page.get_by_role("button", name="Update now")).to_be_visible()


def test_f17_an_alarm_does_not_take_the_offer_of_a_new_build_away(deployed: Deployed) -> None:
    page = deployed.page
    deployed.deploy()
    fail_to_keep(page)
    page.get_by_role("button", name="Add this vehicle").click()
    expect(page.locator(".alarm")).to_have_count(1)

    expect(page.get_by_role("button", name="Update now")).to_have_count(1)
    offered = page.get_by_text("A new version of the app is ready.").bounding_box()
    alarm = page.locator(".alarm").bounding_box()
    assert alarm and offered and alarm["y"] < offered["y"]
    page.set_viewport_size({"width": 360, "height": 480})
    page.mouse.move(180, 400)
    page.mouse.wheel(0, 2000)
    expect(page.get_by_text("A new version of the app is ready.")).not_to_be_in_viewport()
    expect(page.locator(".alarm")).to_be_in_viewport()
