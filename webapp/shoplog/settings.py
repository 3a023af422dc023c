"""The shop's own settings, such as its name and units: storage without decisions."""

from pathlib import Path

from webapp.shoplog.connection import look_into
from webapp.shoplog.errors import NotFound
from webapp.shoplog.own_entries import record
from webapp.shoplog.people import People, keep_facts

SETTINGS = "SELECT name, value FROM facts WHERE substr(name, 1, 5) = 'shop_'"


class Settings(People):
    """The shop's settings, and whether it is a shop or a demo."""

    def is_demo(self) -> bool:
        """Whether this log was filled by the demo."""
        try:
            return self.fact("demo") == "yes"
        except NotFound:
            return False

    @staticmethod
    def glance(folder: Path) -> tuple[list[dict[str, str]], dict[str, str]]:
        """(people, settings) of a log that another process may have open, or NotFound."""
        with look_into(folder) as db:
            people = [dict(row) for row in db.execute("SELECT * FROM people ORDER BY name")]
            return people, {row[0]: row[1] for row in db.execute(SETTINGS)}

    def settings(self) -> dict[str, str]:
        """The shop's own settings, by name, such as `shop_name`."""
        with self.reading() as db:
            return {row[0]: row[1] for row in db.execute(SETTINGS)}

    def set_settings(self, chosen: dict[str, str], by: str | None = None) -> None:
        """Keep what the shop chose; every name begins with `shop_`."""
        with self.writing() as db:
            before = {row[0]: row[1] for row in db.execute(SETTINGS)}
            for name, value in chosen.items():
                if before.get(name) != value:
                    record(db, "setting", {"name": name, "value": value}, by)
            keep_facts(db, chosen)
