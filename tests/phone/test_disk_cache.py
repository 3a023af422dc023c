"""What is kept on disk is made once for its sources, and never believed when it is torn."""

from webapp.phone.compiler.disk_cache import kept


class Maker:
    """Counts how often it had to make something."""

    def __init__(self):
        self.times = 0

    def __call__(self):
        self.times += 1
        return f"made {self.times}".encode()


def test_it_is_made_once_for_the_same_parts(tmp_path):
    make = Maker()
    for _ in range(2):
        assert kept(tmp_path / "build" / "made", [b"one", b"two"], make) == b"made 1"


def test_it_is_made_again_when_a_part_changes_and_takes_the_same_place(tmp_path):
    make = Maker()
    kept(tmp_path / "made", [b"one", b"two"], make)

    assert kept(tmp_path / "made", [b"onet", b"wo"], make) == b"made 2"
    assert kept(tmp_path / "made", [b"onet", b"wo"], make) == b"made 2"
    assert [path.name for path in tmp_path.iterdir()] == ["made"]


def test_a_torn_file_is_made_again(tmp_path):
    make = Maker()
    kept(tmp_path / "made", [b"one"], make)
    (tmp_path / "made").write_bytes((tmp_path / "made").read_bytes()[:-1])

    assert kept(tmp_path / "made", [b"one"], make) == b"made 2"


def test_a_folder_that_cannot_be_written_only_costs_the_time(tmp_path):
    (tmp_path / "build").write_text("a file where the folder should be")

    assert kept(tmp_path / "build" / "made", [b"one"], Maker()) == b"made 1"
