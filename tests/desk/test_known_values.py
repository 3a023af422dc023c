"""What the lead knows beforehand: the form on the vehicle's page, and what follows from it."""

from kit.desk_pages import VEHICLE, Job, at_desk, text_of

BAR = {
    "frame_end": "left",
    "length": 862.0,
    "frame_height": 612.0,
    "axle_height": 498.0,
    "adjuster": {"kind": "one_end", "pitch": 1.5875, "step": 0.5},
}
LINK = {"length": 905.0, "adjuster": {"kind": "both_ends", "pitch": 1.5, "step": 0}}
OTHER = "2b8c5a90-1f44-4a37-8e0b-5c3d9e7f2099"
PAGE = f"/desk/vehicles/{VEHICLE}"


def on_file(leads_phone, **more):
    job = Job(leads_phone)
    job.file_vehicle(track_bars={"front": BAR}, drag_links={"front": LINK}, **more)
    return job


def keep(lead, **typed):
    return lead.post(f"{PAGE}/known_values", data=typed, follow_redirects=True)


def test_thread_left_is_asked_for_each_threaded_end_and_goes_on_file(lead, leads_phone, log):
    on_file(leads_phone).send()
    says = text_of(lead.get(PAGE))
    assert "Front track bar: thread left at the threaded end" in says
    assert "Front drag link: thread left at the frame end" in says
    assert "Front drag link: thread left at the axle end" in says

    keep(
        lead,
        **{
            "track_bars-front-0": "12.5 mm",
            "drag_links-front-0": "20",
            "drag_links-front-1": "18,5",
        },
    )

    record = log.vehicle(VEHICLE)["record"]
    assert record["track_bars"]["front"] == {
        **BAR,
        "adjuster": {**BAR["adjuster"], "thread_left": 12.5},
    }
    assert record["drag_links"]["front"]["adjuster"]["thread_left"] == [20, 18.5]
    assert "12.5 mm of thread left" in text_of(lead.get(PAGE))


def test_what_was_not_touched_stays_as_exact_as_it_was(lead, leads_phone, log):
    bar = {**BAR, "adjuster": {**BAR["adjuster"], "thread_left": 12.345}}
    job = on_file(leads_phone, units="in").send()
    keep(lead, **{"lean-front": "6.1 mm", "lean-front-side": "right"})
    job.write("vehicle", {"track_bars": {"front": bar}}, job=None)
    job.send()
    written = at_desk(log)
    page = lead.get(PAGE).text
    shown = page.split('name="track_bars-front-0" value="')[1].split('"')[0]
    lean = page.split('name="lean-front" value="')[1].split('"')[0]

    assert "\u2248" in shown and "\u2248" in lean

    typed = {"track_bars-front-0": shown, "lean-front": lean, "lean-front-side": "right"}
    answer = keep(lead, **typed)

    assert "Nothing was changed." in text_of(answer)
    assert at_desk(log) == written


def test_a_known_lean_goes_on_file_with_its_side_and_can_be_taken_off(lead, leads_phone, log):
    on_file(leads_phone).send()

    keep(lead, **{"lean-front": "10", "lean-front-side": "right"})
    assert log.vehicle(VEHICLE)["record"]["known_leans"] == {"front": -10}
    assert "Front axle: known to stand 10.0 mm higher on the right" in text_of(lead.get(PAGE))

    keep(lead, **{"lean-front": "", "lean-front-side": "right"})
    assert log.vehicle(VEHICLE)["record"]["known_leans"] == {}


def test_what_cannot_be_read_or_meant_stays_at_its_field_and_nothing_is_written(
    lead, leads_phone, log
):
    on_file(leads_phone).send()

    answer = keep(lead, **{"track_bars-front-0": "a lot", "drag_links-front-1": "900"})

    assert answer.status_code == 400
    assert 'value="a lot" autocomplete="off" aria-invalid="true"' in answer.text
    assert "Thread left of 900 mm? Usual is 0 to 120 mm" in text_of(answer)
    assert at_desk(log) == []


def test_an_odd_length_offers_its_likeliest_meaning_and_that_it_is_so(lead, leads_phone, log):
    on_file(leads_phone).send()

    page = keep(lead, **{"track_bars-front-0": "300 mm", "drag_links-front-0": "20"}).text

    assert 'name="track_bars-front-0-meant" value="30\u202fmm"' in page
    assert 'name="drag_links-front-0" value="20"' in page
    meant = {"track_bars-front-0": "300 mm", "track_bars-front-0-meant": "30\u202fmm"}
    keep(lead, **meant)
    bar = log.vehicle(VEHICLE)["record"]["track_bars"]["front"]
    assert bar["adjuster"]["thread_left"] == 30
    assert [kind for kind, *_ in at_desk(log)] == ["vehicle"]


KEY = "implausible track_bar.adjuster.thread_left range 130.00"


def test_measured_again_it_is_so_is_an_entry_and_holds_no_job(lead, leads_phone, phone, log):
    on_file(leads_phone).send()
    so_it_is = {"track_bars-front-0": "130", "track_bars-front-0-so_it_is": KEY}

    assert keep(lead, **{**so_it_is, "track_bars-front-0": "131"}).status_code == 400
    assert at_desk(log) == []
    keep(lead, **so_it_is)

    bar = log.vehicle(VEHICLE)["record"]["track_bars"]["front"]
    assert bar["adjuster"]["thread_left"] == 130
    [_, (kind, *_, vehicle, job, body)] = at_desk(log)
    assert (kind, vehicle, job, body["key"]) == ("confirm", VEHICLE, None, KEY)
    assert body["says"].startswith("Thread left of 130\u202fmm?")
    work = Job(phone)
    work.open()
    work.measure()
    work.send()
    assert "Thread left of" not in text_of(lead.get(f"/desk/jobs/{work.id}"))


def test_a_lean_is_confirmed_with_its_side(lead, leads_phone, log):
    on_file(leads_phone).send()
    typed = {"lean-front": "70", "lean-front-side": "right"}
    page = keep(lead, **typed).text
    key = page.split('name="lean-front-so_it_is" value="')[1].split('"')[0]

    keep(lead, **typed, **{"lean-front-so_it_is": key})

    assert log.vehicle(VEHICLE)["record"]["known_leans"] == {"front": -70}
    assert log.vehicle(VEHICLE)["record"]["confirmed"] == [key]
    assert key == "implausible heights.known_lean range \u221270.00"


def test_a_frame_that_is_known_to_lean_is_judged_from_there(lead, phone, leads_phone):
    on_file(leads_phone).send()
    keep(lead, **{"lean-front": "20", "lean-front-side": "left"})
    job = Job(phone)
    job.open()
    job.measure()
    job.read("heights", "left", 250.0)
    job.read("heights", "right", 220.0)
    job.send()
    assert "That alone moves the rails" not in text_of(lead.get(f"/desk/jobs/{job.id}"))

    keep(lead, **{"lean-front": "", "lean-front-side": "left"})
    other = Job(phone)
    other.place["job"] = OTHER
    other.open()
    other.measure()
    other.read("heights", "left", 250.0)
    other.read("heights", "right", 220.0)
    other.send()
    says = text_of(lead.get(f"/desk/jobs/{OTHER}"))
    assert "The frame stands 30.0 mm higher on the left. That alone moves the rails" in says
