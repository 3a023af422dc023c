"""What every page of the desk needs from the rest of the shop: names and the build."""

from collections.abc import Mapping
from datetime import datetime

from webapp.door import current_person, the_log
from webapp.phone.shell_routes import the_shell
from webapp.shoplog.own_entries import SHOP_PC

__all__ = ["build", "current_person", "people", "phones", "shop_units", "the_log"]


def build() -> str:
    """The build of the app that entries made here name."""
    return the_shell().build


class Names(dict[str, str]):
    """Names by id; whoever is not on file is somebody unknown."""

    past: Mapping[str, list[tuple[str, str]]] = {}
    own = ""

    def then(self, person: str | None, at: str | None) -> str:
        """The name that somebody had at a time, with today's beside it where it differs.

        An older or newer clock than the shop PC's gets the first or the last name.
        """
        if person is None or person == self.own:
            return SHOP_PC if person else self[""]
        today, named = self[person], self.past.get(person, [])
        if at is None or len(named) < 2:
            return today
        moment = datetime.fromisoformat(at)
        since = [name for begun, name in named if datetime.fromisoformat(begun) <= moment]
        was = (since or [named[0][1]])[-1]
        return was if was == today else f"{was} (today {today})"

    def __missing__(self, _: str) -> str:
        """The name of an id that is not on file."""
        return "unknown"


def people() -> Names:
    """The name of everybody, by id, and the names they had before."""
    names = Names({row["id"]: row["name"] for row in the_log().people()})
    names.past, names.own = the_log().names_over_time(), the_log().server_id
    return names


def shop_units() -> str:
    """The unit that the shop measures in, `in` or `mm`; mm until it has chosen."""
    return str(the_log().settings().get("shop_units", "mm"))


def phones() -> dict[str, str]:
    """What each phone is called, by id; a desk is called the desk."""
    log = the_log()
    called = {
        row["id"]: "the desk" if row["kind"] == "desk" else row["name"] for row in log.phones()
    }
    return {**called, log.server_id: SHOP_PC}
