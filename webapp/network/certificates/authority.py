"""The shop's own certificate authority, and the certificate that the service shows.

A phone trusts the authority once. It may vouch only for names of the shop and for private
addresses, so its key, if stolen, cannot pass for any other site (RFC 5280, name constraints). The
service's own certificate lasts 395 days, as browsers want it short, and is renewed without touching
the phones.
"""

import ipaddress
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import TypeAlias

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

Key: TypeAlias = ec.EllipticCurvePrivateKey
Network: TypeAlias = ipaddress.IPv4Network | ipaddress.IPv6Network

AUTHORITY_LASTS = timedelta(days=3650)
LEAF_LASTS = timedelta(days=395)
# Phones whose clock is slow accept it too, and one that was made while this computer's clock was
# some days ahead counts once the clock is right again.
BACKDATED = timedelta(days=30)
RENEW_BEFORE = timedelta(days=60)
PRIVATE: tuple[Network, ...] = (
    *(ipaddress.IPv4Network(each) for each in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16")),
    *(ipaddress.IPv4Network(each) for each in ("169.254.0.0/16", "127.0.0.0/8")),
    *(ipaddress.IPv6Network(each) for each in ("fc00::/7", "fe80::/10", "::1/128")),
)
NAMES_ON_THE_NETWORK = "local"


def new_key() -> Key:
    """A key on the curve P-256."""
    return ec.generate_private_key(ec.SECP256R1())


def new_authority(key: Key, shop: str, hosts: Sequence[str], now: datetime) -> x509.Certificate:
    """The authority's certificate: ten years, path length 0, for these hosts and private ones."""
    constraints = x509.NameConstraints(permitted_subtrees=permitted(hosts), excluded_subtrees=None)
    usage = x509.KeyUsage(
        digital_signature=False,
        key_cert_sign=True,
        crl_sign=True,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, common_name(shop))])
    return (
        started(name, name, key, now, AUTHORITY_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(constraints, critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )


def new_leaf(
    key: Key, authority: x509.Certificate, authority_key: Key, hosts: Sequence[str], now: datetime
) -> x509.Certificate:
    """The certificate of the service for these names and addresses, signed by the authority."""
    # No host: OpenSSL would hold it against the names that the authority may vouch for.
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Axlewright service")])
    signer = x509.SubjectKeyIdentifier.from_public_key(authority_key.public_key())
    return (
        started(subject, authority.subject, key, now, LEAF_LASTS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName([general(host) for host in hosts]), False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(signer), critical=False
        )
        .sign(authority_key, hashes.SHA256())
    )


def started(
    subject: x509.Name, issuer: x509.Name, key: Key, now: datetime, lasts: timedelta
) -> x509.CertificateBuilder:
    """A certificate without its extensions, good for so long and back-dated a little."""
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - BACKDATED)
        .not_valid_after(now - BACKDATED + lasts)
    )


def common_name(shop: str) -> str:
    """How phones list the authority: without a common name they would not list it at all."""
    return f"Axlewright, {shop}"[:64] if shop else "Axlewright"


def permitted(hosts: Sequence[str]) -> list[x509.GeneralName]:
    """What the authority may vouch for: private addresses, `.local` names and the shop's hosts."""
    networks = [*PRIVATE, *(network for host in hosts if (network := public_network(host)))]
    names = [host for host in hosts if address_of(host) is None]
    named = [name for name in names if not name.endswith(f".{NAMES_ON_THE_NETWORK}")]
    dns = [x509.DNSName(name) for name in dict.fromkeys([NAMES_ON_THE_NETWORK, *named])]
    return [*dns, *(x509.IPAddress(network) for network in networks)]


def public_network(host: str) -> Network | None:
    """A host's address as a network of its own when it is an address and not a private one."""
    address = address_of(host)
    if address is None or any(address in network for network in PRIVATE):
        return None
    return ipaddress.ip_network(address)


def address_of(host: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    """The host as an address, or None for a name."""
    try:
        return ipaddress.ip_address(host)
    except ValueError:
        return None


def general(host: str) -> x509.GeneralName:
    """The host as certificates name it."""
    address = address_of(host)
    return x509.DNSName(host) if address is None else x509.IPAddress(address)


def hosts_of(leaf: x509.Certificate) -> set[str]:
    """The names and addresses that a certificate is for."""
    try:
        found = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return set()
    addresses = {str(each) for each in found.get_values_for_type(x509.IPAddress)}
    return addresses | set(found.get_values_for_type(x509.DNSName))


def is_due(leaf: x509.Certificate, hosts: Sequence[str], now: datetime) -> bool:
    """Whether a certificate is to be made anew: it ends soon, or lacks one of these hosts.

    So is one that does not count yet, which was made while the clock was ahead.
    """
    counts = leaf.not_valid_before_utc <= now <= leaf.not_valid_after_utc - RENEW_BEFORE
    return not counts or not set(hosts) <= hosts_of(leaf)


def may_sign(authority: x509.Certificate, hosts: Sequence[str], now: datetime) -> bool:
    """Whether the authority counts, lasts a leaf's life and may vouch for these hosts."""
    found = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    allowed = found.permitted_subtrees or []
    begun = authority.not_valid_before_utc <= now
    lasts = authority.not_valid_after_utc > now + LEAF_LASTS
    return begun and lasts and all(each in allowed for each in permitted(hosts))


def pem(key: Key) -> bytes:
    """A key as its file holds it: PKCS#8."""
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def fingerprint(certificate: x509.Certificate) -> str:
    """The SHA-256 fingerprint as phones show it, in pairs of hex digits."""
    return certificate.fingerprint(hashes.SHA256()).hex(" ").upper()


def utc_now() -> datetime:
    """This moment."""
    return datetime.now(UTC)
