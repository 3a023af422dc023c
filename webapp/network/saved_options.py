"""What `axlewright serve` was told, kept in the log as the address is: told once, it counts."""

import argparse
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from webapp.network.data_folder import BadPlace, must_be_local, usual_folder
from webapp.shoplog import LogError, ShopLog

PREFIX = "shop_serve_"
# In place of a file or a folder: take back what was told before.
NONE = Path("none")
KEPT: dict[str, Callable[[str], Any]] = {
    "host": str,
    "helper_port": int,
    "certificate": Path,
    "key": Path,
    "backup_every": float,
    "backup_to": Path,
    "backup_also": Path,
}
USUAL = {"host": "0.0.0.0", "backup_every": 6.0}


def go_together(given: argparse.Namespace) -> bool:
    """Whether certificate and key are both named, both taken back, or neither is."""
    if given.certificate == NONE and given.key is None:
        given.key = NONE
    pair = (given.certificate, given.key)
    certificate, key = (None if each is None else each == NONE for each in pair)
    return certificate == key


def told(given: argparse.Namespace) -> dict[str, str]:
    """What this command line tells, by name, as text that can be kept."""
    named = {name: getattr(given, name) for name in KEPT}
    return {name: as_text(value) for name, value in named.items() if value is not None}


def as_text(value: Any) -> str:
    """An option's value as text; a path as it is found from every folder."""
    if isinstance(value, Path) and value != NONE:
        return str(value.expanduser().absolute())
    return str(value)


def before(folder: Path) -> dict[str, str]:
    """What an earlier command line told, as it was kept; nothing where there is no log yet."""
    try:
        must_be_local(folder)
        _, chosen = ShopLog.glance(folder)
    # The service says the same of the folder, and does not start.
    except (BadPlace, LogError, OSError):
        return {}
    return {name: chosen[PREFIX + name] for name in KEPT if PREFIX + name in chosen}


def recall(given: argparse.Namespace) -> dict[str, str]:
    """Put what was kept, or is usual, where nothing is told; what is to be kept from now on."""
    new, old = told(given), before(given.data or usual_folder())
    for name, read in KEPT.items():
        text = new.get(name, old.get(name))
        unset = text is None or text == str(NONE)
        setattr(given, name, USUAL.get(name) if unset else read(text or ""))
    return {PREFIX + name: text for name, text in new.items() if text != old.get(name)}


def reminder(given: argparse.Namespace) -> str:
    """A line that says which options count from before; empty where none do."""
    new, old = told(given), before(given.data or usual_folder())
    kept = [name for name in old if name not in new and old[name] != str(NONE)]
    shown = [f"--{name.replace('_', '-')} {old[name]}" for name in kept]
    return f"As before: {' '.join(shown)}\n" if shown else ""


def keep(folder: Path, chosen: Mapping[str, str] | None) -> None:
    """Keep what was told, once it has been found to do."""
    if chosen:
        with ShopLog(folder) as log:
            log.set_settings(dict(chosen))
