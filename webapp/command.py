"""The `axlewright` command: try the demo, or assess a sheet without any service."""

import argparse
import io
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from webapp import __version__
from webapp.maintenance.commands import add_commands
from webapp.network.commands import add_serving, port
from webapp.reckon.assess import assess
from webapp.reckon.sentences.report import report
from webapp.reckon.sheet import faults
from webapp.schema import sheet_schema

ABOUT = "The shop's log for centering a solid axle held by a track bar."
EXAMPLES = """examples:
  axlewright serve                         run the shop's own service
  axlewright demo                          try everything on an invented shop, on this computer
  axlewright demo --host 0.0.0.0           the same, and let a phone on the network in
  axlewright assess sheet.json             print what the readings in sheet.json say
  axlewright assess --format text -        the same as text, the sheet from standard input
"""
ABOUT_DEMO = """Start the service on an invented shop: vehicles, people and a year of jobs.

It prints an address and a QR code. Open it and come in as a technician (the phone app)
or as the lead (the desk). Stop with Ctrl+C."""
ABOUT_ASSESS = """Read one sheet (JSON; mm and degrees) and print its findings, as JSON or as text.

A bad sheet gets one line per fault, `field: what it must be`, on standard error, and
exit code 2. Nothing else is read or written, and no service is needed."""
EXAMPLE_SHEET = """example:
  {"axle": "front", "standing": "on_wheels",
   "ready": {"level": true, "tires": true, "load": true, "settled": true, "straight": true},
   "centering": {"face": "rotor", "method": "square_to_rail", "read_to": 1.5875,
                "left": [214.3, 214.3], "right": [203.2, 204.0]}}
"""


STDIN = Path("-")


class BadJson(ValueError):
    """A file that is not one JSON value as RFC 8259 writes it."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; the exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8")
    given = _parser().parse_args(arguments)
    # A log holds the key that sessions are signed with, and so do its copies: whatever a command
    # writes is for its owner's eyes alone.
    os.umask(0o077)
    code: int = given.run(given)
    return code


def _parser() -> argparse.ArgumentParser:
    as_written = argparse.RawDescriptionHelpFormatter
    parser = argparse.ArgumentParser(
        prog="axlewright", description=ABOUT, epilog=EXAMPLES, formatter_class=as_written
    )
    parser.add_argument("--version", action="version", version=f"axlewright {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    add_serving(commands)
    demo = commands.add_parser(
        "demo",
        help="try it on an invented shop",
        description=ABOUT_DEMO,
        formatter_class=as_written,
    )
    _add_demo_options(demo)
    sheet = commands.add_parser(
        "assess",
        help="print the findings of a sheet",
        description=ABOUT_ASSESS,
        epilog=EXAMPLE_SHEET,
        formatter_class=as_written,
    )
    _add_assess_options(sheet)
    add_commands(commands)
    return parser


def _add_assess_options(sheet: argparse.ArgumentParser) -> None:
    what = sheet.add_mutually_exclusive_group(required=True)
    what.add_argument(
        "sheet",
        metavar="SHEET.json",
        nargs="?",
        type=Path,
        help="the sheet to assess; - reads it from standard input",
    )
    what.add_argument(
        "--schema", action="store_true", help="print the JSON Schema of a sheet instead"
    )
    sheet.add_argument(
        "--format",
        choices=["json", "text"],
        default="json",
        help="json: every finding, for programs (default); text: the answer and why, for people",
    )
    sheet.set_defaults(run=_assess)


def _add_demo_options(demo: argparse.ArgumentParser) -> None:
    demo.add_argument("--port", type=port, default=8700, help="where to listen (default: 8700)")
    demo.add_argument(
        "--host",
        default="127.0.0.1",
        help="which network to listen on: 127.0.0.1 is this computer only (default), 0.0.0.0 all",
    )
    demo.add_argument(
        "--data",
        type=Path,
        metavar="FOLDER",
        help="keep the demo's log in this folder; without it every run starts afresh",
    )
    demo.set_defaults(run=_demo)


def _demo(given: argparse.Namespace) -> int:
    # Fetched here so that `assess` opens no sockets and needs no Flask.
    from webapp.network.demo import run

    return run(given.host, given.port, given.data)


def _assess(given: argparse.Namespace) -> int:
    if given.schema:
        print(json.dumps(sheet_schema(), ensure_ascii=False, indent=2))
        return 0
    try:
        sheet = read_strictly(given.sheet)
    except (OSError, BadJson) as error:
        says = error.strerror if isinstance(error, OSError) else str(error)
        print(f"{given.sheet}: {says}", file=sys.stderr)
        return 2
    found = faults(sheet)
    for fault in found:
        print(f"{fault['field']}: {fault['says']}", file=sys.stderr)
    if found:
        return 2
    if given.format == "text":
        print(report(assess(sheet), sheet.get("units") or "mm"), end="")
    else:
        print(json.dumps(assess(sheet), ensure_ascii=False, indent=2, allow_nan=False))
    return 0


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
    raise ValueError(f"{name} is no number in JSON")


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"the key {json.dumps(key)} is there twice")
        found[key] = value
    return found


if __name__ == "__main__":
    sys.exit(main())
