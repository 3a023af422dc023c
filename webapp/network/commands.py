"""The commands of the service: `serve`, `passphrase` for a lead who lost theirs, and `rekey`."""

import argparse
from pathlib import Path
from typing import Any

from webapp.maintenance.commands import add_schedule, schedule_of

AS_WRITTEN = argparse.RawDescriptionHelpFormatter
ABOUT_SERVE = """Run the shop's own service, for phones and for the desk, until it is told to stop.

At its first start it makes a certificate authority for the shop, prints a link with which the
first lead sets the shop up, and settles on an address. Every option but --data is kept in the
shop's log: later on `axlewright serve` alone is enough, with --data where it was given. One line a
request goes to standard error."""
MORE_SERVE = """which address:
  axlewright.local   the usual; this computer answers to it by itself on the shop network.
                     Try it on every phone before tags are printed: older Androids do not find it.
  192.168.1.20       a fixed address of this computer, reserved in the router. Works on every phone.
  log.shop.example   a name that the shop's own name server knows.
  Phones keep what they hold by address, so choose once.

An option that is given anew counts in place of what was kept. `none` takes a file or a folder
back: --certificate none for the certificate that Axlewright makes, --backup-also none.

examples:
  axlewright serve
  axlewright serve --address 192.168.1.20
  axlewright serve --data /srv/axlewright --port 443 --helper-port 80
  axlewright serve --address log.shop.example --certificate log.pem --key log.key

exit codes: 0 stopped when told to; 1 could not start, with the reason in a sentence; 2 a wrong
option. docs: install, changes of address, threat model."""
ABOUT_PASSPHRASE = """Make a link with which a lead chooses a new passphrase.

Run it on the shop PC, as whoever runs the service; the service may go on running. The link opens
once, within half an hour, and signs that lead out everywhere else."""
MORE_PASSPHRASE = """examples:
  axlewright passphrase "Orla Bexwick"
  axlewright passphrase "Orla Bexwick" --data /srv/axlewright

exit codes: 0 the link is printed; 1 there is no such lead or no shop; 2 a wrong option."""


ABOUT_REKEY = """Sign sessions and forms with a new key, because somebody may know the one before.

Whoever knows the key can come in as any lead. It is in the log and in every backup of it. Stop the
service first. From the next start on the old key counts for nothing: every lead signs in anew.
Phones have credentials of their own and go on as before."""
MORE_REKEY = """Where somebody has a copy of shop.db or of a backup, let every lead choose a new
passphrase too. A backup from before brings the old key back: run this again after a restore.

examples:
  axlewright rekey
  axlewright rekey --keep-sessions        nobody knows the old key: sessions go on

exit codes: 0 there is a new key; 1 there is no shop, or its service runs; 2 a wrong option."""


def add_serving(commands: Any) -> None:
    """Add the commands to the parser's list of commands."""
    serve = commands.add_parser(
        "serve",
        help="run the shop's service",
        description=ABOUT_SERVE,
        epilog=MORE_SERVE,
        formatter_class=AS_WRITTEN,
    )
    add_place(serve)
    add_reach(serve)
    serve.add_argument(
        "--certificate", type=Path, metavar="FILE", help="the shop's own, in PEM; none: no more"
    )
    serve.add_argument("--key", type=Path, metavar="FILE", help="its key, PKCS#8, not encrypted")
    add_schedule(serve)
    # What is usual counts only where nothing was kept either.
    serve.set_defaults(backup_every=None, run=lambda given: run_serve(given, serve))
    lost = commands.add_parser(
        "passphrase",
        help="let a lead choose a new passphrase",
        description=ABOUT_PASSPHRASE,
        epilog=MORE_PASSPHRASE,
        formatter_class=AS_WRITTEN,
    )
    lost.add_argument("name", metavar="NAME", help="the lead's name, as the desk writes it")
    add_place(lost)
    lost.set_defaults(run=run_passphrase)
    add_rekey(commands)


def add_rekey(commands: Any) -> None:
    """Add the command that changes the signing key."""
    rekey = commands.add_parser(
        "rekey",
        help="sign sessions with a new key",
        description=ABOUT_REKEY,
        epilog=MORE_REKEY,
        formatter_class=AS_WRITTEN,
    )
    rekey.add_argument(
        "--keep-sessions",
        action="store_true",
        help="let what the old key signed count for 30 days more: only where nobody else knows it",
    )
    add_place(rekey)
    rekey.set_defaults(run=run_rekey)


def add_place(parser: argparse.ArgumentParser) -> None:
    """The option that says where the shop's log is."""
    parser.add_argument(
        "--data",
        type=Path,
        metavar="FOLDER",
        help="where the shop's log is, on a disk of this computer; without it, in the usual place "
        "for an application's data",
    )


def add_reach(serve: argparse.ArgumentParser) -> None:
    """The options that say where the service is reached."""
    serve.add_argument("--address", metavar="NAME", help="the one name or number that phones use")
    serve.add_argument("--port", type=port, help="its port (usually 8700)")
    serve.add_argument(
        "--helper-port",
        type=port,
        help="where the page `trust this shop` is, over plain HTTP (usually one above the port)",
    )
    serve.add_argument(
        "--host",
        help="which network to listen on: 0.0.0.0 is all of them (default), 127.0.0.1 this "
        "computer only",
    )


def port(text: str) -> int:
    """A port as typed."""
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError("a port is a whole number from 1 to 65535")
    return int(text)


def run_serve(given: argparse.Namespace, parser: argparse.ArgumentParser) -> int:
    """Serve until stopped; the exit code."""
    # Fetched here so that `assess` opens no sockets and needs no Flask.
    from webapp.network import saved_options, shop

    if not saved_options.go_together(given):
        parser.error("--certificate and --key go together")
    print(saved_options.reminder(given), end="")
    told = saved_options.recall(given)
    reach = (given.address, given.port, given.helper_port)
    wanted = shop.Wanted(given.data, given.host, *reach, given.certificate, given.key, told)
    with schedule_of(given):
        return shop.run(wanted)


def run_passphrase(given: argparse.Namespace) -> int:
    """Print the link; the exit code."""
    from webapp.network import shop

    return shop.passphrase(given.data, given.name)


def run_rekey(given: argparse.Namespace) -> int:
    """Change the signing key; the exit code."""
    from webapp.network import rekey

    return rekey.run(given.data, given.keep_sessions)
