"""The demo: the service on an invented shop, and how to get in."""

import sys
import tempfile
from pathlib import Path

from webapp.network.data_folder import BadPlace, must_be_local
from webapp.network.ports import (
    ANY_HOST,
    THIS_COMPUTER,
    CannotStart,
    in_address,
    lan_address,
    must_be_free,
)
from webapp.network.serving import serve
from webapp.network.terminal_qr import qr
from webapp.sample import load
from webapp.shoplog import LogError, ShopLog
from webapp.shoplog.error_text import plainly

HERE_ONLY = """The QR code works on this computer only.
To let a phone on the same network in: axlewright demo --host 0.0.0.0"""
NO_HTTPS = """Without HTTPS a phone can try this demo, but it cannot work offline.
Everybody on this network can use it."""
OWN_SHOP = "has a real shop's log in it. The demo is open to everybody, so it does not start there."


def run(host: str, port: int, folder: Path | None) -> int:
    """Serve the demo until stopped; the exit code."""
    try:
        if folder is not None:
            must_be_local(folder)
            return _run(host, port, folder, f"Everything is stored in {folder.resolve()}.")
        with tempfile.TemporaryDirectory(prefix="axlewright-demo-") as fresh:
            kept = "Nothing is kept after it stops; use --data FOLDER to keep it."
            return _run(host, port, Path(fresh), kept)
    except (BadPlace, CannotStart) as error:
        print(error, file=sys.stderr)
    except (LogError, OSError) as error:
        print(plainly(error, folder or Path(tempfile.gettempdir())), file=sys.stderr)
    return 1


def _run(host: str, port: int, folder: Path, kept: str) -> int:
    must_be_free(host, port, "axlewright demo --port NUMBER")
    prepare(folder)
    print(welcome(host, port, kept), flush=True)
    serve({"DATA": folder, "DEMO": True}, host, port)
    return 0


def prepare(folder: Path) -> None:
    """Fill an empty log with the sample shop; CannotStart when the folder holds another log."""
    with ShopLog(folder) as log:
        if log.high_water() == 0 and not log.people():
            log.fact_or_make("demo", lambda: "yes")
            load(log)
        elif not log.is_demo():
            raise CannotStart(f"{folder} {OWN_SHOP}")


def welcome(host: str, port: int, kept: str) -> str:
    """What the terminal shows: the address, its QR code, and what to do."""
    address = f"http://{_shown(host)}:{port}/"
    lines = [
        "Axlewright demo: a made-up shop.",
        "",
        f"Open  {address}  and choose: a technician's phone, or the lead's desk.",
        qr(address),
        HERE_ONLY if host in THIS_COMPUTER else NO_HTTPS,
        f"{kept} Stop with Ctrl+C.",
    ]
    return "\n".join(lines)


def _shown(host: str) -> str:
    """The host as a browser is to be given it."""
    return in_address(lan_address() if host in ANY_HOST else host)
