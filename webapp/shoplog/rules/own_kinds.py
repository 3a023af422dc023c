"""What the shop PC writes into the log by itself: no phone and no form can.

People and settings are told whole each time, so that the last entry about one is how it stands.
"""

from collections.abc import Mapping
from typing import Annotated, Any, NotRequired

from pydantic import Field
from typing_extensions import TypedDict

from webapp.shoplog.rules.values import Id, When, Word, name_of, one_of, text, texts_like, whole

# What happens at the door. `about` is whose way in it is.
EVENTS = (
    *("signed_in", "sign_in_failed", "signed_out", "signed_out_everywhere"),
    *("link_made", "link_used", "passphrase_set", "passphrase_removed"),
    *("passkey_added", "passkey_removed"),
    *("pairing_code_made", "phone_paired", "phone_revoked", "restored", "keys_changed"),
)
# More than these of one window of failed sign-ins would let a stranger fill the log.
MOST_NAMED = 5
MOST_COUNTED = 1_000_000
LONGEST_NAME = 80

HEX = "^[0-9a-f]{64}$"
PASSKEY = "the SHA-256 of the passkey's id and public key in 64 hexadecimal digits"
PersonName = Annotated[str, name_of(LONGEST_NAME)]
Some = Field(max_length=MOST_NAMED, description=f"a list of at most {MOST_NAMED} texts")


class OwnPerson(TypedDict):
    """A person as they are called from here on, and what they may do."""

    person: Id
    name: PersonName
    role: Annotated[str, one_of("technician", "lead")]


class OwnSetting(TypedDict):
    """One of the shop's settings as it is from here on."""

    name: Annotated[str, text(60)]
    value: Annotated[str, text(4000, least=0)]


class Door(TypedDict):
    """Something that happened at the door; failed sign-ins are one entry a window, with a count."""

    event: Annotated[str, one_of(*EVENTS)]
    about: NotRequired[Id | None]
    how: NotRequired[Word]
    source: NotRequired[Annotated[str, text(64)]]
    of_phone: NotRequired[Id]
    of_passkey: NotRequired[Annotated[str, texts_like(HEX, PASSKEY)]]
    called: NotRequired[PersonName]
    count: NotRequired[Annotated[int, whole(MOST_COUNTED)]]
    since: NotRequired[When]
    names: NotRequired[Annotated[list[Annotated[str, text(LONGEST_NAME, least=0)]], Some]]
    sources: NotRequired[Annotated[list[Annotated[str, text(64, least=0)]], Some]]
    epoch: NotRequired[Annotated[int, whole(2**53)]]


OWN_KINDS: Mapping[str, Any] = {"person": OwnPerson, "setting": OwnSetting, "door": Door}
