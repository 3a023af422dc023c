"""Scanning inside the app with a camera that the browser makes up, and typing where that fails."""

import pytest
from chrome import flags
from hands import Hands, wait_for
from kit.pictures import trial
from playwright.sync_api import expect
from yard import TAG, put_in_the_yard

pytestmark = pytest.mark.browser
CAMERA = ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"]
# Before every page: a detector that sees what a test puts into `seen`, and the streams so far.
DETECTOR = """
globalThis.seen = '';
globalThis.streams = [];
globalThis.BarcodeDetector = class {
  static async getSupportedFormats() { return ['qr_code']; }
  async detect(video) { return seen ? [{rawValue: seen}] : []; }
};
const real = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
navigator.mediaDevices.getUserMedia = async (wanted) => {
  const stream = await real(wanted);
  streams.push(stream);
  return stream;
};
"""
LIVE = """streams.flatMap((stream) => stream.getTracks())
  .filter(({readyState}) => readyState === 'live').length"""
BROKEN = {
    "missing": "delete globalThis.BarcodeDetector;",
    "empty": "BarcodeDetector.getSupportedFormats = async () => [];",
    "rejecting": "BarcodeDetector.prototype.detect = async () => { throw new Error('no'); };",
    "no camera": "navigator.mediaDevices.getUserMedia = async () => { throw new Error('none'); };",
    "no way to a camera": "Object.defineProperty(navigator, 'mediaDevices', {value: undefined});",
    "no answer": "BarcodeDetector.getSupportedFormats = async () => { throw new Error('no'); };",
}


@pytest.fixture(scope="module")
def camera_browser(playwright, chromium):
    """A Chromium with a camera that shows a test picture."""
    browser = playwright.chromium.launch(executable_path=chromium, args=[*flags(), *CAMERA])
    yield browser
    browser.close()


@pytest.fixture
def paired_in(real_server, leads_phone):
    """Pairs a phone in a browser with a camera, after this script was put before its pages."""
    server, _ = real_server
    put_in_the_yard(leads_phone)
    contexts = []

    def pair(browser, script):
        context = browser.new_context(viewport={"width": 360, "height": 800})
        contexts.append(context)
        context.grant_permissions(["camera"], origin=server.url)
        context.add_init_script(script)
        hands = Hands(context.new_page(), server.url)
        hands.pair()
        return hands

    yield pair
    for context in contexts:
        context.close()


@pytest.fixture
def phone_at(camera_browser, paired_in):
    """Opens the scan screen of a phone without the network, after this script was put before it."""

    def open_scan(script=""):
        hands = paired_in(camera_browser, DETECTOR + script)
        hands.page.context.set_offline(True)
        hands.page.get_by_role("link", name="Scan a tag").click()
        return hands

    return open_scan


def hide(page, hidden):
    """What a browser does when the person turns to another app, and back."""
    page.evaluate(
        """(hidden) => {
          const value = hidden ? 'hidden' : 'visible';
          Object.defineProperty(document, 'visibilityState', {configurable: true, value});
          document.dispatchEvent(new Event('visibilitychange'));
        }""",
        hidden,
    )


@pytest.mark.parametrize(
    "text",
    [TAG, f"http://192.0.2.7:8080/t/{TAG}", f"HTTPS://AN-OLDER-NAME.EXAMPLE/T/{TAG}?again=1#top"],
)
def test_a_tag_opens_its_vehicle_whatever_address_it_was_printed_under(phone_at, text):
    page = phone_at().page
    expect(page.get_by_text("Point the camera at the square on the tag.")).to_be_visible()
    page.evaluate("(text) => { seen = text; }", text)

    expect(page.get_by_role("heading", name="Plow 3")).to_be_visible()
    wait_for(page, f"{LIVE} === 0")


def test_another_square_is_told_from_a_tag(phone_at):
    page = phone_at().page
    page.evaluate("seen = 'https://an.example/menu'")
    expect(page.get_by_text("That code is not a tag from this shop.")).to_be_visible()

    page.evaluate("(tag) => { seen = tag; }", TAG)
    expect(page.get_by_role("heading", name="Plow 3")).to_be_visible()


@pytest.mark.parametrize("fault", BROKEN)
def test_f56_the_typed_code_opens_the_vehicle_where_scanning_fails(phone_at, fault):
    page = phone_at(BROKEN[fault]).page
    says = {"no camera": "No picture from the camera.", "no way to a camera": "cannot be read"}
    expect(page.get_by_text(says.get(fault, "the shop does not answer"))).to_be_visible()

    page.get_by_label("Tag code").fill("nonsense, that")
    page.get_by_role("button", name="Open", exact=True).click()
    expect(page.get_by_text("A tag code has eight letters and digits")).to_be_visible()
    page.get_by_label("Tag code").fill(TAG.replace("-", " ").lower())
    page.get_by_role("button", name="Open", exact=True).click()

    expect(page.get_by_role("heading", name="Plow 3")).to_be_visible()


def test_f57_the_camera_rests_while_the_app_is_hidden_and_starts_again(phone_at):
    page = phone_at().page
    wait_for(page, f"{LIVE} === 1")
    hide(page, True)
    wait_for(page, f"{LIVE} === 0")
    hide(page, False)

    wait_for(page, f"{LIVE} === 1")
    page.evaluate("(tag) => { seen = tag; }", TAG)
    expect(page.get_by_role("heading", name="Plow 3")).to_be_visible()


@pytest.mark.parametrize("how", ["stop()", "dispatchEvent(new Event('ended'))"])
def test_f57_a_camera_that_goes_black_is_started_again(phone_at, how):
    page = phone_at().page
    expect(page.get_by_text("Point the camera at the square on the tag.")).to_be_visible()

    page.evaluate(f"streams[0].getTracks()[0].{how}")

    wait_for(page, f"streams.length > 1 && {LIVE} === 1")
    expect(page.get_by_label("Tag code")).to_be_visible()
    page.evaluate("(tag) => { seen = tag; }", TAG)
    expect(page.get_by_role("heading", name="Plow 3")).to_be_visible()


@pytest.fixture(scope="module")
def camera_at_a_tag(playwright, chromium, tmp_path_factory):
    """A Chromium whose camera shows a printed tag, and that finds no QR code itself."""
    film = tmp_path_factory.mktemp("film") / "tag.mjpeg"
    film.write_bytes(trial(f"https://an-older-name.example/t/{TAG}", 1))
    shows = f"--use-file-for-fake-video-capture={film}"
    args = [*flags(), *CAMERA, shows]
    browser = playwright.chromium.launch(executable_path=chromium, args=args)
    yield browser
    browser.close()


@pytest.fixture
def phone_without_a_reader(camera_at_a_tag, paired_in):
    """A phone at the vehicles, whose browser finds no QR code itself."""
    return paired_in(camera_at_a_tag, "delete globalThis.BarcodeDetector;")


def test_f56_a_browser_without_a_reader_has_the_shop_read_the_tag(phone_without_a_reader):
    page = phone_without_a_reader.page
    page.get_by_role("link", name="Scan a tag").click()

    expect(page.get_by_role("heading", name="Plow 3")).to_be_visible()


def test_f56_the_shop_reads_the_tag_as_soon_as_it_answers_again(phone_without_a_reader):
    page = phone_without_a_reader.page
    page.context.set_offline(True)
    page.get_by_role("link", name="Scan a tag").click()
    expect(page.get_by_text("the shop does not answer")).to_be_visible()
    page.context.set_offline(False)

    expect(page.get_by_role("heading", name="Plow 3")).to_be_visible()


def test_leaving_the_screen_turns_the_camera_off(phone_at):
    hands = phone_at()
    wait_for(hands.page, f"{LIVE} === 1")
    hands.back()

    wait_for(hands.page, f"{LIVE} === 0")
