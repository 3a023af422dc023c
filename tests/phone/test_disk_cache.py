"""What is kept on disk is made once for its sources, and never believed when it is torn."""

import pytest

from webapp.phone.disk_cache import FOLDER, kept


@pytest.fixture(autouse=True)
def own_folder(monkeypatch):
    monkeypatch.delenv(FOLDER)


class Maker:
    """Counts how often it had to make something."""

    def __init__(self):
        self.times = 0

    def __call__(self):
        self.times += 1
        return b"made"


def test_it_is_made_once_for_the_same_parts(tmp_path):
    make = Maker()
    for _ in range(2):
        assert kept(tmp_path / "cache", [b"one", b"two"], make) == b"made"
    assert make.times == 1


def test_other_parts_are_made_afresh(tmp_path):
    make = Maker()
    kept(tmp_path, [b"one", b"two"], make)
    kept(tmp_path, [b"onet", b"wo"], make)
    assert make.times == 2


def test_a_torn_file_is_made_again(tmp_path):
    make = Maker()
    kept(tmp_path, [b"one"], make)
    [file] = tmp_path.iterdir()
    file.write_bytes(file.read_bytes()[:-1])
    assert kept(tmp_path, [b"one"], make) == b"made"
    assert make.times == 2


def test_without_a_folder_it_is_made_each_time():
    make = Maker()
    assert kept(None, [b"one"], make) == kept(None, [b"one"], make)
    assert make.times == 2


def test_a_folder_that_cannot_be_written_only_costs_the_time(tmp_path):
    (tmp_path / "cache").write_text("a file where the folder should be")
    assert kept(tmp_path / "cache", [b"one"], Maker()) == b"made"
