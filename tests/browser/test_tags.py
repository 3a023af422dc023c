"""Blank tags: a first scan makes the vehicle, without the network too, on however many phones."""

import hashlib
import uuid

import pytest
from kit.entries import new_id
from playwright.sync_api import Page, expect
from yard import TAG

pytestmark = pytest.mark.browser
BLANK = "QRTV-2345"


@pytest.fixture
def new_hands(new_hands):
    """Gives phones to technicians, each paired and with the vehicles on it."""

    def give():
        technician = new_hands()
        technician.pair()
        return technician

    return give


def make_vehicle(hands, name, about):
    """Scan the blank tag, make its vehicle and open a job on it."""
    hands.open_tag(BLANK)
    hands.page.get_by_label("Name the shop uses").fill(name)
    hands.press("Add this vehicle")
    expect(hands.page.get_by_role("heading", name=name)).to_be_visible()
    hands.open_job(about)


def be_heard(hands):
    """Bring a phone back into the network, and wait until the shop has everything."""
    hands.page.context.set_offline(False)
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(hands.state).to_contain_text("Everything is at the shop", timeout=20000)


def jobs_on(page: Page, url: str) -> list[str]:
    """What the two jobs on the vehicle that the blank tag leads to are about, once it has them."""
    page.goto(f"{url}/t/{BLANK}")
    expect(page.locator("main .rows b")).to_have_count(2)
    return sorted(page.locator("main .rows b").all_inner_texts())


def in_shop(phone, kind):
    """The shop's entries of a kind, those of the yard's own vehicle left out."""
    entries = phone.pull(most=500).json["entries"]
    return [entry for entry in entries if entry["kind"] == kind][1 if kind != "job" else 0 :]


def test_a_blank_tag_becomes_a_vehicle_without_the_network(new_hands, shop_of_one):
    hands = new_hands()
    hands.page.context.set_offline(True)
    hands.open_tag(BLANK.lower())
    hands.press("Add this vehicle")
    expect(hands.page.get_by_text("Enter the name the shop uses for it.")).to_be_visible()
    hands.page.get_by_label("Name the shop uses").fill("Beet trailer")
    hands.page.get_by_text("millimeters").click()
    hands.page.get_by_text("right", exact=True).click()
    hands.page.get_by_text("rear", exact=True).click()
    hands.press("Add this vehicle")
    expect(hands.page.get_by_role("heading", name="Beet trailer")).to_be_visible()
    expect(hands.page.get_by_text("right-hand drive")).to_be_visible()
    be_heard(hands)

    [made] = in_shop(shop_of_one[1], "vehicle")
    assert made["body"] == {
        "name": "Beet trailer",
        "units": "mm",
        "driving_side": "right",
        "axles": ["front", "rear"],
    }
    [put] = in_shop(shop_of_one[1], "tag")
    assert (put["body"], put["vehicle"]) == ({"code": BLANK, "first": True}, made["vehicle"])


def test_a_blank_tag_begins_with_the_units_and_the_side_that_the_shop_chose(
    browser, new_hands, shop_of_one
):
    desk = browser.new_context().new_page()
    desk.goto(f"{shop_of_one[0].url}/door")
    desk.get_by_role("button", name="lead").click()
    desk.goto(f"{shop_of_one[0].url}/desk/set-up")
    desk.get_by_label("name").fill("Bennett Axles")
    for name, value in (("units", "mm"), ("driving_side", "right")):
        desk.locator(f"input[name={name}][value={value}]").check()
    desk.get_by_role("main").get_by_role("button").first.click()
    expect(desk.get_by_text("Bennett Axles: saved.")).to_be_visible()
    desk.context.close()

    hands = new_hands()
    hands.pair()
    expect(hands.state).to_contain_text("Everything is at the shop")
    hands.page.context.set_offline(True)
    hands.open_tag(BLANK)

    expect(hands.page.get_by_label("millimeters")).to_be_checked()
    expect(hands.page.get_by_label("right", exact=True)).to_be_checked()


@pytest.mark.parametrize("first", [0, 1])
def test_two_phones_that_scan_a_blank_tag_apart_end_with_one_vehicle_and_both_jobs(
    new_hands, shop_of_one, first
):
    phones = [new_hands(), new_hands()]
    for hands, name, about in zip(phones, ["Beet trailer", "beets"], ["play", "lean"], strict=True):
        hands.page.context.set_offline(True)
        make_vehicle(hands, name, about)
    be_heard(phones[first])
    be_heard(phones[1 - first])
    be_heard(phones[first])

    assert len({entry["vehicle"] for entry in in_shop(shop_of_one[1], "tag")}) == 1
    assert [jobs_on(each.page, each.url) for each in phones] == [["lean", "play"]] * 2


def test_a_tag_that_the_shop_gave_away_meanwhile_leads_both_jobs_to_its_vehicle(
    new_hands, shop_of_one
):
    hands, phone = new_hands(), shop_of_one[1]
    hands.page.context.set_offline(True)
    truck = new_id()
    opened = {"axle": "front", "round": "as_found", "about": "lean"}
    phone.push(
        phone.entry("vehicle", {"name": "Late tender", "units": "mm"}, vehicle=truck),
        phone.entry("tag", {"code": BLANK}, vehicle=truck),
        phone.entry("job", opened, vehicle=truck, job=new_id()),
    )
    make_vehicle(hands, "tender?", "play")
    be_heard(hands)

    hands.back()
    expect(hands.page.get_by_role("heading", name="Late tender")).to_be_visible()
    assert jobs_on(hands.page, hands.url) == ["lean", "play"]
    hands.page.goto(f"{hands.url}/app#/")
    vehicles = hands.page.locator(".vehicles")
    expect(vehicles.get_by_role("link", name="Late tender")).to_have_count(1)
    expect(vehicles.get_by_role("link", name="tender?")).to_have_count(0)


def test_a_blank_tag_goes_on_a_vehicle_that_is_here_already(new_hands, shop_of_one):
    hands = new_hands()
    hands.open_tag(BLANK)
    hands.page.get_by_text("Attach it to a vehicle on file").click()
    hands.page.get_by_role("combobox").select_option(label=f"Plow 3, {TAG}")
    hands.press(f"Attach {BLANK}")
    expect(hands.page.get_by_role("heading", name="Plow 3")).to_be_visible()
    be_heard(hands)

    [put] = in_shop(shop_of_one[1], "tag")
    assert put["body"] == {"code": BLANK}


def test_the_name_being_typed_survives_a_reload(new_hands):
    hands = new_hands()
    hands.open_tag(BLANK)
    hands.page.get_by_label("Name the shop uses").fill("Beet trai")
    hands.page.evaluate(DRAFT_IS_KEPT, "Beet trai")
    hands.page.reload()

    expect(hands.page.get_by_label("Name the shop uses")).to_have_value("Beet trai")


# Settles once the text being typed is a draft on disk, in the app's own database.
DRAFT_IS_KEPT = """async (text) => {
  const drafts = () => new Promise((resolve) => {
    const asked = indexedDB.open('axlewright');
    asked.onsuccess = () => {
      const all = asked.result.transaction('drafts').objectStore('drafts').getAll();
      all.onsuccess = () => { asked.result.close(); resolve(all.result); };
    };
  });
  const there = async () => (await drafts()).some((draft) => draft.text === text);
  while (!await there()) await new Promise((go) => setTimeout(go, 20));
}"""


def test_a_word_of_eight_letters_is_searched_before_it_is_taken_for_a_code(new_hands, shop_of_one):
    phone = shop_of_one[1]
    phone.push(phone.entry("vehicle", {"name": "Hairline crane"}, vehicle=new_id()))
    hands = new_hands()
    expect(hands.page.get_by_role("link", name="Hairline crane")).to_be_visible()
    hands.open_tag("hairline")

    expect(hands.page.get_by_role("heading", name="Hairline crane")).to_be_visible()


def test_the_id_of_a_tags_vehicle_comes_from_its_code_alone(page):
    made = page.evaluate("use('store/entries').then(({vehicleOfTag}) => vehicleOfTag('K7RM-4TQX'))")
    digest = bytearray(hashlib.sha256(b"axlewright tag K7RM-4TQX").digest()[:16])
    digest[6] = digest[6] & 0x0F | 0x80
    digest[8] = digest[8] & 0x3F | 0x80

    assert made == str(uuid.UUID(bytes=bytes(digest)))


def test_hashes_are_those_of_everybody_else(page):
    given = [bytes(range(256)) * times + b"ab"[:rest] for times in (0, 1, 9) for rest in (0, 1, 2)]
    given += [b"x" * size for size in (55, 56, 63, 64, 65)]
    made = page.evaluate(
        """async (all) => {
          const {sha256} = await use('store/sha256');
          return all.map((each) => sha256(Uint8Array.from(each)));
        }""",
        [list(each) for each in given],
    )

    assert made == [hashlib.sha256(each).hexdigest() for each in given]
