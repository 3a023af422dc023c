"""The shop PC is known by its own addresses, and nobody passes for it."""

import ipaddress
import socket

import pytest
from kit.passphrases import CHEAP, PASSPHRASE, give_passphrase

from webapp import create_app
from webapp.door import localhost
from webapp.door.localhost import is_this_computer
from webapp.door.throttle import MAX_OF_PERSON, MAX_OF_SOURCE
from webapp.network.ports import lan_address

ADDRESS = "https://192.0.2.20:8700"
OWN = {ipaddress.ip_address("192.0.2.20"), ipaddress.ip_address("2001:db8::20")}


@pytest.fixture
def here(monkeypatch):
    """This computer on two networks of documentation."""
    monkeypatch.setattr(localhost, "own_addresses", lambda: OWN)


@pytest.mark.parametrize(
    "source",
    [
        *("127.0.0.1", "127.8.8.8", "::1", "::ffff:127.0.0.1"),
        *("192.0.2.20", "::ffff:192.0.2.20", "2001:db8::20", "2001:db8::20%eth0"),
    ],
)
def test_every_own_address_is_this_computer(here, source):
    assert is_this_computer(source)


@pytest.mark.parametrize("source", ["192.0.2.21", "::ffff:192.0.2.21", "2001:db8::21", "", "here"])
def test_no_other_address_is_this_computer(here, source):
    assert not is_this_computer(source)


def test_a_real_connection_to_an_address_of_this_computer_comes_from_it():
    with (
        socket.create_server((lan_address(), 0)) as listening,
        socket.create_connection(listening.getsockname()),
    ):
        made, source = listening.accept()
        made.close()

    assert is_this_computer(source[0])


def test_a_system_that_does_not_tell_its_addresses_leaves_the_loopback(monkeypatch):
    def refuse():
        raise OSError

    monkeypatch.setattr(localhost.ifaddr, "get_adapters", refuse)

    assert is_this_computer("127.0.0.1")
    assert not is_this_computer("192.0.2.20")


def test_a_name_that_is_hammered_is_let_in_at_the_shop_pc_under_the_shops_address(here, tmp_path):
    app = create_app({"DATA": tmp_path, "ADDRESS": ADDRESS, "WTF_CSRF_ENABLED": False, **CHEAP})

    def pair(source, passphrase=PASSPHRASE, **headers):
        return app.test_client().post(
            "/door/sign-in",
            data={"name": "Orla Bennett", "passphrase": passphrase},
            base_url=ADDRESS,
            environ_base={"REMOTE_ADDR": source},
            headers=headers,
        )

    with app.extensions["shoplog"] as log:
        lead = log.add_person("Orla Bennett", "lead")
        give_passphrase(log, lead)
        for number in range(MAX_OF_PERSON):
            pair(f"192.0.2.{100 + number // MAX_OF_SOURCE}", "wrong wrong wrong")

        stranger = pair("192.0.2.200")
        claims = {"X-Forwarded-For": "192.0.2.20", "Forwarded": "for=127.0.0.1"}
        pretender = pair("192.0.2.201", **claims)
        at_the_shop_pc = pair("192.0.2.20")

    assert stranger.status_code == pretender.status_code == 429
    assert at_the_shop_pc.status_code == 303
