"""Where this computer can be reached, and whether a port of it is free."""

import ipaddress
import socket
import sys

import ifaddr

ANY_HOST = {"0.0.0.0", "::"}
THIS_COMPUTER = {"127.0.0.1", "localhost", "::1"}


class CannotStart(Exception):
    """Why the service cannot start, in one sentence or two."""


def must_be_free(host: str, port: int, instead: str) -> None:
    """Nothing when the service can listen there; otherwise CannotStart, with what to do instead."""
    with socket.socket(family_of(host), socket.SOCK_STREAM) as probe:
        if sys.platform != "win32":
            # A port that was closed a moment ago still counts as free.
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except PermissionError as error:
            raise CannotStart(
                f"No permission to listen on port {port}: ports below 1024 need administrator "
                f"rights. Choose another: {instead}"
            ) from error
        except OSError as error:
            raise CannotStart(
                f"Port {port} of {host} cannot be used: {error.strerror}. Stop what uses it, "
                f"or choose another: {instead}"
            ) from error


def family_of(host: str) -> socket.AddressFamily:
    """How to listen on a host: as IPv6 where it is a number of that, otherwise as IPv4."""
    return socket.AF_INET6 if ":" in host else socket.AF_INET


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


def lan_addresses() -> list[str]:
    """Every IPv4 address of this computer on a network, the one that leads out first."""
    found = [
        str(each.ip) for adapter in ifaddr.get_adapters() for each in adapter.ips if each.is_IPv4
    ]
    usable = [each for each in found if not ipaddress.ip_address(each).is_loopback]
    return sorted(dict.fromkeys(usable), key=lambda each: (each != lan_address(), each))


def in_address(host: str) -> str:
    """The host as an address of the web holds it: IPv6 in brackets."""
    return f"[{host}]" if ":" in host else host
