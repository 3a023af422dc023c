"""Every address of the phone app, and a shop in which each of them has something to show."""

from kit.desk_pages import Job
from yard import LINK, RECORD, TAG, VEHICLE

# Where each visit goes, and words that show that the screen has come. `job` was measured and
# logged; `fit_up` and `recheck` were opened for that round; `closed` is being measured again.
VISITS = {
    "vehicles": ("#/", "Plow 3"),
    "what this phone holds": ("#/unsent", "Try the shop again"),
    "the glossary": ("#/glossary", "Find a word"),
    "pairing": ("#/pair", "Pairing code"),
    "pairing, with the code of an address": ("#pair=ABCD-EFGH", "Pairing code"),
    "vehicle": (f"#/vehicle/{VEHICLE}", "Continue a job"),
    "job": ("#/job/{job}/as_found", "Everything logged"),
    "ride height": ("#/job/{job}/as_found/heights", "Underside of the frame"),
    "centering": ("#/job/{job}/as_found/centering", "The axle sits"),
    "track bar": ("#/job/{job}/as_found/track_bar", "Bump travel"),
    "drag link": ("#/job/{job}/as_found/drag_link", "Steering ratio"),
    "play": ("#/job/{job}/as_found/play", "Another joint"),
    "clearance": ("#/job/{job}/as_found/clearance", "Track bar to tie rod"),
    "torque": ("#/job/{job}/as_found/torque", "Frame-end bolt"),
    "change": ("#/job/{job}/as_found/change", "Track bar turned"),
    "travel": ("#/job/{job}/as_found/travel", "What if a mount moved"),
    "photo": ("#/job/{job}/as_found/photo", "Take the photo"),
    "scan": ("#/scan", "Open"),
    "how to install": ("#/install", "In this tab"),
    "new tag": ("#/tag/QRTV-2345", "Add this vehicle"),
    "hand in": ("#/job/{job}/as_found/hand_in", "Still missing"),
    "fit-up job": ("#/job/{fit_up}/fit_up", "Everything logged"),
    "fit-up, change": ("#/job/{fit_up}/fit_up/change", "Track bar turned"),
    "recheck job": ("#/job/{recheck}/recheck", "Everything logged"),
    "recheck, torque": ("#/job/{recheck}/recheck/torque", "still to check again"),
    "recheck round of a job": ("#/job/{job}/recheck/torque", "still to check again"),
    "readings under seal": ("#/job/{closed}/as_found", "A second reading of this job"),
    "second reading": ("#/job/{second}/as_found", "measure as if it were the first time"),
    "unknown job": ("#/job/nobody/as_found", "This job is not on this phone"),
}
BOLT = {
    "step": "torque",
    "field": "fastener",
    "fastener": "frame-end bolt",
    "value": 118,
    "figure": "118 N·m",
    "source": "shop manual, page 12",
    "end": "bolt",
    "thread": "dry",
}
FILED_BOLT = {key: value for key, value in BOLT.items() if key not in ("step", "field")}


class Yard:
    """A shop with a job at every stage, and where to find them."""

    def __init__(self, phone, leads_phone) -> None:
        self.phone = phone
        record = {**RECORD, "drag_links": {"front": LINK}, "torques": {"front": [FILED_BOLT]}}
        vehicle = leads_phone.entry("vehicle", record, vehicle=VEHICLE)
        leads_phone.push(vehicle, leads_phone.entry("tag", {"code": TAG}, vehicle=VEHICLE))
        self.closed = self.job("as_found", "pulls to the left")
        self.closed.hand_in()
        self.second = Job(leads_phone, VEHICLE)
        body = {"axle": "front", "round": "as_found", "about": "Second reading"}
        self.second.write("job", {**body, "second_of": self.closed.id}, round="as_found")
        self.measured = self.job("as_found", "caught a curb")
        self.measured.in_round("reading", BOLT)
        self.places = {"job": self.measured.id, "closed": self.closed.id, "second": self.second.id}
        for each in ("fit_up", "recheck"):
            self.places[each] = self.job(each, f"begins with {each}").send().id
        for job in (self.closed, self.second, self.measured):
            job.send()

    def job(self, round: str, about: str) -> Job:
        """A job that was opened for a round and measured in it."""
        job = Job(self.phone, VEHICLE)
        job.round = round
        job.write("job", {"axle": "front", "round": round, "about": about}, round=round)
        job.measure()
        return job
