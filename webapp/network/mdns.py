"""The shop's `.local` name on the network (multicast DNS, RFC 6762): a convenience, not a proof.

A computer or a second network card may come and go; whatever happens here, the service goes on.
"""

import logging
from collections.abc import Sequence

from zeroconf import AddressResolver, Error, ServiceInfo, Zeroconf  # type: ignore[attr-defined]

KIND = "_axlewright._tcp.local."
PATIENCE_MS = 1500

log = logging.getLogger("axlewright")


class NameAnnouncer:
    """Answers on the network for one name, while it is open."""

    def __init__(self, host: str, port: int, server_id: str) -> None:
        """Nothing is said on the network until `announce`."""
        self.host = host
        self.port = port
        self.server_id = server_id
        self.speaker: Zeroconf | None = None

    def announce(self, addresses: Sequence[str]) -> None:
        """Let the name lead to these addresses, in place of what was said before."""
        self.close()
        if not addresses:
            return
        try:
            self.speaker = Zeroconf(interfaces=list(addresses))
            self._warn_of_others(self.speaker, addresses)
            self.speaker.register_service(self._info(addresses), strict=False)
        except (Error, OSError) as error:
            log.warning("The name %s could not be announced: %s", self.host, error or repr(error))

    def close(self) -> None:
        """Say nothing more."""
        if self.speaker is not None:
            self.speaker.close()
            self.speaker = None

    def _info(self, addresses: Sequence[str]) -> ServiceInfo:
        return ServiceInfo(
            KIND,
            f"{self.host.removesuffix('.local')}.{KIND}",
            port=self.port,
            parsed_addresses=list(addresses),
            properties={"server_id": self.server_id},
            server=f"{self.host}.",
        )

    def _warn_of_others(self, speaker: Zeroconf, addresses: Sequence[str]) -> None:
        """Two computers under one name would each get some of the phones."""
        asked = AddressResolver(f"{self.host}.")
        if asked.request(speaker, PATIENCE_MS):
            others = sorted(set(asked.parsed_addresses()) - set(addresses))
            if others:
                log.warning(
                    "Another computer, %s, answers as %s too.", ", ".join(others), self.host
                )
