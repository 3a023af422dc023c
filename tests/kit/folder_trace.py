"""A folder after a cut of the power: its files, their names, and what of both was on the disk.

A file keeps what disk_trace says that a file keeps. A name is given, or taken away, for certain
only once the folder was flushed; of what was done to names since then, the beginning may be there.
"""

import itertools
import re
from dataclasses import dataclass, field

from kit.disk_trace import CLOSED, CUT, FLUSHED, OPENED, WRITTEN, Step, apply, plain

CALLS = "openat,pwrite64,write,ftruncate,fsync,fdatasync,close,rename,unlink"
NAMED = re.compile(r'rename\("((?:\\x[0-9a-f]{2})*)", "((?:\\x[0-9a-f]{2})*)"\) += 0')
GONE = re.compile(r'unlink\("((?:\\x[0-9a-f]{2})*)"\) += 0')


@dataclass
class Folder:
    """The files of a folder by number, the names that lead to them, and what may be lost of each.

    `renamed` has (name before, name after, file) of every change since the folder was flushed.
    """

    files: dict[int, bytearray]
    names: dict[str, int]
    unsure: dict[int, list[Step]] = field(default_factory=dict)
    renamed: list[tuple[str | None, str | None, int]] = field(default_factory=list)

    @classmethod
    def of(cls, path):
        """A folder as it is, with everything on the disk."""
        found = sorted(path.iterdir())
        files = {number: bytearray(each.read_bytes()) for number, each in enumerate(found)}
        return cls(files, {each.name: number for number, each in enumerate(found)})

    def named(self, changes):
        """The names after these changes."""
        names = dict(self.names)
        for before, after, number in changes:
            names.pop(before, None)
            if after is not None:
                names[after] = number
        return names

    def now(self):
        """The names as the running system has them."""
        return self.named(self.renamed)

    def after_cut(self, keeps, renamed):
        """The files by name: with the writes that each `keeps`, and so many changes of names."""
        found = {}
        for name, number in self.named(self.renamed[:renamed]).items():
            files = {str(number): bytearray(self.files.get(number, b""))}
            for step in keeps(self.unsure.get(number, [])):
                apply(files, step)
            found[name] = files[str(number)]
        return found


class Follower:
    """Follows one traced process through everything that it does in a folder."""

    def __init__(self, path, folder):
        """`folder` is how the folder at this path was before."""
        self.path, self.folder = str(path), folder
        self.opened, self.at, self.numbers = {}, {}, itertools.count(len(folder.files))

    def follow(self, trace):
        """What each step was, once it has happened."""
        for line in trace.splitlines():
            for pattern, what in STEPS.items():
                if (found := pattern.search(line)) and what(self, found):
                    yield what.__name__
                    break

    def inside(self, text):
        """The name within the folder that a path leads to, or None elsewhere."""
        before, _, name = plain(text).decode().rpartition("/")
        return name if before == self.path else None

    def open(self, found):
        """A file was opened, and made or emptied where the flags say so."""
        handle, name = int(found[3]), self.inside(found[1])
        self.opened.pop(handle, None)
        if plain(found[1]).decode() == self.path:
            self.opened[handle] = None
        if name is None:
            return False
        if name not in self.folder.now():
            self.folder.renamed.append((None, name, next(self.numbers)))
        self.opened[handle], self.at[handle] = self.folder.now()[name], 0
        return "O_TRUNC" not in found[2] or self.change(handle, "cut", 0)

    def close(self, found):
        """A file was closed."""
        self.opened.pop(int(found[1]), None)

    def write(self, found):
        """Something was written, at a place or where the last write ended."""
        handle, body = int(found[2]), plain(found[3])[: int(found[5])]
        at = int(found[4]) if found[4] else self.at.get(handle, 0)
        self.at[handle] = at + len(body)
        return self.change(handle, "write", at, body)

    def cut(self, found):
        """A file was cut to a length."""
        return self.change(int(found[1]), "cut", int(found[2]))

    def flush(self, found):
        """A file, or the folder with its names, reached the disk."""
        handle, folder = int(found[1]), self.folder
        if handle not in self.opened:
            return False
        number = self.opened[handle]
        if number is None:
            folder.names, folder.renamed = folder.now(), []
            return True
        files = {str(number): folder.files.setdefault(number, bytearray())}
        for step in folder.unsure.pop(number, []):
            apply(files, step)
        return True

    def rename(self, found):
        """A file got another name."""
        before, after = self.inside(found[1]), self.inside(found[2])
        if after is None:
            return False
        self.folder.renamed.append((before, after, self.folder.now()[before]))
        return True

    def unlink(self, found):
        """A name was taken away."""
        name = self.inside(found[1])
        if name is None:
            return False
        self.folder.renamed.append((name, None, self.folder.now()[name]))
        return True

    def change(self, handle, what, at, body=b""):
        """Note a write or cut that may be lost; whether it was in the folder."""
        number = self.opened.get(handle)
        if number is None:
            return False
        step = Step(what, str(number), at, body)
        self.folder.unsure.setdefault(number, []).append(step)
        return True


STEPS = {
    OPENED: Follower.open,
    CLOSED: Follower.close,
    WRITTEN: Follower.write,
    CUT: Follower.cut,
    FLUSHED: Follower.flush,
    NAMED: Follower.rename,
    GONE: Follower.unlink,
}
