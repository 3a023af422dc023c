"""What `axlewright serve` was told once counts from then on, but for the folder."""

import re

import pytest
from kit.servers import free_port

from webapp.command import main
from webapp.maintenance import backups
from webapp.network import saved_options, shop_service
from webapp.network.certificates import authority
from webapp.network.certificates.keyring import Keyring
from webapp.shoplog import ShopLog

NAME = "log.bennett.example"


@pytest.fixture
def serve(tmp_path, monkeypatch, capsys):
    """Run `axlewright serve` up to the point at which it would listen: (exit code, what it did)."""
    ports = ["--port", str(free_port())]

    def run(*options):
        did = {"backups": []}

        class NoSchedule(backups.Schedule):
            def __enter__(self):
                did["backups"].append((self.folders, self.pause / 3600))
                return self

            def __exit__(self, *_):
                pass

        def listen(config, host, port, *, keys, when_up):
            did.update(config=config, host=host, keys=keys)

        monkeypatch.setattr(shop_service, "serve", listen)
        monkeypatch.setattr(backups, "Schedule", NoSchedule)
        code = main(["serve", "--data", str(tmp_path / "shop"), *options])
        out, err = capsys.readouterr()
        return code, {**did, "out": out, "err": err}

    code, _ = run("--host", "127.0.0.1", "--address", NAME, *ports)
    assert code == 0
    return run


@pytest.fixture
def own(tmp_path):
    """Options with a certificate of the shop's own, and the two files."""
    ring = Keyring(tmp_path / "own")
    ring.make_ready("", [NAME], authority.utc_now())
    return ["--certificate", str(ring.keys.certificate), "--key", str(ring.keys.key)], ring.keys


def test_the_shops_own_certificate_is_shown_at_each_later_start(serve, own, tmp_path):
    options, files = own
    authority_file = tmp_path / "shop" / "certificates" / "authority.crt"
    authority_file.unlink()
    assert serve(*options)[1]["keys"] == files

    code, did = serve()

    assert (code, did["keys"]) == (0, files)
    assert f"--certificate {files.certificate} --key {files.key}" in did["out"]
    assert not authority_file.exists()


def test_a_certificate_whose_file_is_gone_stops_the_start_and_says_the_way_on(serve, own):
    options, files = own
    serve(*options)
    files.certificate.unlink()

    code, did = serve()
    assert code == 1
    assert f"There is no file {files.certificate}" in did["err"]

    code, did = serve("--certificate", "none")
    assert (code, did["keys"].certificate.name) == (0, "service.crt")
    assert serve()[1]["keys"].certificate.name == "service.crt"


def test_a_certificate_that_does_not_do_is_not_kept(serve, tmp_path):
    ring = Keyring(tmp_path / "theirs")
    ring.make_ready("", ["elsewhere.example"], authority.utc_now())
    code, did = serve("--certificate", str(ring.keys.certificate), "--key", str(ring.keys.key))
    assert code == 1
    assert "not for log.bennett.example" in did["err"]

    assert serve()[0] == 0


def test_the_helpers_port_and_the_network_are_kept(serve):
    helper = free_port()
    serve("--helper-port", str(helper))

    code, did = serve()

    assert (code, did["host"]) == (0, "127.0.0.1")
    assert did["config"]["TRUST_PAGE"].endswith(f":{helper}/")
    assert f"As before: --host 127.0.0.1 --helper-port {helper}\n" in did["out"]


def test_an_option_given_anew_counts_in_place_of_what_was_kept(serve):
    first, second = free_port(), free_port()
    serve("--helper-port", str(first))
    did = serve("--helper-port", str(second))[1]
    assert str(first) not in did["out"]

    assert serve()[1]["config"]["TRUST_PAGE"].endswith(f":{second}/")


def test_when_and_where_backups_go_is_kept(serve, tmp_path, monkeypatch):
    usual = [tmp_path / "shop" / "backups"]
    assert serve()[1]["backups"] == [(usual, 6.0)]
    monkeypatch.chdir(tmp_path)
    serve("--backup-every", "2.5", "--backup-to", "disk", "--backup-also", "stick")

    both = [tmp_path / "disk", tmp_path / "stick"]
    assert serve()[1]["backups"] == [(both, 2.5)]
    assert serve("--backup-also", "none")[1]["backups"] == [(both[:1], 2.5)]
    assert serve()[1]["backups"] == [(both[:1], 2.5)]
    assert serve("--backup-every", "0")[1]["backups"] == []
    assert serve()[1]["backups"] == []


@pytest.mark.parametrize("given", [["--certificate", "a.pem"], ["--key", "none"]])
def test_certificate_and_key_go_together(serve, given):
    code, did = serve(*given)

    assert code == 2
    assert "--certificate and --key go together" in did["err"]


def test_what_is_kept_travels_with_a_log_and_is_read_of_no_other_folder(serve, tmp_path):
    serve("--helper-port", str(free_port()))
    with ShopLog(tmp_path / "shop") as log:
        names = {name for name in log.settings() if name.startswith(saved_options.PREFIX)}

    assert names == {"shop_serve_host", "shop_serve_helper_port"}
    assert saved_options.saved_in(tmp_path / "nowhere") == {}
    assert saved_options.saved_in(tmp_path / "Dropbox") == {}


def test_every_option_that_serve_has_is_kept_but_the_folder(capsys):
    main(["serve", "--help"])
    options = set(re.findall(r"^  --([a-z-]+)", capsys.readouterr().out, re.MULTILINE))

    # Address and port are kept as the shop's one address.
    others = {"data", "address", "port"}
    assert options - others == {name.replace("_", "-") for name in saved_options.SAVED}
