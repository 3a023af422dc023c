"""Connections on which nothing comes are closed, and those of one source are bounded."""

import socket
import time
from contextlib import ExitStack, closing

import pytest

from webapp.network.idle_connections import connections_at, sweep

pytestmark = pytest.mark.skipif("sys.platform != 'linux'", reason="looks after sockets on Linux")


@pytest.fixture
def connected():
    """Makes a connection to a port of this process: (its client, its port)."""
    with ExitStack() as held, closing(socket.create_server(("127.0.0.1", 0))) as listening:
        port = listening.getsockname()[1]

        def connect():
            client = held.enter_context(closing(socket.create_connection(("127.0.0.1", port), 5)))
            held.enter_context(closing(listening.accept()[0]))
            return client

        yield connect, port


def is_open(client):
    client.settimeout(0.05)
    try:
        return client.recv(1) != b""
    except TimeoutError:
        return True
    except ConnectionResetError:
        return False


def test_f63_what_is_silent_for_long_is_closed_and_what_speaks_is_not(connected):
    connect, port = connected
    silent, speaking = connect(), connect()
    time.sleep(0.3)
    speaking.sendall(b"x")

    assert sweep(port, idle=0.25) == 1

    assert (is_open(silent), is_open(speaking)) == (False, True)


def test_f63_a_source_with_too_many_loses_those_that_are_idle_longest(connected):
    connect, port = connected
    old = [connect() for _ in range(4)]
    time.sleep(0.1)
    new = [connect() for _ in range(4)]

    assert sweep(port, of_source=5) == 3

    assert all(map(is_open, new))
    assert sum(map(is_open, old)) == 1


def test_f63_the_sum_of_all_connections_is_bounded_too(connected):
    connect, port = connected
    made = [connect() for _ in range(6)]

    assert sweep(port, of_all=2) == 4

    assert sum(map(is_open, made)) == 2


def test_other_sockets_of_the_process_are_let_be(connected):
    connect, port = connected
    with closing(socket.create_server(("127.0.0.1", 0))) as other:
        client = socket.create_connection(other.getsockname(), 5)
        connect()
        held = [each.held for each in connections_at(port)]
        for each in held:
            each.close()

        assert len(held) == 1
        assert sweep(port, idle=-1.0) == 1
        assert is_open(client)
        client.close()
