"""House limits: what they do, who set them and why, and setting them anew."""

from datetime import date, timedelta

import pytest
from kit.desk_pages import Job, at_desk, handed_in, text_of

from webapp.desk.formats import day


def set_to(lead, name, value, reason="long trailers", since=""):
    form = {f"{name}-value": value, f"{name}-reason": reason, f"{name}-since": since}
    return lead.post(f"/desk/limits/{name}", data=form)


def under_way(phone):
    """A job that was opened and not handed in."""
    job = Job(phone)
    job.file_vehicle()
    job.open()
    return job.send()


@pytest.mark.parametrize(
    ("name", "typed", "mm"),
    [
        ("offset", "2.5", 2.5),
        ("repeat", "2 mm", 2),
        ("face_u", "0,8 mm", 0.8),
        ("clearance", "12", 12),
    ],
)
def test_setting_a_limit_writes_it_as_typed_with_its_reason(lead, log, name, typed, mm):
    answer = set_to(lead, name, typed)

    boss = next(row for row in log.people() if row["role"] == "lead")
    body = {"name": name, "value": mm, "reason": "long trailers"}
    assert answer.status_code == 303
    assert at_desk(log) == [("limit", 1, boss["id"], None, None, body)]
    assert log.limit_entries()[0]["typed"] == typed


def test_a_limit_that_no_shop_has_is_asked_back_and_kept_once_it_is_so(lead, log):
    asked = set_to(lead, "offset", "25")

    assert asked.status_code == 400
    assert "Did you mean 2.5" in text_of(asked)
    assert at_desk(log) == []
    key = "implausible limit.offset range 25.00"
    form = {"offset-value": "25", "offset-reason": "long trailers", "offset-value-so_it_is": key}
    assert lead.post("/desk/limits/offset", data=form).status_code == 303
    assert [(kind, body.get("key")) for kind, *_, body in at_desk(log)] == [
        ("limit", None),
        ("confirm", key),
    ]


def test_the_likeliest_meaning_of_a_limit_is_one_tap_and_no_answer_to_the_enter_key(lead, log):
    page = set_to(lead, "offset", "25").text
    form = page.split('action="/desk/limits/offset"')[1].split("</form>")[0]

    assert 'name="offset-value-meant" value="2.5' in form
    # The first button of a form is the one that the Enter key presses.
    assert form.index('<button class="hidden-words"') < form.index("offset-value-meant")
    meant = {"offset-value": "25", "offset-value-meant": "2.5 mm", "offset-reason": "typed wrong"}
    assert lead.post("/desk/limits/offset", data=meant).status_code == 303
    assert [body["value"] for *_, body in at_desk(log)] == [2.5]


def test_a_limit_past_its_bounds_offers_only_what_a_shop_can_set(lead, log):
    page = set_to(lead, "offset", "250").text
    form = page.split('action="/desk/limits/offset"')[1].split("</form>")[0]

    assert "between 0.5 and 50 mm" in form and "offset-value-so_it_is" not in form
    assert 'name="offset-value-meant" value="25' not in form
    assert at_desk(log) == []


def test_a_limit_that_cannot_be_read_offers_what_it_may_be(lead, log):
    page = set_to(lead, "clearance", "21/4").text

    assert page.count('name="clearance-value-meant"') == 2
    meant = {"clearance-value": "21/4", "clearance-value-meant": "2 1/4 in"}
    meant["clearance-reason"] = "trailers"
    asked = lead.post("/desk/limits/clearance", data=meant)
    assert asked.status_code == 400 and 'value="2 1/4 in"' in asked.text
    assert "A clearance limit of" in text_of(asked)


def test_the_answer_counts_for_that_limit_only(lead, log):
    key = "implausible limit.offset range 25.00"
    form = {"offset-value": "26", "offset-reason": "long trailers", "offset-value-so_it_is": key}

    assert lead.post("/desk/limits/offset", data=form).status_code == 400
    assert at_desk(log) == []


def test_a_limit_may_be_typed_in_inches(lead, log):
    set_to(lead, "offset", "1/8 in")

    assert at_desk(log)[0][5]["value"] == pytest.approx(3.175)


@pytest.mark.parametrize(
    ("typed", "shows"),
    [
        ("1/8", "1/8 in (3.18 mm)"),
        ("3/16 in", "3/16 in (4.76 mm)"),
        ("0.19", "0.19 in (4.83 mm)"),
        ("3 mm", "3 mm (0.1181 in)"),
    ],
)
def test_a_shop_of_inches_sees_and_types_its_limits_in_inches(lead, log, typed, shows):
    log.set_settings({"shop_units": "in"})

    answer = set_to(lead, "offset", typed)

    page = text_of(lead.get(answer.location))
    assert f"Offset is {shows} from now on." in page
    assert f"Offset {shows} How far" in page
    assert f"{shows} Orla Bennett," in page
    assert "New limit, in or mm" in page
    assert "Repeat ≈ 1/16 in (1.5 mm)" in page


def test_a_limit_out_of_bounds_is_refused_in_the_units_of_the_shop(lead, log):
    log.set_settings({"shop_units": "in"})

    answer = set_to(lead, "offset", "3")

    assert "This limit must be between 0.02 and 2 in (0.5 and 50 mm)." in text_of(answer)


def test_the_page_shows_the_limit_in_force_and_its_history(lead):
    set_to(lead, "offset", "4", "old springs")
    set_to(lead, "offset", "2.5", "new bushings")

    says = text_of(lead.get("/desk/limits"))

    assert "Offset 2.5 mm How far the middle of the axle may be" in says
    assert says.index("2.5 mm Orla Bennett,") < says.index("4 mm Orla Bennett,")
    assert "new bushings" in says and "old springs" in says


def test_limits_nobody_set_are_as_delivered(lead):
    says = text_of(lead.get("/desk/limits"))

    assert "Offset 3 mm" in says and "Repeat 1.5 mm" in says and "Face 0.5 mm" in says
    assert says.count("Default. Nobody has changed it yet.") == 5
    assert "Clearance not set" in says


@pytest.mark.parametrize(
    ("value", "reason", "says"),
    [
        ("", "why", "Nothing was entered."),
        ("4-4.5", "why", "That is a range."),
        ("200", "why", "This limit must be between 0.5 and 50 mm."),
        ("0.1", "why", "This limit must be between 0.5 and 50 mm."),
        ("2.5", " ", "Say why the shop sets this limit"),
        ("2.5", "x" * 1001, "Keep the reason under 1000 characters."),
    ],
)
def test_a_bad_limit_is_refused_at_its_field_and_kept_as_typed(lead, log, value, reason, says):
    answer = set_to(lead, "offset", value, reason)

    assert answer.status_code == 400
    assert says in text_of(answer)
    assert f'value="{value}"' in answer.text
    assert at_desk(log) == []


def test_there_is_no_other_limit(lead, log):
    assert set_to(lead, "weight", "3").status_code == 404
    assert at_desk(log) == []


def days_from_now(number):
    return (date.today() + timedelta(days=number)).isoformat()


def test_a_limit_for_a_later_day_counts_from_then_on(lead, phone, log):
    job = handed_in(phone)

    answer = set_to(lead, "offset", "8", since=days_from_now(1))

    assert at_desk(log)[0][5]["from"] == days_from_now(1)
    says = text_of(lead.get(answer.location))
    assert f"Offset is 8 mm from {day(days_from_now(1))}." in says
    assert f"Offset 3 mm 8 mm from {day(days_from_now(1))}" in says
    held = lead.get(f"/desk/jobs/{job.id}/export.json").json
    assert held["limits"]["offset"] == 3.0
    assert "House limit, default." in text_of(lead.get(f"/desk/jobs/{job.id}"))


def test_a_limit_of_today_or_a_past_day_counts_at_once(lead, phone, log):
    job = under_way(phone)

    set_to(lead, "offset", "8", since=days_from_now(-3))
    set_to(lead, "repeat", "2", since=days_from_now(0))

    held = lead.get(f"/desk/jobs/{job.id}/export.json").json["limits"]
    assert (held["offset"], held["repeat"]) == (8, 2)
    assert ["from" in body for *_, body in at_desk(log)] == [True, False]


def test_a_limit_begins_no_earlier_than_the_one_before_it(lead, log):
    set_to(lead, "offset", "8", since=days_from_now(-3))

    answer = set_to(lead, "offset", "2.5", since=days_from_now(-4))

    began = (
        f"The current limit started on {day(days_from_now(-3))}: enter that date or a later one."
    )
    assert answer.status_code == 400 and began in text_of(answer)
    assert len(at_desk(log)) == 1
    assert set_to(lead, "offset", "2.5", since=days_from_now(-3)).status_code == 303


def test_a_later_setting_takes_the_place_of_one_that_has_not_begun(lead):
    set_to(lead, "offset", "8", since=days_from_now(9))
    set_to(lead, "offset", "5", since=days_from_now(5))
    set_to(lead, "offset", "6", since=days_from_now(7))

    says = text_of(lead.get("/desk/limits"))

    ahead = f"5 mm from {day(days_from_now(5))} 6 mm from {day(days_from_now(7))}"
    assert f"Offset 3 mm {ahead} How far" in says


def test_what_is_no_day_is_refused_at_its_field(lead, log):
    answer = set_to(lead, "offset", "8", since="soon")

    assert answer.status_code == 400 and "Enter a date such as 2026-12-24." in text_of(answer)
    assert at_desk(log) == []


def test_a_job_keeps_the_limits_that_held_when_it_was_handed_in(lead, phone, log):
    job = handed_in(phone)
    set_to(lead, "offset", "8")

    says = text_of(lead.get(f"/desk/jobs/{job.id}"))

    assert "Offset, each way 3 mm House limit, default. Today it is 8 mm." in says
    assert "inside" not in says.split("Limits")[0].split("Offset against the limit")[0]


def test_a_job_under_way_goes_by_the_limits_of_today(lead, phone, log):
    job = under_way(phone)
    set_to(lead, "offset", "8")

    says = text_of(lead.get(f"/desk/jobs/{job.id}"))

    assert "Offset, each way 8 mm House limit, set by" in says
    assert "Today it is" not in says


def test_bump_steer_has_a_house_limit_in_degrees(lead, phone, log):
    answer = set_to(lead, "bump_steer", "0.2")

    assert answer.status_code == 303
    page = text_of(lead.get("/desk/limits"))
    assert "0.2° in 25 mm" in page and "New limit, degrees in 25 mm" in page
    assert log.limit_entries()[-1]["body"]["value"] == 0.2
    refused = set_to(lead, "bump_steer", "9")
    assert refused.status_code == 400
    assert "This limit must be between 0.05 and 5 degrees." in text_of(refused)


@pytest.mark.parametrize(
    ("shop", "typed", "shows"),
    [
        ("mm", "3/16 in", "3/16\u202fin (4.76\u202fmm)"),
        ("mm", "0.19 in", "0.19\u202fin (4.83\u202fmm)"),
        ("mm", "5", "5\u202fmm"),
        ("mm", "5 mm", "5\u202fmm"),
        ("in", "5 mm", "5\u202fmm (0.1969\u202fin)"),
        ("in", "3/16", "3/16\u202fin (4.76\u202fmm)"),
    ],
)
def test_a_limit_is_shown_in_the_unit_it_was_typed_in(lead, log, shop, typed, shows):
    log.set_settings({"shop_units": shop})
    form = {"offset-value": typed, "offset-reason": "as the fleet wants it"}

    page = lead.post("/desk/limits/offset", data=form, follow_redirects=True).text

    assert f"Offset is {shows} from now on." in page
    assert page.count(shows) >= 3
