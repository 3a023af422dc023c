"""What is slow to make is kept on disk under the hash of all that it is made from."""

import hashlib
import os
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

# Names one folder for every service of this computer, as the tests do; else each data folder
# has its own.
FOLDER = "AXLEWRIGHT_CACHE"


def kept(folder: Path | None, parts: Iterable[bytes], make: Callable[[], bytes]) -> bytes:
    """What `make` gives for these parts, made once a folder; a full disk only costs the time."""
    place = os.environ.get(FOLDER) or folder
    if place is None:
        return make()
    digest = hashlib.sha256()
    for part in parts:
        digest.update(f"{len(part)} ".encode() + part)
    path = Path(place) / digest.hexdigest()
    with suppress(OSError):
        return unsealed(path.read_bytes())
    made = make()
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        part_path = path.with_suffix(f".{os.getpid()}")
        part_path.write_bytes(sealed(made))
        part_path.replace(path)
    return made


def sealed(body: bytes) -> bytes:
    """A body behind its own hash, so that a torn file is told from a whole one."""
    return hashlib.sha256(body).digest() + body


def unsealed(file: bytes) -> bytes:
    """The body of a sealed file; OSError when it is not whole."""
    seal, body = file[:32], file[32:]
    if hashlib.sha256(body).digest() != seal:
        raise OSError("The kept file is damaged.")
    return body
