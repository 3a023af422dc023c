"""A TCP proxy between the browser and the shop that can be told to misbehave."""

import socket
import threading
import time
from collections.abc import Callable
from contextlib import suppress


class BadProxy:
    """Passes bytes on to a port of this machine, until it is told otherwise."""

    def __init__(self, port: int) -> None:
        """Listen on a free port for connections to be passed on to `port`."""
        self.target = port
        # Swallow everything; swallow only what the shop replies; wait before passing on.
        self.silent = False
        self.deaf = False
        self.delay = 0.0
        self.pairs: list[tuple[socket.socket, socket.socket]] = []
        self.threads: list[threading.Thread] = []
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.start(self.accept)

    @property
    def origin(self) -> str:
        """Where the proxy listens, by a name that browsers count as secure."""
        return f"http://localhost:{self.listener.getsockname()[1]}"

    def start(self, work: Callable[..., None], *values: object) -> None:
        """Run `work` beside this."""
        thread = threading.Thread(target=work, args=values, daemon=True)
        self.threads.append(thread)
        thread.start()

    def accept(self) -> None:
        """Connect each caller with the target until the listener is closed."""
        while True:
            try:
                near, _ = self.listener.accept()
            except OSError:
                return
            try:
                far = socket.create_connection(("127.0.0.1", self.target))
            except OSError:
                near.close()
                continue
            self.pairs.append((near, far))
            self.start(self.pass_on, near, far, False)
            self.start(self.pass_on, far, near, True)

    def pass_on(self, source: socket.socket, sink: socket.socket, reply: bool) -> None:
        """Pass bytes on; a silent proxy swallows them and keeps the connection open."""
        with suppress(OSError):
            while data := source.recv(65536):
                if self.delay:
                    time.sleep(self.delay)
                if not self.silent and not (self.deaf and reply):
                    sink.sendall(data)
            sink.shutdown(socket.SHUT_WR)

    def hang_up(self) -> None:
        """Cut every connection that is open."""
        while self.pairs:
            for end in self.pairs.pop():
                with suppress(OSError):
                    end.shutdown(socket.SHUT_RDWR)
                end.close()

    def heal(self) -> None:
        """Behave from here on, and cut what was opened before."""
        self.silent, self.deaf, self.delay = False, False, 0.0
        self.hang_up()

    def close(self) -> None:
        """Stop listening and cut what is open."""
        with suppress(OSError):
            self.listener.shutdown(socket.SHUT_RDWR)
        self.listener.close()
        self.hang_up()
        for thread in self.threads:
            thread.join(5)
