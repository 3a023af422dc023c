"""What the tests of the arithmetic share: sheets to start from, mirrors, files of numbers."""

import copy
import json
from pathlib import Path

DATA = Path(__file__).parents[1] / "data"
EXAMPLES = json.loads((DATA / "worked_examples.json").read_text("utf-8"))
SAMPLE = json.loads((DATA / "sample_sheet.json").read_text("utf-8"))
LIMITS = {"offset": 3.0, "repeat": 1.5, "face_u": 0.5}
READY = {"level": True, "tires": True, "load": True, "settled": True, "straight": True}
OTHER = {"left": "right", "right": "left"}


def changed(sheet, **parts):
    """A copy of a sheet with fields of its parts changed; a part given as None is taken out."""
    new = copy.deepcopy(sheet)
    for name, fields in parts.items():
        if fields is None:
            new.pop(name, None)
        elif isinstance(fields, dict) and isinstance(new.get(name), dict):
            new[name].update(fields)
        else:
            new[name] = fields
    return new


def mirrored(thing):
    """The same sheet of a vehicle built the other way round: every left a right."""
    if isinstance(thing, dict):
        return {OTHER.get(name, name): mirrored(value) for name, value in thing.items()}
    if isinstance(thing, list):
        return [mirrored(each) for each in thing]
    if isinstance(thing, str):
        return OTHER.get(thing, thing)
    return thing


def entry(id, kind, body, **more):
    """An entry of the log with what the folding looks at."""
    return {"id": id, "kind": kind, "vehicle": "v", "job": "j", "round": None, "body": body, **more}
