"""Serving: the real process starts, answers, comes back after a crash and stops when told to."""

import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.request
from contextlib import suppress

import pytest
from kit.entries import stored_ids
from kit.servers import PATIENCE, Server, alive, free_port

from webapp.network import demo
from webapp.network.demo import prepare, welcome
from webapp.network.ports import CannotStart, lan_address, must_be_free
from webapp.network.serving import LONGEST_PAUSE, pause_after
from webapp.shoplog import ShopLog

ON_LINUX = pytest.mark.skipif("sys.platform != 'linux'", reason="finds the worker in /proc")


def test_it_stops_when_told_to_and_leaves_the_log_to_the_next(real_server):
    server, phone = real_server
    phone.push(phone.entry())

    code = server.stop()

    assert code == 0
    assert not (server.folder / "shop.db-wal").exists()
    with ShopLog(server.folder) as log:
        assert len(stored_ids(log)) == 1
        assert log.check() == []


@ON_LINUX
def test_a_request_that_ends_halfway_gets_a_sentence(real_server):
    server, phone = real_server
    head = f"POST /log/push HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nContent-Length: 90\r\n"
    with socket.create_connection(("127.0.0.1", server.port), PATIENCE) as half:
        half.sendall(f"{head}Authorization: Bearer {phone.credential}\r\n\r\n{{".encode())
        half.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: half.recv(65536), b"")).decode()

    assert answer.startswith("HTTP/1.1 400")
    assert '"code": "bad_request"' in answer


def test_f52_a_worker_that_dies_comes_back_with_everything(real_server):
    server, phone = real_server
    entry = phone.entry()
    phone.push(entry)

    os.kill(server.workers()[-1], signal.SIGKILL)
    until = time.monotonic() + PATIENCE
    while server.answers():
        assert time.monotonic() < until, "the worker did not die"
    server.wait_until_it_answers()

    assert [each["id"] for each in phone.pull().json["entries"]] == [entry["id"]]


@ON_LINUX
def test_f65_a_worker_that_stops_again_and_again_is_started_again_and_again(real_server):
    server, phone = real_server
    sent = []
    for _ in range(5):
        sent.append(phone.entry())
        assert phone.push(sent[-1]).status == 200
        os.kill(server.workers()[-1], signal.SIGKILL)
        until = time.monotonic() + PATIENCE
        while server.answers():
            assert time.monotonic() < until, "the worker did not die"
        server.wait_until_it_answers()

    held = [each["id"] for each in phone.pull().json["entries"]]
    assert held == [each["id"] for each in sent]


def test_f65_the_pause_before_a_worker_is_started_grows_to_a_bound():
    pauses = [pause_after(failures) for failures in range(1, 20)]

    assert pauses[0] == 0
    assert pauses == sorted(pauses)
    assert pauses[-1] == LONGEST_PAUSE


def test_the_process_that_watches_over_the_service_loads_nothing_of_the_app():
    loaded = "import sys, webapp.network.serving; print('flask' in sys.modules)"

    said = subprocess.check_output([sys.executable, "-c", loaded], encoding="utf-8")

    assert said.strip() == "False"


@ON_LINUX
def test_f65_nothing_acknowledged_is_lost_when_the_service_loads_anew_under_load(real_server):
    server, phone = real_server
    acknowledged, over = [], threading.Event()

    def send():
        while not over.is_set():
            with suppress(OSError, ValueError):
                answers = phone.push(*[phone.entry() for _ in range(3)]).json["answers"]
                acknowledged.extend(each["id"] for each in answers)

    sending = threading.Thread(target=send)
    sending.start()
    for _ in range(3):
        before, worker = len(acknowledged), server.workers()[-1]
        until = time.monotonic() + PATIENCE
        while len(acknowledged) < before + 30:
            assert time.monotonic() < until, "nothing is taken"
        server.process.send_signal(signal.SIGHUP)
        while alive(worker):
            assert time.monotonic() < until, "the worker did not go"
        server.wait_until_it_answers()
    over.set()
    sending.join()
    assert server.stop() == 0

    with ShopLog(server.folder) as log:
        assert set(acknowledged) <= {each["id"] for each in log.pull(0, 100_000)["entries"]}
        assert log.check() == []


@ON_LINUX
def test_f52_a_server_killed_outright_starts_again_on_the_same_log(real_server):
    server, phone = real_server
    phone.push(phone.entry())

    server.kill()
    server.start()

    assert len(phone.pull().json["entries"]) == 1


@pytest.fixture
def running_demo(tmp_path):
    """`axlewright demo` on a free port: (process, port, folder), once it has said hello."""
    port, folder = free_port(), tmp_path / "kept"
    arguments = ["demo", "--port", str(port), "--data", str(folder)]
    process = subprocess.Popen(
        [sys.executable, "-m", "webapp.command", *arguments],
        stdout=subprocess.PIPE,
        encoding="utf-8",
        start_new_session=True,
    )
    yield process, port, folder
    if process.poll() is None:
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    process.stdout.close()


def test_the_demo_says_where_it_is_serves_the_sample_and_stops(running_demo):
    process, port, folder = running_demo

    said = read_welcome(process)
    server = Server(folder)
    server.process, server.url = process, f"http://127.0.0.1:{port}"
    server.wait_until_it_answers()
    with urllib.request.urlopen(f"{server.url}/door") as response:
        door = response.read().decode()
    process.send_signal(signal.SIGINT)

    assert process.wait(PATIENCE) == 0
    assert f"http://127.0.0.1:{port}/" in said
    assert "This is a demo." in door
    with ShopLog(folder) as log:
        assert len(log.jobs(state="pending")) > 0


def read_welcome(process):
    lines = []
    while not lines or "Ctrl+C" not in lines[-1]:
        lines.append(process.stdout.readline())
        assert lines[-1], "the demo ended by itself"
    return "".join(lines)


def test_a_demo_kept_in_a_folder_is_filled_once(tmp_path):
    prepare(tmp_path)
    with ShopLog(tmp_path) as log:
        before = log.high_water()

    prepare(tmp_path)

    with ShopLog(tmp_path) as log:
        assert log.high_water() == before > 0


def test_the_demo_does_not_open_a_shops_own_log(tmp_path):
    with ShopLog(tmp_path) as log:
        log.add_person("Orla Bennett", "lead")

    with pytest.raises(CannotStart, match="a real shop's log"):
        prepare(tmp_path)


def test_a_demo_without_a_folder_leaves_nothing_behind(monkeypatch, capsys):
    served = []
    monkeypatch.setattr(demo, "prepare", lambda folder: (folder / "shop.db").touch())
    monkeypatch.setattr(demo, "serve", lambda config, *_: served.append(config))

    assert demo.run("127.0.0.1", free_port(), None) == 0

    assert served[0]["DEMO"] is True
    assert not served[0]["DATA"].exists()
    assert "--data FOLDER" in capsys.readouterr().out


@pytest.fixture
def taken_port():
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        holder.listen()
        yield holder.getsockname()[1]


def test_a_port_that_is_taken_is_one_sentence_and_exit_1(taken_port, tmp_path, capsys):
    assert demo.run("127.0.0.1", taken_port, tmp_path) == 1

    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert str(taken_port) in err
    assert list(tmp_path.iterdir()) == []


def test_a_folder_in_use_or_of_a_shop_is_one_sentence_and_exit_1(tmp_path, capsys):
    with ShopLog(tmp_path):
        assert demo.run("127.0.0.1", free_port(), tmp_path) == 1

    assert "already running" in capsys.readouterr().err


def test_a_folder_that_cannot_be_made_is_one_sentence_and_exit_1(tmp_path, capsys):
    (tmp_path / "file").touch()

    assert demo.run("127.0.0.1", free_port(), tmp_path / "file" / "folder") == 1

    assert capsys.readouterr().err.count("\n") == 1


def test_a_host_that_is_not_ours_is_refused():
    with pytest.raises(CannotStart, match="cannot be used"):
        must_be_free("192.0.2.1", free_port(), "another")


def test_on_this_computer_the_welcome_says_how_to_let_a_phone_in():
    said = welcome("127.0.0.1", 8700, "Kept.")

    assert "http://127.0.0.1:8700/" in said
    assert "this computer only" in said
    assert "--host 0.0.0.0" in said


def test_on_the_network_the_welcome_names_an_address_and_what_lacks_without_https():
    said = welcome("0.0.0.0", 8700, "Kept.")

    assert f"http://{lan_address()}:8700/" in said
    assert "Without HTTPS" in said
    assert "0.0.0.0:" not in said


def test_the_welcomes_qr_code_is_a_square_of_blocks():
    said = welcome("127.0.0.1", 8700, "Kept.")
    rows = [line for line in said.splitlines() if re.fullmatch("[█▀▄ ]{20,}", line)]

    assert len({len(row) for row in rows}) == 1
    assert len(rows) == (len(rows[0]) + 1) // 2
