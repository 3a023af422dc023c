"""The real service in a process of its own, on a folder of its own, stopped by its process id."""

import itertools
import os
import random
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import suppress
from pathlib import Path

SERVE = """
from webapp.network.serving import serve
serve({{"DATA": {folder!r}, "DEMO": True, **{more!r}}}, "127.0.0.1", {port}, target={target!r})
"""
TARGET = "webapp.network.worker:app"
# A start makes the app's files anew where a test serves sources of its own: seconds of work, many
# more of them while other tests run.
PATIENCE = 90.0


class Server:
    """One granian with one worker; `target` names another app factory where a test needs one."""

    def __init__(self, folder: Path, target: str = TARGET) -> None:
        self.folder = folder
        self.target = target
        self.leads_code = ""
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"

    def start(self, **more: object) -> "Server":
        """Start it with more settings, if any, and wait until it answers."""
        about = {"folder": str(self.folder), "port": self.port, "target": self.target}
        code = SERVE.format(**about, more={name: str(value) for name, value in more.items()})
        path = os.pathsep.join([str(Path(__file__).parents[1]), os.environ.get("PYTHONPATH", "")])
        self.process = subprocess.Popen(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONPATH": path},
            stdout=subprocess.DEVNULL,
            start_new_session=True,
        )
        try:
            self.wait_until_it_answers()
        except AssertionError:
            self.kill()
            raise
        return self

    def wait_until_it_answers(self) -> None:
        """Return once the service answers; fail when its process ended or it takes too long."""
        until = time.monotonic() + PATIENCE
        while not self.answers():
            assert self.process.poll() is None, "the server ended by itself"
            assert time.monotonic() < until, "the server does not answer"
            time.sleep(0.05)

    def answers(self) -> bool:
        """Whether the service answers at this moment."""
        try:
            with urllib.request.urlopen(f"{self.url}/build.json", timeout=5) as response:
                return response.status == 200
        except urllib.error.HTTPError as error:
            # So it answers where it is asked by another address than its own.
            return error.code == 421
        except (urllib.error.URLError, OSError):
            return False

    def workers(self) -> list[int]:
        """The process ids of the server's children."""
        task = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children")
        return [int(pid) for pid in task.read_text().split()]

    def stop(self) -> int:
        """Ask it to stop, and wait for that; its exit code."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
        try:
            return self.process.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            self.kill()
            raise

    def kill(self) -> None:
        """End it and its worker at once, as a power cut would, and wait until both are gone."""
        if self.process.poll() is None:
            workers = self.workers()
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait(PATIENCE)
            until = time.monotonic() + PATIENCE
            while any(map(alive, workers)) and time.monotonic() < until:
                time.sleep(0.01)


def alive(pid: int) -> bool:
    """Whether a process still holds its files: it is there and no mere remnant."""
    try:
        stat = Path(f"/proc/{pid}/stat").read_text()
    except OSError:
        return False
    return stat.rpartition(")")[2].split()[0] not in "ZX"


# Below the ports that the system hands out by itself, a stretch for each process of the tests: two
# servers may listen on one port, and each would answer what was meant for the other.
STRETCH = 2500
FIRST_PORT = 11000 + STRETCH * (int(os.environ.get("PYTEST_XDIST_WORKER", "gw0")[2:]) % 8)
ROUND = itertools.cycle(range(FIRST_PORT, FIRST_PORT + STRETCH))
PORTS = itertools.islice(ROUND, random.randrange(STRETCH), None)


def free_port() -> int:
    """A port that nothing listens on at this moment, and no other process of the tests will."""
    while True:
        port = next(PORTS)
        with socket.socket() as probe, suppress(OSError):
            probe.bind(("127.0.0.1", port))
            return port
