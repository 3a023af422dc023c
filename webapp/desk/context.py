"""What every page of the desk needs from the rest of the shop: names and the build."""

from webapp.door import current_person, the_log
from webapp.phone.shell_routes import the_shell

__all__ = ["build", "current_person", "people", "phones", "the_log"]


def build() -> str:
    """The build of the app that entries made here name."""
    return the_shell().build


class Names(dict[str, str]):
    """Names by id; whoever is not on file is somebody unknown."""

    def __missing__(self, _: str) -> str:
        """The name of an id that is not on file."""
        return "unknown"


def people() -> Names:
    """The name of everybody, by id."""
    return Names({row["id"]: row["name"] for row in the_log().people()})


def phones() -> dict[str, str]:
    """What each phone is called, by id; a desk is called the desk."""
    return {
        row["id"]: "the desk" if row["kind"] == "desk" else row["name"]
        for row in the_log().phones()
    }
