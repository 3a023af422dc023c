"""House limits: what they do, who set them and why, and setting them anew."""

import pytest
from desk_kit import at_desk, text_of


def set_to(lead, name, value, reason="long trailers"):
    form = {f"{name}-value": value, f"{name}-reason": reason}
    return lead.post(f"/desk/limits/{name}", data=form)


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


def test_a_limit_may_be_typed_in_inches(lead, log):
    set_to(lead, "offset", "1/8 in")

    assert at_desk(log)[0][5]["value"] == pytest.approx(3.175)


def test_the_page_shows_the_limit_in_force_and_its_history(lead):
    set_to(lead, "offset", "4", "old springs")
    set_to(lead, "offset", "2.5", "new bushes")

    says = text_of(lead.get("/desk/limits"))

    assert "Offset 2.5 mm How far the axle's middle may sit" in says
    assert says.index("2.5 mm Orla Bexwick,") < says.index("4 mm Orla Bexwick,")
    assert "new bushes" in says and "old springs" in says


def test_limits_nobody_set_are_as_delivered(lead):
    says = text_of(lead.get("/desk/limits"))

    assert "Offset 3 mm" in says and "Repeat 1.5 mm" in says and "Face 0.5 mm" in says
    assert says.count("As delivered. Nobody has set it yet.") == 3
    assert "Clearance not set" in says


@pytest.mark.parametrize(
    ("value", "reason", "says"),
    [
        ("", "why", "Nothing was entered."),
        ("4-4.5", "why", "That is a range."),
        ("200", "why", "This limit lies between 0.5 and 50 mm."),
        ("0.1", "why", "This limit lies between 0.5 and 50 mm."),
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
