"""Whether a request came from this very computer, by the address that it came from alone.

The shop has one address. Asked for there, this computer reaches itself by its address on the
network and not by the loopback: its own addresses count as here. An address cannot be made up
where an answer has to arrive, and no header is looked at.
"""

import ipaddress
from typing import TypeAlias

import ifaddr

Address: TypeAlias = ipaddress.IPv4Address | ipaddress.IPv6Address


def is_this_computer(source: str) -> bool:
    """Whether an address is one of this computer's, as they are at this moment."""
    address = plain(source)
    return address is not None and (address.is_loopback or address in own_addresses())


def own_addresses() -> set[Address]:
    """Every address of this computer on any network; none where they cannot be asked for."""
    try:
        adapters = list(ifaddr.get_adapters())
    except OSError:
        return set()
    texts = [each.ip if each.is_IPv4 else each.ip[0] for one in adapters for each in one.ips]
    return {found for text in texts if (found := plain(str(text))) is not None}


def plain(text: str) -> Address | None:
    """An address without its network card, IPv4 also where it is written as IPv6; None for others.

    A service that listens for both kinds sees `::ffff:192.168.1.20` (RFC 4291, 2.5.5.2).
    """
    try:
        found = ipaddress.ip_address(text.partition("%")[0])
    except ValueError:
        return None
    return getattr(found, "ipv4_mapped", None) or found
