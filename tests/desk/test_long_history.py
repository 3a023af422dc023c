"""A vehicle with a long history: what its pages read and reckon follows what they show."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kit.desk_pages import VEHICLE, Job, decision_form, queries_of, text_of
from kit.same_sheets import good_sheets, measured_sheets, spoiled_sheets
from kit.worked_sheets import SAMPLE, changed

from webapp.desk.jobs.job_view import Round
from webapp.desk.jobs.vehicle_past import Past
from webapp.reckon import assess as reckon
from webapp.reckon.assess import assess, judged
from webapp.reckon.log import fold

JOBS = ("job 0", "job 1", "job 2")


def accepted(lead, phone, jobs):
    """So many accepted jobs of one vehicle, one after the other, each a little further left."""
    made = []
    for number in range(jobs):
        job = Job(phone)
        if not made:
            job.file_vehicle()
        job.open(f"job {number}")
        job.measure(left=(214.0 + number, 214.0 + number))
        job.hand_in()
        job.send()
        form = decision_form(lead.get(f"/desk/jobs/{job.id}"), "accepted")
        assert lead.post(f"/desk/jobs/{job.id}/decision", data=form).status_code == 303
        made.append(job)
    return made


def waiting(phone, about="waits"):
    """One more job of the vehicle, handed in."""
    job = Job(phone)
    job.open(about)
    job.measure()
    job.hand_in()
    return job.send()


def read_of_vehicles(queries):
    """Those that read the entries about a vehicle itself."""
    return [
        query for query in queries if re.search(r"entries WHERE vehicle = .* job IS NULL", query)
    ]


def test_a_vehicles_page_reads_its_entries_once_however_many_jobs_it_shows(lead, phone, log):
    accepted(lead, phone, 3)
    waiting(phone)

    queries = queries_of(log, lambda: lead.get(f"/desk/vehicles/{VEHICLE}").status_code)

    assert len(read_of_vehicles(queries)) == 1
    limits = [each for each in queries if "vehicle IS NULL AND job IS NULL" in each]
    assert len(limits) == 1


@pytest.mark.parametrize("address", ["/desk", "/desk/pending/list"])
def test_a_waiting_job_is_listed_without_the_history_of_its_vehicle(lead, phone, log, address):
    accepted(lead, phone, 2)
    waiting(phone)

    assert read_of_vehicles(queries_of(log, lambda: lead.get(address).status_code)) == []

    # One that was opened while another waited is held against that.
    waiting(phone, "waits as well")
    queries = queries_of(log, lambda: lead.get(address).status_code)
    assert len(read_of_vehicles(queries)) == 1


def test_a_jobs_page_reads_what_is_on_record_of_the_vehicle_once(lead, phone, log):
    first = accepted(lead, phone, 3)[0]
    job = waiting(phone)

    def reads(job):
        return read_of_vehicles(
            queries_of(log, lambda: lead.get(f"/desk/jobs/{job.id}").status_code)
        )

    assert len(reads(job)) == 1
    assert len(reads(first)) == 1


def test_each_job_is_shown_with_what_was_on_file_at_its_time(lead, phone):
    first, second, third = accepted(lead, phone, 3)
    found = [
        lead.get(f"/desk/jobs/{job.id}/export.json").json["rounds"][0]["sheet"]["centering"]
        for job in (first, second, third)
    ]

    sums = [each["left"][0] + sum(each["right"]) / 2 for each in found]
    assert found[0]["known_sum"] is None
    assert [each["known_sum"] for each in found[1:]] == pytest.approx(sums[:2])


def test_a_job_that_is_decided_anew_does_not_see_what_it_put_on_file_itself(lead, phone, log):
    [job] = accepted(lead, phone, 1)
    boss = next(row["id"] for row in log.people() if row["role"] == "lead")
    decided = next(e["id"] for e in log.entries_of_job(job.id) if e["kind"] == "decision")
    body = {"target": decided, "reason": "too soon"}
    log.write_at_desk(boss, [{"kind": "strike", "body": body, **job.place}], "0123456789ab")

    held = lead.get(f"/desk/jobs/{job.id}/export.json").json

    assert "known_sums" in log.vehicle(VEHICLE)["record"]
    assert "known_sums" not in held["vehicle"]["record"]
    assert held["job"]["state"] == "pending"


LINK = {"length": 905, "frame_height": 588, "axle_height": 521, "fore_aft": -12, "arm": 158}


def test_lists_reckon_only_what_they_show(lead, phone, monkeypatch):
    job = waiting(phone)
    job.pick("drag_link", "frame_end", "left")
    for field, value in LINK.items():
        job.read("drag_link", field, value)
    job.file_vehicle()
    job.send()
    lists = ("/desk/vehicles", f"/desk/vehicles/{VEHICLE}")
    before = [text_of(lead.get(address)) for address in lists]
    reckoned = []

    def add_what_if(_, sheet):
        if sheet.get("drag_link") is not None:
            reckoned.append(sheet)

    monkeypatch.setattr(reckon, "add_what_if", add_what_if)

    assert [text_of(lead.get(address)) for address in lists] == before
    assert reckoned == []
    lead.get(f"/desk/jobs/{job.id}")
    assert len(reckoned) == 1


# What the interval of a list draws, and the verdict beside it.
DRAWN = (("centering", "state"), ("centering", "offset"), ("bar_change", "counted_leftover"),
         ("advice", "state"))  # fmt: skip


@given(sheet=good_sheets() | spoiled_sheets() | measured_sheets())
def test_what_a_list_shows_of_a_sheet_is_what_all_its_findings_say(sheet):
    whole, few = assess(sheet), judged(sheet)

    assert few.get("faults") == whole.get("faults")
    for part, key in DRAWN:
        assert (few.get(part) or {}).get(key) == (whole.get(part) or {}).get(key)


def round_of(sheet):
    """A round whose sheet is this one."""
    return Round("as_found", {"sheets": {"as_found": sheet}, "findings": {}, "judged": {}})


def test_a_list_obeys_every_hold_and_not_only_those_of_the_centering():
    sheet = changed(
        SAMPLE,
        units="mm",
        play=[{"joint": "axle end", "of": "track_bar", "along": 0.9, "house_limit": 0.5}],
        steering={"after_bumps": [-30, 30]},
    )
    this = round_of(sheet)

    assert this.interval["held"] is True and this.interval["after"] is None


def test_what_a_list_shows_costs_no_second_reckoning():
    this = round_of(changed(SAMPLE))
    findings = this.findings

    assert this.placed is findings
    assert this.centering == findings["centering"]


STEPS = st.tuples(
    st.sampled_from(["patch", "own", "own", "tag", "confirm", "note"]),
    st.sampled_from(JOBS),
    st.sampled_from(["name", "units", "track_bars", "note"]),
    st.integers(0, 9),
)
CROSSING = st.tuples(st.integers(1, 6), st.integers(0, 5))


def vehicle_entries(steps, crossings, turned):
    """Entries about a vehicle in log order, or with a part that was merged into it before them."""
    made = []
    for number, (kind, job, key, value) in enumerate(steps):
        said = {"tag": {"code": f"tag {value}"}, "confirm": {"key": f"leans {value}"}}
        body = said.get(kind, {key: value})
        if kind == "own":
            body["from_job"] = job
        real = {"own": "vehicle", "patch": "vehicle"}.get(kind, kind)
        entry = {"id": f"e {number}", "seq": number + 1, "kind": real, "vehicle": "v", "body": body}
        made.append(entry)
    for place, target in crossings:
        if place < len(made):
            body = {"target": f"e {target}", "reason": "wrong"}
            made[place] = {**made[place], "kind": "strike", "body": body}
    return made[turned:] + made[:turned]


@given(
    steps=st.lists(STEPS, min_size=5, max_size=20),
    crossings=st.just([]) | st.lists(CROSSING, min_size=1, max_size=2),
    turned=st.just(0) | st.integers(1, 5),
    decided=st.lists(st.none() | st.integers(3, 22), min_size=3, max_size=3),
)
def test_every_job_finds_the_record_that_was_folded_for_it_alone(steps, crossings, turned, decided):
    entries = vehicle_entries(steps, crossings, turned)
    past = Past({"id": "v", "record": fold.fold_vehicle(entries)})
    past.__dict__["entries"] = entries
    filing = {entry["body"].get("from_job") for entry in entries}
    for job, seq in zip(JOBS, decided, strict=True):
        decision = None if seq is None else {"seq": seq}
        folded = {"job": job, "decision": decision, "accepted": None}
        own = [{"kind": "decision"}] if decision or job in filing else []

        assert past.record_at(folded, own) == fold.record_at(entries, folded)


def test_a_job_finds_what_either_record_of_a_merged_vehicle_had_on_file():
    bars = {"front": {"length": 862}, "rear": {"length": 790}}
    entries = [
        {"id": each, "seq": seq, "kind": "vehicle", "vehicle": each,
         "body": {"track_bars": {axle: bars[axle]}}}
        for seq, (each, axle) in enumerate((("part", "front"), ("chief", "rear")), 1)
    ]  # fmt: skip
    past = Past({"id": "chief", "record": fold.fold_vehicle(entries)})
    past.__dict__["entries"] = entries
    folded = {"job": "job 0", "decision": {"seq": 3}, "accepted": None}

    assert past.record_at(folded, [{"kind": "decision"}])["track_bars"] == bars
