"""Everything that has to hold, in one line: python3 tests/run.py

Makes `.venv` beside this repository, installs the pinned packages into it, sees to the browsers,
then runs ruff, mypy, deno and pytest. Arguments go on to pytest: python3 tests/run.py -k door
The tests share the computer's cores; with -n 0 they run one after the other in one process.
"""

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
CONSTRAINTS = ROOT / "tests" / "constraints.txt"
STAMP = VENV / "installed"
LEAST_PYTHON = (3, 11)

CHROMIUMS = [
    *("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"),
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
]
# Debian packages that some tests need, each with the commands one of which shows that it is there.
# One tells Chromium to trust the shop's certificate authority, one records what is written to disk
# and when; the others bring Firefox, WebKitGTK, and what drives Chromium and those.
TOOLS = {
    "libnss3-tools": ["certutil"],
    "strace": ["strace"],
    "chromium-driver": ["chromedriver"],
    "firefox-esr": ["firefox-esr", "firefox"],
    "webkit2gtk-driver": ["WebKitWebDriver"],
    "xvfb": ["Xvfb"],
}
# WebKitGTK shows its pages in a window of the system's own Python, which these bring.
WEBKIT_WINDOW = ["python3-gi", "gir1.2-webkit2-4.1"]
HAS_WEBKIT_WINDOW = "import gi; gi.require_version('WebKit2', '4.1')"
CHECKS = [
    ["ruff", "check", "."],
    ["ruff", "format", "--check", "."],
    ["mypy"],
    ["mypy", "--config-file", "tests/mypy.ini"],
    ["tests.check_scripts"],
]
# Each core begins with an unbroken run of tests, so that servers and browsers that neighbors share
# are started once or twice, and takes tests over from a slower one at the end.
ON_ALL_CORES = ["-n", "auto", "--dist", "worksteal"]
WHERE_PLAYWRIGHT_PUT_IT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""


def main():
    """Prepare, check and test; the exit code of pytest, or 1 when a check before it failed."""
    if sys.version_info < LEAST_PYTHON:
        sys.exit("Axlewright needs Python 3.11 or later; this is " + sys.version.split()[0] + ".")
    os.chdir(ROOT)
    make_venv()
    install()
    os.environ["AXLEWRIGHT_CHROMIUM"] = chromium()
    see_to_tools()
    failed = [" ".join(check) for check in CHECKS if run_module(*check) != 0]
    if failed:
        say("These failed, see above: " + ", ".join(failed))
    return run_module("pytest", *ON_ALL_CORES, *sys.argv[1:]) or int(bool(failed))


def say(line):
    """Print a line at once, so that it stands before what a command prints."""
    print(line, flush=True)


def run(*command):
    """Run a command in sight; its exit code."""
    say("$ " + " ".join(map(str, command)))
    return subprocess.call(list(map(str, command)))


def must(*command):
    """Run a command in sight, and stop here when it fails."""
    code = run(*command)
    if code != 0:
        sys.exit(f"That command ended with exit code {code}; the tests cannot run without it.")


def run_module(name, *arguments):
    """Run one of the tools that were installed; its exit code."""
    return run(PYTHON, "-m", name, *arguments)


def make_venv():
    """Make `.venv` unless there is one that works."""
    if works(PYTHON):
        return
    if importlib.util.find_spec("ensurepip") is None:
        version = f"python3.{sys.version_info.minor}-venv"
        install_with_apt(
            version, f"This Python cannot make a virtual environment: install {version}."
        )
    must(sys.executable, "-m", "venv", "--clear", VENV)


def works(python):
    """Whether this Python is there, runs and has pip."""
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    try:
        return subprocess.call([str(python), "-m", "pip", "--version"], **quiet) == 0
    except OSError:
        return False


def install():
    """Install the package with its pinned packages, unless exactly that was done before."""
    wanted = hashlib.sha256(
        (ROOT / "pyproject.toml").read_bytes() + CONSTRAINTS.read_bytes() + str(ROOT).encode()
    ).hexdigest()
    if STAMP.exists() and STAMP.read_text("utf-8") == wanted:
        return
    pip = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    must(*pip, "-e", ".", *group("check"), "-c", CONSTRAINTS)
    STAMP.write_text(wanted, "utf-8")


def group(name):
    """The requirements of a dependency group of pyproject.toml, which older pips cannot read."""
    import tomllib  # Pythons that are too old lack it, and are to be told so in a sentence

    groups = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["dependency-groups"]
    found = []
    for each in groups[name]:
        found += group(each["include-group"]) if isinstance(each, dict) else [each]
    return found


def chromium():
    """The path of a Chromium: named, found, or installed."""
    return named_chromium() or found_chromium() or installed_chromium()


def named_chromium():
    """The Chromium that AXLEWRIGHT_CHROMIUM names, or None."""
    return os.environ.get("AXLEWRIGHT_CHROMIUM")


def found_chromium():
    """The first Chromium or Chrome on this computer, or None."""
    return next(filter(None, map(shutil.which, CHROMIUMS)), None)


def installed_chromium():
    """A Chromium from the system's packages where that can be done, else from Playwright."""
    if Path("/etc/debian_version").exists() and apt():
        install_with_apt("chromium", "No Chromium was found: install one.")
        return found_chromium() or sys.exit("The package chromium brought no Chromium with it.")
    must(PYTHON, "-m", "playwright", "install", "chromium")
    asked = [str(PYTHON), "-c", WHERE_PLAYWRIGHT_PUT_IT]
    return subprocess.check_output(asked, text=True).strip()


def see_to_tools():
    """Install what some tests call, where that goes by itself; each test says what it lacks."""
    lacking = [each for each, commands in TOOLS.items() if not any(map(shutil.which, commands))]
    if not has_webkit_window():
        lacking += WEBKIT_WINDOW
    if lacking and Path("/etc/debian_version").exists() and apt():
        run(*apt(), "update", "-q")
        # One by one: a system like Debian may have some of them and not the others.
        for package in lacking:
            run(*apt(), "install", "-q", "-y", "--no-install-recommends", package)


def has_webkit_window():
    """Whether the system's own Python can open a window of WebKitGTK."""
    asked = ["/usr/bin/python3", "-c", HAS_WEBKIT_WINDOW]
    try:
        return subprocess.call(asked, stderr=subprocess.DEVNULL) == 0
    except OSError:
        return False


def apt():
    """How to call apt-get as root without being asked for a password, or an empty list."""
    if shutil.which("apt-get") is None:
        return []
    if os.geteuid() == 0:
        return ["apt-get"]
    if shutil.which("sudo") and subprocess.call(["sudo", "-n", "true"]) == 0:
        return ["sudo", "-n", "apt-get"]
    return []


def install_with_apt(package, otherwise):
    """Install a Debian package, or stop with a sentence where that cannot be done from here."""
    apt_get = apt()
    if not apt_get:
        sys.exit(otherwise)
    must(*apt_get, "update", "-q")
    must(*apt_get, "install", "-q", "-y", "--no-install-recommends", package)


if __name__ == "__main__":
    sys.exit(main())
