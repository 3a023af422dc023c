"""The wheel carries the finished app, so that a shop's PC needs no compiler for it."""

import json
import os
import subprocess
import sys
import time
import urllib.error
import urllib.request
import zipfile
from email import message_from_bytes
from pathlib import Path

import pytest
from kit.servers import free_port
from test_supply_chain import DIRECT, REQUIREMENTS

from webapp import __version__
from webapp.phone.compiler.bill_of_materials import written
from webapp.phone.shell_files import Shell, static_folder

pytestmark = pytest.mark.slow
ROOT = Path(__file__).parents[2]
BIN = "Scripts" if os.name == "nt" else "bin"
PATIENCE = 60
# As in a terminal of its own: what these tests run on is not within reach.
OUTSIDE = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}


def pip(python, *arguments):
    """Run pip quietly, outside this repository's tests."""
    command = [python, "-m", "pip", "--quiet", "--disable-pip-version-check", *arguments]
    subprocess.run(list(map(str, command)), env=OUTSIDE, check=True)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel as pip builds it, with nothing but what the build asks for."""
    folder = tmp_path_factory.mktemp("wheel")
    pip(sys.executable, "wheel", "--no-deps", "--wheel-dir", folder, ROOT)
    [built] = folder.iterdir()
    return built


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """The folder of the commands where just the wheel and what it needs were installed."""
    folder = tmp_path_factory.mktemp("installed")
    subprocess.run([sys.executable, "-m", "venv", str(folder)], env=OUTSIDE, check=True)
    python = folder / BIN / "python"
    pip(python, "install", "--require-hashes", "-r", ROOT / "requirements.txt")
    pip(python, "install", "--no-deps", wheel)
    return folder / BIN


@pytest.fixture
def url(installed, tmp_path):
    """The address of the demo as it runs there."""
    port = free_port()
    options = ["--port", str(port), "--data", str(tmp_path / "yard")]
    process = subprocess.Popen(
        [str(installed / "axlewright"), "demo", *options],
        env=OUTSIDE,
        cwd=tmp_path,
        stdout=subprocess.DEVNULL,
    )
    try:
        answered(f"http://127.0.0.1:{port}/build.json", process)
        yield f"http://127.0.0.1:{port}"
    finally:
        process.terminate()
        process.wait(PATIENCE)


def answered(address, process):
    """Return once there is an answer at this address."""
    until = time.monotonic() + PATIENCE
    while True:
        assert process.poll() is None, "the service ended by itself"
        assert time.monotonic() < until, "the service does not answer"
        try:
            return fetched(address)
        except urllib.error.URLError:
            time.sleep(0.05)


def fetched(address):
    """What is to be had at this address."""
    with urllib.request.urlopen(address, timeout=PATIENCE) as reply:
        return reply.read()


def test_the_wheel_holds_what_a_checkout_serves_and_no_compiler(wheel):
    with zipfile.ZipFile(wheel) as packed:
        names = packed.namelist()
        files = {
            name.removeprefix("webapp/static/"): packed.read(name)
            for name in names
            if name.startswith("webapp/static/")
        }

    shell = Shell(static_folder())
    assert files.pop("sw.js").decode() == shell.worker_text
    assert files.pop("manifest.webmanifest").decode() == shell.manifest_text
    assert files == {**shell.files, **shell.packed}
    assert [name for name in names if name.startswith("webapp/phone/compiler")] == []


def test_the_wheel_asks_for_no_compiler_and_knows_its_version(wheel):
    with zipfile.ZipFile(wheel) as packed:
        [name] = [name for name in packed.namelist() if name.endswith(".dist-info/METADATA")]
        about = message_from_bytes(packed.read(name))

    needed = [line for line in about.get_all("Requires-Dist") if "extra ==" not in line]
    assert about["Version"] == __version__
    assert [line for line in needed if line.startswith("tdewolff")] == []
    assert len(needed) > 5


def test_the_wheel_lists_what_it_runs_with(wheel):
    with zipfile.ZipFile(wheel) as packed:
        [name] = [name for name in packed.namelist() if "/sboms/" in name]
        listed = packed.read(name).decode()

    assert name.endswith(".dist-info/sboms/axlewright.cdx.json")
    assert listed == written(__version__, REQUIREMENTS, DIRECT)


def test_the_service_starts_from_the_wheel_and_serves_the_whole_app(installed, url):
    lacking = subprocess.run([str(installed / "python"), "-c", "import minify"], env=OUTSIDE)
    build, files, *_ = fetched(f"{url}/sw.js").decode().splitlines()

    assert lacking.returncode != 0
    assert json.loads(build.split(" = ")[1].rstrip(";")) == Shell(static_folder()).build
    for name in json.loads(files.split(" = ")[1].rstrip(";")):
        assert len(fetched(url + name)) > 0
    assert b"<noscript>" in fetched(f"{url}/app")
