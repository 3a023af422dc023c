"""A phone that has met another log of its shop: a copy in use elsewhere, or an older one."""

import shutil
from datetime import UTC, datetime, timedelta

import pytest
from kit.phones import Phone, asking

from webapp import create_app
from webapp.shoplog import ShopLog, forked_log
from webapp.shoplog.backup import back_up, restore

LATER = datetime.now(UTC) + timedelta(days=8)


class Knowing(Phone):
    """A phone that remembers the log as the app does."""

    epoch, head = 1, None

    def meet(self, *entries):
        """Send these entries to the log; whether it says that it is another one."""
        reply = self.push(*entries, epoch=self.epoch, head=self.head)
        assert reply.status == 200, reply
        self.epoch, self.head = reply.json["epoch"], reply.json["head"]
        return reply.json["parted"]


@pytest.fixture
def knowing(phone):
    """The paired phone, which has met the log at three lines."""
    phone.__class__ = Knowing
    assert phone.meet(*[phone.entry() for _ in range(3)]) is False
    return phone


@pytest.fixture
def elsewhere(app, log, tmp_path):
    """Serves a copy of the data folder as it is at that moment; what asks it."""
    opened = []

    def copy(source=None):
        folder = tmp_path / f"elsewhere{len(opened)}"
        folder.mkdir()
        back_up(log, folder / "shop.db") if source is None else shutil.copy(
            source, folder / "shop.db"
        )
        other = create_app({**app.config, "DATA": folder, "SESSION_COOKIE_NAME": None})
        opened.append(other.extensions["shoplog"])
        return asking(other.test_client()), opened[-1]

    yield copy
    for each in opened:
        each.close()


def says(log, now=None):
    return forked_log.says(log, now or datetime.now(UTC))


def test_f60_two_copies_of_a_log_that_part_are_noticed_and_told(knowing, log, elsewhere, lead):
    there, other = elsewhere()
    here = knowing.ask

    knowing.ask = there
    assert knowing.meet(*[knowing.entry() for _ in range(2)]) is False
    knowing.ask = here
    assert knowing.meet() is True
    assert knowing.meet(*[knowing.entry() for _ in range(4)]) is False
    knowing.ask = there
    assert knowing.meet(knowing.entry()) is True

    for each in (log, other):
        assert "A copy of the data folder is in use" in says(each).replace("Either a", "A")
        assert says(each, LATER) is None
    assert "A phone knows lines that this log does not have" in lead.get("/desk/health").text


def test_f60_a_log_put_back_by_hand_is_noticed(knowing, log, elsewhere, tmp_path):
    back_up(log, tmp_path / "by-hand.db")
    knowing.meet(knowing.entry())
    there, other = elsewhere(tmp_path / "by-hand.db")
    other.append(knowing.id, [knowing.entry() for _ in range(5)])

    knowing.ask = there

    assert knowing.meet() is True
    assert says(other) is not None


def test_a_log_that_is_restored_is_no_other_log_and_rises_above_what_phones_met(
    knowing, log, tmp_path
):
    assert knowing.push(epoch=5_000_000_000_000, head=None).json["parted"] is True
    back_up(log, tmp_path / "backup.db")

    epoch = restore(tmp_path / "backup.db", tmp_path / "restored")

    with ShopLog(tmp_path / "restored") as restored:
        assert epoch > 5_000_000_000_000
        assert forked_log.notice(restored, restored.epoch, 1, [900, "ab" * 8]) is False
        assert says(restored) is None


def test_no_epoch_that_a_phone_reports_keeps_a_restored_log_from_starting(knowing, log, tmp_path):
    for epoch in (forked_log.MOST_EPOCH - 1, 2**53 - 1):
        assert knowing.push(epoch=epoch, head=None).status == 200
    back_up(log, tmp_path / "backup.db")

    for place in ("restored", "again"):
        epoch = restore(tmp_path / "backup.db", tmp_path / place)
        with ShopLog(tmp_path / place) as restored:
            assert restored.epoch == epoch < 2**53


@pytest.mark.parametrize(
    "head",
    [
        None,
        [],
        [1],
        ["1", 1],
        [True, "a"],
        [2**60, "a"],
        [-(2**63) - 1, "a"],
        [-(10**30), "a"],
        "x",
    ],
)
@pytest.mark.parametrize("epoch", [1, None, "1", 2.5, True, -1, 2**60])
def test_what_makes_no_sense_is_no_sign_of_another_log(knowing, log, head, epoch):
    reply = knowing.push(knowing.entry(), epoch=epoch, head=head)

    assert (reply.status, reply.json["parted"]) == (200, False)
    assert says(log) is None


def test_f60_a_log_that_is_used_in_another_place_is_told(log):
    assert forked_log.settle(log, "shop-pc, /srv/axlewright") is None
    assert forked_log.settle(log, "shop-pc, /srv/axlewright") is None
    assert says(log) is None

    assert forked_log.settle(log, "laptop, /home/a/copy") == "shop-pc, /srv/axlewright"

    assert "no service runs there any more" in says(log)
    assert says(log, LATER) is None
