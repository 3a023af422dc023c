"""Health of the service: what a monitor asks, what the lead reads, what phones are told."""

import shutil
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from pathlib import Path

from cryptography import x509
from flask import current_app

from webapp.door.current import the_log
from webapp.reckon.numbers import counted
from webapp.shoplog import ShopLog, forked_log
from webapp.shoplog.connection import VERSION, WAL_ALARM, sqlite_warning
from webapp.shoplog.files.disk_reserve import LEAST_FREE, way_out
from webapp.shoplog.quick_check import QuickCheck
from webapp.shoplog.rows import Row

WARN_BEFORE = timedelta(days=45)
RENEW = (
    "The certificate expires in {days} and was not renewed: restart the service on the shop "
    "PC, or install the shop's own new certificate."
)
NOT_YET = (
    "The certificate counts from {starts}, and the shop PC's clock says {now}: no phone can "
    "connect. Set the clock; if it is right, restart the service."
)
BEHIND = (
    "The shop PC's clock says {now}, but the log's last entry was received at {last}. Set the "
    "clock and turn on its setting by the network."
)
AHEAD = (
    "The shop PC's clock says {now}, {days} after the log's last entry. If that is wrong, set the "
    "clock and turn on its setting by the network; if it is right, this goes with the next entry."
)
# Clocks are set right by less than this all the time.
SLACK = timedelta(minutes=10)
SILENT_FOR = timedelta(days=180)
# Entries that were brought in or handed back are among the last lines with the times they had.
LINES_ASKED = 50
NO_ROOM = "The shop PC's disk is almost full: {free} MB are free."
STUCK = "The write-ahead log has grown to {size} MB: restart the service when nobody is measuring."


def health() -> Row:
    """{state: ok or warn, checks: {name: {says, ...}}, epoch}; `says` is None where all is well."""
    log = the_log()
    checks = {
        "certificate": certificate_check(cert_expires(), datetime.now(UTC)),
        "clock": {"says": clock_says(log, cert_starts(), datetime.now(UTC))},
        "database": database_check(),
        "disk": disk_check(shutil.disk_usage(log.folder).free, way_out(log.folder)),
        "wal": wal_check(log.wal_bytes()),
        "forked_log": {"says": forked_log.says(log, datetime.now(UTC))},
        "sqlite": {"version": VERSION, "says": sqlite_warning()},
    }
    urgent = any(check["says"] for name, check in checks.items() if name != "sqlite")
    return {"state": "warn" if urgent else "ok", "epoch": log.epoch, "checks": checks}


def certificate_check(expires: str | None, now: datetime) -> Row:
    """When the certificate ends; a service without one, such as a demo, has nothing to renew."""
    if expires is None:
        return {"expires": None, "days_left": None, "says": None}
    left = datetime.fromisoformat(expires) - now
    says = RENEW.format(days=counted(max(left.days, 0), "day")) if left < WARN_BEFORE else None
    return {"expires": expires, "days_left": left.days, "says": says}


def database_check() -> Row:
    """What the quick look over the database found as the service started."""
    look: QuickCheck = current_app.extensions["quick_check"]
    return {"state": look.state, "says": look.says}


def disk_check(free: int, way_out: str | None) -> Row:
    """How much room there is for the log, and the way out of a full disk, if there is one."""
    if free >= LEAST_FREE:
        return {"free_bytes": free, "says": None}
    says = [NO_ROOM.format(free=free // 1024**2), way_out]
    return {"free_bytes": free, "says": " ".join(filter(None, says))}


def wal_check(size: int) -> Row:
    """How large the write-ahead log is; a stuck read makes it grow without limit."""
    says = STUCK.format(size=size // 1024**2) if size > WAL_ALARM else None
    return {"bytes": size, "says": says}


def clock_says(log: ShopLog, starts: datetime | None, now: datetime) -> str | None:
    """What is odd about this computer's clock beside the certificate and the log; None if nothing.

    `starts` is when the certificate begins to count. A demo's year is past, whatever the clock.
    """
    if log.is_demo():
        return None
    time = {"now": to_the_minute(now)}
    if starts is not None and now < starts:
        return NOT_YET.format(**time, starts=to_the_minute(starts))
    lines = [datetime.fromisoformat(each) for each in log.last_received(LINES_ASKED)]
    if lines and now < lines[0] - SLACK:
        return BEHIND.format(**time, last=to_the_minute(lines[0]))
    if lines and now > max(lines) + SILENT_FOR:
        days = counted((now - max(lines)).days, "day")
        return AHEAD.format(**time, days=days)
    return None


def to_the_minute(moment: datetime) -> str:
    """A moment in this computer's own time."""
    return moment.astimezone().strftime("%Y-%m-%d %H:%M")


def cert_expires() -> str | None:
    """When the certificate that the service shows ends, as ISO text in UTC; None without one."""
    found = current_app.config.get("CERTIFICATE")
    return None if found is None else validity(Path(found))[1].isoformat(timespec="seconds")


def cert_starts() -> datetime | None:
    """When the certificate that the service shows begins to count; None without one."""
    found = current_app.config.get("CERTIFICATE")
    return None if found is None else validity(Path(found))[0]


def validity(path: Path) -> tuple[datetime, datetime]:
    """When the first certificate in a file becomes valid and when it expires."""
    return read_validity(path, path.stat().st_mtime_ns)


@lru_cache(maxsize=4)
def read_validity(path: Path, _: int) -> tuple[datetime, datetime]:
    """The same, read again when the file was written anew."""
    found = x509.load_pem_x509_certificate(path.read_bytes())
    return found.not_valid_before_utc, found.not_valid_after_utc
