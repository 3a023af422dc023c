"""The shop's year put together: batches of entries in the order in which they reach the shop."""

import heapq
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from itertools import count

from webapp.reckon.assess import assess
from webapp.reckon.limits import fold_limits
from webapp.reckon.log.accepted import accepted_patch
from webapp.reckon.log.fold import fold_vehicle
from webapp.reckon.log.sheet_of_round import sheet_for

from . import geometry, jobs
from .entry_writer import Chance, Entry, EntryWriter, Phone, shop_time_of
from .geometry import State
from .people import LEADS_DESK
from .record import at_first_scan, with_papers
from .vehicles import BY_KEY, VEHICLES, Vehicle
from .year import YEAR, Story

RANDOM_SEED = "a county shop on the lake"
OPENING_DAY = "2025-11-20 07:50"
TAG_LETTERS = "23456789CDFHJKMPQRTVWXY"
LIMITS = {
    "offset": (
        3.0,
        "Makers' sheets in the cabinet allow 1/8 to 1/4 in; the shop uses the tighter one.",
    ),
    "repeat": (1.5, "Two people with the same tape agree within this on a tight axle."),
    "face_u": (0.5, "Checked hub faces with a straightedge: none is off by more than this."),
}


@dataclass(frozen=True)
class Batch:
    """What one phone sends at one time, the whole of it in its own order."""

    phone: str
    sent_at: datetime
    entries: list[Entry]


@dataclass(frozen=True)
class Done:
    """A job handed in: the writer that did so last, and everything written for it."""

    story: Story
    writer: EntryWriter
    entries: list[Entry]

    def to_be_mended(self) -> bool:
        """Whether a tick was forgotten and nobody has put that right yet."""
        hand_ins = [entry for entry in self.entries if entry["kind"] == "hand_in"]
        return "load_forgotten" in self.story.odd and len(hand_ins) == 1


class Shop:
    """The shop while its year runs; `batches` fills up as it goes."""

    def __init__(self, phone_ids: Mapping[str, str]) -> None:
        self.chance = Chance(RANDOM_SEED)
        self.phones = {key: Phone(key, phone) for key, phone in phone_ids.items()}
        self.vehicle_ids = {vehicle.key: self.chance.id() for vehicle in VEHICLES}
        self.states: dict[str, State] = {}
        self.filed: dict[str, list[Entry]] = {vehicle.key: [] for vehicle in VEHICLES}
        self.limits: list[Entry] = []
        self.batches: list[Batch] = []
        self.agenda: list[tuple[datetime, int, Callable[[datetime], None]]] = []
        self.turn = count()

    def plan(self, at: datetime, act: Callable[[datetime], None]) -> None:
        """Put something on the agenda."""
        heapq.heappush(self.agenda, (at, next(self.turn), act))

    def run(self) -> list[Batch]:
        """The whole year's batches, as they come in."""
        self.plan(shop_time_of(OPENING_DAY), self.open_the_log)
        for story in YEAR:
            self.plan(shop_time_of(story.starts), partial(self.work, story))
        while self.agenda:
            at, _, act = heapq.heappop(self.agenda)
            act(at)
        return sorted(self.batches, key=lambda batch: batch.sent_at)

    def send(self, writer: EntryWriter) -> None:
        """Send what was written, once the phone is back in reach."""
        sent_at = writer.now + timedelta(seconds=self.chance.random.uniform(2, 540))
        self.batches.append(Batch(writer.phone.id, sent_at, writer.entries))

    def open_the_log(self, at: datetime) -> None:
        """The lead sets the house limits, and files the vehicles that have papers."""
        writer = EntryWriter(self.phones["ruth desk"], self.chance, at)
        for name, (value, reason) in LIMITS.items():
            body = {"name": name, "value": value, "reason": reason}
            self.limits.append(writer.write("limit", body, took=70))
        met_later = {story.vehicle for story in YEAR if "blank_tag" in story.odd}
        for vehicle in VEHICLES:
            if vehicle.key not in met_later:
                self.file(writer, vehicle, with_papers(vehicle))
        self.send(writer)

    def file(self, writer: EntryWriter, vehicle: Vehicle, body: dict[str, object]) -> None:
        """Write a vehicle's record and the tag that leads to it."""
        writer.vehicle = self.vehicle_ids[vehicle.key]
        self.filed[vehicle.key].append(writer.write("vehicle", body, took=140))
        letters = "".join(self.chance.random.choices(TAG_LETTERS, k=8))
        code = {"code": f"{letters[:4]}-{letters[4:]}"}
        self.filed[vehicle.key].append(writer.write("tag", code, took=12))

    def work(self, story: Story, at: datetime) -> None:
        """The technician does the job, and the lead will look at it the next working day."""
        vehicle = BY_KEY[story.vehicle]
        writer = EntryWriter(self.phones[story.by], self.chance, at, self.vehicle_ids[vehicle.key])
        if "blank_tag" in story.odd:
            self.file(writer, vehicle, at_first_scan(vehicle))
        writer.job = self.chance.id()
        first_time = vehicle.key not in self.states
        bar = "measured" if first_time or "bar_measured" in story.odd else "carried"
        before = self.states.get(vehicle.key) or geometry.as_built(vehicle)
        self.states[vehicle.key] = jobs.play(story, writer, before, bar=bar)
        self.send(writer)
        if story.ends in ("accepted", "sent_back"):
            self.leave_for_the_lead(Done(story, writer, writer.entries))

    def leave_for_the_lead(self, done: Done) -> None:
        """The lead will look at the job the next working day."""
        self.plan(self.next_morning(done.writer.now), partial(self.decide, done))

    def next_morning(self, at: datetime) -> datetime:
        """Some minutes after half past seven on the next working day."""
        days = {4: 3, 5: 2}.get(at.weekday(), 1)
        morning = (at + timedelta(days=days)).replace(hour=7, minute=30, second=0, microsecond=0)
        return morning + timedelta(seconds=self.chance.random.uniform(0, 2100))

    def decide(self, done: Done, at: datetime) -> None:
        """The lead accepts the job and files what it found, or sends it back."""
        story = done.story
        writer = EntryWriter(
            self.phones[LEADS_DESK[story.by]], self.chance, at, done.writer.vehicle, done.writer.job
        )
        verdict = "sent_back" if done.to_be_mended() else story.ends
        reason = story.reason if verdict == "sent_back" else None
        body = {"hand_in": done.entries[-1]["id"], "verdict": verdict, "reason": reason}
        writer.write("decision", body, took=180)
        if verdict == "accepted":
            self.file_findings(done, writer)
        elif done.to_be_mended():
            self.plan(at + timedelta(hours=2), partial(self.mend, done))
        self.send(writer)

    def mend(self, done: Done, at: datetime) -> None:
        """The technician ticks what the job was sent back for, and hands it in again."""
        writer = jobs.tick_the_load(done.story, done.writer, at)
        self.send(writer)
        self.leave_for_the_lead(Done(done.story, writer, done.entries + writer.entries))

    def file_findings(self, done: Done, writer: EntryWriter) -> None:
        """File the bar and the sum of an accepted job, as the desk does."""
        record = fold_vehicle(self.filed[done.story.vehicle])
        limits = fold_limits(self.limits)
        entries = [entry for entry in done.entries if entry["job"] is not None]
        last = "as_left" if done.story.fixes else done.story.first
        findings = assess(sheet_for(entries, last, record, limits))
        writer.job = None
        patch = accepted_patch(entries, record, limits, findings)
        self.filed[done.story.vehicle].append(writer.write("vehicle", patch, took=1))
