"""Between the server and the app: a request reaches one of the app's threads only when it is whole.

A phone that walks out of range in the middle of an upload, or a client that sends a byte a minute,
waits on the event loop and is turned away in the end; it never holds a thread that others need.
The app stays plain WSGI (PEP 3333); the server speaks ASGI to this module.
"""

import asyncio
import io
import json
import logging
import sys
import time
from collections import Counter
from collections.abc import AsyncIterator, Awaitable, Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager, contextmanager
from typing import Any, NamedTuple
from urllib.parse import quote

from webapp.door.headers import HEADERS
from webapp.door.refusals import SAYS

Scope = dict[str, Any]
Message = dict[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Wsgi = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]

THREADS = 8
# One source, such as a phone, never has all of them.
THREADS_OF_SOURCE = 4
BODY_SECONDS = 30.0
# A body of which nothing more comes for so long is given up.
SILENT_SECONDS = 15.0
LEAST_BYTES_A_SECOND = 20_000
SEND_SECONDS = 30.0
BLOCK = 256 * 1024
MAX_BODY = 4 * 1024 * 1024
# So much of a body is kept of whoever has not shown a credential; the rest is let go.
MAX_STRANGERS_BODY = 300 * 1024
# So many bodies of one source may be on their way at once.
BODIES_OF_SOURCE = 16
# So much of a body that is too large is heard out: who still sends would not see the answer.
MAX_HEARD = 64 * 1024 * 1024
MAX_UNDER_WAY = 64 * 1024 * 1024

BODILESS = {"GET", "HEAD", "OPTIONS"}

requests = logging.getLogger("axlewright.requests")


class Answer(NamedTuple):
    """What the app answered; where it has `begun` to be sent, `body` is the end of it."""

    status: int
    headers: list[tuple[bytes, bytes]]
    body: bytes
    begun: bool = False

    @property
    def head(self) -> Message:
        """The message that an answer begins with."""
        return {"type": "http.response.start", "status": self.status, "headers": self.headers}


class GoneAway(Exception):
    """The client stopped taking its answer."""


class CutShort(Exception):
    """The client ended its request before it was whole."""


def refusal(status: int, **more: str) -> Answer:
    """A refusal before the app is asked, in the shape and with the headers of all the others."""
    code, says = SAYS[status]
    body = json.dumps({"error": {"code": code, "says": says}}).encode()
    given = {**HEADERS, "Cache-Control": "no-store", **more, "Content-Type": "application/json"}
    given["Content-Length"] = str(len(body))
    headers = [(name.lower().encode(), value.encode()) for name, value in given.items()]
    return Answer(status, headers, body)


INCOMPLETE = refusal(400)
SLOW = refusal(408)
CROWDED = refusal(503, **{"Retry-After": "2"})


class Bridge:
    """The ASGI face of a WSGI app."""

    def __init__(self, app: Wsgi, knows: Callable[[str], bool] = lambda _: False) -> None:
        """Answer with this app, on threads of its own.

        `knows` says whether a header `Authorization` has a credential of this shop.
        """
        self.app = app
        self.knows = knows
        self.threads = ThreadPoolExecutor(THREADS, "request")
        self.under_way = 0
        self.bodies: Counter[str] = Counter()
        self.turns: dict[str, Turn] = {}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request; anything but HTTP is left alone."""
        if scope["type"] != "http":
            return
        begun = time.perf_counter()
        try:
            answer = await self._answer(scope, receive, send)
        except GoneAway:
            return
        if not answer.begun:
            await send(answer.head)
        await send({"type": "http.response.body", "body": answer.body})
        requests.info("%s", line(scope, answer.status, time.perf_counter() - begun))

    async def _answer(self, scope: Scope, receive: Receive, send: Send) -> Answer:
        loop = asyncio.get_running_loop()
        body = bytearray()
        try:
            if not has_body(scope):
                await asyncio.wait_for(self._read(scope, receive, body, 0), SILENT_SECONDS)
            elif self._is_crowded(source(scope)):
                return CROWDED
            else:
                with self._one_more_body(source(scope)):
                    room = await self._room(scope, loop)
                    reading = self._read(scope, receive, body, room)
                    await asyncio.wait_for(reading, patience(scope))
            environ = environ_of(scope, bytes(body))
        except TimeoutError:
            return SLOW
        except CutShort:
            return INCOMPLETE
        finally:
            self.under_way -= len(body)

        async def sent(message: Message) -> None:
            await send(message)

        def emit(message: Message) -> None:
            """Send from a thread, and wait until it is sent."""
            try:
                asyncio.run_coroutine_threadsafe(sent(message), loop).result(SEND_SECONDS)
            except TimeoutError as error:
                raise GoneAway from error

        async with self._turn_of(source(scope)):
            return await loop.run_in_executor(self.threads, run, self.app, environ, emit)

    def _is_crowded(self, address: str) -> bool:
        """Whether no further body is taken now, of this source or of any."""
        return self.under_way > MAX_UNDER_WAY or self.bodies[address] >= BODIES_OF_SOURCE

    @contextmanager
    def _one_more_body(self, address: str) -> Iterator[None]:
        """One more body of a source is on its way while the block runs."""
        self.bodies[address] += 1
        try:
            yield
        finally:
            self.bodies[address] -= 1
            if not self.bodies[address]:
                del self.bodies[address]

    @asynccontextmanager
    async def _turn_of(self, address: str) -> AsyncIterator[None]:
        """Wait until the source has fewer requests on the threads than it may."""
        turn = self.turns.setdefault(address, Turn(asyncio.Semaphore(THREADS_OF_SOURCE)))
        turn.asked += 1
        try:
            async with turn.free:
                yield
        finally:
            turn.asked -= 1
            if not turn.asked:
                del self.turns[address]

    async def _room(self, scope: Scope, loop: asyncio.AbstractEventLoop) -> int:
        """How many bytes of a body are kept: all that may come only of a phone of this shop."""
        if 0 < declared(scope) <= MAX_STRANGERS_BODY:
            return declared(scope)
        if declared(scope) > MAX_BODY:
            return 0
        shown = header(scope, b"authorization").decode("latin-1")
        known = await loop.run_in_executor(self.threads, self.knows, shown)
        return MAX_BODY + 1 if known else MAX_STRANGERS_BODY + 1

    async def _read(self, scope: Scope, receive: Receive, body: bytearray, room: int) -> None:
        """Gather a body up to its room; one that is too large is heard out, the rest let go."""
        heard, more = 0, declared(scope) <= MAX_HEARD
        while more and heard <= MAX_HEARD:
            message = await asyncio.wait_for(receive(), SILENT_SECONDS)
            if message["type"] == "http.disconnect":
                # Whoever only closed one half of the connection still reads the answer.
                raise CutShort
            chunk = message.get("body", b"")
            heard += len(chunk)
            more = message.get("more_body", False)
            if len(body) < room:
                body += chunk
                self.under_way += len(chunk)


class Turn:
    """The requests of one source: how many were asked, and what lets them onto the threads."""

    def __init__(self, free: asyncio.Semaphore) -> None:
        """Nothing was asked yet."""
        self.free = free
        self.asked = 0


def header(scope: Scope, name: bytes) -> bytes:
    """The value of a header, empty where there is none."""
    return bytes(dict(scope["headers"]).get(name, b""))


def has_body(scope: Scope) -> bool:
    """Whether a body comes with the request."""
    return scope["method"] not in BODILESS or declared(scope) > 0


def declared(scope: Scope) -> int:
    """The length that the request gives for its body, 0 where it gives none."""
    text = header(scope, b"content-length")
    return int(text[:20]) if text.isdigit() else 0


def patience(scope: Scope) -> float:
    """How many seconds a body may take: a large photo over poor Wi-Fi takes longer."""
    return BODY_SECONDS + min(declared(scope), MAX_BODY) / LEAST_BYTES_A_SECOND


def environ_of(scope: Scope, body: bytes) -> dict[str, Any]:
    """The request as WSGI passes it; a body that was left unread keeps its declared length."""
    host, port = scope.get("server") or ("", 0)
    environ: dict[str, Any] = {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        "PATH_INFO": scope["path"].encode().decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "SERVER_NAME": str(host),
        "SERVER_PORT": str(port),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "REMOTE_ADDR": source(scope),
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.input": io.BytesIO(body),
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": False,
        "wsgi.run_once": False,
    }
    environ.update(headers_of(scope))
    environ["CONTENT_LENGTH"] = str(max(len(body), declared(scope)))
    environ.pop("HTTP_TRANSFER_ENCODING", None)
    return environ


def headers_of(scope: Scope) -> dict[str, str]:
    """The request's headers under WSGI's names; one that comes twice is joined as HTTP says."""
    found: dict[str, str] = {}
    for raw, value in scope["headers"]:
        # Written with an underscore, one header would pass for another.
        if b"_" in raw:
            continue
        name = raw.decode("latin-1").upper().replace("-", "_")
        key = name if name in {"CONTENT_TYPE", "CONTENT_LENGTH"} else f"HTTP_{name}"
        joint = "; " if name == "COOKIE" else ","
        text = value.decode("latin-1")
        found[key] = f"{found[key]}{joint}{text}" if key in found else text
    return found


def run(app: Wsgi, environ: dict[str, Any], emit: Callable[[Message], None]) -> Answer:
    """What the app answers to a whole request; a long answer is emitted block by block."""
    begun: list[Answer] = []
    written = bytearray()

    def start(status: str, headers: list[tuple[str, str]], _: Any = None) -> Callable[[bytes], Any]:
        wire = [
            (name.lower().encode("latin-1"), value.encode("latin-1")) for name, value in headers
        ]
        begun[:] = [Answer(int(status[:3]), wire, b"")]
        return written.extend

    parts = app(environ, start)
    emitted = False
    try:
        for part in parts:
            written += part
            if len(written) > BLOCK:
                if not emitted:
                    emit(begun[0].head)
                emitted = True
                emit({"type": "http.response.body", "body": bytes(written), "more_body": True})
                written.clear()
    finally:
        if hasattr(parts, "close"):
            parts.close()
    return begun[0]._replace(body=bytes(written), begun=emitted)


def source(scope: Scope) -> str:
    """The address that a request came from."""
    client = scope.get("client")
    return str(client[0]) if client else ""


def line(scope: Scope, status: int, seconds: float) -> str:
    """One line for the log of requests; a query may hold a secret and is left out."""
    path = quote(scope["path"][:200])
    return f"{source(scope)} {scope['method']} {path} {status} {round(seconds * 1000)} ms"
