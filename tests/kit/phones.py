"""A phone as the tests hold it: it makes entries, sends them and reads the log."""

import json
import urllib.error
import urllib.request
import uuid
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from flask.testing import FlaskClient

from webapp.door.pairing import new_pairing_code

MADE_AT = "2026-11-25T10:42:07.120+01:00"


class Reply(NamedTuple):
    """What came back: status, headers and the JSON in it."""

    status: int
    headers: Mapping[str, str]
    json: Any


Ask = Callable[..., Reply]


def asking(client: FlaskClient) -> Ask:
    """Asks the service inside the test process."""

    def ask(method: str, path: str, body: Any = None, headers: Mapping[str, str] = {}) -> Reply:
        response = client.open(path, method=method, json=body, headers=dict(headers))
        return Reply(response.status_code, dict(response.headers), response.get_json(silent=True))

    return ask


def asking_at(url: str) -> Ask:
    """Asks a real server over the network."""

    def ask(method: str, path: str, body: Any = None, headers: Mapping[str, str] = {}) -> Reply:
        data = None if body is None else json.dumps(body).encode()
        given = {"Content-Type": "application/json", **headers}
        request = urllib.request.Request(url + path, data, given, method=method)
        try:
            with urllib.request.urlopen(request, timeout=20) as response:
                return _read(response)
        except urllib.error.HTTPError as error:
            with error:
                return _read(error)

    return ask


def _read(response: Any) -> Reply:
    return Reply(response.status, dict(response.headers), json.loads(response.read()))


class Phone:
    """A phone paired by `code`; `ask` says how it reaches the shop."""

    def __init__(self, ask: Ask, code: str) -> None:
        self.ask = ask
        self.last_local_no = 0
        self.vehicle = str(uuid.uuid4())
        self.take(ask("POST", "/door/pair", {"code": code}))

    def take(self, paired: Reply) -> None:
        """Remember what the shop said at pairing."""
        assert paired.status == 200, paired
        self.id = paired.json["phone"]["id"]
        self.person = paired.json["person"]
        self.server_id = paired.json["server_id"]
        self.credential = paired.json["credential"]

    def entry(self, kind: str = "note", body: Any = None, **more: Any) -> dict[str, Any]:
        """A new entry of this phone; a note when nothing else is said."""
        self.last_local_no += 1
        made = {"v": 1, "id": str(uuid.uuid4()), "phone": self.id, "local_no": self.last_local_no}
        about = {"kind": kind, "body": body or {"text": "grease"}, "vehicle": self.vehicle}
        rest = {
            "job": None,
            "round": None,
            "typed": None,
            "made_at": MADE_AT,
            "build": "0123456789ab",
        }
        return {**made, **about, **rest, **more}

    def batch(self, *entries: Any, **more: Any) -> dict[str, Any]:
        """A batch with these entries, as a push carries it."""
        head = {"v": 1, "batch_id": str(uuid.uuid4()), "server_id": self.server_id, "epoch": 1}
        said = {"phone": self.id, "build": "0123456789ab", "pending_count": 0}
        counts = {"oldest_pending_at": None, "last_local_no": self.last_local_no}
        return {**head, **said, **counts, "entries": list(entries), **more}

    def push(self, *entries: Any, **more: Any) -> Reply:
        """Send a batch with these entries."""
        return self.ask("POST", "/log/push", self.batch(*entries, **more), self.headers)

    def pull(self, since: int = 0, **query: Any) -> Reply:
        """Read a page of the log."""
        rest = "".join(f"&{name}={value}" for name, value in query.items())
        return self.ask("GET", f"/log/pull?since={since}{rest}", None, self.headers)

    @property
    def headers(self) -> dict[str, str]:
        """What every call on the log carries."""
        return {"Authorization": f"Bearer {self.credential}"}


def code_for(log, name="Dana Reyes"):
    """A new pairing code for the person of this name."""
    return new_pairing_code(log, next(row["id"] for row in log.people() if row["name"] == name))
