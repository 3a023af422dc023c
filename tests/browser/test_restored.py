"""After a restore phones give back, by themselves, everything that they hold."""

from pathlib import Path

import pytest
from kit.phones import Phone, asking_at
from shop_pages import ALL_SENT, ShopPage, until

from webapp.door.pairing import new_pairing_code
from webapp.shoplog import ShopLog
from webapp.shoplog.backup import back_up, restore

pytestmark = pytest.mark.browser

HELD = "phoneStore().then((s) => s.entriesOf({kind: 'reading'})).then((all) => all.length)"
LENT = "phoneStore().then((s) => s.lent()).then((all) => all.length)"
NOTE = {"text": "left bolt is bent"}


@pytest.fixture
def another(shop_page: ShopPage) -> Phone:
    """A phone of somebody else, which is not there any more after the restore."""
    shop_page.server.stop()
    with ShopLog(shop_page.server.folder) as log:
        person = next(row for row in log.people() if row["name"] == "Frank Delgado")
        code = new_pairing_code(log, person["id"])
    shop_page.server.start()
    return Phone(asking_at(shop_page.server.url), code)


def test_f37_what_only_another_phone_made_is_handed_back_by_this_one(
    shop_page: ShopPage, another: Phone, tmp_path: Path
) -> None:
    page = shop_page.open()
    shop_page.server.stop()
    with ShopLog(shop_page.server.folder) as log:
        back_up(log, tmp_path / "backup.db")
    shop_page.server.start()
    theirs = [another.entry("note", NOTE) for _ in range(3)]
    another.push(*theirs)
    own = page.evaluate("keepReadings(3)")
    page.evaluate("meetShop()")
    until(page, ALL_SENT)
    until(
        page,
        "phoneStore().then((s) => s.entriesOf({kind: 'note'})).then((all) => all.length === 3)",
    )
    before = {entry["id"]: entry for entry in shop_page.phone.pull().json["entries"]}

    shop_page.server.stop()
    restore(tmp_path / "backup.db", shop_page.server.folder)
    shop_page.server.start()

    page.evaluate("shop.nudge()")
    until(page, f"({ALL_SENT}).then((sent) => sent && shop.state().trouble === null)")
    until(page, f"{LENT}.then((count) => count === 0)")
    after = {entry["id"]: entry for entry in shop_page.phone.pull().json["entries"]}
    assert after.keys() == before.keys() == {*own, *(entry["id"] for entry in theirs)}
    for entry in theirs:
        assert after[entry["id"]]["person"] == before[entry["id"]]["person"]
        assert after[entry["id"]]["received_at"] == before[entry["id"]]["received_at"]


def test_f37_a_shop_that_lost_nothing_is_handed_nothing(
    shop_page: ShopPage, another: Phone, tmp_path: Path
) -> None:
    another.push(*[another.entry("note", NOTE) for _ in range(3)])
    page = shop_page.open()
    page.evaluate("meetShop()")
    until(page, "shop.state().heard && !shop.state().sending")
    shop_page.server.stop()
    with ShopLog(shop_page.server.folder) as log:
        back_up(log, tmp_path / "backup.db")
    restore(tmp_path / "backup.db", shop_page.server.folder)
    shop_page.server.start()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))

    page.evaluate("shop.nudge()")

    until(page, "phoneStore().then((s) => s.fact('epoch')).then((epoch) => epoch > 1)")
    until(page, f"{LENT}.then((count) => count === 0 && shop.state().trouble === null)")
    assert not any(url.endswith("/log/hand_back") for url in asked)
    assert len(shop_page.arrived()) == 3


def test_f12_a_phone_whose_store_was_wiped_says_what_never_arrived(
    shop_page: ShopPage,
) -> None:
    entries = [shop_page.phone.entry() for _ in range(5)]
    shop_page.phone.push(*entries[:3], pending_count=2, last_local_no=5)
    shop_page.server.stop()
    with ShopLog(shop_page.server.folder) as log:
        code = new_pairing_code(log, shop_page.phone.person["id"])
    shop_page.server.start()
    page = shop_page.context.new_page()

    page.goto(f"{shop_page.origin}/app#pair={code}")

    says = page.get_by_text("2 entries of")
    says.first.wait_for()
    assert "never arrived at the shop: no. 4 to 5. It made 5, and the shop has 3." in (
        says.first.inner_text()
    )
    page.locator(".state").click()
    page.get_by_role("heading", name="Never arrived").wait_for()


def test_f60_a_phone_says_that_the_shop_has_another_log(shop_page: ShopPage) -> None:
    page = shop_page.open()
    own = page.evaluate("keepReadings(3)")
    page.evaluate("meetShop()")
    until(page, ALL_SENT)
    head = "phoneStore().then((s) => s.setFact('head', [3, '0123456789abcdef']))"
    page.evaluate(head)
    own += page.evaluate("keepReadings(1)")
    page.evaluate("shop.nudge()")
    until(page, "phoneStore().then((s) => s.fact('parted_at')).then((at) => at !== null)")
    until(page, f"({ALL_SENT}).then((sent) => sent && shop.state().trouble === null)")
    assert shop_page.arrived() == own

    page.goto(f"{shop_page.origin}/app#/unsent")

    page.get_by_text("was not the one this phone knew").first.wait_for()
