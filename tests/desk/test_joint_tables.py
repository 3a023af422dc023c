"""Play, clearance and torque on a job's page: tables to judge by, and words for each entry."""

from kit.desk_pages import Job, decision_form, page_of, text_of

SOURCE = "shop manual, page 12"


def play(job, joint, field, value, of="track_bar", **more):
    body = {"step": "play", "field": field, "joint": joint, "of": of, "value": value}
    return job.in_round("reading", {**body, "unit": "mm", "read_to": 0.1, **more})


def gap(job, value, state, lock, **more):
    body = {"step": "clearance", "field": "gap", "between": ["track bar", "tie rod"]}
    return job.in_round("reading", {**body, "state": state, "lock": lock, "value": value, **more})


def bolt(job, name="frame-end bolt", value=118, **more):
    body = {"step": "torque", "field": "fastener", "fastener": name, "value": value}
    whole = {"figure": "118 N·m", "source": SOURCE, "end": "bolt", "thread": "dry"}
    return job.in_round("reading", {**body, **whole, **more})


def opened(phone):
    job = Job(phone)
    job.file_vehicle()
    job.open()
    return job


def test_play_stands_joint_by_joint_with_its_limits_apart(lead, phone):
    job = opened(phone)
    play(job, "frame end", "along", 0.9, pair=[0.4, 0.5], how="wheel rocked lightly by hand")
    play(job, "frame end", "bolt", 14.1)
    play(job, "frame end", "hole_long", 15.2)
    play(job, "frame end", "hole_short", 14.6)
    play(job, "axle end", "along", 0.2)
    limit = {"joint": "frame end", "maker_limit": 0.5, "maker_source": SOURCE, "house_limit": 1}
    job.pick("play", "limit", limit)
    job.pick("play", "loose", {"joint": "axle end", "what": "bolt_in_hole"})

    says = text_of(page_of(lead, job))

    assert "Track bar, frame end is outside its limit." in says
    assert (
        "Track bar, frame end wheel rocked lightly by hand 0.9 mm (0.4 mm + 0.5 mm) outside" in says
    )
    assert (
        "bolt 14.1 mm, hole, the long way 15.2 mm, hole, the short way 14.6 mm hole 0.6 mm oval"
        in says
    )
    assert f"maker 0.5 mm, {SOURCE} house 1.0 mm" in says
    assert "Track bar, axle end 0.2 mm recorded loose: bolt in the bracket's hole" in says
    assert "no known limit" in says


def test_clearance_stands_as_a_grid_of_states_and_locks(lead, phone):
    job = opened(phone)
    gap(job, 9.525, "ride", "left", unit="in")
    gap(job, None, "full_bump", "left", mark="touches")
    gap(job, None, "crossed", "right", mark="witness mark")

    says = text_of(page_of(lead, job))

    assert "Track bar and tie rod touch at full bump, left lock." in says
    assert "Track bar to tie rod contact, 3 of 12 checked" in says
    assert "Ride height 3/8 in not checked not checked" in says
    assert "Full bump touches not checked not checked" in says
    assert "Full droop not checked not checked not checked" in says
    assert "Crossed up not checked not checked witness mark" in says


def test_a_gap_under_the_house_limit_is_tight_and_odd(lead, phone):
    form = {"clearance-value": "10", "clearance-reason": "gravel between"}
    lead.post("/desk/limits/clearance", data=form)
    job = opened(phone)
    gap(job, 9.5, "ride", "left")
    job.hand_in()

    says = text_of(page_of(lead, job))

    assert "at ride height, left lock, under the house limit of 10.0 mm. Make room." in says
    assert "Track bar to tie rod: 9.5 mm, under the house limit." in says
    assert "Clearance, at least 10 mm House limit, set by Orla Bennett" in says
    assert "Track bar to tie rod: 9.5 mm" in text_of(lead.get("/desk?flag=tight"))


def test_torque_stands_with_both_units_source_end_and_thread(lead, phone):
    job = opened(phone)
    bolt(job, rubber=True, on_springs=True, tool="wrench 4", also=90, also_figure="66 lb-ft")
    job.pick("torque", "recheck", {"distance": 800, "unit": "km", "date": "2026-12-24"})

    says = text_of(page_of(lead, job))

    assert "Frame-end bolt 118 N·m 118 N·m (87 lb-ft) also printed as: 66 lb-ft" in says
    assert f"at the bolt, dry, rubber bushing, weight on the springs, {SOURCE}, wrench 4" in says
    assert "The two printed figures are 24% apart" in says
    assert "Check again after 800 km or on 2026-12-24." in says


def test_a_recheck_shows_what_moved_and_what_waits(lead, phone):
    job = opened(phone)
    bolt(job)
    bolt(job, "axle-end bolt")
    bolt(job, "jam nuts")
    job.round = "recheck"
    for name, moved in (("frame-end bolt", True), ("axle-end bolt", False)):
        body = {"step": "torque", "field": "fastener", "fastener": name, "moved": moved}
        job.in_round("reading", body)

    says = text_of(page_of(lead, job))

    assert "Frame-end bolt moved. 1 fastener still to check again." in says
    assert "Frame-end bolt moved It moved. Fit a new bolt" in says
    assert "Axle-end bolt did not move" in says
    assert "Jam nuts not checked again yet Say whether it moved." in says


def test_every_entry_of_these_steps_is_a_line_of_the_log(lead, phone):
    job = opened(phone)
    play(job, "frame end", "along", 0.9, pair=[0.4, 0.5])
    gap(job, None, "full_bump", "left", mark="touches")
    bolt(job, then_angle=90)
    job.pick("torque", "recheck", {"distance": 500, "unit": "mi"})
    job.pick("play", "loose", {"joint": "frame end", "what": "bracket"})

    says = text_of(page_of(lead, job))

    assert "Play: Track bar, frame end, movement along the bar 0.4 mm + 0.5 mm = 0.9 mm" in says
    assert "Clearance: track bar to tie rod, at full bump, left lock touches" in says
    assert "Torque: frame-end bolt 118 N·m (87 lb-ft), then 90°, at the bolt, dry" in says
    assert "Torque: check again after 500 mi" in says
    assert "Play: Track bar, frame end, loose Bracket on frame or axle" in says


def test_a_plain_centering_check_has_none_of_these_tables(lead, phone):
    job = opened(phone)
    job.measure()

    assert 'class="walked"' not in page_of(lead, job).text


def test_over_http_a_rubber_bushing_clamped_hanging_is_refused_and_not_stored(phone, log):
    job = opened(phone).send()
    bolt(job, rubber=True, on_springs=False)

    [answer] = phone.push(*job.unsent).json["answers"]

    assert answer["verdict"] == "refused"
    assert "Set the vehicle down first." in answer["reason"]
    assert [entry["kind"] for entry in log.entries_of_job(job.id)] == ["job"]


def test_over_http_a_torque_without_a_source_is_refused(phone):
    job = opened(phone).send()
    bolt(job, source=None)

    [answer] = phone.push(*job.unsent).json["answers"]

    assert "A torque needs its figure and where the figure comes from." in answer["reason"]


def test_what_an_accepted_job_torqued_waits_in_the_next_recheck(lead, phone, log):
    job = opened(phone)
    bolt(job)
    job.hand_in()
    job.send()
    page = lead.get(f"/desk/jobs/{job.id}")
    lead.post(f"/desk/jobs/{job.id}/decision", data=decision_form(page, "accepted"))

    record = log.vehicle(job.place["vehicle"])
    entries = log.entries_of_vehicle(record["id"])
    [on_file] = [each["body"]["torques"] for each in entries if "torques" in each["body"]]

    assert on_file["front"][0]["figure"] == "118 N·m"
    assert on_file["front"][0]["source"] == SOURCE


def test_a_torque_angle_that_no_maker_gives_is_shown_to_the_lead(lead, phone):
    job = opened(phone)
    bolt(job, then_angle=500, figure="118 N·m then 500°")
    job.hand_in()

    says = text_of(page_of(lead, job))

    assert "A further angle of 500°? Usual is 5 to 360°" in says
