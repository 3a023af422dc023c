"""A browser that does not keep the app takes nothing in: out of reach it could not be opened."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from kit.entries import new_id
from kit.phones import Phone, asking
from kit.secure import SecureShop
from playwright.sync_api import Browser, Page, expect
from yard import TAG, VEHICLE, put_in_the_yard

from webapp import create_app
from webapp.door.pairing import new_pairing_code

pytestmark = pytest.mark.browser
JOB = new_id()
UNKEPT = "This browser cannot work offline: the app opens only while it can reach the shop."


def set_up(folder: Path) -> str:
    """Put one vehicle with an open job on file; a pairing code of the technician."""
    app = create_app({"DATA": folder, "TESTING": True})
    log = app.extensions["shoplog"]
    lead = log.add_person("Orla Bennett", "lead")["id"]
    person = log.add_person("Dana Reyes", "technician")["id"]
    codes = [new_pairing_code(log, person) for _ in range(2)]
    phone = Phone(asking(app.test_client()), codes.pop())
    put_in_the_yard(Phone(asking(app.test_client()), new_pairing_code(log, lead)))
    body = {"axle": "front", "round": "as_found", "about": "wanders"}
    phone.push(phone.entry("job", body, vehicle=VEHICLE, job=JOB, round="as_found"))
    log.close()
    return codes.pop()


@pytest.fixture
def page(tmp_path: Path, browser: Browser) -> Iterator[Page]:
    """A paired phone of somebody who clicked the browser's warning of the certificate away."""
    code = set_up(tmp_path / "shop")
    shop = SecureShop(tmp_path / "shop").start()
    context = browser.new_context(viewport={"width": 360, "height": 800}, ignore_https_errors=True)
    page = context.new_page()
    page.goto(f"{shop.address}/app#pair={code}")
    expect(page.locator(".state")).to_contain_text("In contact.")
    yield page
    context.close()
    shop.stop()


def test_f53_without_a_trusted_certificate_nothing_is_taken_in_and_it_says_what_to_do(
    page: Page,
) -> None:
    band = page.locator(".notice", has_text=UNKEPT)
    expect(band).to_contain_text("Until it can, nothing can be recorded.")
    page.locator(".vehicles").get_by_role("link", name="Plow 3").click()
    expect(page.get_by_role("heading", name="Set up this phone first")).to_be_visible()
    expect(page.get_by_text("Open a job")).to_have_count(0)

    page.get_by_role("link", name="wanders").click()
    page.get_by_role("link", name="Ride height").click()

    expect(page.get_by_role("heading", name="Set up this phone first")).to_be_visible()
    expect(page.get_by_text("The vehicle stands")).to_have_count(0)
    expect(band).to_be_visible()
    assert band.get_by_role("button").all_inner_texts() == ["What to do"]


def test_f53_what_is_written_all_the_same_is_refused_in_words(page: Page) -> None:
    page.locator(".vehicles").get_by_role("link", name="Plow 3").click()
    page.get_by_role("link", name="wanders").click()
    page.get_by_text("Write a note").click()
    page.get_by_label("Note").fill("grease")
    page.get_by_role("button", name="Save note").click()

    expect(page.locator(".alarm")).to_contain_text(f"NOT SAVED. {UNKEPT}")
    expect(page.locator(".state")).to_contain_text("Everything is at the shop")


def test_f53_a_demo_without_a_certificate_is_tried_all_the_same(new_hands) -> None:
    hands = new_hands()
    hands.page.add_init_script(
        "Object.defineProperty(navigator, 'serviceWorker', {value: undefined});"
    )
    hands.page.goto(f"{hands.url}/door")
    hands.press("technician")
    band = hands.page.locator(".notice", has_text=UNKEPT)
    expect(band.get_by_role("button")).to_have_count(0)
    hands.open_tag(TAG)
    hands.open_job()
    hands.make_ready()
    hands.read("8 3/4")

    expect(hands.page.get_by_role("button", name="left 1: 8 3/4")).to_be_visible()
    expect(band).to_have_count(1)
