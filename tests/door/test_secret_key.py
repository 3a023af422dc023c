"""The signing key is changed: a leaked one counts for nothing, another lets sessions go on."""

from datetime import UTC, datetime, timedelta

import pytest
from itsdangerous import BadSignature
from kit.entries import hire, make_entry, verdicts
from kit.page_forms import forms_of
from kit.passphrases import CHEAP, PASSPHRASE, give_passphrase
from kit.phones import Phone, asking, code_for

from webapp import create_app
from webapp.command import main
from webapp.door import secret_key
from webapp.door.sign_in import signer
from webapp.door.throttle import MAX_OF_SOURCE
from webapp.shoplog import ShopLog
from webapp.shoplog.backup import back_up
from webapp.shoplog.returned_entries import seal_key, sealed_for_phones, take_returned

NOW = datetime(2026, 11, 25, 10, tzinfo=UTC)


class Service:
    """A shop's own service on a folder, started and stopped."""

    def __init__(self, folder):
        self.folder = folder
        self.log = None

    def start(self, cookies=()):
        """The service, and a browser that holds these cookies."""
        app = create_app({"DATA": self.folder, **CHEAP})
        self.log = app.extensions["shoplog"]
        browser = app.test_client()
        for name, value, path in cookies:
            browser.set_cookie(name, value, path=path)
        return app, browser

    def stop(self):
        if self.log is not None:
            self.log.close()
        self.log = None


@pytest.fixture
def service(tmp_path):
    """The service of a shop with one lead."""
    with ShopLog(tmp_path) as log:
        lead = log.add_person("Orla Bennett", "lead")
        give_passphrase(log, lead)
    made = Service(tmp_path)
    yield made
    made.stop()


def pair(browser):
    [form] = forms_of(browser.get("/door"), "/door/sign-in")
    form |= {"name": "Orla Bennett", "passphrase": PASSPHRASE}
    assert browser.post("/door/sign-in", data=form).headers["Location"] == "/desk"


def held_by(browser):
    """The cookies of a browser."""
    found = (("axlewright", "/"), ("axlewright-known", "/door"))
    return [(name, browser.get_cookie(name, path=path).value, path) for name, path in found]


def rekey(folder, *options):
    return main(["rekey", "--data", str(folder), *options])


def a_half_typed_vehicle(browser):
    [form] = forms_of(browser.get("/desk/vehicles/new"), "/desk/vehicles/new")
    return form | {"name": "Gray hauler", "units": "mm", "driving_side": "left"}


def test_f42_a_key_that_leaked_lets_nobody_in_any_more(service, tmp_path, capsys):
    _, browser = service.start()
    pair(browser)
    cookies = held_by(browser)
    service.stop()

    assert rekey(tmp_path) == 0
    app, browser = service.start(cookies)

    assert "Every lead has to sign in again." in capsys.readouterr().out
    assert browser.get("/desk").headers["Location"] == "/door"
    with app.app_context(), pytest.raises(BadSignature):
        signer().loads(cookies[1][1])
    pair(browser)
    assert browser.get("/desk").status_code == 200


def test_f42_a_key_that_is_changed_gently_keeps_sessions_forms_and_known_browsers(
    service, tmp_path
):
    _, browser = service.start()
    pair(browser)
    form, cookies = a_half_typed_vehicle(browser), held_by(browser)
    service.stop()

    assert rekey(tmp_path, "--keep-sessions") == 0
    app, browser = service.start(cookies)

    assert app.config["SECRET_KEY_FALLBACKS"]
    assert browser.post("/desk/vehicles/new", data=form).status_code == 303
    assert [row["name"] for row in app.extensions["shoplog"].vehicles()] == ["Gray hauler"]
    throttle = app.extensions["throttle"]
    for _ in range(MAX_OF_SOURCE):
        throttle.take({"source this computer": MAX_OF_SOURCE})
    browser.post("/door/sign-out", data={"csrf_token": form["csrf_token"]})
    pair(browser)


def test_the_key_before_counts_for_thirty_days_and_never_after_a_leak(shop):
    first = secret_key.keys_of(shop, NOW)
    secret_key.change(shop, keep_sessions=True, now=NOW)
    second = secret_key.keys_of(shop, NOW + timedelta(days=29))

    assert second[0] == first[0] != second[1]
    assert secret_key.keys_of(shop, NOW + timedelta(days=31)) == second[1:]

    secret_key.change(shop, keep_sessions=False, now=NOW)
    assert len(secret_key.keys_of(shop, NOW)) == 1
    assert not set(secret_key.keys_of(shop, NOW)) & {*first, *second}
    assert second[1] not in shop.fact(secret_key.BEFORE)


def test_no_key_is_changed_where_there_is_no_shop_or_its_service_runs(service, tmp_path, capsys):
    assert rekey(tmp_path / "nowhere") == 1
    assert not (tmp_path / "nowhere").exists()
    assert "There is no shop log in" in capsys.readouterr().err

    service.start()
    assert rekey(tmp_path) == 1
    assert "already running" in capsys.readouterr().err


def sealed_by_others(log):
    """What phones hold of others, as they pulled it."""
    return sealed_for_phones(log, log.pull(0, 100)["entries"])


def test_nothing_sealed_with_a_key_that_leaked_is_taken_also_after_an_older_backup(tmp_path):
    folder, backup = tmp_path / "data", tmp_path / "backup.db"
    with ShopLog(folder) as log:
        crew = hire(log)
        seal_key(log)
        back_up(log, backup)
        log.append(crew.phone, [make_entry(crew.phone)])
        old, epoch = sealed_by_others(log), log.epoch
    assert rekey(folder) == 0
    with ShopLog(folder) as log:
        assert log.epoch > epoch
        new = sealed_by_others(log)
        told = log.door_entries()[0]
        assert (told["body"]["event"], told["person"]) == ("keys_changed", log.server_id)

    assert main(["restore", str(backup), "--data", str(folder)]) == 0

    with ShopLog(folder) as log:
        assert verdicts(take_returned(log, old)) == ["refused"]
        assert verdicts(take_returned(log, new)) == ["stored"]


def test_a_gentle_change_keeps_the_seals(tmp_path):
    with ShopLog(tmp_path) as log:
        crew = hire(log)
        log.append(crew.phone, [make_entry(crew.phone)])
        held, epoch = sealed_by_others(log), log.epoch
    assert rekey(tmp_path, "--keep-sessions") == 0
    with ShopLog(tmp_path) as log:
        assert (sealed_by_others(log), log.epoch) == (held, epoch)


def test_an_older_log_put_back_over_a_newer_one_does_not_bring_an_old_key_back(tmp_path):
    """The other way round: what is there now may be the older one."""
    old, new = tmp_path / "old", tmp_path / "new.db"
    with ShopLog(old) as log:
        seal_key(log)
        back_up(log, tmp_path / "copy.db")
    main(["restore", str(tmp_path / "copy.db"), "--data", str(tmp_path / "other")])
    assert rekey(tmp_path / "other") == 0
    with ShopLog(tmp_path / "other") as log:
        key = seal_key(log)
        back_up(log, new)
    assert main(["restore", str(new), "--data", str(old)]) == 0
    with ShopLog(old) as log:
        assert seal_key(log) == key


def test_a_phone_stays_the_phone_that_it_was_also_after_the_keys_were_changed(service, tmp_path):
    _, browser = service.start()
    phone = Phone(asking(browser), code_for(service.log, "Orla Bennett"))
    before = phone.id
    service.stop()
    assert rekey(tmp_path) == 0
    _, browser = service.start()
    assert browser.get("/log/pull?since=0", headers=phone.headers).status_code == 200
    code = code_for(service.log, "Orla Bennett")
    asked = {"code": code, "phone": before, "holds_for": phone.person["id"]}

    paired = browser.post("/door/pair", json=asked, headers=phone.headers)

    assert paired.json["phone"]["id"] == before
