"""What the tests of the desk share: a technician's job in the log, and reading pages and labels."""

import html
import re
import uuid

import numpy
import zxingcpp

VEHICLE = "7f1d3f0a-6a52-4c1e-9d55-0a6f0b7a1001"
LEFT, RIGHT = (214.4, 214.4), (203.2, 204.0)
BAR = {"length": 862, "frame_height": 612, "axle_height": 498, "fore_aft": 18}
ADJUSTER = {"kind": "one_end", "pitch": 1.5875, "step": 0.5}
# The form for a sheet of labels, filled in.
GRID = {
    "paper": "a4", "columns": 3, "rows": 7, "side": "7.25", "top": "15.15", "across": "2.5",
    "down": "0", "skip": 0, "blank": 0,
}  # fmt: skip
TICKS = ("level", "tires", "load", "settled", "straight")


class Job:
    """A job as a technician's phone writes it, on a vehicle that the phone files first."""

    def __init__(self, phone, vehicle=VEHICLE):
        self.phone = phone
        self.id = str(uuid.uuid4())
        self.place = {"vehicle": vehicle, "job": self.id}
        self.round = "as_found"
        self.unsent = []

    def write(self, kind, body, **more):
        """One entry of the job; it reaches the shop at the next `send`."""
        self.unsent.append(self.phone.entry(kind, body, **{**self.place, **more}))
        return self.unsent[-1]

    def send(self):
        """Push what was written since the last time."""
        answers = self.phone.push(*self.unsent).json["answers"]
        assert {answer["verdict"] for answer in answers} <= {"stored"}, answers
        self.unsent = []
        return self

    def in_round(self, kind, body, **more):
        """One entry of the round under way."""
        return self.write(kind, body, round=self.round, **more)

    def file_vehicle(self, **more):
        """Put the vehicle on file."""
        body = {"name": "Gray hauler", "units": "mm", "driving_side": "left", **more}
        return self.write("vehicle", body, job=None)

    def open(self, about="pulls to the left"):
        """Open the job."""
        return self.write("job", {"axle": "front", "round": "as_found", "about": about})

    def measure(self, left=LEFT, right=RIGHT, standing="on_wheels", bar=BAR):
        """A whole round: ticks, standing, both sides, the bar."""
        for name in TICKS:
            self.in_round("tick", {"field": name, "value": True})
        self.pick("heights", "standing", standing)
        for side, values in (("left", left), ("right", right)):
            for value in values:
                self.read("centering", side, value, face="rotor", method="square_to_rail")
        self.pick("track_bar", "frame_end", "left")
        self.pick("track_bar", "adjuster", ADJUSTER)
        for field, value in bar.items():
            self.read("track_bar", field, value)

    def look_all_over(self):
        """All that is looked at before the road beside the axle's place, and found in order."""
        self.pick("drag_link", "wheel_deg", 0)
        for joint in ("frame end", "axle end"):
            self.pick("play", "limit", {"joint": joint, "house_limit": 1.0})
            self.read("play", "along", 0.2, joint=joint, of="track_bar")
        for state in ("ride", "full_bump", "full_droop", "crossed"):
            for lock in ("left", "straight", "right"):
                place = {"between": ["track bar", "oil pan"], "state": state, "lock": lock}
                self.read("clearance", "gap", 14.0, **place)
        for bolt in ("frame-end bolt", "axle-end bolt", "jam nuts"):
            told = {"source": "shop manual", "end": "nut", "thread": "dry"}
            self.read("torque", "fastener", 90, fastener=bolt, **told)

    def read(self, step, field, value, typed=None, **more):
        """One reading to the sixteenth of an inch."""
        body = {"step": step, "field": field, "value": value, "unit": "mm", "read_to": 1.5875}
        return self.in_round("reading", {**body, **more}, typed=typed or f"{value}")

    def pick(self, step, field, value):
        """One choice."""
        return self.in_round("pick", {"step": step, "field": field, "value": value})

    def hand_in(self, missing=(), reason=None):
        """Hand the job in."""
        return self.write("hand_in", {"missing": list(missing), "reason": reason})


def handed_in(phone, vehicle=VEHICLE, **measured):
    """A job on a filed vehicle, measured once and handed in."""
    job = Job(phone, vehicle)
    job.file_vehicle()
    job.open()
    job.measure(**measured)
    job.hand_in()
    return job.send()


def queries_of(log, ask):
    """The questions that one request, whose status `ask` gives, asks of the database."""
    queries = []
    # With one thread reading there is one reader, handed out again and again.
    with log.reading() as db:
        db.set_trace_callback(queries.append)
    status = ask()
    with log.reading() as db:
        db.set_trace_callback(None)
    assert status == 200
    return queries


def text_of(response):
    """What a page says, without its markup and with single blanks."""
    body = re.sub(r"<(script|style).*?</\1>", " ", response.text, flags=re.S)
    words = html.unescape(re.sub(r"<[^>]+>", " ", body)).replace("\u202f", " ")
    return re.sub(r"\s+([.,:;])", r"\1", re.sub(r"\s+", " ", words))


def decision_form(page, verdict, reason=""):
    """The fields of the decision form as a page shows it."""
    [seen] = re.findall(r'name="last_seq"[^>]* value="(\d+)"', page.text)
    return {"last_seq": seen, "verdict": verdict, "reason": reason}


def at_desk(log):
    """The entries that were written at desks, as (kind, local_no, person, vehicle, job, body)."""
    desks = {phone["id"] for phone in log.phones() if phone["kind"] == "desk"}
    keys = ("kind", "local_no", "person", "vehicle", "job", "body")
    entries = log.pull(0, 100_000)["entries"]
    return [tuple(e[key] for key in keys) for e in entries if e["phone"] in desks]


QR = re.compile(r'viewBox="0 0 (\d+) \d+" shape-rendering="crispEdges"><path d="([^"]+)"')
RUN = re.compile(r"M(\d+) (\d+)h(\d+)v1h-\d+z")


def qr_texts(page):
    """What the QR codes of a sheet of labels say, read from their drawings by a QR reader."""
    return [read_qr(int(size), path) for size, path in QR.findall(page.text)]


def read_qr(size, path):
    """What one QR code says."""
    return seen(drawn_qr(size, path, 4))


def drawn_qr(size, path, dots):
    """A QR code as a gray picture, so many dots a module."""
    modules = numpy.full((size, size), 255, dtype=numpy.uint8)
    for x, y, length in (map(int, run) for run in RUN.findall(path)):
        modules[y, x : x + length] = 0
    return modules.repeat(dots, axis=0).repeat(dots, axis=1)


def seen(picture):
    """What an independent reader finds in a picture of one QR code."""
    [found] = zxingcpp.read_barcodes(picture)
    return found.text


def page_of(lead, job):
    """The desk's page of a job, which is sent first."""
    return lead.get(f"/desk/jobs/{job.send().id}")
