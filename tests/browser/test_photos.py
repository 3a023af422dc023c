"""Photos on the phone: taken offline, made small, kept, sent after the readings, never lost."""

import base64
import json
import urllib.request
from pathlib import Path

import pytest
from hands import Hands, wait_for
from kit.desk_pages import Job
from kit.pictures import jpeg, name_of, segment
from playwright.sync_api import Page, Route, expect
from shop_pages import ShopPage, until
from yard import TAG, VEHICLE, put_in_the_yard

from webapp.reckon.photo_bounds import MOST_BYTES
from webapp.shoplog.files.jpeg_header import size_of

pytestmark = pytest.mark.browser
PHOTOS = "**/log/photos/*"
PICTURE = """async ([width, height]) => {
  const canvas = Object.assign(document.createElement('canvas'), {width, height});
  const paper = canvas.getContext('2d');
  paper.fillStyle = '#c33';
  paper.fillRect(0, 0, width / 2, height);
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.9));
  return new Promise((resolve) => {
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result.split(',')[1]);
    reader.readAsDataURL(blob);
  });
}"""
# The hashes of the photos that the phone holds.
HELD = """() => new Promise((resolve) => {
  const opened = indexedDB.open('axlewright');
  opened.onsuccess = () => {
    const asked = opened.result.transaction('photos').objectStore('photos').getAllKeys();
    asked.onsuccess = () => {
      opened.result.close();
      resolve(asked.result);
    };
  };
})"""
EXIF = segment(0xE1, b"Exif\0\0II*\0 47.37 N 8.54 E of a shop")


def picture(page: Page, width: int = 4000, height: int = 3000) -> dict:
    """A file as a camera makes it: large, with notes of where and by what it was taken."""
    body = base64.b64decode(page.evaluate(PICTURE, [width, height]))
    return {
        "name": "IMG_1.jpg",
        "mimeType": "image/jpeg",
        "buffer": body[:2] + EXIF + body[2:],
    }


@pytest.fixture
def hands(new_hands, shop_of_one):
    """A technician at an open job, the network gone since."""
    hands = new_hands()
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job("cracked bracket")
    hands.back()
    expect(hands.state).to_contain_text("Everything is at the shop")
    hands.page.context.set_offline(True)
    hands.server = shop_of_one[0]
    return hands


def take(hands: Hands, file: dict, of: str = "a weld", text: str = "") -> None:
    """Take a photo on the job's screen of photos."""
    if "/photo" not in hands.page.url:
        hands.page.get_by_role("link", name="Take a photo").click()
    hands.page.get_by_text(of, exact=True).click()
    hands.page.get_by_label("What to look at").fill(text)
    hands.page.locator("input[type=file]").set_input_files(file)


def files(folder: Path) -> list[Path]:
    """The photos that the shop has."""
    return sorted((folder / "photos").glob("*.jpg"))


def sent_names(folder: Path) -> list[str]:
    """The hashes under which the photos that the shop has were sent."""
    return [file.name.partition(".")[0] for file in files(folder)]


def be_heard(hands: Hands) -> None:
    """Bring the phone back into the network, and wait until the shop has everything."""
    hands.page.context.set_offline(False)
    hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(hands.state).to_contain_text("Everything is at the shop")


def test_a_photo_taken_offline_reaches_the_lead_small_and_without_the_cameras_notes(
    hands, real_server
):
    server, phone = real_server
    take(hands, picture(hands.page), text="left side")
    expect(hands.page.locator("figcaption")).to_contain_text("a weld: left side")
    expect(hands.page.locator("figcaption")).to_contain_text("on this phone only")
    expect(hands.state).to_contain_text("1 photo not at the shop")
    assert files(server.folder) == []
    be_heard(hands)
    expect(hands.page.locator("figcaption")).to_contain_text("at the shop")

    [file] = files(server.folder)
    body = file.read_bytes()
    assert size_of(body) == (1600, 1200)
    assert b"shop" not in body
    [entry] = [each for each in phone.pull().json["entries"] if each["kind"] == "photo"]
    assert 0 < entry["body"].pop("bytes") <= MOST_BYTES
    assert [entry["body"].pop("sha256")] == sent_names(server.folder)
    assert entry["body"] == {
        "of": "weld",
        "width": 1600,
        "height": 1200,
        "text": "left side",
    }


def test_a_photo_shows_on_the_jobs_screen_and_can_be_struck(hands):
    take(hands, picture(hands.page, 40, 30), "parts that touch")
    hands.back()
    expect(hands.page.locator("figure img")).to_have_js_property("naturalWidth", 40)
    hands.page.locator("summary", has_text="Everything logged").click()
    hands.press("Strike: Photo of parts that touch")
    hands.press("Strike", exact=True)

    expect(hands.page.locator("figure img")).to_have_count(0)


def test_only_a_photo_that_was_just_taken_here_is_said_to_be_saved(hands, shop_of_one):
    job = hands.page.url.split("/job/")[1].split("/")[0]
    of_another = {"sha256": "ab" * 32, "of": "joint", "width": 4, "height": 3, "bytes": 60}
    phone = shop_of_one[1]
    phone.push(phone.entry("photo", of_another, vehicle=VEHICLE, job=job, round="as_found"))
    hands.page.get_by_role("link", name="Take a photo").click()
    be_heard(hands)
    expect(hands.page.get_by_text("1 photo in this job")).to_be_visible()
    expect(hands.page.get_by_text("Saved on this phone")).to_have_count(0)

    take(hands, picture(hands.page, 40, 30))
    expect(hands.page.get_by_text("Saved on this phone. 2 photos in this job.")).to_be_visible()


def put_photo(shop: tuple, body: bytes, **place: str) -> None:
    """A photo that another phone, the one of `shop`, took and sent."""
    server, phone = shop
    about = {"sha256": name_of(body), "of": "joint", "text": "worn hole"}
    size = {"width": 40, "height": 30, "bytes": len(body)}
    phone.push(phone.entry("photo", {**about, **size}, vehicle=VEHICLE, **place))
    sent = urllib.request.Request(
        f"{server.url}/log/photos/{name_of(body)}",
        body,
        {**phone.headers, "Content-Type": "image/jpeg"},
        method="PUT",
    )
    with urllib.request.urlopen(sent, timeout=20) as answer:
        assert answer.status == 200


def test_the_photos_of_others_in_an_open_job_are_there_without_the_network(hands, shop_of_one):
    job = hands.page.url.split("/job/")[1].split("/")[0]
    put_photo(shop_of_one, jpeg(width=40, height=30), job=job, round="as_found")
    be_heard(hands)
    image = hands.page.locator("figure img")
    expect(image).to_have_js_property("naturalWidth", 40, timeout=45_000)
    expect(hands.page.locator("figcaption")).to_contain_text("a joint: worn hole")
    hands.wait_for_worker()
    hands.page.context.set_offline(True)
    hands.page.reload()

    expect(image).to_have_js_property("naturalWidth", 40)
    expect(hands.page.locator("figcaption")).to_contain_text("at the shop")


def test_the_photos_of_last_time_come_when_they_are_looked_at_and_go_again(new_hands, shop_of_one):
    job = Job(shop_of_one[1], VEHICLE)
    job.open("pulls to the left")
    job.hand_in()
    job.send()
    put_photo(shop_of_one, jpeg(width=40, height=30), job=job.id, round="as_found")
    hands = new_hands()
    hands.pair()
    assert hands.page.evaluate(HELD) == []
    hands.open_tag(TAG)
    image = hands.page.locator(".last-time img")
    expect(image).to_have_js_property("naturalWidth", 40, timeout=45_000)
    assert hands.page.evaluate(HELD) == [name_of(jpeg(width=40, height=30))]

    hands.page.goto(f"{hands.url}/app#/")
    hands.page.reload()
    expect(hands.state).to_contain_text("In contact.")
    wait_for(hands.page, f"(await ({HELD})()).length === 0")


def test_what_is_no_picture_is_told_and_nothing_is_kept(hands):
    take(hands, {"name": "notes.jpg", "mimeType": "image/jpeg", "buffer": b"no picture at all"})

    expect(hands.page.get_by_role("alert")).to_contain_text("The app cannot read this picture")
    expect(hands.page.locator("figure")).to_have_count(0)
    expect(hands.state).to_contain_text("Everything is at the shop")


def test_f14_a_photo_cut_off_on_its_way_arrives_once_afterward(hands, real_server):
    server, phone = real_server
    # A request that nobody goes on with stays under way until the page is closed.
    hands.page.route(PHOTOS, lambda route: None)
    take(hands, picture(hands.page, 400, 300))
    expect(hands.page.locator("figure")).to_have_count(1)
    with hands.page.expect_request(PHOTOS):
        hands.page.context.set_offline(False)
        hands.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(hands.state).to_contain_text("1 photo not at the shop")
    context, address = hands.page.context, hands.page.url
    hands.page.close()
    assert [each["kind"] for each in phone.pull().json["entries"]].count("photo") == 1

    hands.page = context.new_page()
    hands.page.goto(address)
    expect(hands.state).to_contain_text("Everything is at the shop")
    assert len(files(server.folder)) == 1


def test_a_phone_killed_before_it_was_heard_still_has_the_photo(
    launch, real_server, leads_phone, tmp_path
):
    server, _ = real_server
    put_in_the_yard(leads_phone)
    first = launch(tmp_path / "profile", "none")
    hands = Hands(first.pages[0], server.url)
    hands.pair()
    hands.open_tag(TAG)
    hands.open_job()
    hands.back()
    first.set_offline(True)
    take(hands, picture(hands.page, 400, 300))
    expect(hands.state).to_contain_text("1 photo not at the shop")
    address = hands.page.url
    first.close()

    again = launch(tmp_path / "profile", "none")
    page = again.pages[0]
    page.goto(address)
    expect(page.locator("figcaption")).to_contain_text("at the shop")
    assert len(files(server.folder)) == 1


COUNTS = "phoneStore().then((store) => store.counts())"


def keep(page: Page, body: bytes, name: str | None = None) -> None:
    """Keep a photo in the store of the phone, as its screen does."""
    page.evaluate("(photo) => keepPhoto(photo)", [name or name_of(body), list(body)])


@pytest.mark.parametrize("lost", ["photo", "entry"])
def test_whichever_of_entry_and_photo_is_cut_off_both_arrive(shop_page: ShopPage, lost) -> None:
    page = shop_page.open()
    path = PHOTOS if lost == "photo" else "**/log/push"
    cut = {"left": 1}

    def cut_once(route: Route) -> None:
        # The shop gets it, and the phone never hears of that.
        carries = lost == "photo" or json.loads(route.request.post_data or "{}")["entries"]
        if carries and cut["left"]:
            cut["left"] -= 1
            route.fetch()
            return route.abort()
        return route.continue_()

    page.route(path, cut_once)
    keep(page, jpeg())
    page.evaluate("meetShop()")
    until(page, "allSent()")
    until(page, f"{COUNTS}.then(({{photos}}) => photos === 0)")

    assert cut["left"] == 0
    assert len(shop_page.arrived()) == 1
    assert sent_names(shop_page.server.folder) == [name_of(jpeg())]


def test_the_same_picture_twice_is_kept_and_sent_once(shop_page: ShopPage) -> None:
    page = shop_page.open()
    sent: list[str] = []
    page.on("request", lambda request: sent.append(request.method))
    keep(page, jpeg())
    keep(page, jpeg())
    page.evaluate("meetShop()")
    until(page, "allSent()")
    until(page, f"{COUNTS}.then(({{photos}}) => photos === 0)")

    assert len(shop_page.arrived()) == 2
    assert sent.count("PUT") == 1


def test_a_photo_that_the_shop_refuses_is_told_stays_and_holds_up_nothing(
    shop_page: ShopPage,
) -> None:
    page = shop_page.open()
    keep(page, jpeg(), "ab" * 32)
    keep(page, jpeg(fill=300))
    page.evaluate("meetShop()")
    until(page, f"{COUNTS}.then(({{photos, needYou}}) => photos === 0 && needYou === 1)")

    refused = page.evaluate("phoneStore().then((store) => store.photos.inState('needs_you'))")
    assert [each["sha256"] for each in refused] == ["ab" * 32]
    assert "changed on the way" in refused[0]["reason"]
    assert sent_names(shop_page.server.folder) == [name_of(jpeg(fill=300))]


def test_f37_a_restored_shop_is_offered_the_photos_again(shop_page: ShopPage) -> None:
    page = shop_page.open()
    keep(page, jpeg())
    page.evaluate("meetShop()")
    until(page, f"{COUNTS}.then(({{photos}}) => photos === 0)")

    page.evaluate("shop.stop(), phoneStore().then((store) => store.reoffer(2))")

    assert page.evaluate(COUNTS)["photos"] == 1


def test_only_acknowledged_photos_make_room_and_the_oldest_first(page: Page) -> None:
    left = page.evaluate("""async () => {
      const store = await phoneStore();
      const name = (number) => String(number).padStart(64, '0');
      const photo = (number) => ({
        sha256: name(number), bytes: new ArrayBuffer(4),
        made_at: `2026-11-25T10:00:00.${String(number).padStart(3, '0')}+00:00`,
      });
      const photos = Array.from({length: 103}, (_, number) => photo(number));
      await store.keep([await reading(1)], {photos});
      for (let number = 1; number < 103; number += 1) await store.photos.stored(name(number));
      const inState = (state) => store.photos.inState(state);
      const [kept, stored] = [await inState('kept'), await inState('stored')];
      return [kept.map(({sha256}) => Number(sha256)), stored.length, Number(stored[0].sha256)];
    }""")
    assert left == [[0], 100, 3]


def test_a_store_from_before_there_were_photos_keeps_what_is_in_it(page: Page) -> None:
    found = page.evaluate("""async () => {
      await new Promise((resolve) => {
        const asked = indexedDB.open('axlewright', 1);
        asked.onupgradeneeded = async () => {
          const entries = asked.result.createObjectStore('entries', {keyPath: 'id'});
          for (const name of ['vehicle', 'job', 'kind']) entries.createIndex(name, name);
          entries.createIndex('state', ['state', 'kept_no']);
          const vehicles = asked.result.createObjectStore('vehicles', {keyPath: 'id'});
          vehicles.createIndex('tags', 'tags', {multiEntry: true});
          for (const [name, keyPath] of [['drafts', 'key'], ['facts', 'name']]) {
            asked.result.createObjectStore(name, {keyPath});
          }
          entries.put({id: 'old', state: 'kept', kept_no: 1, made_at: '2026-01-01T00:00:00Z'});
        };
        asked.onsuccess = () => { asked.result.close(); resolve(); };
      });
      const store = await phoneStore();
      return [(await store.unsent()).map(({id}) => id), (await store.counts()).photos];
    }""")
    assert found == [["old"], 0]


def test_f11_no_step_with_a_photo_waits_for_anything() -> None:
    from shelf import STATIC
    from store_text import steps_of_transactions

    text = (STATIC / "js" / "store" / "photos.js").read_text("utf-8")

    assert len(steps_of_transactions(text)) >= 2
    assert not [step for step in steps_of_transactions(text) if "await" in step]
    assert "async (transaction" not in text
