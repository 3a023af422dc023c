"""The commands that keep a shop's log: backup, restore, check, export, import."""

import argparse
import contextlib
import sys
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any, NamedTuple, TextIO

ABOUT_BACKUP = """Copy the log and its photos, while the service runs or not.

The copy is made through the database, checked line by line, and takes its name only when it is
whole and on the disk. Old backups go: all of the last day stay, then one a day for a month, then
one a month for a year."""
ABOUT_RESTORE = """Make a backup the shop's log. Stop the service first.

A damaged backup, or one of a later version, is refused and nothing is changed. The log that was
there is kept beside the new one. Phones notice, and offer again what the backup lacks."""
ABOUT_CHECK = """Look over the whole log: the database, the chain over its lines, what they refer
to, and every photo against its hash. The first bad entry is named first. Nothing is changed.

Exit code 0 when all is well, 1 otherwise."""
ABOUT_EXPORT = """Write the whole log and its photos into one zip, as JSON Lines, to leave with it,
to look at it with other programs, or to bring it into another shop's log. Nobody can come in
with it: it holds no credential and no passphrase."""
ABOUT_IMPORT = """Add an export to a log, or the entries that a phone saved to a file. Stop the
service first.

The entries come after those that are there. The same file twice adds nothing more; an entry with
the id of another and other content is set aside. A damaged file is refused before anything is
written. A phone's file, whose name ends in .jsonl, is taken as if that phone had sent it: the shop
must know the phone."""
MOST_SHOWN = 20


class Command(NamedTuple):
    """One command: what it is for, its further arguments, and what it does."""

    name: str
    help: str
    about: str
    options: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]


def add_commands(commands: Any) -> None:
    """Add the commands to those of `axlewright`."""
    for command in COMMANDS:
        parser = commands.add_parser(
            command.name,
            help=command.help,
            description=command.about,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        parser.add_argument(
            "--data",
            type=Path,
            metavar="FOLDER",
            help="the shop's data folder; without it, the one that the service uses by itself",
        )
        command.options(parser)
        parser.set_defaults(run=in_words(command.run))


def in_words(run: Callable[[argparse.Namespace], int]) -> Callable[[argparse.Namespace], int]:
    """The command with its failures as one sentence on standard error and exit code 1."""

    def said(given: argparse.Namespace) -> int:
        from webapp.network.data_folder import BadPlace
        from webapp.shoplog import LogError
        from webapp.shoplog.error_text import plainly

        try:
            return run(given)
        except BadPlace as error:
            print(error, file=sys.stderr)
        except (LogError, OSError) as error:
            print(plainly(error, data_of(given)), file=sys.stderr)
        return 1

    return said


def data_of(given: argparse.Namespace) -> Path:
    """The data folder that is meant."""
    from webapp.network.data_folder import usual_folder

    folder: Path = given.data or usual_folder()
    return folder


def data_to_write(given: argparse.Namespace) -> Path:
    """The data folder that is meant, where a log may be; else BadPlace."""
    from webapp.network.data_folder import must_be_local

    folder = data_of(given)
    must_be_local(folder)
    return folder


def backup_options(parser: argparse.ArgumentParser) -> None:
    """Where backups go."""
    parser.add_argument(
        "--to",
        type=Path,
        metavar="FOLDER",
        help="where backups go, best on another disk; without it, `backups` in the data folder",
    )
    parser.add_argument(
        "--also",
        type=Path,
        metavar="FOLDER",
        help="a second folder for the same backup, such as on a stick or a network drive",
    )


def backup(given: argparse.Namespace) -> int:
    """Make a backup and say where it is."""
    from webapp.maintenance import backups

    data = data_of(given)
    made = backups.make(data, backup_folders(data, given.to, given.also))
    for file in made.files:
        print(f"{file}: {made.entries} entries, checked.")
    print(f"{made.photos} photos were added.")
    return 0


def add_schedule(parser: argparse.ArgumentParser) -> None:
    """Add what `serve` is told about backups while it runs."""
    parser.add_argument(
        "--backup-every",
        type=hours,
        default=6.0,
        metavar="HOURS",
        help="make a backup every so many hours while the service runs; 0 makes none (default: 6)",
    )
    parser.add_argument(
        "--backup-to", type=Path, metavar="FOLDER", help="where they go, as `backup --to`"
    )
    parser.add_argument(
        "--backup-also", type=Path, metavar="FOLDER", help="a second folder, as `backup --also`"
    )


def hours(text: str) -> float:
    """A number of hours as typed."""
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0 <= found <= 24 * 31:
        raise argparse.ArgumentTypeError("hours are a number from 0 to 744")
    return found


def schedule_of(given: argparse.Namespace) -> contextlib.AbstractContextManager[object]:
    """The backups that are made while its block runs."""
    from webapp.maintenance import backups

    if not given.backup_every:
        return contextlib.nullcontext()
    data = data_of(given)
    folders = backup_folders(data, given.backup_to, given.backup_also)
    return backups.Schedule(data, folders, timedelta(hours=given.backup_every))


def backup_folders(data: Path, to: Path | None, also: Path | None) -> list[Path]:
    """The folders that a backup goes into."""
    from webapp.maintenance.backups import usual_place

    return [to or usual_place(data), *([also] if also else [])]


def restore_options(parser: argparse.ArgumentParser) -> None:
    """Which backup."""
    parser.add_argument(
        "backup", type=Path, help="a backup's file, or a folder of them for the newest"
    )


def restore(given: argparse.Namespace) -> int:
    """Put a backup back and say what happens next."""
    from webapp.maintenance import backups

    data = data_to_write(given)
    epoch = backups.put_back(given.backup, data)
    print(f"The backup is the log in {data} from here on (epoch {epoch}).")
    before = data / f"before-{epoch}.db"
    if before.exists():
        print(f"The log that was there is kept as {before}.")
    print("Start the service. Phones offer again by themselves what this log lacks.")
    return 0


def no_options(_: argparse.ArgumentParser) -> None:
    """Nothing but the data folder."""


def check(given: argparse.Namespace) -> int:
    """Say what is wrong with the log, the first bad entry first."""
    from webapp.shoplog.checkup import awaited_photos, check_all

    data = data_of(given)
    found = check_all(data)
    show(found, sys.stderr)
    if found:
        return 1
    print(f"The log in {data} is sound: every line and photo is as it was stored.")
    show(awaited_photos(data), sys.stdout)
    return 0


def show(sentences: list[str], where: TextIO) -> None:
    """Print the first sentences, and how many more there are."""
    for sentence in sentences[:MOST_SHOWN]:
        print(sentence, file=where)
    if len(sentences) > MOST_SHOWN:
        print(f"And {len(sentences) - MOST_SHOWN} more.", file=where)


def export_options(parser: argparse.ArgumentParser) -> None:
    """Where the export goes."""
    parser.add_argument("target", metavar="FILE.zip", type=Path, help="the file to write")


def export(given: argparse.Namespace) -> int:
    """Write the export and say what it holds."""
    from webapp.shoplog import export_import

    entries = export_import.export(data_of(given), given.target)
    print(f"{given.target}: {entries} entries.")
    return 0


def import_options(parser: argparse.ArgumentParser) -> None:
    """What is brought in."""
    parser.add_argument(
        "source", metavar="FILE", type=Path, help="an export (.zip), or a phone's file (.jsonl)"
    )


def bring_in(given: argparse.Namespace) -> int:
    """Bring an export in and say what became of its entries."""
    from webapp.shoplog import export_import, unsent

    if given.source.suffix == ".jsonl":
        answers = unsent.bring_in_unsent(given.source, data_to_write(given))
        show([answer["reason"] for answer in answers if answer["reason"]], sys.stdout)
        said = Counter(answer["verdict"] for answer in answers)
    else:
        said = export_import.bring_in(given.source, data_to_write(given))
    print(f"{said['stored']} entries were added; {said['already']} were there already.")
    for verdict in ("differs", "refused"):
        if said[verdict]:
            print(f"{said[verdict]} were not taken ({verdict}): the desk shows what was set aside.")
    return 0


COMMANDS = [
    Command(
        "backup", "copy the log, also while it is in use", ABOUT_BACKUP, backup_options, backup
    ),
    Command("restore", "make a backup the log", ABOUT_RESTORE, restore_options, restore),
    Command("check", "look over the whole log", ABOUT_CHECK, no_options, check),
    Command("export", "write the whole log into one file", ABOUT_EXPORT, export_options, export),
    Command(
        "import",
        "add an export, or what a phone saved, to the log",
        ABOUT_IMPORT,
        import_options,
        bring_in,
    ),
]
