"""What belongs to the request at hand: the shop's log, and the phone that asks."""

from flask import current_app, g

from webapp.shoplog import ShopLog
from webapp.shoplog.rows import Row


def the_log() -> ShopLog:
    """The log of this shop."""
    log: ShopLog = current_app.extensions["shoplog"]
    return log


def the_phone() -> Row:
    """The phone that sent this request; the guard has checked its credential."""
    phone: Row = g.phone
    return phone
