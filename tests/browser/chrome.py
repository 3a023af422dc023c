"""The system's Chromium: where it is, how it is started, and what every page of the tests gets."""

import os
import shutil
from pathlib import Path

from playwright.sync_api import BrowserContext, Route

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
FLAGS = [
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-domain-reliability",
    "--disable-features=OptimizationHints,MediaRouter,Translate",
    "--disable-sync",
    "--no-first-run",
    "--no-pings",
]
HELPERS = (Path(__file__).parent / "page.js").read_text(encoding="utf-8")


def find_chromium() -> str | None:
    """The path of Chromium: the one named in AXLEWRIGHT_CHROMIUM, else the first on the PATH."""
    named = os.environ.get("AXLEWRIGHT_CHROMIUM")
    return named or next(filter(None, map(shutil.which, NAMES)), None)


def flags() -> list[str]:
    """Switches: no traffic of its own, and no sandbox where root could not have one."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [*FLAGS, "--no-sandbox"] if root else FLAGS


def blank(route: Route) -> None:
    """An empty page on the origin that was asked, without any screen of the app."""
    route.fulfill(content_type="text/html", body="<!doctype html><title>blank</title>")


def prepare(context: BrowserContext, build: str) -> BrowserContext:
    """The context with a blank page and short ways to the app's modules of this build."""
    context.set_default_timeout(20_000)
    context.add_init_script(f"globalThis.testBuild = {build!r};\n{HELPERS}")
    context.route("**/blank", blank)
    return context
