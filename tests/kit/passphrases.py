"""A passphrase for the desk, at a cost that does not make tests wait."""

from typing import Any

from webapp.door.passphrases import hash_passphrase
from webapp.shoplog import ShopLog

PASSPHRASE = "seven cold bolts ring"
# The configuration of a service that takes passphrases of this cost.
CHEAP = {"SCRYPT_N": 2}


def give_passphrase(log: ShopLog, person: dict[str, Any]) -> None:
    """Let this person sign in with PASSPHRASE at a service with the configuration CHEAP."""
    log.set_passphrase(person["id"], hash_passphrase(PASSPHRASE, CHEAP["SCRYPT_N"]))
