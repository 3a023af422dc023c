"""Health: the status of the service on the shop PC, and what proves that it is the shop's."""

import platform
from datetime import UTC, datetime
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from flask import current_app, render_template

from webapp.desk.blueprint import bp
from webapp.desk.context import build, the_log
from webapp.desk.shop.missing import backup_says
from webapp.door.address import canonical
from webapp.door.health import health as the_health
from webapp.maintenance import backups
from webapp.shoplog.rows import Row


@bp.route("/health")
def health() -> str:
    """Certificate, disk, write-ahead log, backup, SQLite, epoch, the authority's fingerprint."""
    return render_template(
        "desk/health.html",
        **how_it_fares(),
        folder=the_log().folder,
        server_id=the_log().server_id,
        address=canonical(),
        trust=current_app.config.get("TRUST_PAGE"),
        fingerprint=fingerprint(),
        python=platform.python_version(),
        build=build(),
    )


def how_it_fares() -> Row:
    """{health, backup, all_well}: the checks, the last backup, whether neither needs a person."""
    found = the_health()
    backup = backup_says(backups.last(the_log().folder), datetime.now(UTC))
    all_well = found["state"] == "ok" and not backup["act"]
    return {"health": found, "backup": backup, "all_well": all_well}


def warnings() -> list[str]:
    """What somebody at the shop PC has to see to, for the head of every page."""
    checks = the_health()["checks"]
    return [check["says"] for name, check in checks.items() if check["says"] and name != "sqlite"]


def fingerprint() -> str | None:
    """The SHA-256 fingerprint of the shop's authority as phones show it; None without one."""
    path = current_app.config.get("AUTHORITY")
    if path is None:
        return None
    found = x509.load_pem_x509_certificate(Path(path).read_bytes())
    return found.fingerprint(hashes.SHA256()).hex(" ").upper()
