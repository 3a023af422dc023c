"""A Chromium that trusts a shop's authority and nothing else that it would not trust anyway."""

import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
from chrome import flags
from playwright.sync_api import BrowserContext, Error, Playwright

NO_CERTUTIL = (
    "certutil is missing, without which Chromium cannot be told to trust the shop: "
    "install libnss3-tools (Debian), nss (macOS, by brew) or nss-tools (Fedora)."
)

Open = Callable[[str], BrowserContext]


def trust(home: Path, authority: Path) -> None:
    """Make `home` the home of somebody whose Chromium trusts this authority."""
    certutil = shutil.which("certutil")
    if certutil is None:
        pytest.fail(NO_CERTUTIL)
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True, exist_ok=True)
    at = ["-d", f"sql:{store}"]
    for arguments in (
        ["-N", "--empty-password"],
        ["-A", "-n", "the shop", "-t", "C,,", "-i", str(authority)],
    ):
        subprocess.run([certutil, *arguments, *at], check=True, capture_output=True)


@contextmanager
def at_home(playwright: Playwright, chromium: str, home: Path, *switches: str) -> Iterator[Open]:
    """Opens browsers with profiles of their own in this home: open("phone")."""
    opened: list[BrowserContext] = []

    def open_profile(name: str) -> BrowserContext:
        context = playwright.chromium.launch_persistent_context(
            home / f"profile-{name}",
            executable_path=chromium,
            args=[*flags(), *switches],
            env={"HOME": str(home)},
        )
        context.set_default_timeout(20_000)
        opened.append(context)
        return context

    yield open_profile
    for context in opened:
        with suppress(Error):
            context.close()
