"""How the service fares: what a monitor asks, what the lead reads, what phones are told."""

import shutil
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from pathlib import Path

from cryptography import x509
from flask import current_app

from webapp.door.current import the_log
from webapp.reckon.numbers import counted
from webapp.shoplog import copies
from webapp.shoplog.connection import VERSION, WAL_ALARM, sqlite_warning
from webapp.shoplog.files.disk_reserve import LEAST_FREE, way_out
from webapp.shoplog.quick_check import QuickCheck
from webapp.shoplog.rows import Row

WARN_BEFORE = timedelta(days=45)
RENEW = (
    "The certificate expires in {days} and was not renewed: restart the service on the shop "
    "PC, or install the shop's own new certificate."
)
NO_ROOM = "The shop PC's disk is almost full: {free} MB are free."
STUCK = "The write-ahead log has grown to {size} MB: restart the service when nobody is measuring."


def health() -> Row:
    """{state: ok or warn, checks: {name: {says, ...}}, epoch}; `says` is None where all is well."""
    log = the_log()
    checks = {
        "certificate": certificate_check(cert_expires(), datetime.now(UTC)),
        "database": database_check(),
        "disk": disk_check(shutil.disk_usage(log.folder).free, way_out(log.folder)),
        "wal": wal_check(log.wal_bytes()),
        "copies": {"says": copies.says(log, datetime.now(UTC))},
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
    """How large the write-ahead log is; it grows without end behind a read that is stuck."""
    says = STUCK.format(size=size // 1024**2) if size > WAL_ALARM else None
    return {"bytes": size, "says": says}


def cert_expires() -> str | None:
    """When the certificate that the service shows ends, as ISO text in UTC; None without one."""
    path = current_app.config.get("CERTIFICATE")
    if path is None:
        return None
    return ends(Path(path), Path(path).stat().st_mtime_ns)


@lru_cache(maxsize=4)
def ends(path: Path, _: int) -> str:
    """When the first certificate of a file ends; read again when the file was written anew."""
    found = x509.load_pem_x509_certificate(path.read_bytes())
    return found.not_valid_after_utc.isoformat(timespec="seconds")
