"""What monitors are told about the service."""

from datetime import UTC, datetime, timedelta

from webapp.door import health
from webapp.network.certificates.keyring import Keyring

NOW = datetime(2026, 11, 25, 10, tzinfo=UTC)


def test_a_monitor_gets_200_when_all_is_well(client, log, monkeypatch):
    monkeypatch.setattr(health, "LEAST_FREE", 0)

    reply = client.get("/health")

    assert reply.status_code == 200
    assert reply.json["state"] == "ok"
    assert reply.json["epoch"] == log.epoch
    checks = {"certificate", "database", "clock", "disk", "wal", "forked_log", "sqlite"}
    assert set(reply.json["checks"]) == checks


def test_a_monitor_gets_503_when_somebody_must_act(client, monkeypatch):
    monkeypatch.setattr(health, "LEAST_FREE", 2**62)

    reply = client.get("/health")

    assert (reply.status_code, reply.json["state"]) == (503, "warn")
    assert "almost full" in reply.json["checks"]["disk"]["says"]


def test_strangers_learn_the_state_alone(client, lead):
    away = {"REMOTE_ADDR": "192.0.2.7"}

    assert set(client.get("/health", environ_overrides=away).json) == {"state"}
    assert "checks" in lead.get("/health", environ_overrides=away).json
    assert "checks" in client.get("/health").json


def test_f46_an_old_sqlite_is_said_and_is_no_alarm(client, monkeypatch):
    monkeypatch.setattr(health, "LEAST_FREE", 0)
    monkeypatch.setattr(health, "sqlite_warning", lambda: "SQLite 3.40.1 has a rare fault.")

    reply = client.get("/health")

    assert reply.json["checks"]["sqlite"]["says"] == "SQLite 3.40.1 has a rare fault."
    assert reply.status_code == 200


def received(log, phone, at):
    log.append(phone.id, [phone.entry()], received_at=at)


def test_f61_a_clock_that_the_log_or_the_certificate_belies_is_told(log, phone):
    def says(now, starts=None):
        return health.clock_says(log, starts, now)

    assert says(NOW) is None
    received(log, phone, NOW)

    assert says(NOW + timedelta(days=100)) is None
    assert "200 days after the log's last entry" in says(NOW + timedelta(days=200))
    assert says(NOW - timedelta(minutes=9)) is None
    assert "the log's last entry was received" in says(NOW - timedelta(minutes=11))
    assert "no phone can connect" in says(NOW, NOW + timedelta(seconds=1))
    assert says(NOW, NOW - timedelta(seconds=1)) is None


def test_f61_a_clock_that_is_right_again_is_believed_with_the_next_entry(log, phone):
    received(log, phone, NOW + timedelta(days=3000))
    assert health.clock_says(log, None, NOW) is not None

    received(log, phone, NOW)

    assert health.clock_says(log, None, NOW) is None


def test_f61_a_wrong_clock_is_on_the_health_page(log, phone, lead):
    received(log, phone, datetime.now(UTC) + timedelta(days=3000))

    assert "Set the clock and turn on" in lead.get("/desk/health").text.replace("\n", " ")


def test_f47_a_write_ahead_log_that_grows_is_said():
    assert health.wal_check(16 * 2**20)["says"] is None
    assert "70 MB" in health.wal_check(70 * 2**20)["says"]


def test_f21_a_certificate_is_warned_of_45_days_ahead():
    assert health.certificate_check("2027-01-10T10:00:00+00:00", NOW)["says"] is None
    assert "44 days" in health.certificate_check("2027-01-09T09:00:00+00:00", NOW)["says"]
    assert "0 days" in health.certificate_check("2026-11-01T09:00:00+00:00", NOW)["says"]


def test_f54_a_renewed_certificate_is_noticed(app, tmp_path):
    ring = Keyring(tmp_path)
    app.config["CERTIFICATE"] = ring.keys.certificate
    ends = []
    for now in (NOW, NOW.replace(year=2027)):
        ring.make_ready("", ["axlewright.local"], now)
        with app.app_context():
            ends.append(health.cert_expires())

    assert [each[:4] for each in ends] == ["2027", "2028"]


def test_the_check_of_trust_says_nothing_and_other_pages_may_ask_it(client):
    reply = client.get("/trusted")

    assert (reply.status_code, reply.data) == (204, b"")
    assert reply.headers["Cross-Origin-Resource-Policy"] == "cross-origin"
    assert "Set-Cookie" not in reply.headers
