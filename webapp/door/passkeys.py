"""Passkeys (WebAuthn): made and asked for by the browser, checked here against the public key.

They are bound to the host of the shop's address, so they need one with a name, and TLS: a browser
has none for an address that is a number.
A challenge is signed and good for five minutes, so that nothing is kept for strangers who only ask;
one that let somebody in is remembered until then, and lets nobody in again. After a restart, which
forgets that, no challenge of before counts.
"""

import ipaddress
import json
import secrets
import threading
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from urllib.parse import urlsplit

from fido2.server import Fido2Server
from fido2.utils import websafe_encode
from fido2.webauthn import (
    AttestedCredentialData,
    AuthenticationResponse,
    PublicKeyCredentialDescriptor,
    PublicKeyCredentialRpEntity,
    PublicKeyCredentialType,
    PublicKeyCredentialUserEntity,
    RegistrationResponse,
    ResidentKeyRequirement,
    UserVerificationRequirement,
)
from flask import current_app
from itsdangerous import BadSignature, URLSafeTimedSerializer

from webapp.door.address import canonical
from webapp.door.current import the_log
from webapp.shoplog import NotFound
from webapp.shoplog.rows import Row

SIGN_IN = "sign in"
CHALLENGE_SECONDS = 300
MAX_OF_PERSON = 10
VERIFIED = UserVerificationRequirement.REQUIRED


class NotAccepted(Exception):
    """What a browser answered is no proof."""


class Used:
    """The challenges that let somebody in within the last minutes."""

    def __init__(self) -> None:
        """None yet."""
        self.since = secrets.token_urlsafe(8)
        self.until: dict[bytes, float] = {}
        self.turn = threading.Lock()

    def use_up(self, challenge: bytes) -> bool:
        """Whether this challenge is used for the first time."""
        now = time.monotonic()
        with self.turn:
            self.until = {each: end for each, end in self.until.items() if end > now}
            is_new = challenge not in self.until
            self.until[challenge] = now + CHALLENGE_SECONDS
        return is_new


def are_possible() -> bool:
    """Whether browsers have passkeys for the shop's address."""
    address = urlsplit(canonical())
    host = address.hostname or ""
    if host == "localhost":
        return True
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return address.scheme == "https"
    return False


def options_to_register(person: Row) -> dict[str, Any]:
    """What the browser is asked, as JSON, to make a passkey for this person."""
    known = [
        PublicKeyCredentialDescriptor(
            type=PublicKeyCredentialType.PUBLIC_KEY,
            id=AttestedCredentialData(row["credential"]).credential_id,
        )
        for row in the_log().passkeys_of(person["id"])
    ]
    options, _ = server().register_begin(
        PublicKeyCredentialUserEntity(
            id=uuid.UUID(person["id"]).bytes, name=person["name"], display_name=person["name"]
        ),
        credentials=known,
        resident_key_requirement=ResidentKeyRequirement.REQUIRED,
        user_verification=VERIFIED,
        challenge=new_challenge(person["id"]),
    )
    return dict(options)


def options_to_sign_in() -> dict[str, Any]:
    """What the browser is asked, as JSON, to sign somebody in with any passkey of this shop."""
    options, _ = server().authenticate_begin(
        user_verification=VERIFIED, challenge=new_challenge(SIGN_IN)
    )
    return dict(options)


def registered(person: Row, answer: str) -> Row:
    """{id, credential, sign_count} of the passkey that the browser made; or NotAccepted."""
    knowing = server()
    with proving():
        response = RegistrationResponse.from_dict(json.loads(answer))
        challenge = response.response.client_data.challenge
        must_be_new(challenge, person["id"])
        made = knowing.register_complete(state_of(challenge), response)
        credential = made.credential_data
    if credential is None:
        raise NotAccepted
    name = websafe_encode(credential.credential_id)
    if is_kept(name):
        raise NotAccepted
    return {"id": name, "credential": bytes(credential), "sign_count": made.counter}


def is_kept(name: str) -> bool:
    """Whether this passkey is somebody's already: it can be nobody else's."""
    try:
        the_log().passkey(name)
    except NotFound:
        return False
    return True


def signed_in_by(answer: str) -> tuple[Row, int]:
    """(passkey, its new count) for what the browser answered; or NotAccepted.

    A count that does not rise is that of a copy.
    """
    knowing = server()
    with proving():
        response = AuthenticationResponse.from_dict(json.loads(answer))
        name = websafe_encode(response.raw_id)
    try:
        row = the_log().passkey(name)
    except NotFound as error:
        raise NotAccepted from error
    with proving():
        challenge = response.response.client_data.challenge
        kept = AttestedCredentialData(row["credential"])
        knowing.authenticate_complete(state_of(challenge), [kept], response)
        must_be_new(challenge, SIGN_IN)
        count = response.response.authenticator_data.counter
    if (count or row["sign_count"]) and count <= row["sign_count"]:
        raise NotAccepted
    return row, count


@contextmanager
def proving() -> Iterator[None]:
    """Raise NotAccepted for whatever a library stumbles over in what strangers wrote."""
    try:
        yield
    except Exception as error:
        raise NotAccepted from error


def server() -> Fido2Server:
    """What knows the rules, for the shop's one address."""
    address = canonical()
    name = the_log().settings().get("shop_name") or "Axlewright"
    party = PublicKeyCredentialRpEntity(id=urlsplit(address).hostname, name=name)
    return Fido2Server(party, verify_origin=lambda origin: origin.lower() == address.lower())


def state_of(challenge: bytes) -> dict[str, Any]:
    """What the answer to a challenge of ours must hold to."""
    return {"challenge": websafe_encode(challenge), "user_verification": VERIFIED}


def new_challenge(purpose: str) -> bytes:
    """A challenge for this purpose, good for a few minutes."""
    signed = signer(purpose).dumps(secrets.token_urlsafe(16))
    return str(signed).encode("ascii")


def must_be_new(challenge: bytes, purpose: str) -> None:
    """Nothing for a challenge that was made for this purpose just now; otherwise NotAccepted."""
    try:
        signer(purpose).loads(challenge, max_age=CHALLENGE_SECONDS)
    except BadSignature as error:
        raise NotAccepted from error
    if not the_used().use_up(challenge):
        raise NotAccepted


def signer(purpose: str) -> URLSafeTimedSerializer:
    """The signer of challenges for one purpose."""
    salt = f"passkey {purpose} {the_used().since}"
    return URLSafeTimedSerializer(current_app.config["SECRET_KEY"], salt=salt)


def the_used() -> Used:
    """The challenges of this service since it was started."""
    found: Used = current_app.extensions["used_challenges"]
    return found
