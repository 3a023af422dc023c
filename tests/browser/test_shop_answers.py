"""What the phone makes of the answers it gets: good, foreign and partial ones, and refusals."""

import json
import uuid
from collections.abc import Callable
from typing import Any

import pytest
from kit.phones import code_for
from playwright.sync_api import Page, Route
from shop_pages import ALL_SENT, PUSH, VEHICLE, ShopPage, batches_only, refusal, sent, until

from webapp.shoplog import ShopLog

pytestmark = pytest.mark.browser

COUNTS = "phoneStore().then((store) => store.counts())"
NEED_YOU = "phoneStore().then((store) => store.needYou())"
PAIR = """(code) => Promise.all([use('sync/pairing'), phoneStore()])
  .then(([{pair}, store]) => pair(store, code))
  .then((person) => person.name, (error) => [error.kind, error.says])"""


def reply(route: Route, **changes: Any) -> dict[str, Any]:
    """A good reply to the push, with these keys changed."""
    batch = sent(route.request)
    answers = [{"id": entry["id"], "verdict": "stored", "seq": 1} for entry in batch["entries"]]
    head = {key: batch[key] for key in ("v", "batch_id", "server_id", "epoch")}
    rest = {"high_water": 9, "server_time": "2026-11-25T09:42:07Z", "answers": answers}
    return {**head, **rest, **changes}


def other_ids(route: Route) -> dict[str, Any]:
    """An answer about entries that were not sent."""
    return reply(route, answers=[{"id": str(uuid.uuid4()), "verdict": "stored", "seq": 1}])


def odd_answers(route: Route) -> dict[str, Any]:
    """Answers about the entries that do not say what became of them."""
    ids = [entry["id"] for entry in sent(route.request)["entries"]]
    odd = [{"verdict": "fine", "seq": 1}, {"verdict": "stored"}, {"verdict": "stored", "seq": "1"}]
    return reply(route, answers=[{"id": id, **rest} for id, rest in zip(ids, odd, strict=True)])


def as_json(make: Callable[[Route], Any]) -> Callable[[Route], None]:
    """Fulfils a push with JSON."""
    return lambda route: route.fulfill(json=make(route))


FOREIGN = {
    "a page": lambda route: route.fulfill(content_type="text/html", body="<h1>Sign in</h1>"),
    "nothing in it": as_json(lambda route: {}),
    "null": as_json(lambda route: None),
    "torn JSON": lambda route: route.fulfill(content_type="application/json", body='{"v": 1'),
    "no content": lambda route: route.fulfill(status=204),
    "other entries": as_json(other_ids),
    "odd answers": as_json(odd_answers),
    "another batch": as_json(lambda route: reply(route, batch_id=str(uuid.uuid4()))),
    "another shop": as_json(lambda route: reply(route, server_id=str(uuid.uuid4()))),
    "another version": as_json(lambda route: reply(route, v=2)),
    "another epoch": as_json(lambda route: reply(route, epoch=7)),
    "an older log": as_json(lambda route: reply(route, high_water=-1)),
    "a web page refusing": lambda route: route.fulfill(status=401, body="<h1>Pay first</h1>"),
}


@pytest.mark.parametrize("answer", FOREIGN.values(), ids=FOREIGN)
def test_f25_only_the_shops_own_answer_counts(
    shop_page: ShopPage, answer: Callable[[Route], None]
) -> None:
    page = shop_page.open()
    page.evaluate("keepReadings(3)")
    shop_page.context.route(PUSH, batches_only(answer))

    page.evaluate("meetShop()")

    until(page, "states.some(({says}) => says)")
    assert page.evaluate(COUNTS)["onPhoneOnly"] == 3
    assert page.evaluate(COUNTS)["needYou"] == 0


def keep_with(page: Page, change: str, count: int = 1) -> list[str]:
    """Keep so many readings after `change` (a statement about `entry`); their ids."""
    return page.evaluate(f"""async () => {{
      const entries = await Promise.all(Array.from({{length: {count}}}, (_, no) => reading(no)));
      for (const entry of entries) {{ {change} }}
      return (await (await phoneStore()).keep(entries)).map(({{id}}) => id);
    }}""")


def test_f27_one_bad_entry_holds_up_no_other(shop_page: ShopPage) -> None:
    page = shop_page.open()
    good = page.evaluate("keepReadings(24)")
    bad = keep_with(page, "entry.body.value = 'long';")
    clashing = keep_with(page, "")
    good += page.evaluate("keepReadings(24)")
    shop_page.phone.push(shop_page.phone.entry(id=clashing[0]))

    page.evaluate("meetShop()")

    until(page, ALL_SENT)
    assert shop_page.arrived() == clashing + good
    page.reload()
    need_you = page.evaluate(NEED_YOU)
    assert [entry["id"] for entry in need_you] == bad + clashing
    assert all(entry["reason"] for entry in need_you)


def test_f27_a_shop_that_turns_whole_batches_away_still_gets_the_good_entries(
    shop_page: ShopPage,
) -> None:
    page = shop_page.open()
    ids = page.evaluate("keepReadings(9)")

    def turn_away(route: Route) -> None:
        if ids[4] in [entry["id"] for entry in sent(route.request)["entries"]]:
            route.fulfill(**refusal(400, "bad_entry"))
        else:
            route.continue_()

    shop_page.context.route(PUSH, turn_away)
    page.evaluate("meetShop()")

    until(page, ALL_SENT)
    assert shop_page.arrived() == ids[:4] + ids[5:]
    [bad] = page.evaluate(NEED_YOU)
    assert (bad["id"], bad["reason"]) == (ids[4], "The shop says bad_entry.")


@pytest.mark.parametrize("drop", [False, True], ids=["told", "dropped"])
def test_f28_batches_shrink_until_they_pass(shop_page: ShopPage, drop: bool) -> None:
    page = shop_page.open()
    ids = keep_with(page, "", 400)

    def limit(route: Route) -> None:
        if len(route.request.post_data or "") < 8000:
            route.continue_()
        elif drop:
            route.abort("connectionreset")
        else:
            route.fulfill(**refusal(413, "too_large"))

    shop_page.context.route(PUSH, limit)
    page.evaluate("phoneStore().then((store) => store.setFact('tick_ms', 40))")
    page.evaluate("meetShop()")

    until(page, ALL_SENT)
    assert sorted(shop_page.arrived()) == sorted(ids)
    assert page.evaluate(COUNTS)["needYou"] == 0


@pytest.mark.parametrize("status", [404, 405, 415, 400])
def test_f39_a_shop_too_old_for_the_phone_refuses_no_entry_for_good(
    shop_page: ShopPage, status: int
) -> None:
    page = shop_page.open()
    page.evaluate("keepReadings(3)")
    shop_page.context.route(PUSH, lambda route: route.fulfill(**refusal(status, "unknown")))

    page.evaluate("meetShop()")
    until(page, "shop.state().trouble")

    assert page.evaluate(COUNTS) | {"oldest": None} == {
        "onPhoneOnly": 3,
        "photos": 0,
        "oldest": None,
        "needYou": 0,
    }
    shop_page.context.unroute(PUSH)
    until(page, ALL_SENT)


def test_f40_nothing_is_sent_to_another_shop(shop_page: ShopPage) -> None:
    page = shop_page.open()
    page.evaluate("keepReadings(3)")
    bodies: list[dict[str, Any]] = []

    def other(route: Route) -> None:
        bodies.append(sent(route.request))
        route.fulfill(json=reply(route, server_id=str(uuid.uuid4())))

    shop_page.context.route(PUSH, other)
    page.evaluate("meetShop()")
    until(page, "shop.state().trouble === 'other_shop'")
    page.evaluate("shop.nudge()")
    until(page, "shop.state().trouble === 'other_shop'")

    assert [body["entries"] for body in bodies] == [[]] * len(bodies)
    assert page.evaluate(COUNTS)["onPhoneOnly"] == 3


TROUBLES = [
    (507, "shop_full", "shop_full", "The shop PC’s disk is full."),
    (503, "busy", None, "The shop is busy."),
    (500, "fault", "unreachable", "The shop does not answer."),
]


@pytest.mark.parametrize(("status", "code", "trouble", "says"), TROUBLES)
def test_a_shop_in_trouble_is_asked_again(
    shop_page: ShopPage, status: int, code: str, trouble: str | None, says: str
) -> None:
    page = shop_page.open()
    ids = page.evaluate("keepReadings(2)")
    shop_page.context.route(
        PUSH, batches_only(lambda route: route.fulfill(**refusal(status, code)))
    )
    page.evaluate("meetShop()")
    until(page, "shop.state().says")
    assert page.evaluate("shop.state().trouble") == trouble
    assert page.evaluate("shop.state().says").startswith(says)

    shop_page.context.unroute(PUSH)

    until(page, ALL_SENT)
    assert shop_page.arrived() == ids


def pairing_code(shop_page: ShopPage) -> str:
    """A code that the demo's door gives for the phone of its first technician."""
    door = shop_page.context.new_page()
    # The app would use the code up itself.
    door.route("**/js/app.js", lambda route: route.abort())
    door.goto(f"{shop_page.server.url}/door")
    door.get_by_role("button", name="technician").click()
    door.wait_for_url("**/app#pair=*")
    return door.url.partition("#pair=")[2]


def test_f43_a_revoked_phone_keeps_its_entries_and_sends_them_once_paired_again(
    shop_page: ShopPage,
) -> None:
    page = shop_page.open()
    ids = page.evaluate("keepReadings(2)")
    shop_page.server.stop()
    with ShopLog(shop_page.server.folder) as log:
        log.revoke_phone(shop_page.phone.id)
    shop_page.server.start()
    page.evaluate("meetShop()")
    until(page, "shop.state().trouble === 'not_paired'")
    assert page.evaluate(COUNTS)["onPhoneOnly"] == 2

    assert page.evaluate(PAIR, pairing_code(shop_page)) == shop_page.phone.person["name"]
    page.evaluate("shop.nudge()")

    until(page, ALL_SENT)
    facts = page.evaluate("phoneStore().then((store) => store.facts())")
    assert facts["phone"] == {"id": shop_page.phone.id}
    shop_page.phone.credential = facts["credential"]
    assert shop_page.arrived() == ids


def test_a_used_pairing_code_is_refused_in_the_shops_words(shop_page: ShopPage) -> None:
    page = shop_page.open()
    code = pairing_code(shop_page)
    assert page.evaluate(PAIR, code) == shop_page.phone.person["name"]

    kind, says = page.evaluate(PAIR, code)

    assert kind == "refused"
    assert says.startswith("This pairing code was used")


def pairs_with_another_shop(route: Route) -> None:
    """The answer of some other shop to a pairing code."""
    person = {"id": str(uuid.uuid4()), "name": "Hank Lindgren", "role": "technician"}
    head = {"v": 1, "server_id": str(uuid.uuid4()), "epoch": 1, "credential": "theirs"}
    body = json.dumps({**head, "phone": {"id": str(uuid.uuid4())}, "person": person})
    route.fulfill(content_type="application/json", body=body)


def test_f40_a_phone_with_unsent_entries_does_not_change_shops(shop_page: ShopPage) -> None:
    page = shop_page.open()
    page.evaluate("keepReadings(2)")
    shop_page.context.route("**/door/pair", pairs_with_another_shop)

    kind, says = page.evaluate(PAIR, "ABCD-EFGH")

    assert kind == "other_shop"
    assert says.startswith("This phone still has 2 entries from another person or shop.")
    assert (
        page.evaluate("phoneStore().then((s) => s.fact('server_id'))") == shop_page.phone.server_id
    )


def test_a_code_stays_good_while_the_phone_holds_entries_of_somebody_else(
    shop_page: ShopPage,
) -> None:
    shop_page.server.stop()
    with ShopLog(shop_page.server.folder) as log:
        another = code_for(log, "Frank Delgado")
    shop_page.server.start()
    page = shop_page.open()
    assert page.evaluate(PAIR, another) == "Frank Delgado"
    page.evaluate("keepReadings(2)")
    code = pairing_code(shop_page)

    kind, says = page.evaluate(PAIR, code)
    page.evaluate("meetShop()")
    until(page, ALL_SENT)

    assert kind == "refused"
    assert says.startswith("This phone still has entries from another person or shop.")
    assert page.evaluate(PAIR, code) == shop_page.phone.person["name"]


def test_f40_a_phone_that_holds_nothing_starts_afresh_in_another_shop(shop_page: ShopPage) -> None:
    page = shop_page.open()
    page.evaluate("keepReadings(2)")
    page.evaluate("meetShop()")
    until(page, ALL_SENT)
    page.evaluate("shop.stop()")
    shop_page.context.route("**/door/pair", pairs_with_another_shop)

    assert page.evaluate(PAIR, "ABCD-EFGH") == "Hank Lindgren"

    rows = page.evaluate(f"phoneStore().then((s) => s.entriesOf({{vehicle: {VEHICLE!r}}}))")
    assert rows == []
