"""Backups of a data folder: made, checked, copied to a second folder, rotated, and on a schedule.

A backup is one file `axlewright-20261125-104207.db`, complete in itself, with the photos of all
backups beside it in `photos`.
"""

import json
import logging
import threading
import time
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, NamedTuple, Self

from webapp.maintenance.rotation import moment_of, moments_to_keep, stamp_of
from webapp.network.data_folder import sync_folder
from webapp.shoplog import BadBackup, LogError, NotFound
from webapp.shoplog.backup import back_up_folder, extent, restore
from webapp.shoplog.connection import BACKUPS
from webapp.shoplog.error_text import plainly
from webapp.shoplog.files.atomic import copy_whole_file, growing
from webapp.shoplog.files.photo_files import PHOTOS, copy_photos, photo_faults

PREFIX = "axlewright-"
ENDING = ".db"
STATUS = "last-backup.json"
SHORTEST_PAUSE = timedelta(minutes=1)

# A file that a backup left behind is taken away after so many seconds.
LEFT_AFTER = 3600.0
NOT_THERE = (
    "There is no backup in {folder}, as {parent} is not there: plug that disk in, or create the "
    "folder."
)
SAME_DISK = (
    "There is no backup in {folder}, as that is on the disk of the log itself: plug the other disk "
    "in, or choose a folder on one."
)

log = logging.getLogger("axlewright.keeping")


class UnfitFolder(LogError):
    """A folder can take no backup; the message says why, and where one was made all the same."""


class Made(NamedTuple):
    """A finished backup: its file in each folder, its entries, and the photos copied with it."""

    files: list[Path]
    entries: int
    photos: int


def usual_place(data: Path) -> Path:
    """Where backups go unless a folder is named; better another disk than this."""
    return data / BACKUPS


def make(data: Path, folders: Sequence[Path], now: datetime | None = None) -> Made:
    """Back the log and photos of `data` up into each folder, and let old backups go there.

    The first folder is the main one; the others must be on another disk. One that is not fit does
    not keep the backup from the rest. What became of it is kept for the desk. Raises LogError or
    OSError, and then no folder holds a file that only looks like a backup.
    """
    moment = (now or datetime.now(UTC)).astimezone(UTC).replace(microsecond=0)
    unfit = {folder: says for folder in folders if (says := unfit_says(folder, folders, data))}
    fit = [folder for folder in folders if folder not in unfit]
    try:
        made = make_in(data, fit, moment) if fit else Made([], 0, 0)
        if unfit:
            raise UnfitFolder(" ".join([*unfit.values(), *made_there(made)]))
    except Exception as error:
        # The disk that is full may be the one that this is to be noted on.
        with suppress(OSError):
            note(data, moment, fit if isinstance(error, UnfitFolder) else [], plainly(error, data))
        raise
    note(data, moment, folders, None)
    return made


def unfit_says(folder: Path, folders: Sequence[Path], data: Path) -> str | None:
    """Why a folder can take no backup, in a sentence; None where it can."""
    if not folder.exists() and not folder.parent.is_dir() and folder.parent != data:
        return NOT_THERE.format(folder=folder, parent=folder.parent)
    if folder != folders[0] and is_beside(folder, data):
        return SAME_DISK.format(folder=folder)
    return None


def disk_of(folder: Path) -> int:
    """The number of the disk, or the part of one, that a folder is on or will be."""
    there = next(each for each in [folder, *folder.absolute().parents] if each.exists())
    return there.stat().st_dev


def made_there(made: Made) -> list[str]:
    """That a backup was made all the same, and where; nothing where none was."""
    files = " and ".join(map(str, made.files))
    return [f"It was made as {files}."] if files else []


def make_in(data: Path, folders: Sequence[Path], moment: datetime) -> Made:
    """The backup of this moment in each folder."""
    for folder in [data, *folders]:
        clear(folder)
    name = f"{PREFIX}{stamp_of(free_moment(folders, moment))}{ENDING}"
    # Made and checked on this disk first: other folders may be on a network drive, where SQLite
    # cannot be trusted with locks.
    draft = data / f"{name}.draft"
    try:
        entries = back_up_folder(data, draft)
        photos = 0
        for folder in folders:
            photos = max(photos, copy_photos(data, folder))
            copy_whole_file(draft, folder / name)
            rotate(folder, moment)
    finally:
        draft.unlink(missing_ok=True)
    return Made([folder / name for folder in folders], entries, photos)


def clear(folder: Path) -> None:
    """Take away what backups that were cut off left in a folder."""
    now = time.time()
    found = [*folder.glob(f"{PREFIX}*{ENDING}.*"), *(folder / PHOTOS).glob("*.part")]
    for path in found:
        # Another one may be under way at this moment.
        with suppress(FileNotFoundError):
            if now - path.stat().st_mtime > LEFT_AFTER:
                path.unlink()


def free_moment(folders: Sequence[Path], moment: datetime) -> datetime:
    """This moment, or the next second that no backup carries yet."""
    taken = {each for folder in folders for each in backups_in(folder)}
    while moment in taken:
        moment += timedelta(seconds=1)
    return moment


def backups_in(folder: Path) -> dict[datetime, Path]:
    """The backups in a folder by the moment that their names carry, oldest first."""
    names = {path: path.name[len(PREFIX) : -len(ENDING)] for path in folder.glob(f"{PREFIX}*.db")}
    dated = {moment_of(name): path for path, name in names.items()}
    return {moment: dated[moment] for moment in sorted(each for each in dated if each)}


def rotate(folder: Path, now: datetime) -> None:
    """Let the backups go that are too old or too many."""
    found = backups_in(folder)
    for moment in found.keys() - moments_to_keep(found, now):
        found[moment].unlink()


def put_back(backup: Path, data: Path) -> int:
    """Make a backup, or the fullest one in a folder, the log of `data`; its new epoch.

    Not the one with the latest date: the clock may have been ahead when that was made.
    """
    if backup.is_dir():
        found = backups_in(backup)
        if not found:
            raise NotFound(f"There is no backup in {backup}.")
        backup = found[max(found, key=lambda moment: (extent(found[moment]), moment))]
    for fault in photo_faults(backup.parent):
        raise BadBackup(f"{fault} Nothing was changed.")
    return restore(backup, data)


def note(data: Path, moment: datetime, folders: Sequence[Path], fault: str | None) -> None:
    """Keep what became of the last backup, for the desk; without the folder there is no desk.

    `folders` are those that hold it now; a fault beside them is about another one.
    """
    if data.is_dir():
        said = {"at": moment.isoformat(), "folders": [str(each) for each in folders]}
        before = last(data) or {"good": None, "same_disk": False}
        if folders:
            before = {"good": moment.isoformat(), "same_disk": on_disk_of(data, folders)}
        kept = {name: before.get(name) for name in ("good", "same_disk")}
        text = json.dumps({**said, **kept, "fault": fault})
        with growing(data / STATUS) as part:
            part.write_text(text, "utf-8")


def on_disk_of(data: Path, folders: Sequence[Path]) -> bool:
    """Whether every one of these folders is on the disk of the log itself."""
    return all(is_beside(each, data) for each in folders)


def is_beside(folder: Path, data: Path) -> bool:
    """Whether a folder is on the log's own disk; what a cloud service takes away is elsewhere."""
    return disk_of(folder) == disk_of(data) and sync_folder(folder.resolve()) is None


def last(data: Path) -> dict[str, Any] | None:
    """What became of the last backup: {at, folders, good, same_disk, fault}.

    `good` is when one last succeeded, and `same_disk` whether all copies of that one are on the
    log's own disk.
    """
    try:
        found = json.loads((data / STATUS).read_text("utf-8"))
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) else None


class Schedule:
    """Makes a backup over and over while the service runs, until stopped."""

    def __init__(self, data: Path, folders: Sequence[Path], every: timedelta) -> None:
        """Prepare; `start` makes the first backup once the service has had a minute to come up."""
        self.data, self.folders = data, folders
        self.first = SHORTEST_PAUSE.total_seconds()
        self.pause = max(every, SHORTEST_PAUSE).total_seconds()
        self.stopped = threading.Event()
        self.thread = threading.Thread(target=self.run, name="backups", daemon=True)

    def __enter__(self) -> Self:
        """Begin."""
        self.thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        """End, once a backup that is under way is finished."""
        self.stopped.set()
        self.thread.join()

    def run(self) -> None:
        """Back up, then wait; one that fails is told and tried again the next time."""
        pause = self.first
        while not self.stopped.wait(pause):
            pause = self.pause
            try:
                make(self.data, self.folders)
            except Exception as error:
                # Whatever it was, the next one may go well, and the desk says how old the last is.
                log.error("No backup was made: %s", plainly(error, self.data))
