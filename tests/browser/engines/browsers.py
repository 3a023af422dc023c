"""Chromium, Firefox and WebKitGTK at the size of a phone, each started, driven and ended alike."""

import os
import re
import shutil
import signal
import subprocess
import time
from pathlib import Path
from typing import Any

import pytest
from chrome import find_chromium, flags
from engines.web_driver import Driver, DriverError, HttpDriver, Marionette
from kit.servers import free_port

PHONE = (360, 800)
# The window that the screens of all sizes fit into.
ROOM = (1280, 1280)
PATIENCE = 60.0
SYSTEM_PYTHON = "/usr/bin/python3"
WINDOW = Path(__file__).with_name("webkit_window.py")
HAS_WEBKIT = "import gi; gi.require_version('WebKit2', '4.1')"

# Nothing is asked of the makers' servers, and a killed Firefox starts again like any other.
FIREFOX_PREFERENCES = {
    "app.normandy.enabled": False,
    "app.update.disabledForTesting": True,
    "browser.sessionstore.resume_from_crash": False,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "dom.w3c_touch_events.enabled": 1,
    "extensions.systemAddon.update.enabled": False,
    "marionette.port": 0,
    "messaging-system.rsexperimentloader.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,#remote-settings-dummy/v1",
    "toolkit.startup.max_resumed_crashes": -1,
    "toolkit.telemetry.enabled": False,
    # As on a phone, a bar to scroll by takes no room.
    "ui.useOverlayScrollbars": 1,
}
GLASS = """
const [width, height] = arguments;
gBrowser.selectedBrowser.style.cssText =
  `width: ${width}px; height: ${height}px; max-width: ${width}px; max-height: ${height}px;
   min-width: 0; flex: none;`;
"""


def command(*names: str, package: str) -> str:
    """The path of the first of these commands; without one the test fails and says what to do."""
    found = next(filter(None, map(shutil.which, names)), None)
    if found is None:
        pytest.fail(f"No {names[0]} was found: install the package {package}.")
    return found


def until(what: str, answer: Any) -> Any:
    """What a function gives once it gives something true; fails after a while, and says what."""
    end = time.monotonic() + PATIENCE
    while not (found := answer()):
        assert time.monotonic() < end, what
        time.sleep(0.02)
    return found


class Group:
    """A command that was started, and all that it started itself."""

    def __init__(self, *command: str, **options: Any) -> None:
        options = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, **options}
        self.process = subprocess.Popen(command, start_new_session=True, **options)

    def kill(self) -> None:
        """End them all at once, as an empty battery would, and wait until all are gone."""
        if self._members():
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait(PATIENCE)
        until("The browser does not end.", lambda: not self._members())
        if self.process.stdout:
            self.process.stdout.close()

    def _members(self) -> list[int]:
        """The process ids of those that still run."""
        found = []
        for stat in Path("/proc").glob("[0-9]*/stat"):
            try:
                state, _, group = stat.read_text().rpartition(")")[2].split()[:3]
            except OSError:
                continue
            if int(group) == self.process.pid and state not in "ZX":
                found.append(int(stat.parent.name))
        return found


class Browser:
    """A browser whose storage is in a folder that outlives it."""

    pointer = "touch"
    driver: Driver
    group: Group

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        # Whatever it keeps beside its profile stays in the folder too.
        self.surroundings = {**os.environ, "HOME": str(folder), "XDG_RUNTIME_DIR": str(folder)}

    def start(self) -> None:
        """Open it at the size of a phone."""
        self.folder.mkdir(parents=True, exist_ok=True)
        self.launch()
        try:
            self.connect()
            self.resize(*PHONE)
        except BaseException:
            self.kill()
            raise

    def launch(self) -> None:
        """Start what there is to start: self.group."""
        raise NotImplementedError

    def connect(self) -> None:
        """Get it under control: self.driver."""
        raise NotImplementedError

    def resize(self, width: int, height: int) -> None:
        """Make its glass so large, in CSS px."""
        raise NotImplementedError

    def kill(self) -> None:
        """End it at once, with all that belongs to it."""
        self.group.kill()

    def go(self, address: str) -> None:
        """Load an address."""
        self.driver.ask("Navigate", url=address)

    def run(self, script: str, *given: Any) -> Any:
        """What a script returns, which has what is given in `arguments`."""
        return self.driver.ask("ExecuteScript", script=script, args=list(given))

    def touch(self, x: float, y: float) -> None:
        """Touch a point of the glass with a finger."""
        self._act(
            {
                "type": "pointer",
                "id": "finger",
                "parameters": {"pointerType": self.pointer},
                "actions": [
                    {"type": "pointerMove", "duration": 0, "x": round(x), "y": round(y)},
                    {"type": "pointerDown", "button": 0},
                    {"type": "pointerUp", "button": 0},
                ],
            }
        )

    def type(self, text: str) -> None:
        """Type a text into the field that has the focus."""
        strokes = [{"type": way, "value": key} for key in text for way in ("keyDown", "keyUp")]
        self._act({"type": "key", "id": "keys", "actions": strokes})

    def _act(self, *sources: dict[str, Any]) -> None:
        self.driver.ask("PerformActions", actions=list(sources))


class Chromium(Browser):
    """Chromium, by its own driver."""

    def launch(self) -> None:
        """Start the driver, which says its port once it is ready."""
        self.path = find_chromium() or command("chromium", package="chromium")
        driver = command("chromedriver", package="chromium-driver")
        self.group = Group(
            driver, "--port=0", stdout=subprocess.PIPE, text=True, env=self.surroundings
        )

    def connect(self) -> None:
        """Let the driver start Chromium on the folder."""
        out = self.group.process.stdout
        said = (re.search(r"successfully on port (\d+)", line) for line in out)
        port = int(next(found[1] for found in said if found))
        profile = f"--user-data-dir={self.folder}/profile"
        options = {"binary": self.path, "args": [*flags(), "--headless=new", profile]}
        self.driver = HttpDriver(port, {"goog:chromeOptions": options})
        self._ask_devtools("Emulation.setTouchEmulationEnabled", enabled=True)

    def resize(self, width: int, height: int) -> None:
        """Make its glass so large, in CSS px."""
        size = {"width": width, "height": height, "deviceScaleFactor": 2, "mobile": True}
        self._ask_devtools("Emulation.setDeviceMetricsOverride", **size)

    def _ask_devtools(self, name: str, **given: Any) -> None:
        self.driver.ask("CdpCommand", cmd=name, params=given)


class Firefox(Browser):
    """Firefox, which is its own driver."""

    driver: Marionette

    def launch(self) -> None:
        """Start it; it writes the port of its own choice into the profile."""
        profile = self.folder / "profile"
        profile.mkdir(exist_ok=True)
        self.port = profile / "MarionetteActivePort"
        self.port.unlink(missing_ok=True)
        lines = [
            f'user_pref("{name}", {str(value).lower() if value in (True, False) else value});'
            for name, value in FIREFOX_PREFERENCES.items()
        ]
        (profile / "user.js").write_text("\n".join(lines), "utf-8")
        firefox = command("firefox-esr", "firefox", package="firefox-esr")
        room = {"MOZ_HEADLESS_WIDTH": str(ROOM[0]), "MOZ_HEADLESS_HEIGHT": str(ROOM[1])}
        self.group = Group(
            *(firefox, "--headless", "--no-remote", "--profile", str(profile)),
            *("--marionette", "--remote-allow-system-access", "about:blank"),
            env={**self.surroundings, **room, "MOZ_CRASHREPORTER_DISABLE": "1"},
        )

    def connect(self) -> None:
        """Begin the session as soon as it listens."""
        port = until("Firefox does not start.", self._listens_on)
        self.driver = Marionette(port)

    def _listens_on(self) -> int | None:
        assert self.group.process.poll() is None, "Firefox ended by itself."
        return int(self.port.read_text() or 0) if self.port.exists() else None

    def resize(self, width: int, height: int) -> None:
        """Make its page so large, as a window of Firefox is never as narrow as a phone."""
        self.driver.tell("Marionette:SetContext", value="chrome")
        self.run(GLASS, width, height)
        self.driver.tell("Marionette:SetContext", value="content")
        until("The page is not resized.", lambda: self.run("return innerWidth") == width)

    def kill(self) -> None:
        """End it at once, with all that belongs to it."""
        super().kill()
        if hasattr(self, "driver"):
            self.driver.close()


class WebKit(Browser):
    """WebKitGTK in a window of our own, on a screen that nobody sees."""

    pointer = "mouse"  # its driver knows no other, and takes a finger for one

    def launch(self) -> None:
        """Start the screen and the driver."""
        driver = command("WebKitWebDriver", package="webkit2gtk-driver")
        screen = command("Xvfb", package="xvfb")
        asked = [SYSTEM_PYTHON, "-c", HAS_WEBKIT]
        if subprocess.run(asked, stderr=subprocess.DEVNULL, check=False).returncode != 0:
            pytest.fail("No WebKitGTK was found: install python3-gi and gir1.2-webkit2-4.1.")
        ours, its = os.pipe()
        self.screen = Group(
            *(screen, "-displayfd", str(its), "-nolisten", "tcp"),
            *("-screen", "0", "{}x{}x24".format(*ROOM)),
            pass_fds=[its],
        )
        os.close(its)
        with os.fdopen(ours) as said:
            display = said.readline().strip()
        self.port = free_port()
        self.group = Group(
            driver,
            f"--port={self.port}",
            env={**self.surroundings, "DISPLAY": f":{display}", "NO_AT_BRIDGE": "1"},
        )

    def connect(self) -> None:
        """Let the driver start the window on the folder."""
        window = [str(WINDOW), str(self.folder), *map(str, PHONE)]
        options = {"webkitgtk:browserOptions": {"binary": SYSTEM_PYTHON, "args": window}}
        self.driver = until("WebKitWebDriver does not start.", lambda: self._session(options))

    def _session(self, options: dict[str, Any]) -> HttpDriver | None:
        assert self.group.process.poll() is None, "WebKitWebDriver ended by itself."
        try:
            return HttpDriver(self.port, options)
        except DriverError:
            return None

    def resize(self, width: int, height: int) -> None:
        """Make its window so large."""
        self.driver.ask("SetWindowRect", x=0, y=0, width=width, height=height)
        size = "return innerWidth + ' ' + innerHeight"
        until("The window is not resized.", lambda: self.run(size) == f"{width} {height}")

    def kill(self) -> None:
        """End it at once, with all that belongs to it."""
        super().kill()
        self.screen.kill()


BROWSERS = {"chromium": Chromium, "firefox": Firefox, "webkit": WebKit}
