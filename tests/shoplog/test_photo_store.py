"""Photos beside the log: whole, verified, bounded, and there once."""

import errno
import io
from pathlib import Path

import pytest
from kit.pictures import frame, jpeg, name_of, segment
from PIL import Image

from webapp.reckon.photo_bounds import MOST_BYTES, MOST_PIXELS
from webapp.shoplog import LogFull, NotFound
from webapp.shoplog.files import pictures
from webapp.shoplog.files.jpeg_header import BadJpeg, size_of
from webapp.shoplog.files.photo_files import photo_faults, photo_files
from webapp.shoplog.files.photo_store import BadPhoto
from webapp.shoplog.files.picture_process import redrawn


def test_a_photo_is_kept_as_its_picture_alone_under_the_hash_it_was_sent_with(shop, log_folder):
    body = jpeg(fill=5000)
    shop.photos.keep(name_of(body), body)

    kept = shop.photos.path(name_of(body))
    assert kept.read_bytes() == redrawn(body, MOST_PIXELS) != body
    assert kept.name == f"{name_of(body)}.{name_of(redrawn(body, MOST_PIXELS))}.jpg"
    assert list(photo_files(log_folder)) == [name_of(body)]
    assert list(photo_faults(log_folder)) == []


def a_camera_picture():
    """A picture with EXIF, a comment and a color profile."""
    notes = Image.Exif()
    notes[0x010E] = "SECRET description"
    out = io.BytesIO()
    picture = Image.effect_noise((640, 480), 60).convert("RGB")
    picture.save(out, "JPEG", exif=notes, comment=b"SECRET comment", icc_profile=b"SECRET" * 9)
    return out.getvalue()


def moved_notes(body):
    """The same with its notes where the look at the head does not see them."""
    at, notes = 2, b""
    kept = b"\xff\xd8"
    while body[at + 1] != 0xDA:
        end = at + 2 + int.from_bytes(body[at + 2 : at + 4], "big")
        is_note = 0xE1 <= body[at + 1] <= 0xEF or body[at + 1] == 0xFE
        notes, kept = (notes + body[at:end], kept) if is_note else (notes, kept + body[at:end])
        at = end
    return kept + body[at:-2] + notes + b"\xff\xd9", kept + body[at:] + notes + b"\xff\xd9"


@pytest.mark.parametrize("where", ["before the end", "behind the end"])
def test_f67_nothing_that_hides_in_a_photo_is_kept(shop, where):
    body = moved_notes(a_camera_picture())[where == "behind the end"]
    assert b"SECRET" in body

    shop.photos.keep(name_of(body), body)

    kept = shop.photos.path(name_of(body)).read_bytes()
    assert b"SECRET" not in kept and b"Exif" not in kept
    with Image.open(io.BytesIO(kept)) as picture:
        assert picture.size == (640, 480)
        assert not picture.getexif() and "comment" not in picture.info


def harmful():
    """Pictures that harm whoever decodes them without care, by name."""
    whole = jpeg(width=640, height=480)
    scan = whole.index(b"\xff\xda")
    at = whole.index(b"\xff\xc0") + 5
    huge = whole[:at] + b"\xff\xff\xff\xff" + whole[at + 4 :]
    return {
        "a bomb": huge,
        "scan upon scan": whole[:scan] + whole[scan:-2] * 40 + b"\xff\xd9",
        "no tables": b"\xff\xd8" + frame(640, 480) + whole[scan:],
        "no picture at all": b"\xff\xd8" + frame(640, 480) + b"\xff\xda\x00\x02 \xff\xd9",
    }


@pytest.mark.parametrize("what", harmful())
def test_f67_a_picture_that_harms_is_refused_and_the_next_one_kept(shop, what):
    body = harmful()[what]
    with pytest.raises(BadPhoto, match="take it again in the app"):
        shop.photos.keep(name_of(body), body)

    shop.photos.keep(name_of(jpeg()), jpeg())
    assert list(photo_files(shop.folder)) == [name_of(jpeg())]


def test_f67_a_decoder_that_dies_or_hangs_harms_nobody_else(shop, monkeypatch, tmp_path):
    deadly = tmp_path / "deadly.py"
    for code in ("import os; os.abort()", "import time; time.sleep(60)"):
        deadly.write_text(code)
        monkeypatch.setattr(pictures, "PATIENCE", 2.0)
        monkeypatch.setattr(pictures, "PROGRAM", deadly)
        with pytest.raises(BadPhoto, match="take it again in the app"):
            shop.photos.keep(name_of(jpeg()), jpeg())
    monkeypatch.undo()
    shop.photos.keep(name_of(jpeg()), jpeg())


def test_a_photo_from_before_photos_were_drawn_anew_stays_as_it_is(shop):
    shop.photos.folder.mkdir()
    (shop.photos.folder / f"{name_of(jpeg())}.jpg").write_bytes(jpeg())
    shop.photos.keep(name_of(jpeg()), jpeg())

    assert shop.photos.path(name_of(jpeg())).read_bytes() == jpeg()
    assert len(list(shop.photos.folder.iterdir())) == 1


def test_the_same_photo_twice_is_there_once(shop):
    body = jpeg()
    for _ in range(2):
        shop.photos.keep(name_of(body), body)

    kept = f"{name_of(body)}.{name_of(redrawn(body, MOST_PIXELS))}.jpg"
    assert [path.name for path in shop.photos.folder.iterdir()] == [kept]


def test_a_file_that_is_not_whole_is_written_again(shop):
    body = jpeg()
    shop.photos.keep(name_of(body), body)
    shop.photos.path(name_of(body)).write_bytes(body[:50])
    shop.photos.keep(name_of(body), body)

    assert shop.photos.path(name_of(body)).read_bytes() == redrawn(body, MOST_PIXELS)


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
        (jpeg(fill=MOST_BYTES), "larger than 3 MB"),
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
