"""Photos over HTTP: from a paired phone to the shop, and from there to the lead alone."""

import http.client
from base64 import b64decode
from urllib.parse import urlsplit

import pytest
from kit.entries import JOB, VEHICLE
from kit.phones import Phone
from kit.pictures import jpeg, name_of

from webapp.reckon.photo_bounds import MOST_BYTES, MOST_PIXELS
from webapp.shoplog.files.picture_process import redrawn


@pytest.fixture
def send(app, phone):
    """Sends bytes as a photo of the paired phone, under their hash unless another is given."""

    def put(body, name=None, headers=None, **options):
        where = f"/log/photos/{name or name_of(body)}"
        given = phone.headers if headers is None else headers
        options = {"content_type": "image/jpeg", **options}
        return app.test_client().put(where, data=body, headers=given, **options)

    return put


def in_log(phone, body):
    """The entry that names a photo."""
    about = {"sha256": name_of(body), "of": "weld", "text": "left side"}
    size = {"width": 1600, "height": 1200, "bytes": len(body)}
    return phone.entry("photo", {**about, **size}, job=JOB, vehicle=VEHICLE)


def test_a_photo_is_taken_and_answered_like_a_batch(send, log, phone):
    answer = send(jpeg())

    assert answer.status_code == 200
    assert answer.json["sha256"] == name_of(jpeg())
    assert (answer.json["v"], answer.json["server_id"]) == (1, phone.server_id)
    assert {"epoch", "high_water", "server_time"} <= answer.json.keys()
    assert log.photos.path(name_of(jpeg())).read_bytes() == redrawn(jpeg(), MOST_PIXELS)


def test_a_phone_is_given_the_photos_of_others_as_the_shop_has_them(app, send, log, phone):
    send(jpeg())
    ask = app.test_client().get
    given = ask(f"/log/photos/{name_of(jpeg())}", headers=phone.headers)

    assert b64decode(given.json["jpeg"]) == log.photos.path(name_of(jpeg())).read_bytes()
    assert (given.json["v"], given.json["server_id"]) == (1, phone.server_id)
    assert ask(f"/log/photos/{name_of(jpeg())}").status_code == 401


@pytest.mark.parametrize("name", ["ab" * 32, "shop.db", "..%2Fshop.db"])
def test_a_photo_that_is_not_at_the_shop_is_given_as_none(app, phone, name):
    given = app.test_client().get(f"/log/photos/{name}", headers=phone.headers)

    assert (given.json or {}).get("jpeg") is None
    assert given.status_code in (200, 404)


def test_the_same_photo_sent_again_is_answered_alike(send):
    assert [send(jpeg()).status_code for _ in range(2)] == [200, 200]


@pytest.mark.parametrize(
    ("options", "status", "code"),
    [
        ({"name": "ab" * 32}, 400, "bad_photo"),
        ({"name": "shop.db"}, 400, "bad_photo"),
        ({"content_type": "image/png"}, 415, "not_jpeg"),
        ({"headers": {}}, 401, "unknown_phone"),
        ({"headers": {"Authorization": "Bearer guess"}}, 401, "unknown_phone"),
    ],
)
def test_what_is_not_a_paired_phones_own_photo_is_refused(send, log, options, status, code):
    answer = send(jpeg(), **options)

    assert (answer.status_code, answer.json["error"]["code"]) == (status, code)
    assert answer.json["error"]["says"].endswith(".")
    assert not log.photos.folder.exists()


def test_f28_a_photo_that_is_too_large_is_refused_in_words(send):
    answer = send(jpeg(fill=MOST_BYTES))

    assert answer.status_code == 413
    assert answer.json["error"]["says"].startswith("The photo is larger than 3 MB.")


def test_f28_a_photo_of_more_than_a_batch_may_hold_reaches_the_real_service(real_server):
    server, phone = real_server
    body = jpeg(fill=2_000_000)

    assert put(server.url, phone, body) == 200
    assert put(server.url, phone, body) == 200


def put(url: str, phone: Phone, body: bytes) -> int:
    """Send a photo over the network; the status of the answer."""
    connection = http.client.HTTPConnection(urlsplit(url).netloc, timeout=20)
    headers = {**phone.headers, "Content-Type": "image/jpeg"}
    connection.request("PUT", f"/log/photos/{name_of(body)}", body, headers)
    status = connection.getresponse().status
    connection.close()
    return status


@pytest.mark.parametrize("first", ["bytes", "entry"])
def test_entry_and_bytes_may_come_in_either_order_and_be_cut_between(send, phone, lead, first):
    body = jpeg()
    opened = {"axle": "front", "round": "as_found", "about": ""}
    phone.push(phone.entry("job", opened, job=JOB, vehicle=VEHICLE))
    steps = [lambda: send(body), lambda: phone.push(in_log(phone, body))]
    for step in steps if first == "bytes" else steps[::-1]:
        step()
        page = lead.get(f"/desk/jobs/{JOB}").text

    assert f"/desk/photos/{name_of(body)}" in page
    assert "A weld" in page and "left side" in page


def test_a_photo_whose_bytes_are_still_on_a_phone_is_listed_as_such(phone, lead):
    phone.push(in_log(phone, jpeg()))

    page = lead.get(f"/desk/jobs/{JOB}").text

    assert "Still on the phone that took it." in page
    assert "<img" not in page


def test_a_struck_photo_is_not_shown(send, phone, lead):
    entry = in_log(phone, jpeg())
    send(jpeg())
    strike = {"target": entry["id"], "reason": "wrong vehicle"}
    phone.push(entry, phone.entry("strike", strike, job=JOB, vehicle=VEHICLE))

    assert "<img" not in lead.get(f"/desk/jobs/{JOB}").text


def test_the_lead_sees_the_photo_and_nothing_in_it_can_act(send, lead):
    send(jpeg())

    answer = lead.get(f"/desk/photos/{name_of(jpeg())}")

    assert (answer.status_code, answer.data) == (200, redrawn(jpeg(), MOST_PIXELS))
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert answer.headers["Cache-Control"] == "no-store"


def test_nobody_but_the_lead_sees_a_photo(send, client, phone):
    send(jpeg())

    address = f"/desk/photos/{name_of(jpeg())}"

    assert client.get(address).status_code == 303
    assert client.get(address, headers=phone.headers).status_code == 303


def test_a_photo_that_nobody_sent_is_not_found(lead):
    answer = lead.get(f"/desk/photos/{'ab' * 32}")

    assert answer.status_code == 404
    assert "This photo is not at the shop yet." in answer.text


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"sha256": "AB" * 32}, "64 hexadecimal digits"),
        ({"width": 1601}, "a whole number from 1 to 1600"),
        ({"bytes": 0}, "a whole number from 1 to 3145728"),
        ({"of": ""}, "a text of at most 60 characters"),
        ({"text": 5}, "a text of at most 1000 characters"),
    ],
)
def test_an_entry_that_describes_no_such_photo_is_refused(phone, change, says):
    entry = in_log(phone, jpeg())
    entry["body"].update(change)

    [answer] = phone.push(entry).json["answers"]

    assert answer["verdict"] == "refused"
    assert says in answer["reason"]
