"""One vehicle that comes again and again: its pages by the number of its accepted jobs."""

import json
import random
import shutil
import sys
import uuid
from pathlib import Path

import long_log
from long_log import Fresh
from shop_bench import running

from webapp.shoplog import ShopLog
from webapp.shoplog.returned_entries import bring_over

Entries = list[dict]
Figures = dict[str, float]

PAGES = ("vehicle page", "job page")


def curves(folder: Path, lengths: list[int], runs: int) -> dict[int, Figures]:
    """For each number of accepted jobs the median of the vehicle's page and of a waiting job's."""
    long_log.begin(folder, 1000)
    found = {}
    for jobs in lengths:
        print(f"  {jobs} jobs of one vehicle", file=sys.stderr, flush=True)
        with ShopLog(folder) as log:
            about = Again(log).up_to(jobs)
        # A service that was killed holds its folder for a moment longer.
        served = shutil.copytree(folder, folder.with_name(f"{folder.name}-{jobs}"))
        with running(served) as shop:
            shop.about.update(about)
            asked = shop.medians(runs)
        found[jobs] = {page: asked[page] for page in PAGES}
    return found


class Again:
    """Lets one vehicle of the log come again, its last accepted job and its waiting one copied."""

    def __init__(self, log: ShopLog) -> None:
        self.log = log
        self.chance = random.Random(log.high_water())
        self.vehicle, waits = waiting_again(log)
        done = log.jobs(vehicle=self.vehicle, state="accepted", most=1)[0]["id"]
        on_file = log.entries_of_vehicle(self.vehicle)
        filed = [entry for entry in on_file if entry["body"].get("from_job") == done]
        self.accepted = [*log.entries_of_job(done), *filed]
        self.waiting = log.entries_of_job(waits)

    def up_to(self, jobs: int) -> dict[str, str]:
        """Copy until so many jobs are accepted, then one that waits: {vehicle, job} to ask for."""
        held = len(self.log.jobs(vehicle=self.vehicle, state="accepted"))
        for _ in range(jobs - held):
            self.copy(self.accepted)
        return {"vehicle": self.vehicle, "job": self.copy(self.waiting)}

    def copy(self, entries: Entries) -> str:
        """Write a job's entries and what it put on file under fresh ids; the id of the job."""
        own = {entry["id"] for entry in entries} | {entries[0]["job"]}
        fresh = Fresh(own, self.chance)
        made = json.loads(str(fresh.of(json.dumps(entries))))
        numbers = {row["id"]: row["last_local_no"] for row in self.log.phones()}
        for entry in made:
            entry["local_no"] = numbers[entry["phone"]] = numbers[entry["phone"]] + 1
            del entry["seq"]
        answers = bring_over(self.log, made, {})
        assert {answer["verdict"] for answer in answers} == {"stored"}, answers
        return str(uuid.UUID(made[0]["job"]))


def waiting_again(log: ShopLog) -> tuple[str, str]:
    """A vehicle that has an accepted job and one that waits, and the one that waits."""
    for job in log.jobs(state="pending"):
        if log.jobs(vehicle=job["vehicle"], state="accepted", most=1):
            return job["vehicle"], job["id"]
    raise AssertionError("no vehicle of the sample year came again")
