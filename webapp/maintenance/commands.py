"""The commands that keep a shop's log: backup, restore, check, export, import."""

import contextlib
import functools
import sys
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any, TextIO

import click

from webapp.reckon.numbers import counted

EXAMPLES_BACKUP = """\b
Examples:
  axlewright backup
  axlewright backup --to /mnt/second-disk/axlewright
  axlewright backup --to D:\\axlewright --also E:\\axlewright
"""
EXAMPLES_RESTORE = """\b
Examples:
  axlewright restore /mnt/second-disk/axlewright       the fullest backup in that folder
  axlewright restore axlewright-20261125-104207.db
"""
EXAMPLES_CHECK = """\b
Examples:
  axlewright check
  axlewright check --rebuild
  axlewright check --data /srv/axlewright
"""
EXAMPLES_EXPORT = """\b
Example:
  axlewright export shop.zip
"""
EXAMPLES_IMPORT = """\b
Examples:
  axlewright import shop.zip
  axlewright import axlewright-unsent.jsonl
"""
MAX_SHOWN = 20

data_option = click.option(
    "--data",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    envvar="AXLEWRIGHT_DATA",
    help="The shop's data folder, on a disk in this computer; without it, the system's usual "
    "folder for application data.",
)


def folder_option(name: str, text: str) -> Callable[..., Any]:
    """An option that names a folder."""
    return click.option(name, type=click.Path(path_type=Path), metavar="FOLDER", help=text)


def failures_in_words(run: Callable[..., int]) -> Callable[..., int]:
    """The command with its failures as one sentence on standard error and exit code 1."""

    @functools.wraps(run)
    def in_words(data: Path | None, **options: Any) -> int:
        from webapp.network.data_folder import BadPlace, usual_folder
        from webapp.shoplog.error_text import FAILURES, plainly

        folder = data or usual_folder()
        try:
            return run(folder, **options)
        except BrokenPipeError:
            raise
        except BadPlace as error:
            print(error, file=sys.stderr)
        except FAILURES as error:
            print(plainly(error, folder), file=sys.stderr)
        return 1

    return in_words


@click.command(epilog=EXAMPLES_BACKUP)
@data_option
@folder_option(
    "--to", "Where backups go, preferably on another disk; default: `backups` in the data folder."
)
@folder_option(
    "--also", "A second folder for the same backup, such as a USB stick or a network drive."
)
@failures_in_words
def backup(data: Path, to: Path | None, also: Path | None) -> int:
    """Copy the log and its photos, even while the service runs.

    The copy is made through the database and checked line by line; it gets its name once it is
    complete and on the disk. Older backups are thinned out: all of the last day stay, then one a
    day for a month, then one a month for a year.
    """
    from webapp.maintenance import backups

    made = backups.make(data, backup_folders(data, to, also))
    for file in made.files:
        print(f"{file}: {counted(made.entries, 'entry', 'entries')}, checked.")
    print(f"Added {counted(made.photos, 'photo')}.")
    return 0


def backup_folders(data: Path, to: Path | None, also: Path | None) -> list[Path]:
    """The folders that a backup goes into."""
    from webapp.maintenance.backups import usual_place

    return [to or usual_place(data), *([also] if also else [])]


def hours(text: str) -> float:
    """A number of hours as typed."""
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0 <= found <= 24 * 31:
        raise click.BadParameter("hours are a number from 0 to 744")
    return found


def backup_schedule(
    data: Path, every: float, to: Path | None, also: Path | None
) -> contextlib.AbstractContextManager[object]:
    """The backups that are made, every so many hours, while its block runs; none for 0."""
    from webapp.maintenance import backups

    if not every:
        return contextlib.nullcontext()
    return backups.Schedule(data, backup_folders(data, to, also), timedelta(hours=every))


@click.command(epilog=EXAMPLES_RESTORE)
@data_option
@click.argument("backup", type=click.Path(path_type=Path))
@failures_in_words
def restore(data: Path, backup: Path) -> int:
    """Make a backup the shop's log. Stop the service first.

    BACKUP is a backup file, or a folder to use the one that goes furthest.

    A backup that is damaged or from a newer version is refused and nothing is changed. The
    previous log is kept beside the new one. Phones notice, and send again what it is missing.
    """
    from webapp.maintenance import backups
    from webapp.network.data_folder import must_be_local

    must_be_local(data)
    epoch = backups.put_back(backup, data)
    print(f"The backup is now the log in {data} (epoch {epoch}).")
    before = data / f"before-{epoch}.db"
    if before.exists():
        print(f"The previous log is kept as {before}.")
    print("Start the service. Phones automatically send again what this log is missing.")
    return 0


@click.command(epilog=EXAMPLES_CHECK)
@data_option
@click.option(
    "--rebuild",
    is_flag=True,
    help="First make what the pages show afresh from the entries; stop the service for that.",
)
@failures_in_words
def check(data: Path, rebuild: bool) -> int:
    """Check the whole log for damage.

    Checks the database, the chain over its lines, what they refer to, what was set aside, what the
    pages show of them, and every photo against its hash. The first bad entry is named first.
    Nothing is changed without --rebuild.

    Exit code 0 when all is well, 1 otherwise.
    """
    from webapp.shoplog.full_check import awaited_photos, check_all, make_afresh

    if rebuild:
        make_afresh(data)
    found = check_all(data)
    show(found, sys.stderr)
    if found:
        return 1
    print(f"The log in {data} is intact: every line and photo is as it was stored.")
    show(awaited_photos(data), sys.stdout)
    return 0


def show(sentences: list[str], where: TextIO) -> None:
    """Print the first sentences, and how many more there are."""
    for sentence in sentences[:MAX_SHOWN]:
        print(sentence, file=where)
    if len(sentences) > MAX_SHOWN:
        print(f"And {len(sentences) - MAX_SHOWN} more.", file=where)


@click.command(epilog=EXAMPLES_EXPORT)
@data_option
@click.argument("target", metavar="FILE.zip", type=click.Path(path_type=Path))
@failures_in_words
def export(data: Path, target: Path) -> int:
    """Write the whole log and its photos into one zip file.

    The log is written as JSON Lines: to keep, to read with other programs, or to import into
    another shop's log. It contains no credentials or passphrases.
    """
    from webapp.shoplog import export_import

    entries = export_import.export(data, target)
    print(f"{target}: {counted(entries, 'entry', 'entries')}.")
    return 0


@click.command("import", epilog=EXAMPLES_IMPORT)
@data_option
@click.argument("source", metavar="FILE", type=click.Path(path_type=Path))
@failures_in_words
def bring_in(data: Path, source: Path) -> int:
    """Add an export, or what a phone saved to a file, to a log. Stop the service first.

    FILE is an export (.zip) or a phone's file (.jsonl), which is treated as if that phone had sent
    it: the shop must know the phone.

    Entries are added after the existing ones. The same file twice adds nothing more; an entry
    with the ID of another one but different content is set aside. A damaged file is refused before
    anything is written.
    """
    from webapp.network.data_folder import must_be_local
    from webapp.shoplog import export_import, unsent_file

    must_be_local(data)
    if source.suffix == ".jsonl":
        answers = unsent_file.bring_in_unsent(source, data)
        show([answer["reason"] for answer in answers if answer["reason"]], sys.stdout)
        counts = Counter(answer["verdict"] for answer in answers)
    else:
        counts = export_import.bring_in(source, data)
    print(
        f"Added {counted(counts['stored'], 'entry', 'entries')}; {counts['already']} already there."
    )
    for verdict in ("differs", "refused"):
        if counts[verdict]:
            print(f"Not accepted ({verdict}): {counts[verdict]}; the desk has the list.")
    return 0
