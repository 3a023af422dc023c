"""A device that makes passkeys and signs with them as a browser would send it (WebAuthn)."""

import hashlib
import json
import secrets
from typing import Any

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from fido2 import cbor
from fido2.cose import ES256
from fido2.utils import websafe_encode
from fido2.webauthn import AttestedCredentialData

PRESENT, VERIFIED, NEW = 0x01, 0x04, 0x40


class Device:
    """One passkey on one device; what it signs can be falsified by its attributes."""

    def __init__(self, origin: str) -> None:
        self.origin = origin
        self.key = ec.generate_private_key(ec.SECP256R1())
        self.id = secrets.token_bytes(32)
        self.count = 0
        self.flags = PRESENT | VERIFIED

    def make(self, options: dict[str, Any], **changed: Any) -> str:
        """The answer to being asked for a new passkey."""
        asked = options["publicKey"]
        public = ES256.from_cryptography_key(self.key.public_key())
        made = bytes(AttestedCredentialData.create(bytes(16), self.id, public))
        said = self._said("webauthn.create", asked["challenge"], changed)
        data = self._data(asked["rp"]["id"], self.flags | NEW) + made
        attestation = cbor.encode({"fmt": "none", "attStmt": {}, "authData": data})
        return self._answer({"clientDataJSON": said, "attestationObject": attestation})

    def sign(self, options: dict[str, Any], **changed: Any) -> str:
        """The answer to being asked to sign in."""
        asked = options["publicKey"]
        said = self._said("webauthn.get", asked["challenge"], changed)
        data = self._data(asked["rpId"], self.flags)
        signature = self.key.sign(data + hashlib.sha256(said).digest(), ec.ECDSA(hashes.SHA256()))
        return self._answer(
            {"clientDataJSON": said, "authenticatorData": data, "signature": signature}
        )

    def _said(self, kind: str, challenge: str, changed: dict[str, Any]) -> bytes:
        said = {"type": kind, "challenge": challenge, "origin": self.origin, "crossOrigin": False}
        return json.dumps({**said, **changed}).encode()

    def _data(self, host: str, flags: int) -> bytes:
        host_hash = hashlib.sha256(host.encode()).digest()
        return host_hash + bytes([flags]) + self.count.to_bytes(4, "big")

    def _answer(self, response: dict[str, bytes]) -> str:
        name = websafe_encode(self.id)
        packed = {part: websafe_encode(body) for part, body in response.items()}
        return json.dumps({"id": name, "rawId": name, "type": "public-key", "response": packed})
