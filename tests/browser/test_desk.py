"""The lead's pages in Chromium: review, drawings, both themes, small screens, paper."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from chrome import find_chromium
from kit.servers import Server
from legible import bad_labels
from playwright.sync_api import Browser, Page, expect

from webapp.sample import load
from webapp.shoplog import ShopLog

pytestmark = pytest.mark.browser

SCREENS = {
    "pending": "/desk",
    "job": "/desk/jobs/{pending}",
    "accepted": "/desk/jobs/{accepted}",
    "own": "/desk/jobs/{own}",
    "vehicles": "/desk/vehicles",
    "nothing found": "/desk/vehicles?q=zeppelin",
    "vehicle": "/desk/vehicles/{vehicle}",
    "new vehicle": "/desk/vehicles/new",
    "tags": "/desk/tags",
    "labels": "/desk/tags/sheet?tag={tag}&tag=QRTV-2345"
    "&paper=a4&columns=3&rows=7&side=7&top=15&across=2.5&down=0&skip=0",
    "limits": "/desk/limits",
    "jobs": "/desk/jobs?state=accepted",
    "due": "/desk/due",
    "search": "/desk/search?q=bar",
    "repeat": "/desk/repeatability",
    "export": "/desk/export",
    "missing": "/desk/missing",
    "own access": "/desk/access",
    "nowhere": "/desk/nowhere",
}


class Desk:
    """A served sample shop, and where things are in it."""

    def __init__(self, folder: Path) -> None:
        with ShopLog(folder) as log:
            load(log)
            self.places = self.find(log)
        self.server = Server(folder)

    @staticmethod
    def find(log: ShopLog) -> dict[str, str]:
        """The ids that the addresses of the screens need."""
        lead = next(row["id"] for row in log.people() if row["role"] == "lead")
        waiting = log.jobs(state="pending")
        others = [row for row in waiting if row["opened_by"] != lead]
        own = [row for row in waiting if row["opened_by"] == lead]
        accepted = log.jobs(state="accepted")[0]
        [tag, *_] = log.vehicle(accepted["vehicle"])["tags"]
        return {
            "pending": others[0]["id"],
            "own": own[0]["id"],
            "accepted": accepted["id"],
            "vehicle": accepted["vehicle"],
            "tag": tag,
        }

    def at(self, screen: str) -> str:
        """The address of a screen."""
        return self.server.url + SCREENS[screen].format(**self.places)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """The sample shop, served for the tests of this module, which only read it."""
    yield from served(tmp_path_factory.mktemp("desk"))


@pytest.fixture
def own_desk(tmp_path: Path) -> Iterator[Desk]:
    """The sample shop, served for one test that writes."""
    yield from served(tmp_path / "desk")


def served(folder: Path) -> Iterator[Desk]:
    if not find_chromium():
        pytest.skip("No Chromium found: install one, or name it in AXLEWRIGHT_CHROMIUM.")
    desk = Desk(folder)
    desk.server.start()
    yield desk
    desk.server.kill()


def signed_in(browser: Browser, desk: Desk, **options: object) -> Page:
    """A page in which the lead is signed in."""
    page = browser.new_context(**options).new_page()
    page.goto(f"{desk.server.url}/door")
    page.get_by_role("button", name="lead").click()
    expect(page.get_by_role("heading", name="Pending review")).to_be_visible()
    return page


@pytest.fixture(scope="module", params=["light", "dark"])
def themed(request: pytest.FixtureRequest, browser: Browser, desk: Desk) -> Iterator[Page]:
    """The lead's page in one of the two themes."""
    page = signed_in(browser, desk, color_scheme=request.param)
    yield page
    page.context.close()


@pytest.fixture(scope="module", params=[(360, 800), (1280, 800)], ids=["small", "wide"])
def sized(request: pytest.FixtureRequest, browser: Browser, desk: Desk) -> Iterator[Page]:
    """The lead's page on a small and on a wide screen."""
    width, height = request.param
    page = signed_in(browser, desk, viewport={"width": width, "height": height})
    yield page
    page.context.close()


@pytest.mark.parametrize("screen", SCREENS)
def test_every_screen_can_be_used_by_everybody(themed: Page, desk: Desk, screen: str) -> None:
    themed.goto(desk.at(screen))
    for summary in themed.locator("summary").all():
        summary.click()

    results = Axe().run(themed)

    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("screen", [name for name in SCREENS if name != "labels"])
def test_no_screen_is_wider_than_it_is(sized: Page, desk: Desk, screen: str) -> None:
    sized.goto(desk.at(screen))

    beyond = "document.documentElement.scrollWidth - innerWidth"
    assert sized.evaluate(beyond) <= 0


@pytest.mark.parametrize("screen", ["pending", "job", "vehicles", "vehicle"])
def test_every_figure_is_drawn_and_described(sized: Page, desk: Desk, screen: str) -> None:
    sized.goto(desk.at(screen))

    figures = sized.locator("[data-figure]")
    expect(figures.locator("svg[role=img]")).to_have_count(figures.count())
    assert figures.count() > 0
    assert all(svg.get_attribute("aria-label") for svg in figures.locator("svg").all())
    assert bad_labels(sized) == []


def test_no_page_reports_an_error(browser: Browser, desk: Desk) -> None:
    page = signed_in(browser, desk)
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
    for screen in set(SCREENS) - {"nowhere"}:
        page.goto(desk.at(screen))
        page.wait_for_load_state("networkidle")

    assert errors == []
    page.context.close()


def test_the_lead_reviews_by_keyboard_alone(browser: Browser, own_desk: Desk) -> None:
    page = signed_in(browser, own_desk)
    page.goto(own_desk.at("job"))
    page.get_by_label("Reason (required to send it back)").focus()

    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(
        page.get_by_text("Say what has to be done: the technician will read this.")
    ).to_be_visible()
    page.get_by_label("Reason (required to send it back)").focus()
    page.keyboard.type("Measure the right side again")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.get_by_role("status")).to_contain_text("sent back.")
    page.goto(own_desk.at("job"))
    expect(page.get_by_text("Reason given: Measure the right side again")).to_be_visible()
    page.context.close()


def test_accepting_takes_the_job_off_the_list(browser: Browser, own_desk: Desk) -> None:
    page = signed_in(browser, own_desk)
    job = own_desk.places["pending"]
    page.locator(f"a[href$='{job}']").click()
    page.get_by_role("button", name="Accept").click()

    expect(page.get_by_role("status")).to_contain_text("accepted.")
    expect(page.locator(f"a[href$='{job}']")).to_have_count(0)
    page.context.close()


def focused(page: Page) -> str:
    """The address that the focused link leads to."""
    found: str = page.evaluate("document.activeElement?.getAttribute('href') ?? ''")
    return found


def test_every_waiting_job_is_decided_by_plain_keys(browser: Browser, own_desk: Desk) -> None:
    page = signed_in(browser, own_desk)
    own = own_desk.places["own"]
    waiting = page.locator("ol.waiting > li").count()

    for left in range(waiting, 1, -1):
        expect(page.locator("ol.waiting > li")).to_have_count(left)
        expect(page.locator("[data-keys-hint]")).to_be_visible()
        if "/desk/jobs/" not in focused(page):
            page.keyboard.press("j")
        if own in focused(page):
            page.keyboard.press("k")
        if own in focused(page):
            page.keyboard.press("j")
        page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Print, or save as PDF")).to_be_visible()
        page.keyboard.press("a")
        page.keyboard.press("Enter")
        expect(page.get_by_role("status")).to_contain_text("accepted.")

    expect(page.locator("ol.waiting a")).to_have_attribute("href", f"/desk/jobs/{own}")
    page.context.close()


def test_keys_only_move_and_can_be_turned_off(browser: Browser, desk: Desk) -> None:
    page = signed_in(browser, desk)
    links = page.locator("ol.waiting h2 a")
    expect(page.locator("[data-keys-hint]")).to_be_visible()
    page.keyboard.press("j")
    page.keyboard.press("j")
    assert focused(page) == links.nth(1).get_attribute("href")
    page.keyboard.press("k")
    assert focused(page) == links.nth(0).get_attribute("href")

    page.keyboard.press("?")
    expect(page.get_by_role("dialog", name="Keys")).to_be_visible()
    assert Axe().run(page).violations_count == 0
    page.get_by_label("Turn these keys off on this computer").check()
    page.get_by_role("button", name="Close").click()
    page.keyboard.press("j")
    assert focused(page) != links.nth(1).get_attribute("href")
    page.context.close()


def test_the_list_renews_itself_and_keeps_the_place(browser: Browser, own_desk: Desk) -> None:
    page = signed_in(browser, own_desk)
    page.clock.install()
    page.reload()
    other = signed_in(browser, own_desk)
    here, there = own_desk.places["own"], own_desk.places["pending"]
    expect(page.locator("[data-keys-hint]")).to_be_visible()
    page.locator(f"a[href$='{here}']").focus()
    other.goto(own_desk.at("job"))
    other.get_by_role("button", name="Accept").click()
    expect(other.get_by_role("status")).to_contain_text("accepted.")

    page.clock.run_for(9_000)

    expect(page.locator(f"a[href$='{there}']")).to_have_count(0)
    expect(page.locator(".hidden-words[aria-live]")).to_contain_text("pending review.")
    assert focused(page).endswith(here)
    page.context.close()
    other.context.close()


def test_without_scripts_a_job_is_still_read_and_decided(browser: Browser, own_desk: Desk) -> None:
    page = signed_in(browser, own_desk, java_script_enabled=False)
    page.goto(own_desk.at("job"))
    expect(page.locator(".answer").first).to_contain_text("Do not adjust yet")
    page.get_by_role("button", name="Accept").click()

    expect(page.get_by_role("status")).to_contain_text("accepted.")
    page.context.close()


def test_a_job_prints_as_a_sheet_with_lines_to_sign(browser: Browser, desk: Desk) -> None:
    page = signed_in(browser, desk)
    page.goto(desk.at("accepted"))
    page.emulate_media(media="print")

    expect(page.get_by_text("Measured by")).to_be_visible()
    expect(page.locator(".on-paper")).to_contain_text("Road test last")
    expect(page.locator("figure svg").first).to_be_visible()
    expect(page.get_by_role("heading", name="Limits")).to_be_visible()
    expect(page.get_by_role("navigation")).to_be_hidden()
    expect(page.get_by_role("heading", name="Every entry")).to_be_hidden()
    sheets = len(re.findall(rb"/Type\s*/Page\b", page.pdf(prefer_css_page_size=True)))
    assert sheets in (1, 2)
    page.context.close()


def test_labels_print_at_their_size(browser: Browser, desk: Desk) -> None:
    page = signed_in(browser, desk)
    page.goto(desk.at("labels"))
    page.emulate_media(media="print")

    box = page.locator(".label-sheet").bounding_box()
    assert box is not None
    millimeter = 96 / 25.4
    assert (box["width"], box["height"]) == pytest.approx(
        (210 * millimeter, 297 * millimeter), abs=1
    )
    assert (box["x"], box["y"]) == pytest.approx((0, 0), abs=1)
    page.context.close()


def test_offered_limits_follow_the_units_that_are_chosen_at_set_up(browser, shop_of_one):
    page = browser.new_context().new_page()
    page.goto(f"{shop_of_one[0].url}/door")
    page.get_by_role("button", name="lead").click()
    page.goto(f"{shop_of_one[0].url}/desk/set-up")
    offset, repeat = page.get_by_label("Offset, such as"), page.get_by_label("Repeat, such as")
    repeat.fill("2 mm")

    for units, offered in [("inches", "1/8 in"), ("millimeters", "3 mm")]:
        page.get_by_label(units, exact=True).check()
        expect(offset).to_have_value(re.compile(offered.replace(" ", r"\s")))
        expect(repeat).to_have_value("2 mm")
    page.context.close()
