"""The bridge between server and app: whole requests only, bounded bodies, one line a request."""

import asyncio
import io
import json
import logging
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from webapp.network import asgi_bridge
from webapp.network.asgi_bridge import Bridge


class Exchange:
    """One request over the bridge, and what came back."""

    def __init__(self, messages, headers=(), method="POST", path="/x", query=b"key=secret"):
        self.messages = list(messages)
        self.sent = []
        self.scope = {
            "type": "http",
            "method": method,
            "path": path,
            "query_string": query,
            "headers": list(headers),
            "scheme": "https",
            "http_version": "2",
            "client": ("192.168.1.9", 40000),
            "server": ("192.168.1.20", 8700),
        }

    async def receive(self):
        if not self.messages:
            await asyncio.sleep(3600)
        return self.messages.pop(0)

    async def send(self, message):
        self.sent.append(message)

    def over(self, app):
        return self.through(Bridge(app))

    def through(self, crossed):
        # On a thread of its own: a browser's driver may have a loop running on this one.
        with ThreadPoolExecutor(1) as beside:
            call = crossed(self.scope, self.receive, self.send)
            beside.submit(asyncio.run, call).result()
        return self

    @property
    def status(self):
        return self.sent[0]["status"]

    @property
    def body(self):
        return self.sent[1]["body"]


def part(body, more=False):
    return {"type": "http.request", "body": body, "more_body": more}


def echo(environ, start_response):
    """Answers with what it was given."""
    start_response("200 OK", [("Content-Type", "text/plain"), ("X-Seen", environ["REMOTE_ADDR"])])
    return [environ["wsgi.input"].read(), b" ", environ["CONTENT_LENGTH"].encode()]


def test_the_app_gets_the_whole_body_and_the_client_the_whole_answer():
    done = Exchange([part(b"ab", True), part(b"cd")]).over(echo)

    assert (done.status, done.body) == (200, b"abcd 4")
    assert (b"x-seen", b"192.168.1.9") in done.sent[0]["headers"]


def test_a_body_that_never_arrives_whole_is_turned_away_and_never_reaches_the_app(monkeypatch):
    monkeypatch.setattr(asgi_bridge, "BODY_SECONDS", 0.05)
    asked = []

    done = Exchange([part(b"ab", True)]).over(lambda *_: asked.append(1))

    assert done.status == 408
    assert asked == []


def refused(done):
    """The code of a refusal that the bridge makes itself, in the one shape and with its headers."""
    headers = dict(done.sent[0]["headers"])
    assert headers[b"content-type"] == b"application/json"
    assert headers[b"x-content-type-options"] == b"nosniff"
    assert headers[b"cache-control"] == b"no-store"
    assert headers[b"content-length"] == str(len(done.body)).encode()
    error = json.loads(done.body)["error"]
    assert set(error) == {"code", "says"}
    return error["code"]


def test_a_client_that_ends_its_request_early_is_told_so():
    done = Exchange([part(b"ab", True), {"type": "http.disconnect"}]).over(echo)

    assert (done.status, refused(done)) == (400, "bad_request")


def test_a_body_that_says_it_is_too_large_is_heard_out_and_not_kept():
    length = str(asgi_bridge.MAX_BODY + 1).encode()
    exchange = Exchange([part(b"a", True), part(b"b")], [(b"content-length", length)])

    done = exchange.over(echo)

    assert done.body == b" " + length
    assert exchange.messages == []


def test_a_body_that_says_it_is_huge_is_not_even_read():
    length = str(asgi_bridge.MAX_HEARD + 1).encode()

    done = Exchange([part(b"a", True)], [(b"content-length", length)]).over(echo)

    assert done.body == b" " + length


def test_a_body_without_a_length_is_kept_no_further_than_the_bound_and_heard_no_further_than_its():
    block = b"x" * (asgi_bridge.MAX_BODY // 2 + 1)
    blocks = asgi_bridge.MAX_HEARD // len(block) + 1
    shown = [(b"authorization", b"Bearer right")]
    exchange = Exchange([part(block, True)] * (blocks + 3), shown)
    seen = []

    def too_large(environ, start):
        seen.append(len(environ["wsgi.input"].read()))
        start("413 Too Large", [])
        return [b""]

    done = exchange.through(Bridge(too_large, lambda _: True))

    assert done.status == 413
    assert len(exchange.messages) == 3
    assert seen == [2 * len(block)]


def test_when_too_much_is_under_way_the_next_is_asked_to_come_again(monkeypatch):
    monkeypatch.setattr(asgi_bridge, "MAX_UNDER_WAY", -1)

    done = Exchange([part(b"")]).over(echo)

    assert (done.status, refused(done)) == (503, "busy")
    assert dict(done.sent[0]["headers"])[b"retry-after"] == b"2"


def test_what_was_read_no_longer_counts_once_it_is_answered():
    crossed = Bridge(echo)
    exchange = Exchange([part(b"abcd")])

    exchange.through(crossed)

    assert crossed.under_way == 0


def test_headers_come_under_wsgis_names_and_none_can_pass_for_another():
    seen = {}
    headers = [
        (b"host", b"axlewright.local"),
        (b"cookie", b"a=1"),
        (b"cookie", b"b=2"),
        (b"accept", b"x"),
        (b"accept", b"y"),
        (b"x_forwarded_for", b"1.2.3.4"),
        (b"content-type", b"text/plain"),
    ]

    def app(environ, start_response):
        seen.update(environ)
        return echo(environ, start_response)

    Exchange([part(b"")], headers).over(app)

    assert seen["HTTP_COOKIE"] == "a=1; b=2"
    assert seen["HTTP_ACCEPT"] == "x,y"
    assert seen["CONTENT_TYPE"] == "text/plain"
    assert "HTTP_X_FORWARDED_FOR" not in seen


def test_one_line_a_request_without_the_query_and_on_one_line(caplog):
    caplog.set_level(logging.INFO, "axlewright.requests")

    Exchange([part(b"")], path="/door/link\nforged").over(echo)

    [record] = caplog.records
    assert "192.168.1.9 POST /door/link%0Aforged 200" in record.message
    assert "secret" not in record.message


@pytest.mark.parametrize("kind", ["lifespan", "websocket"])
def test_anything_but_http_is_left_alone(kind):
    exchange = Exchange([])
    exchange.scope["type"] = kind

    assert exchange.over(echo).sent == []


def long_answer(_, start_response):
    start_response("200 OK", [("Content-Type", "text/csv")])
    return (b"x" * 100_000 for _ in range(10))


def test_a_long_answer_is_sent_in_blocks_as_it_is_made():
    done = Exchange([part(b"")]).over(long_answer)

    kinds = [message["type"] for message in done.sent]
    blocks = [message["body"] for message in done.sent[1:]]
    assert kinds == ["http.response.start"] + ["http.response.body"] * (len(kinds) - 1)
    assert b"".join(blocks) == b"x" * 1_000_000
    assert max(map(len, blocks)) <= asgi_bridge.BLOCK + 100_000
    assert [message.get("more_body", False) for message in done.sent[1:]] == [
        *[True] * (len(blocks) - 1),
        False,
    ]


def test_who_does_not_take_a_long_answer_holds_no_thread_for_ever(monkeypatch):
    monkeypatch.setattr(asgi_bridge, "SEND_SECONDS", 0.05)
    exchange = Exchange([part(b"")])

    async def never(_):
        await asyncio.sleep(3600)

    exchange.send = never

    assert exchange.over(long_answer).sent == []


def test_a_large_photo_may_take_longer_than_a_form():
    def allowed(length):
        return asgi_bridge.patience({"headers": [(b"content-length", length)]})

    assert allowed(b"100") < 31
    assert 170 < allowed(b"3000000") < allowed(b"99999999999") < 300


def test_an_answer_in_parts_is_closed_when_it_is_sent():
    class Parts(io.BytesIO):
        pass

    parts = Parts(b"one\ntwo\n")

    def app(_, start_response):
        start_response("200 OK", [])
        return parts

    assert Exchange([part(b"")]).over(app).body == b"one\ntwo\n"
    assert parts.closed


def stalled(crossed, address, length=100, count=1):
    """So many requests of a source whose bodies say this length and stop after their first byte."""
    made = []
    for _ in range(count):
        exchange = Exchange([part(b"a", True)], [(b"content-length", str(length).encode())])
        exchange.scope["client"] = (address, 1)
        made.append(exchange)
    return made


def beside(crossed, stuck, *asked):
    """What these requests were answered while others are stuck; with the stuck ones let go."""

    async def all_of_them():
        calls = [
            asyncio.create_task(crossed(each.scope, each.receive, each.send)) for each in stuck
        ]
        await asyncio.sleep(0.05)
        for each in asked:
            await asyncio.wait_for(crossed(each.scope, each.receive, each.send), 5)
        for call in calls:
            call.cancel()

    with ThreadPoolExecutor(1) as thread:
        thread.submit(asyncio.run, all_of_them()).result()


def question(address, method="POST"):
    asked = Exchange([part(b"ab")], method=method)
    asked.scope["client"] = (address, 2)
    return asked


def test_f63_one_source_with_stalled_uploads_holds_up_nobody_else():
    crossed = Bridge(echo)
    stuck = stalled(crossed, "192.168.1.66", count=3 * asgi_bridge.BODIES_OF_SOURCE)
    same, other = question("192.168.1.66"), question("192.168.1.9")
    reading = question("192.168.1.66", "GET")

    beside(crossed, stuck, same, other, reading)

    assert (same.status, other.status, reading.status) == (503, 200, 200)
    assert crossed.bodies == {}


def test_f63_a_full_house_still_answers_who_sends_no_body(monkeypatch):
    monkeypatch.setattr(asgi_bridge, "MAX_UNDER_WAY", -1)

    assert Exchange([part(b"")], method="GET").over(echo).status == 200
    assert Exchange([part(b"ab")], method="PUT").over(echo).status == 503


def test_f63_a_body_that_falls_silent_is_given_up(monkeypatch):
    monkeypatch.setattr(asgi_bridge, "SILENT_SECONDS", 0.05)

    done = Exchange([part(b"ab", True)], [(b"content-length", b"3000000")]).over(echo)

    assert done.status == 408


@pytest.mark.parametrize("length", [None, b"3000000"])
def test_f63_a_large_body_is_kept_only_of_who_shows_a_credential(length):
    sizes = []

    def app(environ, start_response):
        sizes.append(len(environ["wsgi.input"].read()))
        return echo(environ, start_response)

    crossed = Bridge(app, lambda shown: shown == "Bearer right")
    declared = [(b"content-length", length)] if length else []
    for shown in ([], [(b"authorization", b"Bearer wrong")], [(b"authorization", b"Bearer right")]):
        blocks = [part(b"x" * 100_000, more) for more in [True] * 29 + [False]]
        exchange = Exchange(blocks, [*declared, *shown])
        exchange.through(crossed)
        assert exchange.messages == []

    assert sizes[:2] == [400_000, 400_000]
    assert sizes[2] == 3_000_000


def test_f63_one_source_never_has_all_threads():
    crossed = Bridge(lambda *given: (time.sleep(0.3), echo(*given))[1])
    greedy = [question("192.168.1.66", "GET") for _ in range(3 * asgi_bridge.THREADS)]
    other = question("192.168.1.9", "GET")
    begun = time.monotonic()

    beside(crossed, greedy, other)

    assert other.status == 200
    assert time.monotonic() - begun < 0.6 + 0.3
