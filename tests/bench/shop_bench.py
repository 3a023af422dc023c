"""The service under measurement: what pages, the exchange and its process take at each length.

Everything is asked over HTTP on kept connections, as browsers and phones do.
"""

import http.client
import json
import re
import threading
import uuid
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from figures import ms, peak_mb, side_by_side
from kit.phones import Phone, Reply
from kit.servers import Server
from service import EMPTY

from webapp.door.pairing import new_pairing_code
from webapp.shoplog import ShopLog

SERVICE = "bench.service:app"
TOKEN = re.compile(r'name="csrf_token" value="([^"]+)"')
SEARCHED = "check"
A_BATCH = 100


class Line:
    """One kept connection to the service, with the cookies that it set."""

    def __init__(self, port: int) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.cookies: dict[str, str] = {}

    def ask(
        self, method: str, path: str, body: Any = None, headers: Mapping[str, str] = {}
    ) -> Reply:
        """Ask with a JSON body; the answer's JSON."""
        data = None if body is None else json.dumps(body).encode()
        given = {"Content-Type": "application/json", "Accept-Encoding": "identity", **headers}
        status, headers, text = self.send(method, path, data, given)
        return Reply(status, headers, json.loads(text))

    def page(self, path: str, form: Mapping[str, str] | None = None) -> str:
        """The text of a page, or what answers a form; it fails for anything but a success."""
        data = None if form is None else urlencode(form).encode()
        given = {"Content-Type": "application/x-www-form-urlencoded"} if form else {}
        status, _, text = self.send("POST" if form else "GET", path, data, given)
        assert status < 400, (path, status, text[:300])
        return text

    def send(
        self, method: str, path: str, data: bytes | None, headers: Mapping[str, str]
    ) -> tuple[int, dict[str, str], str]:
        """One question and its answer."""
        cookies = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        self.connection.request(method, path, data, {**headers, "Cookie": cookies})
        with self.connection.getresponse() as answer:
            for each in answer.headers.get_all("Set-Cookie", []):
                name, _, rest = each.partition("=")
                self.cookies[name] = rest.partition(";")[0]
            return answer.status, dict(answer.headers), answer.read().decode()


class ShopBench:
    """A running service on a folder, a lead at its desk, and phones of somebody in one role."""

    def __init__(self, server: Server, codes: list[str], about: dict[str, str]) -> None:
        self.server = server
        self.about = about
        self.desk = Line(server.port)
        token = TOKEN.search(self.desk.page("/door"))
        assert token is not None
        self.desk.page("/door/demo/lead", {"csrf_token": token[1]})
        self.phones = [Phone(Line(server.port).ask, code) for code in codes]

    @property
    def memory_mb(self) -> float:
        """The most memory that the service's process held so far."""
        return max(map(peak_mb, self.server.workers()))

    def medians(self, runs: int) -> dict[str, float]:
        """The median of each kind of question in ms, all taken in turns."""
        return side_by_side(self.questions(), runs)

    def questions(self) -> dict[str, Callable[[], object]]:
        """Each page and exchange that is measured, by its name."""
        vehicle, job = self.about["vehicle"], self.about["job"]
        phone, high = self.phones[0], int(self.about["high_water"])
        return {
            "an empty Flask view": lambda: self.desk.page(EMPTY),
            "pending list": lambda: self.desk.page("/desk"),
            "vehicle page": lambda: self.desk.page(f"/desk/vehicles/{vehicle}"),
            "job page": lambda: self.desk.page(f"/desk/jobs/{job}"),
            "list of vehicles": lambda: self.desk.page("/desk/vehicles"),
            "what is missing": lambda: self.desk.page("/desk/missing"),
            "search": lambda: self.desk.page(f"/desk/search?q={SEARCHED}"),
            "push of 100": lambda: must_store(phone, new_notes(phone, A_BATCH)),
            "pull of 500": lambda: phone.pull(max(high - 500, 0), most=500),
        }

    def push_at_once(self, batches: int) -> dict[str, float]:
        """Every phone pushes so many batches of 100 at the same time: total and longest wait."""
        waits: list[float] = []
        work = [[new_notes(phone, A_BATCH) for _ in range(batches)] for phone in self.phones]

        def push_all(phone: Phone, mine: list[list[dict]]) -> None:
            waits.extend(ms(lambda made=made: must_store(phone, made)) for made in mine)

        each = zip(self.phones, work, strict=True)
        threads = [threading.Thread(target=push_all, args=pair) for pair in each]
        total = ms(lambda: run_all(threads))
        assert len(waits) == batches * len(self.phones), "a phone was turned away"
        return {"total": total, "longest": max(waits), "entries": A_BATCH * len(waits)}

    def push_outstanding(self, entries: int) -> float:
        """How long one phone with so many entries takes to hand them all in, in ms."""
        phone = self.phones[0]
        made = new_notes(phone, entries)
        parts = [made[at : at + A_BATCH] for at in range(0, entries, A_BATCH)]
        return ms(lambda: [must_store(phone, part) for part in parts])


def run_all(threads: list[threading.Thread]) -> None:
    """Start all and wait for all."""
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def new_notes(phone: Phone, count: int) -> list[dict]:
    """Readings of a job under way, as many as wanted."""
    body = {"step": "heights", "field": "left", "value": 221.5, "unit": "mm", "read_to": 1}
    job = {"job": str(uuid.uuid4()), "round": "as_found"}
    opened = {"axle": "front", "round": "as_found", "about": "pulls"}
    first = phone.entry("job", opened, job=job["job"])
    return [first, *(phone.entry("reading", body, **job) for _ in range(count - 1))]


def must_store(phone: Phone, entries: list[dict]) -> None:
    """Push a batch, and fail unless each of its entries was stored."""
    reply = phone.push(*entries)
    assert {answer["verdict"] for answer in reply.json["answers"]} == {"stored"}, reply


def prepared(folder: Path, phones: int, role: str) -> tuple[list[str], dict[str, str]]:
    """Pairing codes for so many phones of one role, and what the questions are about."""
    with ShopLog(folder) as log:
        person = next(row["id"] for row in log.people() if row["role"] == role)
        codes = [new_pairing_code(log, person) for _ in range(phones)]
        job = log.jobs(state="pending")[0]
        about = {"vehicle": job["vehicle"], "job": job["id"], "high_water": str(log.high_water())}
    return codes, about


@contextmanager
def running(folder: Path, phones: int = 1, role: str = "technician") -> Iterator[ShopBench]:
    """The service on this folder, until the end of the block."""
    codes, about = prepared(folder, phones, role)
    server = Server(folder, SERVICE)
    try:
        yield ShopBench(server.start(), codes, about)
    finally:
        server.kill()
