"""Looks after what changes while the service runs: its addresses and its certificate."""

import logging
import threading
from collections.abc import Callable
from typing import Protocol

from webapp.network.certificates.authority import utc_now
from webapp.network.certificates.keyring import Keyring, matches
from webapp.network.mdns import NameAnnouncer
from webapp.network.ports import lan_addresses
from webapp.network.serving import Keys

EVERY_SECONDS = 15.0
# So that a browser on the shop PC that asks for it by number learns where the shop lives.
THIS_ONE = "127.0.0.1"

log = logging.getLogger("axlewright")


class WatchedCertificate(Protocol):
    """A certificate that is looked after."""

    def is_new(self, addresses: list[str]) -> bool:
        """Whether the service has to load its certificate anew."""


class MadeCertificate:
    """The certificate that Axlewright makes: renewed in time, and when an address is new."""

    def __init__(self, keyring: Keyring, shop: str, host: str) -> None:
        """Look after this keyring, for a host besides the addresses."""
        self.keyring = keyring
        self.shop = shop
        self.host = host

    def is_new(self, addresses: list[str]) -> bool:
        """Whether it was renewed just now."""
        hosts = list(dict.fromkeys([self.host, *addresses, THIS_ONE]))
        return self.keyring.make_ready(self.shop, hosts, utc_now())


class GivenCertificate:
    """The shop's own certificate: loaded anew when its files were replaced by a pair that fits."""

    def __init__(self, keys: Keys) -> None:
        """Look after these files."""
        self.keys = keys
        self.seen = self._written()

    def is_new(self, _: list[str]) -> bool:
        """Whether another pair is there since the last time."""
        written = self._written()
        if written == self.seen or not matches(self.keys):
            return False
        self.seen = written
        return True

    def _written(self) -> list[int]:
        return [path.stat().st_mtime_ns if path.exists() else 0 for path in self.keys]


class Renewal:
    """A thread that looks after a certificate and a name until it is told to stop."""

    def __init__(
        self,
        certificate: WatchedCertificate,
        naming: NameAnnouncer | None,
        moved: Callable[[list[str]], None],
    ) -> None:
        """`moved` hears the addresses whenever they change, and at the start."""
        self.certificate = certificate
        self.naming = naming
        self.moved = moved
        self.addresses: list[str] | None = None
        self.over = threading.Event()
        self.thread: threading.Thread | None = None

    def start(self, reload: Callable[[], None]) -> None:
        """Look at once and then every 15 seconds; `reload` makes the service load everything."""
        self.thread = threading.Thread(target=self._run, args=[reload], daemon=True)
        self.thread.start()

    def stop(self) -> None:
        """End the thread and say nothing more on the network."""
        self.over.set()
        if self.thread is not None:
            self.thread.join(10)
        if self.naming is not None:
            self.naming.close()

    def _run(self, reload: Callable[[], None]) -> None:
        while not self.over.is_set():
            try:
                self.look(reload)
            except Exception:
                # A full disk, say: the service goes on with what it has, and this is tried again.
                log.exception("The certificate or the name could not be seen to.")
            self.over.wait(EVERY_SECONDS)

    def look(self, reload: Callable[[], None]) -> None:
        """Put in order what has changed since the last look."""
        addresses = lan_addresses()
        changed, self.addresses = addresses != self.addresses, addresses
        if changed:
            self.moved(addresses)
            if self.naming is not None:
                self.naming.announce(addresses)
        if self.certificate.is_new(addresses):
            log.warning("The service shows a new certificate.")
            reload()
