"""`axlewright serve`: a shop's own service from the first start to the last, over real TLS."""

import errno
import os
import re
import signal
import socket
import ssl
import time
import urllib.error
import urllib.request
from contextlib import closing, contextmanager, suppress
from datetime import timedelta

import pytest
from kit.secure import PATIENCE, Named, SecureShop
from kit.servers import free_port

from webapp.door import one_time_links
from webapp.network import shop_service
from webapp.network.certificates import authority, keyring
from webapp.network.certificates.keyring import Keyring
from webapp.network.idle_connections import MAX_OF_SOURCE
from webapp.network.shop_service import Wanted
from webapp.shoplog import ShopLog

STALLED = 20


FORM = {"Content-Type": "application/x-www-form-urlencoded"}


@pytest.fixture
def secure(tmp_path):
    """A running shop, to do with as one likes."""
    running = SecureShop(tmp_path / "shop").start()
    yield running
    running.kill()


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """A running shop that several tests ask, and none changes."""
    running = SecureShop(tmp_path_factory.mktemp("served") / "shop").start()
    yield running
    running.kill()


def wanted(folder, **more):
    usual = dict.fromkeys(Wanted._fields)
    return Wanted(**{**usual, "folder": folder, "host": "127.0.0.1", **more})


def run(capsys, folder, **more):
    code = shop_service.run(wanted(folder, **more))
    return code, capsys.readouterr().err


def test_the_service_answers_over_tls_1_2_and_1_3_and_over_http_2(served):
    for version in (ssl.TLSVersion.TLSv1_2, ssl.TLSVersion.TLSv1_3):
        context = served.trusting()
        context.minimum_version = context.maximum_version = version
        context.set_alpn_protocols(["h2"])
        with (
            socket.create_connection(("127.0.0.1", served.port), 5) as plain,
            context.wrap_socket(plain, server_hostname="127.0.0.1") as made,
        ):
            assert made.selected_alpn_protocol() == "h2"


def test_older_tls_is_turned_away(served):
    context = served.trusting()
    with pytest.warns(DeprecationWarning):
        context.minimum_version = ssl.TLSVersion.TLSv1
        context.maximum_version = ssl.TLSVersion.TLSv1_1

    with (
        socket.create_connection(("127.0.0.1", served.port), 5) as plain,
        pytest.raises(ssl.SSLError),
    ):
        context.wrap_socket(plain, server_hostname="127.0.0.1")


@contextmanager
def hanging(port, begin):
    """So many connections that begin something and then say nothing more."""
    held = []
    try:
        for _ in range(STALLED):
            held.append(socket.create_connection(("127.0.0.1", port), 5))
            begin(held[-1])
        yield held
    finally:
        for each in held:
            each.close()


def half_a_handshake(plain):
    # The first bytes of a ClientHello that is longer than what was sent.
    plain.sendall(b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + bytes(20))


def test_f24_twenty_stalled_handshakes_leave_the_shop_answering(served):
    with hanging(served.port, half_a_handshake):
        begun = time.monotonic()
        assert served.get("/build.json")[0] == 200
        assert time.monotonic() - begun < 5


def test_f24_twenty_uploads_that_stop_halfway_leave_the_shop_answering(served):
    uploads = []

    def half_an_upload(plain):
        made = served.trusting().wrap_socket(plain, server_hostname="127.0.0.1")
        uploads.append(made)
        head = "POST /door/pair HTTP/1.1\r\nHost: {}\r\nContent-Type: application/json\r\n"
        made.sendall(head.format(served.address.removeprefix("https://")).encode())
        made.sendall(b'Content-Length: 1000\r\n\r\n{"code"')

    with hanging(served.port, half_an_upload):
        begun = time.monotonic()
        assert served.get("/build.json")[0] == 200
        assert time.monotonic() - begun < 5
        for made in uploads:
            made.close()


def asked_from(served, source, request):
    """The status of an answer to a request that comes from this address of this computer."""
    with (
        socket.create_connection(("127.0.0.1", served.port), 10, (source, 0)) as plain,
        served.trusting().wrap_socket(plain, server_hostname="127.0.0.1") as made,
    ):
        made.sendall(request)
        return int(made.recv(100).split()[1])


def test_f63_uploads_of_strangers_that_stop_leave_the_shop_to_everybody_else(served):
    host = served.address.removeprefix("https://")
    body = b"x" * 3_900_000
    head = f"PUT /log/photos/{'ab' * 32} HTTP/1.1\r\nHost: {host}\r\n".encode()
    head += b"Content-Type: image/jpeg\r\nContent-Length: 3900001\r\n\r\n"
    pair = f"POST /door/pair HTTP/1.1\r\nHost: {host}\r\nContent-Type: application/json\r\n"
    pair += 'Content-Length: 16\r\n\r\n{"code": "none"}'
    uploads = []

    def almost_all_of_it(plain):
        made = served.trusting().wrap_socket(plain, server_hostname="127.0.0.1")
        uploads.append(made)
        # Of one source only so many are heard at once: the next ones are turned away.
        with suppress(OSError):
            made.sendall(head + body)

    with hanging(served.port, almost_all_of_it):
        begun = time.monotonic()
        assert served.get("/build.json")[0] == 200
        assert asked_from(served, "127.0.0.2", pair.encode()) == 400
        assert time.monotonic() - begun < 5
        for made in uploads:
            made.close()


@pytest.mark.skipif("sys.platform != 'linux'", reason="connections are bounded on Linux")
def test_f63_connections_on_which_nothing_is_asked_are_bounded_for_each_source(served):
    held = []
    try:
        for _ in range(MAX_OF_SOURCE + 50):
            plain = socket.create_connection(("127.0.0.1", served.port), 10)
            held.append(served.trusting().wrap_socket(plain, server_hostname="127.0.0.1"))
        until = time.monotonic() + PATIENCE
        while sum(map(is_held, held)) > MAX_OF_SOURCE:
            assert time.monotonic() < until, "the connections stay open"
        assert served.get("/build.json")[0] == 200
    finally:
        for each in held:
            each.close()


def is_held(made):
    """Whether the service still holds a connection on which it has nothing to say."""
    made.settimeout(0.001)
    try:
        return made.recv(1) != b""
    except TimeoutError:
        return True
    except OSError:
        return False


def test_over_tls_a_form_counts_from_the_shops_own_page_and_not_from_its_plain_namesake(served):
    def refused(origin):
        with closing(Named(served, PATIENCE)) as asking:
            asking.request("POST", "/door/sign-in", "name=Orla", {"Origin": origin, **FORM})
            return asking.getresponse().status == 403

    plain = served.address.replace("https:", "http:")

    assert [refused(each) for each in (served.address, plain, served.helper)] == [False, True, True]


def test_twenty_idle_clients_leave_the_page_of_trust_answering(served):
    with (
        hanging(served.helper_port, lambda plain: plain.sendall(b"GET / HT")),
        urllib.request.urlopen(f"{served.helper}/", timeout=5) as response,
    ):
        assert b"Trust this shop" in response.read()


def test_the_page_of_trust_gives_the_authority_to_each_kind_of_phone_and_nothing_else(served):
    with urllib.request.urlopen(f"{served.helper}/axlewright-authority.crt", timeout=5) as got:
        assert got.headers["Content-Type"] == "application/x-x509-ca-cert"
        assert got.read() == served.authority.read_bytes()
    with urllib.request.urlopen(f"{served.helper}/axlewright.mobileconfig", timeout=5) as got:
        assert b"com.apple.security.root" in got.read()
    for path in ("/desk", "/app", "/../shop.db", "/certificates/authority.key"):
        with pytest.raises(urllib.error.HTTPError, match="404"):
            urllib.request.urlopen(f"{served.helper}{path}", timeout=5)


def test_f54_a_certificate_that_is_due_is_renewed_while_the_shop_runs(secure):
    before = secure.serial()
    ring = Keyring(secure.folder)
    signer = keyring.read(ring.authority_file)
    signer_key = keyring.read_key(ring.folder / "authority.key")
    hosts = sorted(authority.hosts_of(keyring.read(ring.keys.certificate)))
    key, almost = authority.new_key(), authority.utc_now() - timedelta(days=340)
    due = authority.new_leaf(key, signer, signer_key, hosts, almost)
    keyring.write_secret(ring.keys.key, authority.pem(key))
    keyring.write_whole(ring.keys.certificate, due.public_bytes(keyring.PEM))

    until = time.monotonic() + 2 * PATIENCE
    serial = before
    while serial == before:
        assert time.monotonic() < until, "the certificate was not renewed"
        time.sleep(0.2)
        try:
            serial = secure.serial()
        except OSError:
            continue

    assert serial not in {before, due.serial_number}
    assert secure.authority.read_bytes() == signer.public_bytes(keyring.PEM)


def test_f52_killed_outright_it_leaves_the_folder_to_the_next_start(secure):
    os.kill(secure.process.pid, signal.SIGKILL)
    secure.process.wait()
    secure.process.stdout.close()
    until = time.monotonic() + PATIENCE
    while not is_free(secure.folder):
        assert time.monotonic() < until, "the worker outlived the service"
        time.sleep(0.1)

    secure.start()

    assert secure.get("/build.json")[0] == 200


def is_free(folder):
    try:
        ShopLog(folder).close()
    except shop_service.LogError:
        return False
    return True


def test_it_stops_gracefully_and_its_log_has_one_line_a_request_without_secrets(secure):
    key = re.search(r"key=(\S+)", secure.link)[1]
    secure.get(f"/door/link?key={key}")

    assert secure.stop() == 0
    lines = secure.requests.read_text("utf-8").splitlines()
    [asked] = [line for line in lines if "/door/link" in line]
    assert re.search(r"127\.0\.0\.1 GET /door/link 200 \d+ ms$", asked)
    assert key not in "\n".join(lines)


def test_what_the_service_writes_is_for_its_owner_only(served):
    served.get("/door")

    assert [path for path in served.folder.rglob("*") if path.stat().st_mode & 0o077] == []


def test_a_second_service_on_the_same_folder_is_one_sentence_and_exit_1(served, capsys):
    code, said = run(capsys, served.folder, port=free_port())

    assert (code, said.count("\n")) == (1, 1)
    assert "already running" in said


def test_a_port_that_is_taken_is_said(tmp_path, capsys):
    with closing(socket.create_server(("127.0.0.1", 0))) as holder:
        port = holder.getsockname()[1]
        code, said = run(capsys, tmp_path, port=port, address="127.0.0.1")

    assert code == 1
    assert f"Port {port} of 127.0.0.1 cannot be used" in said


def test_a_port_without_the_right_to_it_is_said(tmp_path, capsys, monkeypatch):
    def refuse(*_):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(socket.socket, "bind", refuse)
    code, said = run(capsys, tmp_path, port=443, address="127.0.0.1")

    assert code == 1
    assert "No permission to listen on port 443" in said


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (errno.EACCES, "No permission to read or write"),
        (errno.ENOSPC, "is full: free some space"),
        (errno.ENOTDIR, "leads through a file"),
        (errno.EIO, "cannot be read or written"),
    ],
)
def test_what_the_system_refuses_is_a_sentence_and_exit_1(
    tmp_path, capsys, monkeypatch, number, says
):
    def refuse(_):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(shop_service, "ShopLog", refuse)
    code, said = run(capsys, tmp_path)

    assert (code, said.count("\n")) == (1, 1)
    assert says in said


def test_f49_a_synced_folder_is_refused_before_anything_is_written(tmp_path, capsys):
    code, said = run(capsys, tmp_path / "Dropbox" / "shop")

    assert code == 1
    assert "cloud service" in said
    assert list(tmp_path.iterdir()) == []


def test_a_demos_folder_is_refused(tmp_path, capsys):
    with ShopLog(tmp_path) as log:
        log.fact_or_make("demo", lambda: "yes")

    code, said = run(capsys, tmp_path)

    assert code == 1
    assert "has a demo in it" in said


def address_after(folder, **more):
    with ShopLog(folder) as log:
        found = shop_service.settle_address(
            log, shop_service.find_shop(log, wanted(folder, **more))
        )
    return found.address, found.moved_from


def test_the_address_is_settled_once_and_a_change_of_it_is_noticed(tmp_path):
    assert address_after(tmp_path) == ("https://axlewright.local:8700", None)
    assert address_after(tmp_path) == ("https://axlewright.local:8700", None)
    moved = address_after(tmp_path, address="192.168.1.20", port=443)
    assert moved == ("https://192.168.1.20", "https://axlewright.local:8700")
    assert address_after(tmp_path) == ("https://192.168.1.20", None)


NO_ADDRESSES = [
    *("https://shop.local", "shop local", "shöp.local", "axlewright.local:8700", "[fd00::7]"),
    *("192.168.1.20:8700", "192.168.1.300", "192.168.1", "0.0.0.0", "::", "fe80::1%eth0", "fd00:x"),
    *("", " ", ".", "shop..local", "-shop.local", "a" * 64, "me@shop.local", "shop.local?x", "[x"),
]


@pytest.mark.parametrize("typed", NO_ADDRESSES)
def test_what_is_no_address_is_one_sentence_and_the_kept_one_stays(tmp_path, capsys, typed):
    address_after(tmp_path, address="log.shop.example")

    code, said = run(capsys, tmp_path, address=typed, port=free_port())

    assert (code, said.count("\n")) == (1, 1)
    assert "is not an address" in said
    assert address_after(tmp_path) == ("https://log.shop.example:8700", None)


def test_an_address_that_was_kept_and_cannot_be_read_is_replaced(tmp_path):
    unreadable = "https://[axlewright.local:8700]:8700"
    with ShopLog(tmp_path) as log:
        log.set_settings({"shop_address": unreadable})

    moved = address_after(tmp_path, address="axlewright.local")

    assert moved == ("https://axlewright.local:8700", unreadable)


def theirs(tmp_path):
    """A certificate for another name than that of the shop, and its key."""
    ring = Keyring(tmp_path / "theirs")
    ring.make_ready("", ["log.shop.example"], authority.utc_now())
    return {"certificate": ring.keys.certificate, "key": ring.keys.key}


REFUSED = {
    "a certificate for another name": lambda tmp_path, taken: theirs(tmp_path),
    "no PEM certificate": lambda tmp_path, taken: {"certificate": tmp_path, "key": tmp_path},
    "a port that is taken": lambda tmp_path, taken: {"port": taken},
    "a port of the page that is taken": lambda tmp_path, taken: {"helper_port": taken},
    "one port for both": lambda tmp_path, taken: {"port": 8710, "helper_port": 8710},
    "no port above": lambda tmp_path, taken: {"port": 65535},
    "a host of somebody else": lambda tmp_path, taken: {"host": "192.0.2.1"},
    "a host that is none": lambda tmp_path, taken: {"host": "no host"},
}


@pytest.mark.parametrize("why", REFUSED)
def test_a_start_that_is_refused_is_one_sentence_and_keeps_the_address(tmp_path, capsys, why):
    folder = tmp_path / "shop"
    address_after(folder, address="192.168.1.20", port=free_port())
    kept = address_after(folder)
    with closing(socket.create_server(("127.0.0.1", 0))) as holder:
        asked = REFUSED[why](tmp_path, holder.getsockname()[1])
        code, said = run(capsys, folder, **{"address": "other.shop.example", **asked})

    assert (code, said.count("\n")) == (1, 1)
    assert address_after(folder) == kept
    assert not (folder / "certificates").exists()


def has_ipv6():
    """Whether this computer can listen on IPv6."""
    try:
        socket.create_server(("::1", 0), family=socket.AF_INET6).close()
    except OSError:
        return False
    return True


@pytest.mark.skipif(not has_ipv6(), reason="this computer has no IPv6")
def test_a_shop_can_live_at_an_ipv6_number(tmp_path):
    six = SecureShop(tmp_path / "shop", "::1", host="::1").start()
    try:
        assert six.get("/build.json")[0] == 200
        with urllib.request.urlopen(f"http://[::1]:{six.helper_port}/", timeout=5) as response:
            assert b"Trust this shop" in response.read()
    finally:
        six.kill()


def test_an_address_is_taken_as_people_write_it(tmp_path):
    assert address_after(tmp_path, address=" Shop.LOCAL. ")[0] == "https://shop.local:8700"
    assert address_after(tmp_path, address="fd00::7")[0] == "https://[fd00::7]:8700"


def test_the_shops_own_certificate_has_to_be_for_its_address(tmp_path, capsys):
    ring = Keyring(tmp_path / "theirs")
    ring.make_ready("", ["log.shop.example"], authority.utc_now())
    port = free_port()

    code, said = run(
        capsys,
        tmp_path / "shop",
        port=port,
        address="other.shop.example",
        certificate=ring.keys.certificate,
        key=ring.keys.key,
    )

    assert code == 1
    assert "a certificate for log.shop.example, not for other.shop.example" in said


def test_a_set_up_link_is_made_until_a_lead_can_sign_in(tmp_path):
    with ShopLog(tmp_path) as log:
        found = shop_service.find_shop(log, wanted(tmp_path))
        first = shop_service.settle_address(log, found).set_up_key
        second = shop_service.settle_address(log, found).set_up_key
        assert one_time_links.find(tmp_path, first) is None
        assert one_time_links.find(tmp_path, second)["purpose"] == one_time_links.SET_UP
        lead = log.add_person("Orla Bennett", "lead")["id"]
        lost = one_time_links.make(tmp_path, one_time_links.PASSPHRASE, lead)
        log.set_passphrase(lead, "scrypt$a$b")

        assert shop_service.settle_address(log, found).set_up_key is None
        assert one_time_links.find(tmp_path, second) is None
        assert one_time_links.find(tmp_path, lost)["person"] == lead


def test_a_new_link_to_set_the_shop_up_is_made_beside_the_running_service(tmp_path, capsys):
    with ShopLog(tmp_path) as log:
        found = shop_service.find_shop(log, wanted(tmp_path))
        first = shop_service.settle_address(log, found)

        assert shop_service.setup_link(tmp_path) == 0
        said = capsys.readouterr().out
        key = re.search(r"link\?key=(\S+)", said)[1]
        assert f"  {first.address}/door/link?key=" in said
        assert "within an hour" in said
        assert one_time_links.find(tmp_path, first.set_up_key) is None
        assert one_time_links.find(tmp_path, key)["purpose"] == one_time_links.SET_UP


def test_no_link_sets_up_a_shop_that_is_set_up_or_was_never_served(tmp_path, capsys):
    with ShopLog(tmp_path) as log:
        assert shop_service.setup_link(tmp_path) == 1
        assert "has no address yet" in capsys.readouterr().err
        log.set_settings({"shop_address": "https://axlewright.local:8700"})
        log.set_passphrase(log.add_person("Orla Bennett", "lead")["id"], "scrypt$a$b")

        assert shop_service.setup_link(tmp_path) == 1

    assert "This shop is set up" in capsys.readouterr().err
    assert list(tmp_path.glob("links/*")) == []


def test_a_lost_passphrase_gets_a_link_beside_the_running_service(tmp_path, capsys):
    with ShopLog(tmp_path) as log:
        person = log.add_person("Orla Bennett", "lead")
        log.set_settings({"shop_address": "https://axlewright.local:8700"})

        assert shop_service.passphrase(tmp_path, "orla bennett ") == 0

    said = capsys.readouterr().out
    key = re.search(r"https://axlewright.local:8700/door/link\?key=(\S+)", said)[1]
    assert one_time_links.find(tmp_path, key)["person"] == person["id"]


@pytest.mark.parametrize("name", ["Dana Reyes", "Nobody"])
def test_who_is_no_lead_gets_no_link(tmp_path, capsys, name):
    with ShopLog(tmp_path) as log:
        log.add_person("Orla Bennett", "lead")
        log.add_person("Dana Reyes", "technician")

    assert shop_service.passphrase(tmp_path, name) == 1
    assert "Its leads: Orla Bennett." in capsys.readouterr().err


def test_without_a_log_there_is_no_passphrase_to_lose(tmp_path, capsys):
    assert shop_service.passphrase(tmp_path, "Orla") == 1
    assert "no shop log" in capsys.readouterr().err
