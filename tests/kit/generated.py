"""Entries generated from the contract: valid ones of every kind, and the same with parts broken."""

import math
import uuid
from typing import Any

from hypothesis import strategies as st

from webapp.shoplog.entries import ABOUT_A_VEHICLE, ABOUT_THE_SHOP, IN_A_JOB, IN_A_ROUND
from webapp.shoplog.rules.kinds import BODIES, UNKNOWN, body_schema

ROUNDS = ["as_found", "fit_up", "as_left", "recheck"]
LETTERS = "aZ 09.,'\"<>&=+-/\\\n\t%{}çñ中ö🚚\u202e\u0000\u0085\u200b"
# Those of them that a name may hold.
SEEN = "aZ 09.,'\"<>&=+-/\\%{}çñ中ö🚚"
DAYS = ["2026-12-24", "2000-01-01", "2999-12-31"]
TIMES = [
    "2026-11-25T10:42:07.120+01:00",
    "1970-01-01T00:00:00Z",
    "0001-01-01T00:00:00+14:00",
    "9999-12-31T23:59:59-12:00",
]
NAMES = [each for each in BODIES if each not in ("entry", *UNKNOWN)]
# Most of what a shop writes; without them no job would come to a verdict.
USUAL = ["reading.heights", "reading.centering", "reading.track_bar", "pick.heights.standing"]
# What no contract has in the place of anything.
JUNK: list[Any] = [
    None, True, False, 0, -1, 1.5, 2**53, -(2**53), 10**400, 1e308, -0.0, math.nan, math.inf,
    -math.inf, "", " ", "x" * 5000, "\ud800", "__proto__", "NaN", [], {}, [None], [[[[]]]],
    {"front": None}, {"": {}}, {"front": {"rotor": 1}},
]  # fmt: skip


class World:
    """What generated entries speak of: a few vehicles, jobs, tags and the entries made so far."""

    def __init__(self, random: Any, vehicles: int = 4, jobs: int = 8) -> None:
        """A world drawn from `random`; each job belongs to one vehicle."""
        self.random = random
        self.vehicles = [self.new_id() for _ in range(vehicles)]
        self.jobs = {self.new_id(): random.choice(self.vehicles) for _ in range(jobs)}
        self.made = [self.new_id()]
        self.codes = [f"K7RM-{number}TQX" for number in range(6)]

    def new_id(self) -> str:
        """A random UUID."""
        return str(uuid.UUID(int=self.random.getrandbits(128), version=4))

    def entry(self, phone: str, number: int, name: str | None = None) -> dict[str, Any]:
        """A valid entry of this phone, its body of this name or any."""
        random = self.random
        name = name or random.choice(USUAL if random.random() < 0.4 else NAMES)
        kind, *at = name.split(".")
        job = random.choice(list(self.jobs))
        vehicle = self.jobs[job]
        if kind in ABOUT_THE_SHOP:
            vehicle = job = None
        elif kind in ABOUT_A_VEHICLE or (kind not in IN_A_JOB and random.random() < 0.3):
            vehicle, job = random.choice(self.vehicles), None
        body = self.value(body_schema(name))
        body.update(zip(("step", "field"), at, strict=False))
        entry = {
            "v": 1,
            "id": self.new_id(),
            "phone": phone,
            "local_no": number,
            "kind": kind,
            "vehicle": vehicle,
            "job": job,
            "round": random.choice(ROUNDS) if kind in IN_A_ROUND or (job and number % 2) else None,
            "body": body,
            "typed": random.choice([None, self.text(0, 4000)]),
            "made_at": random.choice([TIMES[0], *TIMES]),
            "build": "ab12cd34ef56",
        }
        self.made.append(entry["id"])
        return entry

    def value(self, node: dict[str, Any]) -> Any:
        """A value that a part of the schema takes, often one at its very edge."""
        random = self.random
        if "anyOf" in node:
            return self.value(random.choice(node["anyOf"]))
        if "enum" in node:
            return random.choice(node["enum"])
        match node.get("type"):
            case "null":
                return None
            case "boolean":
                return random.random() < 0.5
            case "integer":
                return random.randint(node["minimum"], min(node.get("maximum", 10**6), 10**6))
            case "number":
                return self.number(node)
            case "string":
                return self.string(node)
            case "array":
                most = node.get("maxItems", 3)
                count = random.randint(node.get("minItems", 0), most)
                return [self.value(node["items"]) for _ in range(count)]
        return self.thing(node)

    def thing(self, node: dict[str, Any]) -> dict[str, Any]:
        """An object: what it must have, some of what it may have, and names of its own."""
        random = self.random
        fields = node.get("properties", {})
        found = {
            name: self.value(each)
            for name, each in fields.items()
            if "not" not in each and (name in node.get("required", ()) or random.random() < 0.4)
        }
        more = node.get("additionalProperties")
        if more:
            names = [self.value(node["propertyNames"]) for _ in range(random.randint(0, 2))]
            found.update({name: self.value(more) for name in names})
        return found

    def number(self, node: dict[str, Any]) -> float:
        """A number within bounds; half of them such as a shop measures."""
        least = node.get("minimum", node.get("exclusiveMinimum", -1e5))
        most = node.get("maximum", 1e5)
        usual = round(self.random.uniform(max(least, 0), min(most, 900)), 1)
        edges = [most, least + 1e-9 if "exclusiveMinimum" in node else least]
        picked = self.random.choice(
            [usual, usual, usual, self.random.uniform(*sorted(edges)), *edges]
        )
        return picked if picked > least or "minimum" in node else edges[1]

    def string(self, node: dict[str, Any]) -> str:
        """A text of the shape that is asked for."""
        pattern = node.get("pattern", "")
        if node.get("format") == "date":
            return str(self.random.choice(DAYS))
        if "[0-9A-Z]{4}" in pattern:
            return str(self.random.choice(self.codes))
        if "{64}" in pattern:
            return f"{self.random.getrandbits(256):064x}"
        if "[0-9a-f]{8}-" in pattern:
            return str(self.random.choice([*self.made[-40:], *self.jobs, *self.vehicles]))
        if pattern.startswith("^") and not pattern.startswith("^[^"):
            raise AssertionError(f"nothing is generated for {pattern}")
        letters = SEEN if pattern.startswith("^") else LETTERS
        return self.text(1 if pattern else 0, node["maxLength"], letters)

    def text(self, least: int, most: int, of: str = LETTERS) -> str:
        """A text of so many characters; at one end or the other, or short."""
        count = self.random.choice([least, min(most, 12), min(most, 12), most])
        letters = "".join(self.random.choices(of, k=count))
        return letters if not least or letters.strip() else "x" * count

    def broken(self, entry: dict[str, Any]) -> dict[str, Any]:
        """The entry with one of its parts, at any depth, taken out or made something else."""
        copy = copied(entry)
        places = list(places_in(copy))
        holder, key = self.random.choice(places)
        if isinstance(holder, dict) and self.random.random() < 0.2:
            holder.pop(key)
        elif isinstance(holder, dict) and self.random.random() < 0.1:
            holder[self.random.choice(["more", "", "\ud800", "constructor"])] = self.junk()
        else:
            holder[key] = self.junk()
        return copy

    def junk(self) -> Any:
        """Something that belongs nowhere."""
        deep: Any = "deep"
        if self.random.random() < 0.05:
            for _ in range(60):
                deep = [deep]
            return deep
        return copied(self.random.choice(JUNK))


@st.composite
def entries(draw: Any, phone: str, broken: bool = False) -> dict[str, Any]:
    """A strategy of Hypothesis: valid entries of any kind, or such with one part broken."""
    world = World(draw(st.randoms(use_true_random=False)))
    name = draw(st.sampled_from(NAMES))
    entry = world.entry(phone, draw(st.integers(1, 10**7)), name)
    return world.broken(entry) if broken else entry


def copied(value: Any) -> Any:
    """The value with its own lists and objects."""
    if isinstance(value, dict):
        return {key: copied(each) for key, each in value.items()}
    return [copied(each) for each in value] if isinstance(value, list) else value


def places_in(value: Any) -> Any:
    """Every (holder, key) in an entry, at whatever depth."""
    for key in list(value) if isinstance(value, dict) else range(len(value)):
        yield value, key
        if isinstance(value[key], dict | list):
            yield from places_in(value[key])
