"""Who may write what: one table by kind, field and role, and how it is enforced."""

import re
from pathlib import Path

import pytest
from kit.entries import BODIES, JOB, VEHICLE, make_entry, new_id, strike, verdicts

from webapp.shoplog.entries import Refused
from webapp.shoplog.permissions import LEADS, MAX_STRIKES, WHO_WRITES, must_be_allowed, who_writes
from webapp.shoplog.rules.kinds import BODIES as TYPES
from webapp.shoplog.rules.kinds import KINDS, body_schema

DOCS = Path(__file__).parents[2] / "docs" / "exchange.md"
# Written down once more, so that nothing becomes anybody's by a slip in the table.
THE_LEADS = {
    "vehicle": {
        *("drag_links", "known_sums", "last_rounds", "links_older", "rechecks", "ride_heights"),
        *("torques", "track_bars"),
        *("face", "method", "rail_width", "read_to", "track"),
        "from_job",
        "joint_limits",
        "known_leans",
        "left_open",
        "merged_into",
        "remeasure",
        "replaced_tags",
        "retired",
    },
    "job": {"second_of"},
}
THE_LEADS_KINDS = {"close_item", "decision", "limit", "pass_over"}
OTHER_VEHICLE = "5b0c7b1e-0c55-4a3f-8b8e-3f1f0e6d2003"
CODE = "K7RM-4TQX"


def fields_of(kind):
    """Every field that the log knows of a kind."""
    types = [name for name in TYPES if name.partition(".")[0] == kind]
    known = {field for name in types for field in body_schema(name).get("properties", {})}
    named_here = set(BODIES[kind]) | set(WHO_WRITES[kind]) - {"*"}
    return sorted((known | named_here) - {"replaces", "target", "id", "tags"})


CELLS = [(kind, field) for kind in WHO_WRITES for field in [None, *fields_of(kind)]]


def test_every_kind_has_its_row():
    assert set(WHO_WRITES) == set(KINDS)


@pytest.mark.parametrize(("kind", "field"), CELLS)
def test_a_field_is_written_by_whom_the_table_says(shop, crew, kind, field):
    body = {} if field is None else {field: BODIES[kind].get(field, "x")}
    leads_only = kind in THE_LEADS_KINDS or field in THE_LEADS.get(kind, ())
    with shop.writing() as db:
        by_lead = make_entry(crew.leads_phone, kind, body={**body, "code": CODE})
        must_be_allowed(db, by_lead, crew.lead)
        by_technician = make_entry(crew.phone, kind, body={**body, "code": CODE})
        if leads_only:
            with pytest.raises(Refused, match="Only a lead can"):
                must_be_allowed(db, by_technician, crew.technician)
        else:
            must_be_allowed(db, by_technician, crew.technician)


def test_only_a_lead_confirms_what_is_on_file(shop, crew):
    """In a job everybody answers what is asked there."""
    for place in ({"job": None}, {"job": None, "vehicle": None}):
        place = {"round": None, **place}
        with shop.writing() as db:
            must_be_allowed(db, make_entry(crew.leads_phone, "confirm", **place), crew.lead)
            with pytest.raises(Refused, match="Only a lead can confirm what is on file"):
                must_be_allowed(db, make_entry(crew.phone, "confirm", **place), crew.technician)


def test_the_page_about_entries_has_the_same_table():
    rows = re.findall(r"^\| `(\w+)` \| (leads|anyone)([^|]*)\|$", DOCS.read_text("utf-8"), re.M)
    said = {kind: (who, {f for f in re.findall(r"`(\w+)`", rest)}) for kind, who, rest in rows}

    assert said == {
        kind: (fields["*"], {f for f in fields if f != "*" and who_writes(kind, f) == LEADS})
        for kind, fields in WHO_WRITES.items()
    }


def patch(phone, body, **more):
    return make_entry(phone, "vehicle", body=body, **more)


def test_what_a_lead_settled_is_not_struck_replaced_or_brought_back_by_a_technician(shop, crew):
    other = patch(crew.leads_phone, {"name": "Twin"}, vehicle=OTHER_VEHICLE)
    merging = patch(crew.leads_phone, {"merged_into": VEHICLE}, vehicle=OTHER_VEHICLE)
    struck = strike(crew.leads_phone, merging["id"], vehicle=OTHER_VEHICLE, job=None)
    shop.append(crew.leads_phone, [patch(crew.leads_phone, {"name": "One"}), other, merging])
    place = {"vehicle": OTHER_VEHICLE, "job": None}
    tries = [
        strike(crew.phone, merging["id"], **place),
        patch(crew.phone, {"name": "Mine", "replaces": merging["id"]}, vehicle=OTHER_VEHICLE),
    ]
    answers = shop.append(crew.phone, tries)
    shop.append(crew.leads_phone, [struck])
    answers += shop.append(crew.phone, [strike(crew.phone, struck["id"], **place)])

    assert verdicts(answers) == ["refused"] * 3
    assert "Only a lead can set or strike a vehicle's merged into" in answers[0]["reason"]
    assert len(shop.vehicles()) == 2


@pytest.mark.parametrize(
    "field", ["track_bars", "drag_links", "known_sums", "torques", "rechecks", "ride_heights"]
)
def test_what_went_on_file_is_not_struck_or_replaced_by_a_technician(shop, crew, field):
    filed = patch(crew.leads_phone, {field: {}})
    shop.append(crew.leads_phone, [filed])
    tries = [
        strike(crew.phone, filed["id"], job=None),
        patch(crew.phone, {"note": "mine", "replaces": filed["id"]}),
    ]

    answers = shop.append(crew.phone, tries)

    assert verdicts(answers) == ["refused"] * 2
    assert f"set or strike a vehicle's {field.replace('_', ' ')}: ask yours" in answers[0]["reason"]


def test_the_vehicle_that_a_phone_makes_of_a_blank_tag_is_taken_whole(shop, crew):
    record = {"name": "Tender", "units": "in", "driving_side": "left", "axles": ["front", "rear"]}
    made = [patch(crew.phone, record), tag(crew.phone, VEHICLE, first=True)]

    assert verdicts(shop.append(crew.phone, made)) == ["stored"] * 2
    assert record.items() <= shop.vehicle(VEHICLE)["record"].items()


def tag(phone, vehicle, first=False):
    body = {"code": CODE, **({"first": True} if first else {})}
    return make_entry(phone, "tag", body=body, vehicle=vehicle)


def test_a_technician_puts_a_blank_tag_on_and_does_not_move_it(shop, crew):
    answers = shop.append(crew.phone, [tag(crew.phone, VEHICLE), tag(crew.phone, OTHER_VEHICLE)])
    answers += shop.append(crew.phone, [tag(crew.phone, OTHER_VEHICLE), tag(crew.phone, VEHICLE)])

    assert verdicts(answers) == ["stored", "refused", "refused", "stored"]
    assert f"The tag {CODE} is on another vehicle already" in answers[1]["reason"]
    assert shop.vehicle_by_tag(CODE)["id"] == VEHICLE


def test_a_lead_moves_a_tag_and_a_technician_does_not_take_it_off(shop, crew):
    by_lead = tag(crew.leads_phone, OTHER_VEHICLE)
    shop.append(crew.phone, [tag(crew.phone, VEHICLE)])
    moved = shop.append(crew.leads_phone, [by_lead])
    off = strike(crew.phone, by_lead["id"], vehicle=OTHER_VEHICLE, job=None)

    assert verdicts(moved + shop.append(crew.phone, [off])) == ["stored", "refused"]
    assert shop.vehicle_by_tag(CODE)["id"] == OTHER_VEHICLE


def test_a_first_scan_without_the_network_makes_a_vehicle_that_becomes_part_of_the_tags(shop, crew):
    shop.append(crew.leads_phone, [patch(crew.leads_phone, {"name": "Filed"})])
    shop.append(crew.leads_phone, [tag(crew.leads_phone, VEHICLE)])
    made = [
        patch(crew.phone, {"name": "Scanned"}, vehicle=OTHER_VEHICLE),
        tag(crew.phone, OTHER_VEHICLE, first=True),
    ]

    assert verdicts(shop.append(crew.phone, made)) == ["stored"] * 2
    assert shop.vehicle(OTHER_VEHICLE)["id"] == VEHICLE


def test_a_first_scan_does_not_make_a_vehicle_that_others_know_part_of_another(shop, crew):
    known = patch(crew.leads_phone, {"name": "Known"}, vehicle=OTHER_VEHICLE)
    shop.append(crew.leads_phone, [tag(crew.leads_phone, VEHICLE), known])

    answers = shop.append(crew.phone, [tag(crew.phone, OTHER_VEHICLE, first=True)])

    assert verdicts(answers) == ["refused"]
    assert shop.vehicle(OTHER_VEHICLE)["id"] == OTHER_VEHICLE


def chain_of_strikes(phone, length):
    """A reading and so many strikes, each of the entry before it."""
    made = [make_entry(phone, job=JOB)]
    for _ in range(length):
        made.append(strike(phone, made[-1]["id"], job=JOB))
    return made


def test_a_chain_of_strikes_ends_with_a_sentence(shop, crew):
    answers = [
        answer
        for each in chain_of_strikes(crew.phone, MAX_STRIKES + 3)
        for answer in shop.append(crew.phone, [each])
    ]

    assert verdicts(answers[: MAX_STRIKES + 1]) == ["stored"] * (MAX_STRIKES + 1)
    assert verdicts(answers[MAX_STRIKES + 1 :])[0] == "refused"
    assert "record it again instead" in answers[MAX_STRIKES + 1]["reason"]


def test_an_entry_that_its_strike_reached_the_shop_before_is_still_taken(shop, crew):
    late, early = make_entry(crew.phone, job=JOB), new_id()
    shop.append(crew.phone, [strike(crew.phone, late["id"], job=JOB, id=early)])

    assert verdicts(shop.append(crew.phone, [late])) == ["stored"]
