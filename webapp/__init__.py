"""Axlewright: the shop's log for centering a solid axle held by a track bar."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from flask import Flask

__version__ = "0.2.0"

MAX_BODY_BYTES = 256 * 1024


def create_app(config: Mapping[str, Any]) -> "Flask":
    """The service on the data folder `config["DATA"]`, a demo where `config["DEMO"]` is true."""
    # Fetched here so that `axlewright assess` gets by without Flask.
    from flask import Flask

    from webapp import desk, door, phone
    from webapp.shoplog import ShopLog
    from webapp.shoplog.quick_check import QuickCheck

    app = Flask(__name__, static_folder=None, template_folder=None)
    app.config.from_mapping(DEMO=False, MAX_CONTENT_LENGTH=MAX_BODY_BYTES)
    app.config.from_mapping(config)
    log = app.extensions["shoplog"] = ShopLog(Path(config["DATA"]))
    app.extensions["quick_check"] = QuickCheck(log.path)
    door.init_app(app)
    phone.init_app(app)
    app.register_blueprint(desk.bp)
    return app
