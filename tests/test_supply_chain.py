"""What a shop installs: every package pinned, each file by its hash, and all of it listed."""

import json
import re
import tomllib
from importlib.metadata import requires
from pathlib import Path

from cyclonedx.model.bom import Bom
from packaging.requirements import Requirement

from webapp import __version__
from webapp.phone.compiler.bill_of_materials import pins, plain, written

ROOT = Path(__file__).parent.parent
REQUIREMENTS = (ROOT / "requirements.txt").read_text("utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
DIRECT = [Requirement(each).name for each in PROJECT["dependencies"]]
PINNED = {plain(pin.name): pin.version for pin in pins(REQUIREMENTS)}


def needed(names):
    """The packages that these lead to on this computer, themselves included."""
    found, waiting = set(), [plain(each) for each in names]
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            asked = [Requirement(each) for each in requires(name) or []]
            waiting += [
                plain(each.name)
                for each in asked
                if each.marker is None or each.marker.evaluate({"extra": ""})
            ]
    return found


def test_every_package_that_the_service_needs_is_pinned():
    # One of them asks for pip, which every virtual environment begins with.
    assert needed(DIRECT) - {"pip"} <= PINNED.keys()


def test_the_pins_are_those_that_the_tests_ran_with():
    lines = (ROOT / "tests" / "constraints.txt").read_text("utf-8").split()
    tested = {plain(name): version for name, version in (line.split("==") for line in lines)}

    assert PINNED.items() <= tested.items()


def test_every_pin_has_its_hashes_and_no_address():
    blocks = re.split(r"\n(?=\S)", REQUIREMENTS.strip())

    assert len(blocks) == len(PINNED)
    for block in blocks:
        head, *hashes = block.replace("\\", "").split("\n")
        assert "==" in head
        assert hashes
        assert all(re.fullmatch(r" +--hash=sha256:[0-9a-f]{64} *", line) for line in hashes)


def test_the_bill_of_materials_lists_every_pin_and_reads_back():
    made = json.loads(written(__version__, REQUIREMENTS, DIRECT))
    bill = Bom.from_json(made)  # type: ignore[attr-defined] # a decorator adds it

    assert {(plain(each.name), each.version) for each in bill.components} == set(PINNED.items())
    assert bill.metadata.component.version == __version__
    [own] = [each for each in bill.dependencies if each.ref == bill.metadata.component.bom_ref]
    named = {each.ref.value.rpartition("/")[2].partition("@")[0] for each in own.dependencies}
    assert {plain(each) for each in named} == {plain(each) for each in DIRECT}


def test_what_only_some_systems_need_says_so():
    bill = json.loads(written(__version__, REQUIREMENTS, DIRECT))

    [windows] = [each for each in bill["components"] if each["name"] == "colorama"]
    assert windows["properties"][0]["value"] == "sys_platform == 'win32'"
