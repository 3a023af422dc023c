"""A shop's own service: its address, its certificate, its first link, and running it."""

import errno
import logging
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

from webapp.door import once
from webapp.network import authority, keyring
from webapp.network.keyring import BadKeys, Keyring
from webapp.network.naming import Naming
from webapp.network.place import BadPlace, must_be_local, usual_folder
from webapp.network.reach import CannotStart, in_address, lan_address, lan_addresses, must_be_free
from webapp.network.serving import Keys, describe, serve
from webapp.network.terminal import qr
from webapp.network.trust import Trust, trust_server
from webapp.network.upkeep import Given, OwnMade, Upkeep
from webapp.shoplog import LogError, ShopLog, reserve
from webapp.shoplog.connection import sqlite_warning

USUAL_HOST = "axlewright.local"
USUAL_PORT = 8700
HTTPS = 443
SETTLED = "shop_address"

IS_DEMO = "{folder} holds a demo. A shop starts on a folder of its own: choose another with --data."
MOVED = """The shop's address was {before}.
Phones keep what they hold by address: let every phone send what it holds before you change it.
Pair every phone again at the new address, and print the tags anew.
"""


class Wanted(NamedTuple):
    """What the command line asks for; None is for what was settled before, or the usual."""

    folder: Path | None
    host: str
    address: str | None
    port: int | None
    helper_port: int | None
    certificate: Path | None
    key: Path | None


class Shop(NamedTuple):
    """What is known of a shop before its service starts; `moved_from` is its address before."""

    folder: Path
    server_id: str
    name: str
    address: str
    moved_from: str | None
    set_up_key: str | None


def run(wanted: Wanted) -> int:
    """Serve the shop until stopped; the exit code."""
    folder = wanted.folder or usual_folder()
    # The log holds the key that sessions are signed with: it is for its owner's eyes alone.
    os.umask(0o077)
    try:
        must_be_local(folder)
        return _run(wanted, folder)
    except (CannotStart, BadPlace, BadKeys, LogError) as error:
        print(error, file=sys.stderr)
    except OSError as error:
        print(in_words(error, folder), file=sys.stderr)
    return 1


def in_words(error: OSError, folder: Path) -> str:
    """What the operating system says, as a sentence that says what to do."""
    place = error.filename or folder
    if error.errno in {errno.EACCES, errno.EPERM, errno.EROFS}:
        return f"There is no right to write {place}: start as the owner, or choose --data FOLDER."
    if error.errno == errno.ENOSPC:
        full = f"The disk with {folder} is full: free some space, then start again."
        return " ".join(filter(None, [full, reserve.way_out(folder)]))
    return f"The service cannot start on {folder}: {error.strerror or error} ({place})."


def _run(wanted: Wanted, folder: Path) -> int:
    with ShopLog(folder) as log:
        shop = settled(log, wanted)
        reserve.set_aside(folder)
    port = urlsplit(shop.address).port or HTTPS
    must_be_free(wanted.host, port, "axlewright serve --port NUMBER")
    keys, watched = certificate_of(shop, wanted)
    trust = trust_page(shop, wanted, port)
    print(welcome(shop, trust), flush=True)
    config = {"DATA": folder.resolve(), "ADDRESS": shop.address, "LOG": True}
    config["CERTIFICATE"] = keys.certificate
    if trust is not None:
        config["AUTHORITY"] = Keyring(folder).authority_file
    keep = Upkeep(
        watched, naming(shop, port), lambda found: describe(with_page(config, trust, found))
    )
    logging.basicConfig(format="%(asctime)s %(message)s", level=logging.WARNING)
    try:
        described = with_page(config, trust, lan_addresses())
        serve(described, wanted.host, port, keys=keys, when_up=keep.start)
    finally:
        keep.stop()
        if trust is not None:
            trust.shutdown()
            trust.server_close()
    print("Stopped.", flush=True)
    return 0


def settled(log: ShopLog, wanted: Wanted) -> Shop:
    """The shop with its address, which is kept from here on."""
    if log.is_demo():
        raise CannotStart(IS_DEMO.format(folder=log.folder))
    chosen = log.settings()
    before = chosen.get(SETTLED)
    address = address_for(wanted, before)
    if address != before:
        log.set_settings({SETTLED: address})
    key = None if has_lead(log) else once.make(log.folder, once.SET_UP)
    moved_from = before if before not in (None, address) else None
    name = chosen.get("shop_name", "")
    return Shop(log.folder, log.server_id, name, address, moved_from, key)


def address_for(wanted: Wanted, before: str | None) -> str:
    """The shop's address: as asked for, else as it was, else the usual."""
    was = urlsplit(before or f"https://{USUAL_HOST}:{USUAL_PORT}")
    host = (wanted.address or was.hostname or USUAL_HOST).strip().lower().rstrip(".")
    if "/" in host or " " in host or not host.isascii():
        raise CannotStart(
            f"{wanted.address} is no address: give a name or a number alone, such as "
            "axlewright.local or 192.168.1.20."
        )
    port = wanted.port or was.port or HTTPS
    return f"https://{in_address(host)}" + ("" if port == HTTPS else f":{port}")


def has_lead(log: ShopLog) -> bool:
    """Whether a lead can come in at the desk."""
    leads = [row["id"] for row in log.people() if row["role"] == "lead"]
    return any(log.access_of(lead)["passphrase_hash"] for lead in leads)


def host_of(shop: Shop) -> str:
    """The name or number in the shop's address."""
    return urlsplit(shop.address).hostname or USUAL_HOST


def certificate_of(shop: Shop, wanted: Wanted) -> tuple[Keys, OwnMade | Given]:
    """The certificate to show, made where need be, and what looks after it."""
    host = host_of(shop)
    if wanted.certificate is not None and wanted.key is not None:
        keys = keyring.own(wanted.certificate, wanted.key)
        must_name(keys, host)
        return keys, Given(keys)
    made = Keyring(shop.folder)
    watched = OwnMade(made, shop.name, host)
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


def trust_page(shop: Shop, wanted: Wanted, port: int) -> Trust | None:
    """The page that tells phones how to trust the shop; none beside the shop's own certificate."""
    if wanted.certificate is not None:
        return None
    helper = wanted.helper_port or port + 1
    must_be_free(wanted.host, helper, "axlewright serve --helper-port NUMBER")
    page = trust_server(
        wanted.host, helper, shop.address, shop.name, Keyring(shop.folder).authority_file
    )
    page.start()
    return page


def with_page(
    config: Mapping[str, object], trust: Trust | None, addresses: list[str]
) -> dict[str, object]:
    """The configuration with the address of the page; by number, as a name may not be found yet."""
    if trust is None:
        return dict(config)
    host = addresses[0] if addresses else lan_address()
    return {**config, "TRUST_PAGE": f"http://{in_address(host)}:{trust.server_port}/"}


def naming(shop: Shop, port: int) -> Naming | None:
    """What announces the name, where it is one of those that are announced."""
    host = host_of(shop)
    return Naming(host, port, shop.server_id) if host.endswith(".local") else None


def welcome(shop: Shop, trust: Trust | None) -> str:
    """What the terminal shows: the address, its QR code, and what to do next."""
    lines = [f"Axlewright: {shop.name or 'a shop that is not set up yet'}.", ""]
    if shop.moved_from:
        lines.append(MOVED.format(before=shop.moved_from))
    lines += [f"The shop lives at  {shop.address}/", qr(f"{shop.address}/")]
    if trust is not None:
        page = with_page({}, trust, lan_addresses())["TRUST_PAGE"]
        lines.append(f"A phone or computer that does not trust it yet begins at  {page}")
    if shop.set_up_key:
        link = f"{shop.address}/door/link?key={shop.set_up_key}"
        lines += ["", "Set the shop up; this link opens once:", f"  {link}"]
    warning = sqlite_warning()
    lines += ["", *([warning] if warning else [])]
    lines.append(f"Everything is kept in {shop.folder.resolve()}. Stop with Ctrl+C.")
    return "\n".join(lines)


def passphrase(folder: Path | None, name: str) -> int:
    """Print a link with which this lead chooses a new passphrase; the exit code."""
    place = folder or usual_folder()
    try:
        person, address = looked_up(place, name)
        key = once.make(place, once.PASSPHRASE, person)
    except (CannotStart, LogError) as error:
        print(error, file=sys.stderr)
        return 1
    except OSError as error:
        print(in_words(error, place), file=sys.stderr)
        return 1
    print(f"Open this within half an hour; it opens once:\n  {address}/door/link?key={key}")
    return 0


def looked_up(folder: Path, name: str) -> tuple[str, str]:
    """(person, address) for a lead's name, read beside the service that may be running."""
    people, chosen = ShopLog.glance(folder)
    leads = [row for row in people if row["role"] == "lead"]
    for row in leads:
        if row["name"].casefold() == name.strip().casefold():
            return row["id"], chosen.get(SETTLED, "")
    known = ", ".join(row["name"] for row in leads) or "nobody yet"
    raise CannotStart(f"{name} is no lead of this shop. Its leads: {known}.")
