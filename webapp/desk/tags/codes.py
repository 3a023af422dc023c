"""Tag codes: new ones, and the vehicle that one leads to."""

import secrets

from webapp.desk.context import the_log
from webapp.shoplog import NotFound

# Without letters and digits that are taken for one another, and without vowels.
LETTERS = "23456789CDFHJKMPQRTVWXY"


def new_code() -> str:
    """A tag code that leads nowhere yet, in two groups of four."""
    while True:
        letters = "".join(secrets.choice(LETTERS) for _ in range(8))
        code = f"{letters[:4]}-{letters[4:]}"
        if vehicle_name(code) is None:
            return code


def vehicle_name(code: str) -> str | None:
    """The name of the vehicle that a code leads to, or None for a blank tag."""
    try:
        return str(the_log().vehicle_by_tag(code)["name"])
    except NotFound:
        return None
