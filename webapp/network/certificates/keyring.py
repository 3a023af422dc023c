"""The certificate files of a shop, in the folder `certificates` of its data folder.

`authority.crt` and `authority.key` are what phones trust; `service.crt` and `service.key` are what
the service shows. Keys are readable by their owner only, and are no part of a backup of the log.
"""

import os
import ssl
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec

from webapp.network.certificates import authority
from webapp.network.serving import Keys
from webapp.shoplog.files.atomic import growing


class BadKeys(Exception):
    """Why certificate files cannot be used, in one sentence."""


class Keyring:
    """The shop's authority and the service's certificate."""

    def __init__(self, folder: Path) -> None:
        """The keyring in this data folder, made as it is needed."""
        self.folder = folder / "certificates"
        self.keys = Keys(self.folder / "service.crt", self.folder / "service.key")

    @property
    def authority_file(self) -> Path:
        """The certificate that phones are to trust."""
        return self.folder / "authority.crt"

    def make_ready(self, shop: str, hosts: Sequence[str], now: datetime) -> bool:
        """See that the service has a certificate for these hosts; true when it is a new one."""
        if self.is_good(hosts, now):
            return False
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        signer, signer_key = self.signer(shop, hosts, now)
        key = authority.new_key()
        leaf = authority.new_leaf(key, signer, signer_key, hosts, now)
        write_secret(self.keys.key, authority.pem(key))
        chain = [leaf.public_bytes(PEM), signer.public_bytes(PEM)]
        write_whole(self.keys.certificate, b"".join(chain))
        return True

    def is_good(self, hosts: Sequence[str], now: datetime) -> bool:
        """Whether the service's certificate needs no renewal."""
        if not (self.keys.certificate.exists() and self.authority_file.exists()):
            return False
        return matches(self.keys) and not authority.is_due(read(self.keys.certificate), hosts, now)

    def signer(
        self, shop: str, hosts: Sequence[str], now: datetime
    ) -> tuple[x509.Certificate, authority.Key]:
        """The authority and its key; a new one only where none that there was may sign for these.

        One that is replaced is kept: it may have been given up to a clock that was ahead, and it
        is the one that phones trust.
        """
        for certificate in [self.authority_file, *sorted(self.folder.glob("authority-*.crt"))]:
            key_file = certificate.with_suffix(".key")
            # A power cut between the two files may have left a pair that does not fit.
            if certificate.exists() and key_file.exists() and matches(Keys(certificate, key_file)):
                found = read(certificate)
                if authority.may_sign(found, hosts, now):
                    key = read_key(key_file)
                    if certificate != self.authority_file:
                        self.put(found, key)
                    return found, key
        key = authority.new_key()
        made = authority.new_authority(key, shop, hosts, now)
        self.put(made, key)
        return made, key

    def put(self, certificate: x509.Certificate, key: authority.Key) -> None:
        """Make this the authority that phones are to trust, and keep the one before."""
        key_file = self.authority_file.with_suffix(".key")
        if self.authority_file.exists() and key_file.exists():
            kept = self.folder / f"authority-{read(self.authority_file).serial_number:x}.crt"
            write_secret(kept.with_suffix(".key"), key_file.read_bytes())
            write_whole(kept, self.authority_file.read_bytes())
        write_secret(key_file, authority.pem(key))
        write_whole(self.authority_file, certificate.public_bytes(PEM))


PEM = serialization.Encoding.PEM


def read(path: Path) -> x509.Certificate:
    """The first certificate of a file, or BadKeys."""
    try:
        return x509.load_pem_x509_certificate(path.read_bytes())
    except ValueError as error:
        raise BadKeys(f"{path} has no PEM certificate in it.") from error


def read_key(path: Path) -> authority.Key:
    """The authority's key, or BadKeys."""
    try:
        key = serialization.load_pem_private_key(path.read_bytes(), None)
    except (ValueError, TypeError) as error:
        raise BadKeys(f"{path} has no PEM key in it.") from error
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        raise BadKeys(f"{path} is not the key that Axlewright made.")
    return key


def matches(keys: Keys) -> bool:
    """Whether the key belongs to the certificate, as it does unless a power cut came in between."""
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(*keys)
    except (ssl.SSLError, OSError):
        return False
    return True


def own(certificate: Path, key: Path) -> Keys:
    """The shop's own certificate and key, or BadKeys when they cannot be used."""
    for path in (certificate, key):
        if not path.is_file():
            raise BadKeys(
                f"There is no file {path}: name your own files with --certificate and --key, or "
                "use --certificate none for one that Axlewright makes."
            )
    # Not resolved: where these are links, a renewal may lead them to other files.
    keys = Keys(certificate.absolute(), key.absolute())
    if not matches(keys):
        raise BadKeys(
            f"{certificate} and {key} do not match, or are not in PEM form without a passphrase."
        )
    return keys


def write_secret(path: Path, content: bytes) -> None:
    """Write a file that only its owner may read, in place of the one before."""
    with (
        growing(path) as part,
        open(part, "xb", opener=lambda name, flags: os.open(name, flags, 0o600)) as file,
    ):
        file.write(content)


def write_whole(path: Path, content: bytes) -> None:
    """Write a file at once, in place of the one before."""
    with growing(path) as part:
        part.write_bytes(content)
