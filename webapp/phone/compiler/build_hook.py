"""Puts the app's finished files into the wheel, so that a shop's PC needs no compiler.

The list of the packages that it runs with goes into the wheel too.
"""

import re
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class FinishedFiles(BuildHookInterface):  # type: ignore[misc] # hatchling carries no types
    """Called by hatchling before and after it builds a wheel."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the files and add them to the wheel."""
        # A package installed in place makes them by itself, whenever its sources change.
        if version == "editable":
            return
        sys.path.insert(0, self.root)
        from webapp.phone.compiler.bill_of_materials import written
        from webapp.phone.compiler.finished import finished

        self.made = TemporaryDirectory()
        self.bill = TemporaryDirectory()
        for name, body in finished(Path(self.root) / "static").items():
            path = Path(self.made.name) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(body)
        build_data["force_include"][self.made.name] = "webapp/static"
        requirements = (Path(self.root) / "requirements.txt").read_text("utf-8")
        listed = Path(self.bill.name) / "axlewright.cdx.json"
        about = self.metadata
        direct = [re.split(r"[^\w.-]", each)[0] for each in about.core.dependencies]
        listed.write_text(written(about.version, requirements, direct), "utf-8")
        build_data["sbom_files"].append(str(listed))

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Delete the temporary files."""
        if version != "editable":
            self.made.cleanup()
            self.bill.cleanup()
