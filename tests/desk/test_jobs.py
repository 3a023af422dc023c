"""A job's page: rounds, limits with their source, and every entry."""

import re

from kit.desk_pages import Job, handed_in, page_of, text_of


def test_a_round_shows_answer_readings_numbers_and_why(lead, phone):
    says = text_of(page_of(lead, handed_in(phone)))

    assert "The axle sits 5.4 mm to the left. Make the track bar 5.4 mm longer" in says
    assert "Left driver's 214.4 mm 214.4 mm" in says
    assert "Right 203.2 mm 204.0 mm" in says
    assert "Sides differ by 10.8 mm, left" in says
    assert "The offset is half the difference between the sides" in says
    assert "On its wheels, floor level" in says


def test_two_rounds_stand_side_by_side_with_what_changed(lead, phone):
    job = Job(phone)
    job.open()
    job.measure()
    job.round = "as_left"
    job.measure(left=(209.0, 209.0), right=(209.2, 209.2))
    job.hand_in()

    page = page_of(lead, job)

    assert "The axle moved 5.5 mm to the right: from 5.4 mm left of center" in text_of(page)
    assert page.text.index('id="round-as_found"') < page.text.index('id="round-as_left"')
    assert page.text.count('data-figure="interval"') == 2
    assert page.text.count('data-figure="axle_view"') == 2


def test_limits_say_where_they_come_from(lead, phone, log):
    boss = next(row for row in log.people() if row["role"] == "lead")
    body = {"name": "offset", "value": 2.5, "reason": "long trailers"}
    log.write_at_desk(boss["id"], [{"kind": "limit", "body": body}], "0123456789ab")
    job = handed_in(phone)

    says = text_of(page_of(lead, job))

    assert "Offset, each way 2.5 mm House limit, set by Orla Bennett on" in says
    assert ": long trailers" in says
    assert "Repeat, one side 1.5 mm House limit, default." in says


def test_an_entry_shows_who_when_and_as_typed(lead, phone):
    job = Job(phone)
    job.open()
    entry = job.read("centering", "left", 214.3125, typed="8 7/16", unit="in")

    says = text_of(page_of(lead, job))

    made = "Nov 25, 2026, 10:42:07 +01:00"
    line = f"{entry['local_no']} Centering: left 8 7/16 8 7/16 in"
    assert f"{line} Dana Reyes, Dana Reyes's phone {made}" in says


def test_a_struck_entry_stays_in_sight_with_its_reason(lead, phone):
    job = Job(phone)
    job.open()
    wrong = job.read("centering", "left", 240.0, typed="24 cm")
    job.write("strike", {"target": wrong["id"], "reason": "tape was on the flange"})

    page = page_of(lead, job)

    assert "<s>24 cm</s>" in page.text
    assert "Struck by Dana Reyes: tape was on the flange" in text_of(page)
    assert "Strike of “Centering: left, 240.0 mm” tape was on the flange" in text_of(page)


def test_what_was_changed_stands_above_the_rounds(lead, phone):
    job = Job(phone)
    job.open()
    job.in_round("change", {"what": "bar_turned", "turns": 3, "length_change": 4.76})
    wrong = job.in_round("change", {"what": "link_turned", "turns": 1})
    job.write("strike", {"target": wrong["id"], "reason": "not done"})

    says = text_of(page_of(lead, job)).split("Changed in this job")[1].split("As found")[0]

    assert "Track bar turned, 3 turns out" in says
    assert re.search("4.8 mm longer with nothing measured, Nov 25, 2026, .* Dana Reyes", says)
    assert "Drag link" not in says


def test_a_change_is_told_with_where_it_lies_between_the_rounds(lead, phone):
    job = Job(phone)
    job.open()

    def turned(turns):
        job.in_round("change", {"what": "bar_turned", "turns": turns})

    def told():
        says = text_of(page_of(lead, job)).split("Changed in this job")[1].split("As found")[0]
        return re.findall("(before|during|between|after) (as [a-z]+(?: and as [a-z]+)?)", says)

    turned(1)
    job.measure()
    turned(2)
    assert told() == [("before", "as found"), ("after", "as found")]

    struck = job.read("centering", "left", 240.0)
    job.write("strike", {"target": struck["id"], "reason": "wrong face"})
    assert told() == [("before", "as found"), ("after", "as found")]

    job.read("centering", "left", 214.4)
    turned(3)
    job.round = "as_left"
    job.measure()

    assert told() == [
        ("before", "as found"),
        ("during", "as found"),
        ("between", "as found and as left"),
    ]


def test_a_replaced_entry_names_what_replaced_it(lead, phone):
    job = Job(phone)
    job.open()
    first = job.read("track_bar", "length", 860)
    second = job.read("track_bar", "length", 862, replaces=first["id"])

    assert f"Replaced by Dana Reyes with no. {second['local_no']}" in text_of(page_of(lead, job))


def test_text_from_a_phone_is_shown_as_text(lead, phone):
    job = Job(phone)
    job.open(about="<b>bold</b>")
    job.write("note", {"text": "<script>alert(1)</script>"})

    page = page_of(lead, job).text

    assert "<script>alert" not in page and "<b>bold" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_an_open_job_offers_no_decision(lead, phone):
    job = Job(phone)
    job.open()

    assert "Send back" not in page_of(lead, job).text


def test_a_later_house_limit_does_not_judge_an_accepted_job(lead, phone, log):
    job = handed_in(phone, left=(205.0, 205.0), right=(203.2, 203.2))
    boss = next(row for row in log.people() if row["role"] == "lead")
    [hand_in] = [e for e in log.entries_of_job(job.id) if e["kind"] == "hand_in"]
    decided = {"hand_in": hand_in["id"], "verdict": "accepted", "reason": None}
    limit = {"name": "offset", "value": 0.5, "reason": "tighter"}
    drafts = [{"kind": "decision", "body": decided, **job.place}, {"kind": "limit", "body": limit}]
    log.write_at_desk(boss["id"], drafts, "0123456789ab")

    assert "inside the limit of 3 mm" in text_of(page_of(lead, job))


def test_a_plan_is_listed_with_what_it_moves(lead, phone):
    job = Job(phone)
    job.open()
    job.in_round("plan", {"name": "Higher bracket", "axle_end_up": 40, "pitman_down": 0})

    page = text_of(page_of(lead, job))

    assert "Plan: Higher bracket" in page
    assert "track bar's axle end up 40 mm" in page
