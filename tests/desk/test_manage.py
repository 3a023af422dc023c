"""What the lead settles about a vehicle's record: retired, two records made one, over time."""

import html
import json
import re
import uuid

import pytest
from kit.desk_pages import BAR, GRID, VEHICLE, Job, at_desk, decision_form, handed_in, text_of

PLAN = {"distance": 900, "unit": "km"}
OTHER = "9b0c7b1e-0c55-4a3f-8b8e-3f1f0e6d2002"


def filed(phone, vehicle=VEHICLE, **more):
    """A vehicle on file, without a job."""
    job = Job(phone, vehicle)
    job.file_vehicle(**more)
    return job.send()


def post(lead, what, **form):
    return lead.post(f"/desk/vehicles/{VEHICLE}/{what}", data=form, follow_redirects=True)


def test_a_retired_vehicle_leaves_the_list_and_comes_back(lead, phone, log):
    filed(phone)

    post(lead, "retire", retired="yes")
    gone = text_of(lead.get("/desk/vehicles"))
    listed = text_of(lead.get("/desk/vehicles?retired=yes"))
    post(lead, "retire", retired="no")

    assert "Gray hauler" not in gone and "Gray hauler" in listed
    assert "Gray hauler" in text_of(lead.get("/desk/vehicles"))
    assert [body for *_, body in at_desk(log)] == [{"retired": True}, {"retired": False}]


def test_two_records_become_one_by_name_and_are_parted_again(lead, phone, log):
    filed(phone)
    filed(phone, OTHER, name="Gray hauler, again")
    job = handed_in(phone, OTHER)
    filed(phone, OTHER, name="Gray hauler, again")

    page = post(lead, "merge", other="Gray hauler, again")
    assert "are now one vehicle." in text_of(page)
    assert log.job(job.id)["vehicle"] == VEHICLE
    assert len(log.vehicles()) == 1

    [entry] = re.findall(r'name="entry" value="([^"]+)"', page.text)
    page = post(lead, "part", entry=entry)
    assert "They are two vehicles again." in text_of(page)
    assert log.job(job.id)["vehicle"] == OTHER and len(log.vehicles()) == 2


def test_what_both_records_hold_stays_when_they_become_one(lead, leads_phone, log):
    kept = {"track_bars": {"front": BAR}, "replaced_tags": {"AB2D-9XYZ": {"by": "CD3F-4HJK"}}}
    filed(leads_phone, **kept)
    other = Job(leads_phone, OTHER)
    rear = {"track_bars": {"rear": {**BAR, "length": 790}}, "remeasure": {"rear": PLAN}}
    known = {"rear": {"hub": {"sum": 411.0, "u": 0.5}}}
    other.file_vehicle(name="Twin", known_sums=known, **rear)
    other.write("tag", {"code": "K7RM-4TQX"}, job=None)
    other.write(
        "vehicle", {"replaced_tags": {"K7RM-4TQX": {"by": None}}, "retired": True}, job=None
    )
    other.send()

    says = text_of(post(lead, "merge", other="K7RM-4TQX"))
    printed = lead.post("/desk/tags", data={**GRID, "vehicles": [VEHICLE]}).location

    assert "K7RM-4TQX This tag was reported lost." in says
    assert "K7RM-4TQX" not in printed
    assert "Front axle: bar length 862.0 mm" in says and "Rear axle: bar length 790.0 mm" in says
    assert "Sum of the sides, rear, hub face 411.0 ± 1.0 mm" in says
    assert [(row["vehicle"], row["axle"]) for row in log.due()] == [(VEHICLE, "rear")]
    assert "Cancel this" in says and "Put back in use" not in says
    post(lead, "remeasure", axle="rear", drop="yes")
    assert log.due() == []


def test_what_stays_from_a_merged_record_names_who_filed_it(lead, phone, new_phone, log):
    log.add_person("Ruth Ames", "lead")
    other_leads = new_phone("Ruth Ames")
    filed(other_leads, track_bars={"front": BAR})
    filed(other_leads, OTHER, name="Twin", track_bars={"rear": BAR})
    post(lead, "merge", other="Twin")
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted")
    lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    says = text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))

    assert "Front axle: bar length 862.0 mm" in says
    assert re.search(r"Rear axle: bar length 862\.0 mm Entered by Ruth Ames", says)
    assert re.search(r"Front axle: frame end left Accepted by Orla Bennett", says)


@pytest.mark.parametrize("how", ["replace", "lost"])
def test_a_tag_that_counts_no_more_is_not_replaced_again(lead, phone, log, how):
    job = filed(phone)
    job.write("tag", {"code": "K7RM-4TQX"}, job=None)
    job.send()
    post(lead, "tag", code="K7RM-4TQX", replace="yes")
    held = at_desk(log)

    says = text_of(post(lead, "tag", **{"code": "K7RM-4TQX", how: "yes"}))

    assert "K7RM-4TQX: nothing was changed. This tag was replaced by" in says
    assert at_desk(log) == held


def test_nothing_is_merged_by_a_name_that_several_have_or_nobody(lead, phone, log):
    filed(phone)
    filed(phone, OTHER, name="Twin")
    filed(phone, str(uuid.uuid4()), name="Twin")

    assert "Several vehicles have that name" in text_of(post(lead, "merge", other="Twin"))
    for nobody in ("Gray hauler", "", "Tw"):
        assert "Nothing was merged." in text_of(post(lead, "merge", other=nobody))
    assert at_desk(log) == []


def test_only_what_was_merged_is_parted(lead, phone, log):
    filed(phone)
    [entry] = [e["id"] for e in log.entries_of_vehicle(VEHICLE)]

    assert "That record was not merged" in text_of(post(lead, "part", entry=entry))
    assert at_desk(log) == []


def test_a_tag_of_another_vehicle_is_not_replaced_here(lead, phone, log):
    filed(phone)

    assert "has no tag" in text_of(post(lead, "tag", code="K7RM-4TQX", replace="yes"))
    assert at_desk(log) == []


def test_offset_ride_height_and_sum_are_drawn_over_time_with_what_changed(lead, phone):
    job = Job(phone)
    job.file_vehicle()
    job.open()
    for name in ("as_found", "as_left"):
        job.round = name
        job.measure()
        for side in ("left", "right"):
            job.read("heights", side, 221.0)
            job.read("heights", side, 222.0)
        if name == "as_found":
            job.in_round("change", {"what": "bar_turned", "turns": 2, "length_change": 3.2})
    job.hand_in()
    job.send()

    page = lead.get(f"/desk/vehicles/{VEHICLE}")

    says = text_of(page)
    assert page.text.count('data-figure="over"') == 3
    assert "left 221.5 ± 1.2 mm" in says and "5.4 ± 1.0 mm, left" in says
    assert "Track bar turned" in says


def measured_over_time(phone, faces, units="mm"):
    """A job whose rounds were measured from these faces, in order."""
    job = Job(phone)
    job.file_vehicle(units=units)
    job.open()
    for name, (face, left) in zip(("as_found", "fit_up", "as_left"), faces, strict=False):
        job.round = name
        for side, values in (("left", (left, left)), ("right", (200.0, 200.0))):
            job.read("heights", side, 222.25)
            for value in values:
                job.read("centering", side, value, face=face, method="square_to_rail")
    job.pick("heights", "standing", "on_wheels")
    job.send()


def figures_in(page):
    """The data of the drawings over time, by their headings."""
    drawn = re.findall(
        r'<h3>([^<]+)</h3>\s*<figure data-figure="over" data-data=.([^\']+)', page.text
    )
    return {title: json.loads(html.unescape(data)) for title, data in drawn}


def test_sums_of_different_faces_are_different_drawings(lead, phone):
    measured_over_time(phone, [("hub", 220.0), ("rotor", 205.0), ("hub", 221.0)])

    figures = figures_in(lead.get(f"/desk/vehicles/{VEHICLE}"))

    sums = {title: data for title, data in figures.items() if title.startswith("Sum")}
    assert list(sums) == ["Sum of the sides, hub face, mm"]
    [series] = sums["Sum of the sides, hub face, mm"]["series"]
    assert [dot["value"] for dot in series["points"]] == [420.0, 421.0]


def test_a_vehicle_measured_in_inches_is_shown_in_inches_over_time(lead, phone, leads_phone):
    known = {"front": {"hub": {"sum": 419.1, "u": 0.5}}}
    filed(leads_phone, known_sums=known)
    measured_over_time(phone, [("hub", 219.1), ("hub", 219.1)], units="in")

    page = lead.get(f"/desk/vehicles/{VEHICLE}")
    figures, says = figures_in(page), text_of(page)

    heights = figures["Ride height, left round, right square, in"]
    assert {dot["value"] for each in heights["series"] for dot in each["points"]} == {8.75}
    assert heights["unit"] == "in"
    assert "left 8 3/4 in ± " in says
    assert (
        "16 1/2 in ± 0.08 in (419.1 ± 1.9 mm)"
        in says.split("Sum of the sides, hub face as a table")[1]
    )
    assert "Sum of the sides, front, hub face 16 1/2 in ± 0.04 in (419.1 ± 1.0 mm)" in says


def test_a_distance_has_a_decimal_comma_and_no_mark_for_thousands(lead, phone, log):
    filed(phone)

    refused = text_of(post(lead, "remeasure", axle="front", distance="1,000"))
    nothing = log.due()
    post(lead, "remeasure", axle="front", distance="800,5")

    assert "without a thousands separator, such as 1000. Nothing was saved." in refused
    assert nothing == [] and [row["distance"] for row in log.due()] == [800.5]


@pytest.mark.parametrize(
    "form",
    [
        {"date": "0001-01-01"},
        {"date": "2026-11-24"},
        {"date": "tomorrow"},
        {"distance": "-5"},
        {"distance": "0"},
        {"distance": "inf"},
        {"distance": "nan"},
        {"distance": "soon"},
        {},
    ],
)
def test_a_plan_that_cannot_be_is_refused_at_its_fields(lead, phone, log, form):
    filed(phone)

    refused = post(lead, "remeasure", axle="rear", unit="mi", **form)

    assert refused.status_code == 400 and log.due() == []
    assert "Enter a date from today on, a distance above zero, or both." in text_of(refused)
    assert 'aria-describedby="again-distance-fault" autofocus' in refused.text
    assert all(f'value="{typed}"' in refused.text for typed in form.values())


def test_a_plan_in_place_of_another_says_so(lead, phone, log):
    filed(phone)
    first = {"distance": "500", "unit": "mi", "date": "2031-05-07"}
    post(lead, "remeasure", axle="front", **first)

    says = text_of(post(lead, "remeasure", axle="front", distance="900"))

    assert "is on the due list, in place of by May 7, 2031 or after 500 mi." in says
    assert [row["distance"] for row in log.due()] == [900]


def test_an_odd_distance_is_asked_back_with_what_it_may_have_been(lead, phone, log):
    filed(phone)
    form = {"axle": "rear", "distance": "90", "unit": "mi", "date": "2031-05-07"}

    asked = post(lead, "remeasure", **form)

    assert asked.status_code == 400 and log.due() == []
    assert 'name="distance-meant" value="900"' in asked.text
    assert 'value="90"' in asked.text and 'value="2031-05-07"' in asked.text
    post(lead, "remeasure", **form, **{"distance-meant": "900"})
    assert [row["distance"] for row in log.due()] == [900]
    key = "implausible remeasure.distance range 90.00"
    post(lead, "remeasure", **form, **{"distance-so_it_is": key})
    assert [row["distance"] for row in log.due()] == [90]
    assert log.vehicle(VEHICLE)["record"]["confirmed"] == [key]


def test_an_axle_that_was_to_be_measured_again_is_settled_by_an_accepted_job(lead, phone, log):
    filed(phone)
    post(lead, "remeasure", axle="front", distance="500")
    asked = log.due()
    job = handed_in(phone)
    form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted")

    lead.post(f"/desk/jobs/{job.id}/decision", data=form)

    assert [row["what"] for row in asked] == ["remeasure"]
    assert log.due() == []
