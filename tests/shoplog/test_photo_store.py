"""Photos beside the log: whole, verified, bounded, and there once."""

import errno
from pathlib import Path

import pytest
from kit.pictures import frame, jpeg, name_of, segment

from webapp.shoplog import LogFull, NotFound
from webapp.shoplog.files.jpeg import BadJpeg, size_of
from webapp.shoplog.files.photo_store import MAX_BYTES, BadPhoto


def test_a_photo_comes_back_as_it_was_sent(shop):
    body = jpeg()
    shop.photos.keep(name_of(body), body)

    assert shop.photos.path(name_of(body)).read_bytes() == body


def test_the_same_photo_twice_is_there_once(shop):
    body = jpeg()
    for _ in range(2):
        shop.photos.keep(name_of(body), body)

    assert [path.name for path in shop.photos.folder.iterdir()] == [f"{name_of(body)}.jpg"]


def test_a_file_that_is_not_whole_is_written_again(shop):
    body = jpeg()
    shop.photos.keep(name_of(body), body)
    shop.photos.path(name_of(body)).write_bytes(body[:50])
    shop.photos.keep(name_of(body), body)

    assert shop.photos.path(name_of(body)).read_bytes() == body


@pytest.mark.parametrize(
    ("body", "says"),
    [
        (b"", "is not a whole JPEG"),
        (b"\x89PNG\r\n\x1a\n", "is not a whole JPEG"),
        (jpeg()[:-2], "is not a whole JPEG"),
        (jpeg(width=1601), "more than 1600 pixels"),
        (jpeg(height=9000), "more than 1600 pixels"),
        (jpeg(width=0), "says nothing of its size"),
        (jpeg(segment(0xE1, b"Exif\0\0 somewhere")), "notes of the camera"),
        (jpeg(segment(0xFE, b"a comment")), "notes of the camera"),
        (b"\xff\xd8" + segment(0xDA, b"") + b"\xff\xd9", "says nothing of its size"),
        (b"\xff\xd8\xff\xe0\xff\xff\xff\xd9", "is damaged"),
        (b"\xff\xd8\xff\xe0\x00\x01\xff\xd9", "is damaged"),
        (b"\xff\xd8" + b"\xff" * 4000 + b"\xff\xd9", "is damaged"),
        (b"\xff\xd8" + segment(0xC0, b"\x08") + b"\xff\xd9", "is damaged"),
        (jpeg(fill=MAX_BYTES), "larger than 3 MB"),
    ],
)
def test_what_is_no_photo_of_the_app_is_refused_with_a_sentence(shop, body, says):
    with pytest.raises(BadPhoto, match=says):
        shop.photos.keep(name_of(body), body)
    assert not shop.photos.folder.exists()


def test_a_photo_under_another_hash_is_refused(shop):
    with pytest.raises(BadPhoto, match="changed on the way"):
        shop.photos.keep("ab" * 32, jpeg())


@pytest.mark.parametrize("name", ["ab" * 32, "../shop", "", "AB" * 32])
def test_a_photo_that_is_not_there_is_not_found(shop, name):
    with pytest.raises(NotFound, match="not at the shop yet"):
        shop.photos.path(name)


def test_f50_a_full_disk_keeps_nothing_of_a_photo(shop, monkeypatch):
    def full(path, body):
        with path.open("wb") as file:
            file.write(body[:10])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(LogFull):
        shop.photos.keep(name_of(jpeg()), jpeg())

    assert list(shop.photos.folder.iterdir()) == []


def test_what_a_cut_left_half_written_is_tidied_away(shop):
    body = jpeg()
    shop.photos.keep(name_of(body), body)
    (shop.photos.folder / f"{name_of(body)}.0123.part").write_bytes(body[:9])
    shop.photos.tidy()

    assert [path.suffix for path in shop.photos.folder.iterdir()] == [".jpg"]


def test_the_size_is_read_from_any_kind_of_frame():
    body = b"\xff\xd8\xff\xff" + frame(640, 480, 0xC2)[1:] + segment(0xDA, b"") + b"\xff\xd9"

    assert size_of(body) == (640, 480)
    with pytest.raises(BadJpeg):
        size_of(body.replace(b"\xff\xc2", b"\xff\xc4"))
