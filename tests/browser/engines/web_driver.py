"""The W3C's WebDriver commands, to a driver over HTTP or to Firefox's own Marionette."""

import json
import socket
import urllib.error
import urllib.request
from typing import Any, Protocol

# The commands that the tests use, each with its address in a session of a driver.
ADDRESSES = {
    "Navigate": "/url",
    "ExecuteScript": "/execute/sync",
    "PerformActions": "/actions",
    "SetWindowRect": "/window/rect",
    "CdpCommand": "/goog/cdp/execute",
}
# A command that a browser has not carried out by then never will be.
PATIENCE = 90.0


class DriverError(Exception):
    """The browser did not do what it was asked; the message says why."""


class Driver(Protocol):
    """What takes a command by its name in the standard, and gives what comes back."""

    def ask(self, command: str, **given: Any) -> Any:
        """Carry out a command; what the browser answers, or DriverError."""


class HttpDriver:
    """A session of a driver that listens on a port of this computer."""

    def __init__(self, port: int, options: dict[str, Any]) -> None:
        """Begin a session in a browser that the driver starts with these options."""
        self.root = f"http://127.0.0.1:{port}/session"
        begun = self._post(self.root, capabilities={"alwaysMatch": options})
        self.session = f"{self.root}/{begun['sessionId']}"

    def ask(self, command: str, **given: Any) -> Any:
        """Carry out a command; what the browser answers, or DriverError."""
        return self._post(self.session + ADDRESSES[command], **given)

    def _post(self, address: str, **given: Any) -> Any:
        headers = {"Content-Type": "application/json"}
        request = urllib.request.Request(address, json.dumps(given).encode(), headers)
        try:
            with urllib.request.urlopen(request, timeout=PATIENCE) as response:
                return json.load(response)["value"]
        except urllib.error.HTTPError as error:
            raise DriverError(error.read().decode(errors="replace")) from error
        except OSError as error:
            raise DriverError(str(error)) from error


class Marionette:
    """A session of a Firefox that listens on a port of this computer."""

    def __init__(self, port: int) -> None:
        """Begin a session; DriverError while nobody listens."""
        try:
            self.socket = socket.create_connection(("127.0.0.1", port), PATIENCE)
        except OSError as error:
            raise DriverError(str(error)) from error
        self.stream = self.socket.makefile("rb")
        self.asked = 0
        self._read()
        self.ask("NewSession")

    def ask(self, command: str, **given: Any) -> Any:
        """Carry out a command; what the browser answers, or DriverError."""
        return self.tell(f"WebDriver:{command}", **given)

    def tell(self, command: str, **given: Any) -> Any:
        """Carry out a command by the name that Marionette has for it."""
        self.asked += 1
        text = json.dumps([0, self.asked, command, given]).encode()
        try:
            self.socket.sendall(b"%d:%s" % (len(text), text))
            _, _, error, answer = self._read()
        except OSError as lost:
            raise DriverError(str(lost)) from lost
        if error:
            raise DriverError(f"{error['error']}: {error['message']}")
        return answer["value"] if isinstance(answer, dict) and "value" in answer else answer

    def _read(self) -> Any:
        """One message: its length, a colon, and so many bytes of JSON."""
        length = b""
        while (byte := self.stream.read(1)) != b":":
            if not byte:
                raise OSError("Firefox hung up.")
            length += byte
        return json.loads(self.stream.read(int(length)))

    def close(self) -> None:
        """Hang up."""
        self.stream.close()
        self.socket.close()
