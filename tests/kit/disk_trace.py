"""What a process wrote to a shop's log and when it flushed, from strace; and disks after a cut.

A disk that loses its power keeps every write before the last flush of that file. Of the writes
after it, any may be there or not, whole or in part by sectors, in any order.
"""

import re
from dataclasses import dataclass, field

SECTOR = 512
CALLS = "openat,pwrite64,write,ftruncate,fsync,fdatasync,close"
OPENED = re.compile(r'openat\(AT_FDCWD, "((?:\\x[0-9a-f]{2})*)", ([A-Z_|]+)[^)]*\) = (\d+)')
WRITTEN = re.compile(r'(pwrite64|write)\((\d+), "((?:\\x[0-9a-f]{2})*)", \d+(?:, (\d+))?\) = (\d+)')
FLUSHED = re.compile(r"(?:fsync|fdatasync)\((\d+)\) += 0")
CUT = re.compile(r"ftruncate\((\d+), (\d+)\) += 0")
CLOSED = re.compile(r"close\((\d+)\) += 0")
STDOUT = 1


def plain(text):
    """The bytes that strace wrote as \\x41\\x42."""
    return bytes.fromhex(text.replace("\\x", ""))


@dataclass(frozen=True)
class Step:
    """One thing that happened: a write, a cut or a flush of a file, or something said aloud."""

    what: str
    file: str = ""
    at: int = 0
    body: bytes = b""


def steps_of(trace, names):
    """The steps of one traced process that concern the files of these names, in their order."""
    files = {}
    for line in trace.splitlines():
        if found := OPENED.search(line):
            files[int(found[3])] = plain(found[1]).decode().rpartition("/")[2]
        elif found := CLOSED.search(line):
            files.pop(int(found[1]), None)
        elif found := WRITTEN.search(line):
            number, body = int(found[2]), plain(found[3])[: int(found[5])]
            if number == STDOUT:
                yield Step("said", body=body)
            elif files.get(number) in names:
                assert found[1] == "pwrite64", "SQLite writes at places of its own"
                yield Step("write", files[number], int(found[4]), body)
        elif found := CUT.search(line):
            if files.get(int(found[1])) in names:
                yield Step("cut", files[int(found[1])], int(found[2]))
        elif (found := FLUSHED.search(line)) and files.get(int(found[1])) in names:
            yield Step("flush", files[int(found[1])])


@dataclass
class Disk:
    """Files as they are for certain on the disk, and the writes of each that may be lost."""

    sure: dict[str, bytearray]
    unsure: dict[str, list[Step]] = field(default_factory=dict)

    def take(self, step):
        """Let one step happen."""
        if step.what == "flush":
            for each in self.unsure.pop(step.file, []):
                apply(self.sure, each)
        elif step.what in ("write", "cut"):
            self.unsure.setdefault(step.file, []).append(step)

    def after_cut(self, keeps):
        """The files after a power cut; `keeps(step)` gives the steps, or parts, that survive."""
        files = {name: bytearray(body) for name, body in self.sure.items()}
        for steps in self.unsure.values():
            for each in keeps(steps):
                apply(files, each)
        return files


def apply(files, step):
    """Do a write or cut to a file."""
    body = files.setdefault(step.file, bytearray())
    if step.what == "cut":
        del body[step.at :]
        body.extend(bytes(step.at - len(body)))
        return
    body.extend(bytes(max(0, step.at - len(body))))
    body[step.at : step.at + len(step.body)] = step.body


def nothing(_):
    """None of the unflushed writes survives."""
    return []


def everything(steps):
    """All of them survive."""
    return steps


def by_chance(chance):
    """Some of them survive, in any order, some of those in part."""

    def keeps(steps):
        some = [each for each in steps if chance.random() < 0.5]
        chance.shuffle(some)
        for each in some:
            yield from (
                torn(each, chance) if each.what == "write" and chance.random() < 0.3 else [each]
            )

    return keeps


def torn(step, chance):
    """Those sectors of a write that happened to reach the disk."""
    for start in range(0, len(step.body), SECTOR):
        if chance.random() < 0.5:
            piece = step.body[start : start + SECTOR]
            yield Step("write", step.file, step.at + start, piece)
