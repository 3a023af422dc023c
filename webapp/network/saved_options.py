"""What `axlewright serve` was told, saved in the log as the address is: told once, it counts."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from webapp.network.data_folder import BadPlace, must_be_local
from webapp.shoplog import LogError, ShopLog

PREFIX = "shop_serve_"
# In place of a file or a folder: take back what was told before.
NONE = Path("none")
SAVED: dict[str, Callable[[str], Any]] = {
    "host": str,
    "helper_port": int,
    "certificate": Path,
    "key": Path,
    "backup_every": float,
    "backup_to": Path,
    "backup_also": Path,
}
USUAL = {"host": "0.0.0.0", "backup_every": 6.0}


def go_together(certificate: Path | None, key: Path | None) -> bool:
    """Whether certificate and key are both named, both taken back, or neither is."""
    if certificate == NONE:
        return key in (None, NONE)
    return (certificate is None) == (key is None) and key != NONE


def as_texts(told: Mapping[str, Any]) -> dict[str, str]:
    """What this command line tells, by name, as text that can be saved."""
    texts = {name: as_text(told[name]) for name in SAVED if told[name] is not None}
    # A certificate that is taken back takes its key along.
    return {**texts, "key": str(NONE)} if told["certificate"] == NONE else texts


def as_text(value: Any) -> str:
    """An option's value as text; a path as it is found from every folder."""
    if isinstance(value, Path) and value != NONE:
        return str(value.expanduser().absolute())
    return str(value)


def saved_in(folder: Path) -> dict[str, str]:
    """The options that are saved in the log, by name; none where there is no log yet."""
    try:
        must_be_local(folder)
        _, chosen = ShopLog.glance(folder)
    # The service says the same of the folder, and does not start.
    except (BadPlace, LogError, OSError):
        return {}
    return {name: chosen[PREFIX + name] for name in SAVED if PREFIX + name in chosen}


def completed(told: Mapping[str, Any], saved: Mapping[str, str]) -> dict[str, Any]:
    """Every option that can be saved: as told, else as saved, else as usual, else None."""
    texts = {**saved, **as_texts(told)}
    return {
        name: USUAL.get(name) if texts.get(name) in (None, str(NONE)) else read(texts[name])
        for name, read in SAVED.items()
    }


def new_settings(told: Mapping[str, Any], saved: Mapping[str, str]) -> dict[str, str]:
    """The settings to save: what is told and was not saved so before."""
    new = as_texts(told).items()
    return {PREFIX + name: text for name, text in new if text != saved.get(name)}


def reminder(told: Mapping[str, Any], saved: Mapping[str, str]) -> str:
    """A line that says which options count from before; empty where none do."""
    new = as_texts(told)
    kept = [name for name in saved if name not in new and saved[name] != str(NONE)]
    shown = [f"--{name.replace('_', '-')} {saved[name]}" for name in kept]
    return f"As before: {' '.join(shown)}\n" if shown else ""


def save(folder: Path, settings: Mapping[str, str]) -> None:
    """Save these settings in the log."""
    if settings:
        with ShopLog(folder) as log:
            log.set_settings(dict(settings))
