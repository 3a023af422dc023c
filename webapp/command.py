"""The `axlewright` command: serve a shop, keep its log, try the demo, or assess a sheet."""

import io
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

import click

from webapp import __version__
from webapp.maintenance.commands import backup, bring_in, check, export, restore
from webapp.network import USUAL_PORT
from webapp.network.commands import passphrase, port, rekey, serve, setup_link
from webapp.reckon.assess import assess as findings_of
from webapp.reckon.sentences.findings_text import findings_text
from webapp.reckon.typed_sheet import read_sheet
from webapp.sheet_schema import sheet_schema

NAME = "axlewright"
EXAMPLES = """\b
Examples:
  axlewright serve                         run the shop's own service
  axlewright demo                          try everything with a made-up shop, on this computer
  axlewright demo --host 0.0.0.0           the same, open to phones on the network
  axlewright assess sheet.json             print what the readings in sheet.json mean
  axlewright assess --format text -        the same as text, with the sheet from standard input

Any option can be set in the environment instead: AXLEWRIGHT_DATA for the shop's data folder,
AXLEWRIGHT_SERVE_PORT for `serve --port`, AXLEWRIGHT_BACKUP_TO for `backup --to`, and so on.

The Tab key completes commands and options in bash once `~/.bashrc` has this line; the page on
the commands has those of other shells.

\b
  eval "$(_AXLEWRIGHT_COMPLETE=bash_source axlewright)"
"""
EXAMPLES_DEMO = """\b
Examples:
  axlewright demo
  axlewright demo --host 0.0.0.0 --port 8800
  axlewright demo --data ./try-out         keep what you enter for the next time
"""
EXAMPLES_ASSESS = """\b
Examples:
  axlewright assess sheet.json
  axlewright assess --format text sheet.json
  axlewright assess --schema > sheet.schema.json

\b
A sheet:
  {"axle": "front", "standing": "on_wheels",
   "ready": {"level": true, "tires": true, "load": true, "settled": true, "straight": true},
   "centering": {"face": "rotor", "method": "square_to_rail", "read_to": 1.5875,
                "left": [214.3, 214.3], "right": [203.2, 204.0]}}
"""
HELP = {"help_option_names": ["-h", "--help"], "max_content_width": 100}
STDIN = Path("-")
# What a shell reports for a program that Ctrl+C ended: 128 and the number of the signal.
INTERRUPTED = 130


class BadJson(ValueError):
    """A file that is not one JSON value as RFC 8259 writes it."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; the exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8")
    try:
        code: int = axlewright.main(
            arguments, NAME, standalone_mode=False, auto_envvar_prefix="AXLEWRIGHT"
        )
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except click.Abort:
        print("Stopped by Ctrl+C.", file=sys.stderr)
        return INTERRUPTED
    return code


@click.group(epilog=EXAMPLES, context_settings=HELP)
@click.version_option(
    __version__, "-V", "--version", prog_name=NAME, message="%(prog)s %(version)s"
)
@click.pass_context
def axlewright(context: click.Context) -> None:
    """The shop's log for centering solid axles that have a track bar."""
    # A log holds the key that sessions are signed with, and so do its copies: only
    # the owner may read what a command writes.
    os.umask(0o077)
    # Flushed here, a reader that has gone away (`| head`) ends the command without a word.
    context.call_on_close(sys.stdout.flush)


@axlewright.command(epilog=EXAMPLES_DEMO)
@click.option(
    "--port", type=port, default=str(USUAL_PORT), help=f"Where to listen (default: {USUAL_PORT})."
)
@click.option(
    "--host",
    default="127.0.0.1",
    help="Which network to listen on: 127.0.0.1 is this computer only (default), 0.0.0.0 all.",
)
@click.option(
    "--data",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Keep the demo's log in this folder; without it every run starts fresh.",
)
def demo(port: int, host: str, data: Path | None) -> int:
    """Try everything with a made-up shop: vehicles, people and a year of jobs.

    Prints an address and a QR code. Open it and go in as a technician (the phone app) or as the
    lead (the desk). Stop it with Ctrl+C.
    """
    # Imported here so that `assess` opens no sockets and needs no Flask.
    from webapp.network.demo import run

    return run(host, port, data)


@axlewright.command(epilog=EXAMPLES_ASSESS)
@click.argument(
    "sheet",
    metavar="SHEET.json",
    required=False,
    type=click.Path(path_type=Path, allow_dash=True),
)
@click.option("--schema", is_flag=True, help="Print the JSON Schema of a sheet instead.")
@click.option(
    "--format",
    type=click.Choice(["json", "text"]),
    default="json",
    help="json: every finding, for programs (default); text: the answer and why, for people.",
)
def assess(sheet: Path | None, schema: bool, format: str) -> int:
    """Print the findings of one sheet, as JSON or as text.

    SHEET.json holds the readings of one round (millimeters and degrees); - reads them from
    standard input. Nothing else is read or written, and no service is needed.

    A bad sheet gets one line per fault on standard error, `field: what it must be`, and exit
    code 2.
    """
    if schema == (sheet is not None):
        raise click.UsageError("Name the sheet to assess, or use --schema alone.")
    if sheet is None:
        print(json.dumps(sheet_schema(), ensure_ascii=False, indent=2))
        return 0
    return _assess_file(sheet, format)


def _assess_file(path: Path, format: str) -> int:
    try:
        sheet = read_strictly(path)
    except (OSError, BadJson) as error:
        says = error.strerror if isinstance(error, OSError) else str(error)
        print(f"{path}: {says}", file=sys.stderr)
        return 2
    found = read_sheet(sheet)["faults"]
    for fault in found:
        print(f"{fault['field']}: {fault['says']}", file=sys.stderr)
    if found:
        return 2
    if format == "text":
        print(findings_text(findings_of(sheet), sheet.get("units") or "mm"), end="")
    else:
        print(json.dumps(findings_of(sheet), ensure_ascii=False, indent=2, allow_nan=False))
    return 0


for command in (serve, setup_link, passphrase, rekey, backup, restore, check, export, bring_in):
    axlewright.add_command(command)


def read_strictly(path: Path) -> Any:
    """The JSON value in a file or, for `-`, on standard input.

    BadJson for what RFC 8259 does not allow or leaves open.
    """
    try:
        text = sys.stdin.buffer.read().decode("utf-8") if path == STDIN else path.read_text("utf-8")
        return json.loads(text, parse_constant=_no_constant, object_pairs_hook=_unique)
    except RecursionError as error:
        raise BadJson("is nested too deeply") from error
    except UnicodeDecodeError as error:
        raise BadJson("is not UTF-8 text") from error
    except ValueError as error:
        raise BadJson(f"is not JSON: {error}") from error


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is not a JSON number")


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"the key {json.dumps(key)} appears twice")
        found[key] = value
    return found


if __name__ == "__main__":
    sys.exit(main())
