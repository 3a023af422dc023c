"""What the wheel is made to run with, as a CycloneDX document: a software bill of materials.

It is made from requirements.txt and from nothing else, so that the same checkout always gives the
same document: no time, no serial number.
"""

import json
import re
from collections.abc import Iterable
from typing import Any, NamedTuple

PIN = re.compile(r"^(?P<name>[\w.-]+)==(?P<version>[^\s;\\]+)(?: ; (?P<marker>[^\\]+?))? \\$", re.M)


class Pin(NamedTuple):
    """One package of requirements.txt; `marker` says on which systems, empty for all."""

    name: str
    version: str
    marker: str

    @property
    def purl(self) -> str:
        """The package's address in the form that bills of materials use."""
        return f"pkg:pypi/{plain(self.name)}@{self.version}"


def plain(name: str) -> str:
    """A package's name in its one writing: lower case, with hyphens."""
    return re.sub(r"[-_.]+", "-", name).lower()


def pins(requirements: str) -> list[Pin]:
    """The packages of a requirements file in its order."""
    return [Pin(*found.groups(default="")) for found in PIN.finditer(requirements)]


def bill(version: str, requirements: str, direct: Iterable[str]) -> dict[str, Any]:
    """The CycloneDX 1.6 document of this version; `direct` are the packages it names."""
    found = pins(requirements)
    own = f"pkg:pypi/axlewright@{version}"
    named = {plain(each) for each in direct}
    return {
        "$schema": "http://cyclonedx.org/schema/bom-1.6.schema.json",
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {
            "component": {
                "bom-ref": own,
                "type": "application",
                "name": "axlewright",
                "version": version,
                "licenses": [{"license": {"id": "MIT"}}],
                "purl": own,
            }
        },
        "components": [component(pin) for pin in found],
        "dependencies": [
            {"ref": own, "dependsOn": [pin.purl for pin in found if plain(pin.name) in named]}
        ],
    }


def component(pin: Pin) -> dict[str, Any]:
    """One package in the document."""
    about = {
        "bom-ref": pin.purl,
        "type": "library",
        "name": pin.name,
        "version": pin.version,
        "purl": pin.purl,
    }
    where = [{"name": "axlewright:only", "value": pin.marker}] if pin.marker else []
    return {**about, "properties": where} if where else about


def written(version: str, requirements: str, direct: Iterable[str]) -> str:
    """The document as it stands in the wheel."""
    return json.dumps(bill(version, requirements, direct), indent=1) + "\n"
