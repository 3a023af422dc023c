"""The commands of the service: `serve`, links for the first lead and lost passphrases, `rekey`."""

from pathlib import Path
from typing import Any

import click

from webapp.maintenance.commands import backup_schedule, data_option, folder_option, hours
from webapp.network import USUAL_PORT

MORE_SERVE = """\b
Which address:
  axlewright.local   the default; this computer announces it on the shop network. Try it on
                     every phone before you print tags: some older Android phones cannot find it.
  192.168.1.20       a fixed IP address, reserved in the router: works on any phone.
  log.shop.example   a name in the shop's own DNS server.
  Phones store their data per address, so choose one and stick with it.

\b
Examples:
  axlewright serve
  axlewright serve --address 192.168.1.20
  axlewright serve --data /srv/axlewright --port 443 --helper-port 80
  axlewright serve --address log.shop.example --certificate log.pem --key log.key
  axlewright serve --certificate none      go back to the certificate that Axlewright makes

\b
Exit codes: 0 stopped on request; 1 could not start, with the reason in a sentence; 2 wrong
option. Pages to read: install, changes of address, threat model.
"""
MORE_SETUP_LINK = """\b
Examples:
  axlewright setup-link
  axlewright setup-link --data /srv/axlewright

Exit codes: 0 the link is printed; 1 the shop is set up, or there is none; 2 a wrong option.
"""
MORE_PASSPHRASE = """\b
Examples:
  axlewright passphrase "Orla Bennett"
  axlewright passphrase "Orla Bennett" --data /srv/axlewright

Exit codes: 0 the link is printed; 1 there is no such lead or no shop; 2 a wrong option.
"""
MORE_REKEY = """If somebody has a copy of shop.db or of a backup, have every lead choose a new
passphrase too. An older backup brings the old key back: run this again after a restore.

\b
Examples:
  axlewright rekey
  axlewright rekey --keep-sessions         nobody else has the old key

Exit codes: 0 there is a new key; 1 there is no shop, or its service runs; 2 a wrong option.
"""


def port(text: str) -> int:
    """A port as typed."""
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise click.BadParameter("a port is a whole number from 1 to 65535")
    return int(text)


@click.command(epilog=MORE_SERVE)
@data_option
@click.option("--address", metavar="NAME", help="The one name or IP address that phones use.")
@click.option("--port", type=port, help=f"Its port (usually {USUAL_PORT}).")
@click.option(
    "--helper-port",
    type=port,
    help="Port of the page `Trust this shop`, over plain HTTP (usually one above the port).",
)
@click.option(
    "--host",
    help="Which network to listen on: 0.0.0.0 is all of them (default), 127.0.0.1 this computer "
    "only.",
)
@click.option(
    "--certificate",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="The shop's own certificate, in PEM; `none` removes it.",
)
@click.option(
    "--key",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="The certificate's key, PKCS#8, not encrypted.",
)
@click.option(
    "--backup-every",
    type=hours,
    metavar="HOURS",
    help="Hours between backups while the service runs; 0 turns them off (default: 6).",
)
@folder_option("--backup-to", "Where they go, as in `backup --to`; `none` removes it.")
@folder_option("--backup-also", "A second folder, as in `backup --also`; `none` removes it.")
def serve(**told: Any) -> int:
    """Run the shop's own service, for phones and for the desk, until you stop it.

    The first time, it makes a certificate authority for the shop, prints a setup link for the
    first lead, and picks an address.

    Every option except --data is saved in the shop's log: after that `axlewright serve` alone is
    enough, plus --data if you used it. An option that you give again replaces the saved one.
    Each request is logged as one line on standard error.
    """
    # Imported here so that `assess` opens no sockets and needs no Flask.
    from webapp.network import saved_options, shop_service
    from webapp.network.data_folder import usual_folder

    if not saved_options.go_together(told["certificate"], told["key"]):
        raise click.UsageError("--certificate and --key go together.")
    folder = told["data"] or usual_folder()
    saved = saved_options.saved_in(folder)
    print(saved_options.reminder(told, saved), end="")
    options = saved_options.completed(told, saved)
    wanted = shop_service.Wanted(
        folder=told["data"],
        host=options["host"],
        address=told["address"],
        port=told["port"],
        helper_port=options["helper_port"],
        certificate=options["certificate"],
        key=options["key"],
        save=saved_options.new_settings(told, saved),
    )
    every, to, also = (options[f"backup_{name}"] for name in ("every", "to", "also"))
    with backup_schedule(folder, every, to, also):
        return shop_service.run(wanted)


@click.command(epilog=MORE_SETUP_LINK)
@data_option
def setup_link(data: Path | None) -> int:
    """Make a new link to set the shop up, in place of the one before.

    Run it on the shop PC, as the user who runs the service; the service can keep running. The
    link works once, within an hour, and only until a lead can sign in.
    """
    from webapp.network import shop_service

    return shop_service.setup_link(data)


@click.command(epilog=MORE_PASSPHRASE)
@data_option
@click.argument("name")
def passphrase(data: Path | None, name: str) -> int:
    """Make a link for a lead to choose a new passphrase.

    NAME is the lead's name, as shown at the desk.

    Run it on the shop PC, as the user who runs the service; the service can keep running. The
    link works once, within half an hour, and signs that lead out everywhere else.
    """
    from webapp.network import shop_service

    return shop_service.passphrase(data, name)


@click.command(epilog=MORE_REKEY)
@data_option
@click.option(
    "--keep-sessions",
    is_flag=True,
    help="Keep the seals, and the old key for 30 more days: only if nobody else has them.",
)
def rekey(data: Path | None, keep_sessions: bool) -> int:
    """Sign cookies, forms and the seals of entries with new keys: somebody may have the old ones.

    Whoever has them can forge the desk's forms, pass for a browser that is known, and with a
    paired phone hand in entries as somebody else. They are in the log and in every backup. Stop
    the service first. From the next start on the old keys are void, and every lead has to sign in
    again. Phones stay paired, and download the log once more.
    """
    from webapp.network import rekey

    return rekey.run(data, keep_sessions)
