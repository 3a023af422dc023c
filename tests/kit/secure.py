"""`axlewright serve` as a shop runs it: over TLS with its own authority, in its own process."""

import os
import re
import signal
import socket
import ssl
import subprocess
import sys
import time
from contextlib import closing
from http.client import HTTPException, HTTPSConnection
from pathlib import Path

from kit.servers import free_port

NAME = "log.bennett.example"
PATIENCE = 60.0


class Named(HTTPSConnection):
    """A connection to a shop by its name, which leads to this computer only here."""

    def __init__(self, shop: "SecureShop", patience: float) -> None:
        super().__init__(shop.name, shop.port, timeout=patience)
        self.at, self.trusting = shop.host, shop.trusting()

    def connect(self) -> None:
        """Connect, and take only a certificate of the shop's own authority for its name."""
        plain = socket.create_connection((self.at, self.port), self.timeout)
        self.sock = self.trusting.wrap_socket(plain, server_hostname=self.host)


class SecureShop:
    """A shop on a folder of its own, at a name that leads nowhere but to this computer."""

    def __init__(
        self, folder: Path, address: str = "127.0.0.1", *options: str, host: str = "127.0.0.1"
    ) -> None:
        self.folder, self.host = folder, host
        self.name = address
        self.port, self.helper_port = free_port(), free_port()
        self.address = f"https://{address}:{self.port}"
        self.helper = f"http://127.0.0.1:{self.helper_port}"
        self.requests = folder.with_name("requests.log")
        self.options = ["--address", address, "--host", host, *options]

    def start(self) -> "SecureShop":
        """Start it and wait until it answers."""
        ports = ["--port", str(self.port), "--helper-port", str(self.helper_port)]
        arguments = ["serve", "--data", str(self.folder), *ports, *self.options]
        with self.requests.open("ab") as errors:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "webapp.command", *arguments],
                stdout=subprocess.PIPE,
                stderr=errors,
                encoding="utf-8",
                start_new_session=True,
            )
        try:
            self.wait_until_ready()
        except BaseException:
            self.kill()
            raise
        return self

    def wait_until_ready(self) -> None:
        """Return once it has said its address and answers there."""
        self.said = ""
        while "Stop with Ctrl+C" not in self.said:
            line = self.process.stdout.readline()
            assert line, f"the shop ended by itself: {self.requests.read_text('utf-8')}"
            self.said += line
        self.wait_until_it_answers()

    @property
    def link(self) -> str:
        """The link that sets the shop up."""
        return re.search(r"https://\S+/door/link\?key=\S+", self.said)[0]

    @property
    def authority(self) -> Path:
        """The certificate that phones trust."""
        return self.folder / "certificates" / "authority.crt"

    def trusting(self) -> ssl.SSLContext:
        """What a client that trusts this shop, and nobody else, checks certificates with."""
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(self.authority)
        return context

    def get(self, path: str, patience: float = 10.0) -> tuple[int, bytes]:
        """(status, body) of an address of the shop."""
        with closing(Named(self, patience)) as asking:
            asking.request("GET", path)
            response = asking.getresponse()
            return response.status, response.read()

    def wait_until_it_answers(self) -> None:
        """Return once the service answers; fail when its process ended or it takes too long."""
        until = time.monotonic() + PATIENCE
        while not self.answers():
            assert self.process.poll() is None, self.requests.read_text("utf-8")
            assert time.monotonic() < until, "the shop does not answer"
            time.sleep(0.05)

    def answers(self) -> bool:
        """Whether the service answers at this moment."""
        try:
            return self.get("/health", 5.0)[0] in {200, 503}
        except (OSError, HTTPException):
            return False

    def serial(self) -> int:
        """The serial number of the certificate that the service shows."""
        with closing(Named(self, 5.0)) as asking:
            asking.connect()
            return int(asking.sock.getpeercert()["serialNumber"], 16)

    def stop(self) -> int:
        """Ask it to stop, and wait for that; its exit code."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
        try:
            return self.process.wait(PATIENCE)
        finally:
            self.kill()

    def kill(self) -> None:
        """End it and its worker at once, as a power cut would."""
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait(PATIENCE)
        self.process.stdout.close()
