"""Pages come compressed where the browser takes that, and give away nothing of their tokens."""

import gzip
import re

import brotli
import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.desk_pages import handed_in
from kit.entries import add_people

from webapp import create_app
from webapp.door.compression import LEAST_BYTES
from webapp.door.csrf import mask, unmask

TOKEN = re.compile(r'name="csrf_token" value="([^"]+)"')
PACKED = {"Accept-Encoding": "gzip, deflate"}


@pytest.mark.parametrize("path", ["/desk", "/desk/pending/list", "/desk/vehicles", "/desk/jobs"])
@pytest.mark.parametrize(
    ("accepted", "coding", "unpack"),
    [
        ("gzip, deflate", "gzip", gzip.decompress),
        ("gzip, deflate, br", "br", brotli.decompress),
        ("br;q=0, gzip", "gzip", gzip.decompress),
    ],
)
def test_a_page_comes_packed_as_the_browser_takes_it(lead, phone, path, accepted, coding, unpack):
    handed_in(phone, left=(214.4,) * 4)
    lead.get(path)
    plain = lead.get(path)
    packed = lead.get(path, headers={"Accept-Encoding": accepted})

    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == coding
    assert len(packed.data) == int(packed.headers["Content-Length"]) < len(plain.data)
    assert without_token(unpack(packed.data).decode()) == without_token(plain.text)
    for answer in (plain, packed):
        assert "Accept-Encoding" in answer.headers["Vary"]


def without_token(text):
    """A page without what is different on every one, and what only the clock changed."""
    return re.sub(r"Waiting for [^<]*", "", TOKEN.sub("", text))


@pytest.mark.parametrize("accepted", [None, "identity", "br;q=0, gzip;q=0", "deflate"])
def test_a_browser_that_takes_neither_gets_the_page_as_it_is(lead, accepted):
    answer = lead.get("/desk/vehicles", headers={"Accept-Encoding": accepted} if accepted else {})

    assert "Content-Encoding" not in answer.headers
    assert "<title>" in answer.text


def test_what_is_small_no_page_or_packed_already_is_left_alone(lead, phone):
    handed_in(phone)
    for path in ("/desk/export/jobs.csv", "/desk/export/entries.jsonl", "/desk/due.ics"):
        assert "Content-Encoding" not in lead.get(path, headers=PACKED).headers
    tiny = lead.get("/desk/pending/list?flag=none", headers=PACKED)
    app = lead.get("/app", headers=PACKED)

    assert len(tiny.data) < LEAST_BYTES and "Content-Encoding" not in tiny.headers
    assert b"<title>" in gzip.decompress(app.data)


def test_a_packed_list_is_not_sent_again_while_it_says_the_same(lead, phone):
    handed_in(phone)
    path = "/desk/pending/list"
    first = lead.get(path, headers=PACKED)
    again = lead.get(path, headers={**PACKED, "If-None-Match": first.headers["ETag"]})

    assert first.headers["ETag"].startswith("W/")
    assert again.status_code == 304 or again.headers["ETag"] != first.headers["ETag"]


@pytest.fixture
def guarded_lead(tmp_path):
    """The lead's browser at a service with form tokens, as it is served."""
    app = create_app({"DATA": tmp_path / "guarded", "DEMO": True})
    add_people(app.extensions["shoplog"])
    client = app.test_client()
    [token] = set(TOKEN.findall(client.get("/door").text))
    client.post("/door/demo/lead", data={"csrf_token": token})
    yield client
    app.extensions["shoplog"].close()


FORM = {"name": "Gray hauler", "units": "mm", "driving_side": "left", "note": ""}


def test_a_page_hides_its_token_in_another_way_each_time(guarded_lead):
    pages = [guarded_lead.get("/desk/people").text for _ in range(2)]
    with guarded_lead.session_transaction() as session:
        secret = session["csrf_token"]

    found = [set(TOKEN.findall(page)) for page in pages]
    assert [len(each) for each in found] == [1, 1]
    [one], [two] = found
    assert unmask(one).split(".")[0] == unmask(two).split(".")[0]
    assert secret not in pages[0]
    for same in (unmask(one)[:24], one[:24], one[-24:]):
        assert same not in pages[1]


def test_any_page_of_the_session_sends_its_form_however_old_it_is(guarded_lead):
    tokens = [TOKEN.findall(guarded_lead.get("/desk/vehicles/new").text)[0] for _ in range(2)]

    for number, token in enumerate(tokens):
        form = {**FORM, "name": f"Gray hauler {number}", "csrf_token": token}
        assert guarded_lead.post("/desk/vehicles/new", data=form).status_code == 303


@pytest.mark.parametrize("change", [lambda t: t[:-8], lambda t: "A" + t, lambda t: "", unmask])
def test_a_token_that_no_page_wrote_is_refused(guarded_lead, change):
    token = TOKEN.findall(guarded_lead.get("/desk/vehicles/new").text)[0]

    answer = guarded_lead.post("/desk/vehicles/new", data={**FORM, "csrf_token": change(token)})

    assert answer.status_code == 400


TOKENS = st.text(st.characters(min_codepoint=33, max_codepoint=126), max_size=120)


@given(token=TOKENS)
def test_what_is_hidden_is_shown_again(token):
    assert unmask(mask(token)) == token


@given(text=st.text(max_size=60) | TOKENS)
def test_anything_else_shows_nothing_or_some_text_and_never_fails(text):
    assert isinstance(unmask(text), str)
