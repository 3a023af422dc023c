"""The demo: the service on an invented shop, and how to get in."""

import socket
import sys
import tempfile
from pathlib import Path

import qrcode

from webapp.network.serving import serve
from webapp.sample import load
from webapp.shoplog import LogError, NotFound, ShopLog

ANY_HOST = {"0.0.0.0", "::"}
THIS_COMPUTER = {"127.0.0.1", "localhost", "::1"}

HERE_ONLY = """The QR code works on this computer only.
To let a phone on the same network in: axlewright demo --host 0.0.0.0"""
NO_HTTPS = """Without HTTPS a phone can try this demo, but it cannot work without the network.
Everybody on this network can come in."""
OWN_SHOP = (
    "holds a shop's own log. The demo opens its door to everybody, so it does not start there."
)


class NoDemo(Exception):
    """Why the demo cannot start, in one sentence."""


def run(host: str, port: int, folder: Path | None) -> int:
    """Serve the demo until stopped; the exit code."""
    try:
        if folder is not None:
            return _run(host, port, folder, f"Everything is kept in {folder.resolve()}.")
        with tempfile.TemporaryDirectory(prefix="axlewright-demo-") as fresh:
            kept = "Nothing is kept when it stops; --data FOLDER keeps it."
            return _run(host, port, Path(fresh), kept)
    except (NoDemo, LogError) as error:
        print(error, file=sys.stderr)
    except OSError as error:
        print(f"The demo cannot start: {error}", file=sys.stderr)
    return 1


def _run(host: str, port: int, folder: Path, kept: str) -> int:
    must_be_free(host, port)
    prepare(folder)
    print(welcome(host, port, kept), flush=True)
    serve({"DATA": folder, "DEMO": True}, host, port)
    return 0


def must_be_free(host: str, port: int) -> None:
    """Nothing when the service can listen there; otherwise NoDemo."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        if sys.platform != "win32":
            # A port that was closed a moment ago still counts as free.
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            raise NoDemo(
                f"Port {port} of {host} cannot be used: {error.strerror}. Stop what listens there, "
                f"or choose another: axlewright demo --port {port + 1}"
            ) from error


def prepare(folder: Path) -> None:
    """Fill an empty log with the sample shop; NoDemo when the folder holds another log."""
    with ShopLog(folder) as log:
        if log.high_water() == 0 and not log.people():
            log.fact_or_make("demo", lambda: "yes")
            load(log)
        elif not _is_demo(log):
            raise NoDemo(f"{folder} {OWN_SHOP}")


def _is_demo(log: ShopLog) -> bool:
    try:
        return log.fact("demo") == "yes"
    except NotFound:
        return False


def welcome(host: str, port: int, kept: str) -> str:
    """What the terminal shows: the address, its QR code, and what to do."""
    address = f"http://{_shown(host)}:{port}/"
    lines = [
        "Axlewright demo: an invented shop.",
        "",
        f"Open  {address}  and choose: a technician's phone, or the lead's desk.",
        _qr(address),
        HERE_ONLY if host in THIS_COMPUTER else NO_HTTPS,
        f"{kept} Stop with Ctrl+C.",
    ]
    return "\n".join(lines)


def _shown(host: str) -> str:
    """The host as a browser is to be given it."""
    name = lan_address() if host in ANY_HOST else host
    return f"[{name}]" if ":" in name else name


def lan_address() -> str:
    """This computer's address on the network, or 127.0.0.1 where there is none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Connecting a datagram socket sends nothing: it only chooses the way out. The address
            # is one of those kept for documentation (RFC 5737).
            probe.connect(("192.0.2.1", 9))
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _qr(address: str) -> str:
    """The address as a QR code in half-block characters, light on a dark terminal."""
    code = qrcode.QRCode(border=2)
    code.add_data(address)
    rows = code.get_matrix()
    if len(rows) % 2:
        rows.append([False] * len(rows[0]))
    blocks = {(False, False): "█", (False, True): "▀", (True, False): "▄", (True, True): " "}
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return "\n".join("".join(blocks[pair] for pair in zip(*two, strict=True)) for two in pairs)
