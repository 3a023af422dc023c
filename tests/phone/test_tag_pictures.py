"""Tags read at the shop, for phones whose browser finds no QR code in a picture."""

import threading

import pytest
from kit.entries import JOB
from kit.pictures import jpeg, trial

from webapp.phone import tag_pictures
from webapp.shoplog.files import pictures
from webapp.shoplog.files.jpeg_header import START_OF_SCAN
from webapp.shoplog.files.picture_process import qr_text

TEXT = "https://axle.local:8700/t/K7RM-4TQX"


@pytest.fixture
def read(app, phone):
    """Sends a picture of a tag from the paired phone, or with other headers."""

    def post(body, headers=None, **options):
        given = phone.headers if headers is None else headers
        options = {"content_type": "image/jpeg", **options}
        return app.test_client().post("/log/read_tag", data=body, headers=given, **options)

    return post


def test_a_tag_is_read_and_nothing_of_the_picture_is_kept(read, log, phone):
    before = sorted(log.folder.rglob("*"))
    answer = read(trial(TEXT, 1))

    assert (answer.status_code, answer.json["text"]) == (200, TEXT)
    assert (answer.json["v"], answer.json["server_id"]) == (1, phone.server_id)
    assert sorted(log.folder.rglob("*")) == before


def test_a_picture_without_a_tag_says_so(read):
    answer = read(jpeg(width=480, height=480))
    assert (answer.status_code, answer.json["text"]) == (200, None)


def test_nearly_all_of_fifty_pictures_are_read():
    assert sum(qr_text(trial(TEXT, number), 800) == TEXT.encode() for number in range(50)) >= 48


@pytest.mark.parametrize(
    ("body", "options", "status", "code"),
    [
        (b"no picture at all", {}, 400, "bad_picture"),
        (jpeg(width=900, height=900), {}, 400, "bad_picture"),
        (jpeg(width=480, height=480, fill=200_000), {}, 413, "too_large"),
        (trial(TEXT, 1), {"content_type": "image/png"}, 415, "not_jpeg"),
        (trial(TEXT, 1), {"headers": {}}, 401, "unknown_phone"),
    ],
)
def test_what_is_no_small_picture_of_a_paired_phone_is_refused(read, body, options, status, code):
    answer = read(body, **options)
    assert (answer.status_code, answer.json["error"]["code"]) == (status, code)


def test_a_crowd_of_pictures_is_turned_away_and_the_next_one_read(read, monkeypatch):
    monkeypatch.setattr(tag_pictures, "PATIENCE", 0.01)
    monkeypatch.setattr(tag_pictures, "turn", threading.BoundedSemaphore(1))
    tag_pictures.turn.acquire()
    crowded = read(trial(TEXT, 1))
    tag_pictures.turn.release()

    assert (crowded.status_code, crowded.json["error"]["code"]) == (503, "busy")
    assert read(trial(TEXT, 1)).json["text"] == TEXT


def test_what_a_tag_of_somebody_else_says_is_only_told(read):
    text = f"<script>{JOB}</script>"
    assert read(trial(text, 3)).json["text"] == text


def test_a_picture_of_many_scans_is_not_even_begun(read, monkeypatch, tmp_path):
    whole = jpeg(width=480, height=480)
    scan = whole.index(START_OF_SCAN)
    begun = tmp_path / "begun"
    program = tmp_path / "program.py"
    program.write_text(f"import pathlib; pathlib.Path({str(begun)!r}).touch()")
    monkeypatch.setattr(pictures, "PROGRAM", program)

    answer = read(whole[:scan] + whole[scan:-2] * 40 + b"\xff\xd9")

    assert (answer.status_code, answer.json["error"]["code"]) == (400, "bad_picture")
    assert not begun.exists()


def test_a_picture_that_takes_long_gives_its_turn_back(read, monkeypatch, tmp_path):
    slow = tmp_path / "slow.py"
    slow.write_text("import time; time.sleep(60)")
    with monkeypatch.context() as patched:
        patched.setattr(pictures, "PROGRAM", slow)
        patched.setattr(tag_pictures, "MOST_SECONDS", 0.2)
        answer = read(trial(TEXT, 1))

    assert (answer.status_code, answer.json["error"]["code"]) == (400, "bad_picture")
    assert tag_pictures.MOST_SECONDS < pictures.PATIENCE
    assert read(trial(TEXT, 1)).json["text"] == TEXT
