"""Entries as a phone or the desk makes them: ids, running numbers, times, the text as typed."""

import random
import uuid
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from typing import Any

from .tape import Mark, Tape

Entry = dict[str, Any]
Body = dict[str, Any]

BUILD = "5a3b1e700c01"
SHOP_TIME = timezone(timedelta(hours=-5))


class Chance:
    """What differs from entry to entry, and yet comes out the same each time: ids and pace."""

    def __init__(self, seed: str) -> None:
        self.random = random.Random(seed)

    def id(self) -> str:
        """The next id: a UUID, version 4 in form."""
        return str(uuid.UUID(int=self.random.getrandbits(128), version=4))

    def pace(self) -> float:
        """How much longer than usual the next thing takes."""
        return self.random.uniform(0.6, 1.8)


def shop_time_of(text: str) -> datetime:
    """A date and time from the tables, on the shop's clock."""
    return datetime.strptime(text, "%Y-%m-%d %H:%M").replace(tzinfo=SHOP_TIME)


@dataclass
class Phone:
    """One phone or the desk PC: who it is, and how many entries it has made."""

    key: str
    id: str
    local_no: int = 0


@dataclass
class EntryWriter:
    """Writes entries on one phone, about one vehicle and one job, while a clock runs."""

    phone: Phone
    chance: Chance
    now: datetime
    vehicle: str | None = None
    job: str | None = None
    round: str | None = None
    entries: list[Entry] = field(default_factory=list)

    def wait(self, seconds: float) -> None:
        """Let the clock run on."""
        self.now += timedelta(seconds=seconds)

    def write(self, kind: str, body: Body, *, typed: str | None = None, took: float = 4.0) -> Entry:
        """The next entry, made after about `took` seconds."""
        self.wait(took * self.chance.pace())
        self.phone.local_no += 1
        entry = {
            "v": 1,
            "id": self.chance.id(),
            "phone": self.phone.id,
            "local_no": self.phone.local_no,
            "kind": kind,
            "vehicle": self.vehicle,
            "job": self.job,
            "round": self.round,
            "body": body,
            "typed": typed,
            "made_at": self.now.isoformat(timespec="milliseconds"),
            "build": BUILD,
        }
        self.entries.append(entry)
        return entry

    def tick(self, name: str, value: bool, replaces: str | None = None) -> Entry:
        """A tick of the ride-height step, set or left open."""
        crosses = {"replaces": replaces} if replaces is not None else {}
        return self.write("tick", {"field": name, "value": value, **crosses}, took=7.3)

    def pick(self, step: str, name: str, value: object, typed: str | None = None) -> Entry:
        """A choice of one step."""
        body = {"step": step, "field": name, "value": value}
        return self.write("pick", body, typed=typed, took=3.9)

    def reading(self, step: str, name: str, mark: Mark, tape: Tape, **more: str) -> Entry:
        """One reading of the tape."""
        body = {
            "step": step,
            "field": name,
            "value": mark.value,
            "unit": tape.unit,
            "read_to": tape.read_to,
            **more,
        }
        return self.write("reading", body, typed=mark.typed, took=34.6)

    def strike(self, target: Entry, reason: str) -> Entry:
        """The crossing out of an entry, with its reason."""
        return self.write("strike", {"target": target["id"], "reason": reason}, took=21.2)
