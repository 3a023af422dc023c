"""The one address of a shop: as asked for, else as it was kept, else the usual."""

import ipaddress
import re
from urllib.parse import urlsplit

from webapp.network import USUAL_PORT
from webapp.network.ports import CannotStart, in_address

USUAL_HOST = "axlewright.local"
HTTPS = 443
LAST_PORT = 65535
# The setting under which a shop keeps it.
ADDRESS_SETTING = "shop_address"

LABEL = re.compile(r"(?!-)[a-z0-9_-]{1,63}(?<!-)")
LONGEST_NAME = 253
NO_ADDRESS = (
    "{typed} is not an address: give only a name or an IP address, such as axlewright.local or "
    "192.168.1.20, and the port with --port."
)
NO_PORT_ABOVE = (
    "There is no port above {port} for the page `Trust this shop`: choose one with --helper-port."
)
ONE_PORT = (
    "The page `Trust this shop` needs its own port, not {port}: choose another with --helper-port."
)


def address_for(typed: str | None, port: int | None, kept: str | None) -> str:
    """The shop's address; CannotStart for what is typed and is none."""
    host, port_before = host_and_port(kept)
    if typed is not None:
        host = parse_host(typed)
    port = port or port_before
    return f"https://{in_address(host)}" + ("" if port == HTTPS else f":{port}")


def host_and_port(kept: str | None) -> tuple[str, int]:
    """(host, port) of the address that was kept, or the usual ones where none can be read in it."""
    try:
        found = urlsplit(kept or f"https://{USUAL_HOST}:{USUAL_PORT}")
        return found.hostname or USUAL_HOST, found.port or HTTPS
    except ValueError:
        return USUAL_HOST, USUAL_PORT


def parse_host(typed: str) -> str:
    """The name or number that was typed, as addresses hold it; otherwise CannotStart."""
    host = typed.strip().lower().rstrip(".")
    labels = host.split(".")
    try:
        number = ipaddress.ip_address(host)
    except ValueError:
        # A name whose last part is a number would be taken for a number.
        named = all(map(LABEL.fullmatch, labels)) and not labels[-1].isdecimal()
        if named and len(host) <= LONGEST_NAME:
            return host
    else:
        if not number.is_unspecified and "%" not in host:
            return str(number)
    raise CannotStart(NO_ADDRESS.format(typed=typed))


def choose_helper_port(typed: int | None, port: int) -> int:
    """The port of the page that tells phones how to trust the shop; otherwise CannotStart."""
    if typed is None and port == LAST_PORT:
        raise CannotStart(NO_PORT_ABOVE.format(port=port))
    if typed == port:
        raise CannotStart(ONE_PORT.format(port=port))
    return typed or port + 1
