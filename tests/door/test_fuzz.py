"""Anything at all sent to any address: never a fault, and under the phone's paths always JSON."""

import json
import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from webapp import create_app
from webapp.door.pairing import new_pairing_code

VISITORS = ["signed out", "phone", "lead"]
JSON_PATHS = ("/log/", "/door/pair")
NEVER = {500, 501, 502, 504}

scraps = st.one_of(
    st.text(max_size=30),
    st.sampled_from(["", "0", "-1", "../../etc", "K7RM-4TQX", "null", "%00", "a" * 300, "\ud800"]),
)
values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=9), inner),
    max_leaves=12,
)
bodies = st.one_of(
    st.binary(max_size=200),
    values.map(lambda value: json.dumps(value).encode()),
    st.just(b"[" * 20_000),
    st.fixed_dictionaries({}, optional={name: values for name in ("v", "code", "phone")}).map(
        lambda value: json.dumps(value).encode()
    ),
)
types = st.sampled_from(
    [
        "application/json",
        "application/json; charset=utf-16",
        "application/x-www-form-urlencoded",
        "multipart/form-data; boundary=x",
        "multipart/form-data",
        "text/plain",
        "",
    ]
)
fields = st.dictionaries(
    st.sampled_from(["name", "passphrase", "key", "role", "code", "since", "most", "value", "q"]),
    scraps.map(lambda text: text.encode("utf-8", "replace").decode()),
    max_size=5,
)
odd_headers = st.dictionaries(
    st.sampled_from(["Origin", "Sec-Fetch-Site", "Authorization", "Cookie", "If-None-Match"]),
    st.text(st.characters(min_codepoint=32, max_codepoint=255), max_size=40),
    max_size=3,
)


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """(app, headers of a paired phone) of a service as it runs, form tokens left out."""
    folder = tmp_path_factory.mktemp("fuzz")
    app = create_app({"DATA": folder, "DEMO": True, "WTF_CSRF_ENABLED": False})
    with app.extensions["shoplog"] as log:
        log.add_person("Orla Bennett", "lead")
        person = log.add_person("Dana Reyes", "technician")
        code = new_pairing_code(log, person["id"])
        paired = app.test_client().post("/door/pair", json={"code": code}).json
        yield app, {"Authorization": f"Bearer {paired['credential']}"}, paired


@pytest.fixture(scope="module")
def routes(shop):
    """Every (method, rule) of the service."""
    rules = shop[0].url_map.iter_rules()
    return [(method, rule.rule) for rule in rules for method in sorted(rule.methods)]


def visit(shop, visitor):
    """A browser of this visitor, and the headers it sends."""
    app, headers, _ = shop
    client = app.test_client()
    if visitor == "lead":
        client.post("/door/demo/lead")
    return client, headers if visitor == "phone" else {}


def must_be_a_proper_answer(reply, path, asked):
    assert reply.status_code not in NEVER, asked
    if path.startswith(JSON_PATHS) and reply.status_code >= 400:
        assert set(reply.json) == {"error"}, asked
        assert set(reply.json["error"]) == {"code", "says"}, asked
    if reply.status_code in range(300, 400) and "Location" in reply.headers:
        assert re.match(r"/(?!/)", reply.headers["Location"]), asked
    assert reply.headers["X-Content-Type-Options"] == "nosniff"


@settings(max_examples=400, suppress_health_check=list(HealthCheck))
@given(data=st.data(), visitor=st.sampled_from(VISITORS), body=bodies, kind=types)
def test_whatever_is_sent_to_any_route_gets_a_proper_answer(
    shop, routes, data, visitor, body, kind
):
    method, rule = data.draw(st.sampled_from(routes))
    path = re.sub(r"<[^>]*>", lambda _: data.draw(scraps).replace("\ud800", "?"), rule)
    client, headers = visit(shop, visitor)
    headers = {**headers, **data.draw(odd_headers)} if visitor != "phone" else headers

    reply = client.open(path, method=method, data=body, content_type=kind, headers=headers)

    if reply.request.path == path and method != "HEAD":
        must_be_a_proper_answer(reply, path, (visitor, method, path, body, kind))


@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(data=st.data(), form=fields, query=fields)
def test_whatever_a_lead_sends_by_a_form_gets_a_proper_answer(shop, routes, data, form, query):
    desk = [(method, rule) for method, rule in routes if rule.startswith(("/desk", "/door"))]
    method, rule = data.draw(st.sampled_from(desk))
    path = re.sub(r"<[^>]*>", "0", rule)
    client, _ = visit(shop, "lead")

    reply = client.open(path, method=method, data=form, query_string=query)

    if method != "HEAD":
        must_be_a_proper_answer(reply, path, (method, path, form, query))


ENTRY_KEYS = ["v", "id", "phone", "local_no", "kind", "vehicle", "job", "round", "body", "typed"]
entries = st.dictionaries(st.sampled_from([*ENTRY_KEYS, "made_at", "build"]), values, max_size=12)


@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(batch=st.lists(entries | values, max_size=3), more=st.dictionaries(st.text(), values))
def test_whatever_a_paired_phone_pushes_is_answered_entry_by_entry(shop, batch, more):
    app, headers, paired = shop
    head = {"v": 1, "batch_id": "b", "server_id": paired["server_id"], "epoch": 1}
    asked = {**more, **head, "phone": paired["phone"]["id"], "entries": batch}

    reply = app.test_client().post("/log/push", json=asked, headers=headers)

    if reply.status_code == 200:
        assert len(reply.json["answers"]) == len(batch)
    else:
        must_be_a_proper_answer(reply, "/log/push", asked)


@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(body=st.binary(max_size=300) | bodies)
def test_whatever_is_sent_to_be_paired_is_refused_in_the_one_shape(shop, body):
    client = shop[0].test_client()

    reply = client.post("/door/pair", data=body, content_type="application/json")

    assert reply.status_code in {400, 413, 415, 429}
    must_be_a_proper_answer(reply, "/door/pair", body)
