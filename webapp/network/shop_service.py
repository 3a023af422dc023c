"""A shop's own service: its address, its certificate, its first link, and running it."""

import logging
import socket
import sys
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

from webapp.door import one_time_links
from webapp.door.health import clock_says, validity
from webapp.network import saved_options
from webapp.network.certificates import authority, keyring
from webapp.network.certificates.keyring import BadKeys, Keyring
from webapp.network.certificates.trust_page import Trust, trust_server
from webapp.network.data_folder import BadPlace, must_be_local, usual_folder
from webapp.network.mdns import NameAnnouncer
from webapp.network.ports import CannotStart, in_address, lan_address, lan_addresses, must_be_free
from webapp.network.renewal import GivenCertificate, MadeCertificate, Renewal
from webapp.network.serving import Keys, describe, serve
from webapp.network.shop_address import (
    ADDRESS_SETTING,
    HTTPS,
    address_for,
    choose_helper_port,
    host_and_port,
)
from webapp.network.terminal_qr import qr
from webapp.shoplog import LogError, ShopLog, forked_log
from webapp.shoplog.connection import sqlite_warning
from webapp.shoplog.error_text import plainly
from webapp.shoplog.files import disk_reserve

IS_DEMO = "{folder} has a demo in it. A shop needs its own folder: choose another with --data."
MOVED = """The shop's address was {before}.
Phones store their data per address: let every phone send everything before you change it.
Pair every phone again at the new address, and print new tags.
"""
ELSEWHERE = (
    "Until now this log was in use at {place}. Make sure that no service runs there any more: "
    "entries would go to two logs."
)
SET_UP = "Set up the shop; this link works once, within an hour:\n  {link}"
NEXT_LINK = "For a new link later, run `axlewright setup-link` while the service runs."
SET_UP_ALREADY = (
    "This shop is set up: sign in. For a lost passphrase, run `axlewright passphrase NAME`."
)
NO_ADDRESS = "This shop has no address yet: run `axlewright serve`, which prints a setup link."


class Wanted(NamedTuple):
    """What the command line asks for; None is for what was settled before, or the usual.

    `save` holds the settings that are new: they are saved once the service can start with them.
    """

    folder: Path | None
    host: str
    address: str | None
    port: int | None
    helper_port: int | None
    certificate: Path | None
    key: Path | None
    save: Mapping[str, str]


class Shop(NamedTuple):
    """What is known of a shop before its service starts; `moved_from` is its address before."""

    folder: Path
    server_id: str
    name: str
    address: str
    moved_from: str | None
    set_up_key: str | None


class Ready(NamedTuple):
    """A shop, and with what its service is started."""

    shop: Shop
    port: int
    keys: Keys
    watched: MadeCertificate | GivenCertificate
    trust: Trust | None


def run(wanted: Wanted) -> int:
    """Serve the shop until stopped; the exit code."""
    folder = wanted.folder or usual_folder()
    try:
        must_be_local(folder)
        return _run(wanted, folder)
    except (CannotStart, BadPlace, BadKeys) as error:
        print(error, file=sys.stderr)
    except (LogError, OSError) as error:
        print(plainly(error, folder), file=sys.stderr)
    return 1


def _run(wanted: Wanted, folder: Path) -> int:
    with ShopLog(folder) as log:
        shop, port, keys, watched, trust = prepare(log, wanted)
        disk_reserve.set_aside(folder)
        before = forked_log.settle(log, f"{socket.gethostname()}, {folder.resolve()}")
        clock = clock_says(log, validity(keys.certificate)[0], datetime.now(UTC))
    saved_options.save(folder, wanted.save)
    print(welcome(shop, trust, before, clock), flush=True)
    config = {"DATA": folder.resolve(), "ADDRESS": shop.address, "LOG": True}
    config["CERTIFICATE"] = keys.certificate
    if trust is not None:
        config["AUTHORITY"] = Keyring(folder).authority_file
        trust.start()
    keep = Renewal(
        watched,
        name_announcer(shop, port),
        lambda found: describe(with_trust_page(config, trust, found)),
    )
    logging.basicConfig(format="%(asctime)s %(message)s", level=logging.WARNING)
    try:
        described = with_trust_page(config, trust, lan_addresses())
        serve(described, wanted.host, port, keys=keys, when_up=keep.start)
    finally:
        keep.stop()
        if trust is not None:
            trust.shutdown()
            trust.server_close()
    print("Stopped.", flush=True)
    return 0


def prepare(log: ShopLog, wanted: Wanted) -> Ready:
    """Everything that the service needs; the address is kept once nothing is left to refuse it."""
    shop = find_shop(log, wanted)
    port = urlsplit(shop.address).port or HTTPS
    # A shop with a certificate of its own has nothing to tell phones about trust.
    helper = None if wanted.certificate else choose_helper_port(wanted.helper_port, port)
    must_be_free(wanted.host, port, "axlewright serve --port NUMBER")
    if helper is not None:
        must_be_free(wanted.host, helper, "axlewright serve --helper-port NUMBER")
    keys, watched = certificate_of(shop, wanted)
    trust = None if helper is None else trust_page(shop, wanted.host, helper)
    try:
        return Ready(settle_address(log, shop), port, keys, watched, trust)
    except BaseException:
        if trust is not None:
            trust.server_close()
        raise


def find_shop(log: ShopLog, wanted: Wanted) -> Shop:
    """The shop at the address that is asked for; nothing is kept of it yet."""
    if log.is_demo():
        raise CannotStart(IS_DEMO.format(folder=log.folder))
    chosen = log.settings()
    before = chosen.get(ADDRESS_SETTING)
    address = address_for(wanted.address, wanted.port, before)
    moved_from = before if before not in (None, address) else None
    name = chosen.get("shop_name", "")
    return Shop(log.folder, log.server_id, name, address, moved_from, None)


def settle_address(log: ShopLog, shop: Shop) -> Shop:
    """The shop, whose address is kept from here on, with the link that sets it up, if need be."""
    if log.settings().get(ADDRESS_SETTING) != shop.address:
        log.set_settings({ADDRESS_SETTING: shop.address})
    if log.has_lead():
        # Of a start before a backup with a lead in it was put back.
        one_time_links.forget(log.folder, one_time_links.SET_UP)
        return shop
    return shop._replace(set_up_key=one_time_links.make(log.folder, one_time_links.SET_UP))


def host_of(shop: Shop) -> str:
    """The name or number in the shop's address."""
    return host_and_port(shop.address)[0]


def certificate_of(shop: Shop, wanted: Wanted) -> tuple[Keys, MadeCertificate | GivenCertificate]:
    """The certificate to show, made where need be, and what looks after it."""
    host = host_of(shop)
    if wanted.certificate is not None and wanted.key is not None:
        keys = keyring.own(wanted.certificate, wanted.key)
        must_name(keys, host)
        return keys, GivenCertificate(keys)
    made = Keyring(shop.folder)
    watched = MadeCertificate(made, shop.name, host)
    watched.is_new(lan_addresses())
    return made.keys, watched


def must_name(keys: Keys, host: str) -> None:
    """Nothing when the shop's own certificate is for its address; otherwise BadKeys."""
    found = authority.hosts_of(keyring.read(keys.certificate))
    star = f"*.{host.partition('.')[2]}"
    if not {host, star} & found:
        named = ", ".join(sorted(found)) or "nobody"
        raise BadKeys(
            f"{keys.certificate} is a certificate for {named}, not for {host}: "
            "choose the shop's address with --address."
        )


def trust_page(shop: Shop, host: str, port: int) -> Trust:
    """The page that tells phones how to trust the shop; it answers once it is started."""
    file = Keyring(shop.folder).authority_file
    return trust_server(host, port, shop.address, shop.name, file)


def with_trust_page(
    config: Mapping[str, object], trust: Trust | None, addresses: list[str]
) -> dict[str, object]:
    """The configuration with the address of the page; by number, as a name may not be found yet."""
    if trust is None:
        return dict(config)
    host = addresses[0] if addresses else lan_address()
    return {**config, "TRUST_PAGE": f"http://{in_address(host)}:{trust.server_port}/"}


def name_announcer(shop: Shop, port: int) -> NameAnnouncer | None:
    """What announces the name, where it is one of those that are announced."""
    host = host_of(shop)
    return NameAnnouncer(host, port, shop.server_id) if host.endswith(".local") else None


def welcome(shop: Shop, trust: Trust | None, before: str | None, clock: str | None) -> str:
    """What the terminal shows: the address, its QR code, and what to do next.

    `before` is where the log was in use until now, if that was elsewhere; `clock` is what is odd
    about this computer's clock.
    """
    lines = [f"Axlewright: {shop.name or 'a shop that is not set up yet'}.", ""]
    if shop.moved_from:
        lines.append(MOVED.format(before=shop.moved_from))
    lines += [f"The shop is at  {shop.address}/", qr(f"{shop.address}/")]
    if trust is not None:
        page = with_trust_page({}, trust, lan_addresses())["TRUST_PAGE"]
        lines.append(f"A phone or computer that does not trust it yet starts at  {page}")
    if shop.set_up_key:
        lines += ["", set_up_says(shop.address, shop.set_up_key), NEXT_LINK]
    lines.append("")
    if before is not None:
        lines.append(ELSEWHERE.format(place=before))
    lines += filter(None, [clock, sqlite_warning()])
    lines.append(f"Everything is stored in {shop.folder.resolve()}. Stop with Ctrl+C.")
    return "\n".join(lines)


def set_up_says(address: str, key: str) -> str:
    """The link that sets the shop up, and how long it is good."""
    return (
        f"Set up the shop; this link works once, within an hour:\n  {address}/door/link?key={key}"
    )


def setup_link(folder: Path | None) -> int:
    """Print a new link with which the shop's first lead sets it up; the exit code."""

    def says(place: Path) -> str:
        return set_up_says(
            address_to_set_up(place), one_time_links.make(place, one_time_links.SET_UP)
        )

    return print_link(folder, says)


def print_link(folder: Path | None, says: Callable[[Path], str]) -> int:
    """Print what `says` makes of the folder, or why there is no link; the exit code."""
    place = folder or usual_folder()
    try:
        words = says(place)
    except CannotStart as error:
        print(error, file=sys.stderr)
        return 1
    except (LogError, OSError) as error:
        print(plainly(error, place), file=sys.stderr)
        return 1
    print(words)
    return 0


def address_to_set_up(folder: Path) -> str:
    """The address of a shop that nobody can come in to yet, read beside the service."""
    address = ShopLog.glance(folder)[1].get(ADDRESS_SETTING)
    if ShopLog.is_set_up(folder):
        raise CannotStart(SET_UP_ALREADY)
    if address is None:
        raise CannotStart(NO_ADDRESS)
    return address


def passphrase(folder: Path | None, name: str) -> int:
    """Print a link with which this lead chooses a new passphrase; the exit code."""

    def says(place: Path) -> str:
        person, address = find_lead(place, name)
        key = one_time_links.make(place, one_time_links.PASSPHRASE, person)
        return f"Open this within half an hour; it works once:\n  {address}/door/link?key={key}"

    return print_link(folder, says)


def find_lead(folder: Path, name: str) -> tuple[str, str]:
    """(person, address) for a lead's name, read beside the service that may be running."""
    people, chosen = ShopLog.glance(folder)
    leads = [row for row in people if row["role"] == "lead"]
    for row in leads:
        if row["name"].casefold() == name.strip().casefold():
            return row["id"], chosen.get(ADDRESS_SETTING, "")
    known = ", ".join(row["name"] for row in leads) or "nobody yet"
    raise CannotStart(f"{name} is not a lead of this shop. Its leads: {known}.")
