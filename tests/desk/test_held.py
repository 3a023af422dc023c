"""A round on hold at the desk: nothing to set and nothing green, on any page or on paper."""

import html
import json
import re

import pytest
from kit.desk_pages import VEHICLE, Job, decision_form, text_of
from kit.held_sheets import HELD, KNOWN
from kit.worked_sheets import LIMITS, changed

from webapp.reckon import job_view
from webapp.reckon.assess import assess

ORDERS = re.compile(
    r"(?:\bturns?|\bflats?) (?:in|out)\b|(?<!no )\blonger\b|\bshorter\b|Make the"
    r"|Leave the track bar"
)
GREEN = re.compile(r"\b(?:word|is)-inside\b")


def inside(phone):
    """A job whose axle sits inside, not handed in yet."""
    job = Job(phone)
    job.file_vehicle()
    job.open()
    job.measure(left=(204.0, 204.0), right=(203.2, 203.2))
    return job


@pytest.fixture
def held(phone):
    """A job whose axle sits inside, on hold for a joint outside its limit."""
    job = inside(phone)
    job.pick("play", "limit", {"joint": "frame end", "house_limit": 0.5})
    job.read("play", "along", 2.0, joint="frame end", of="track_bar")
    job.hand_in([], None)
    return job.send()


def pages(job):
    return [
        "/desk", "/desk/pending/list", f"/desk/jobs/{job.id}", "/desk/vehicles",
        f"/desk/vehicles/{VEHICLE}",
    ]  # fmt: skip


def drawn(page):
    """What the drawings of a page are made from."""
    return [json.loads(html.unescape(each)) for each in re.findall(r"data-data='([^']*)'", page)]


def test_no_page_shows_a_held_round_in_green_or_orders_anything(lead, held):
    for address in pages(held):
        page = lead.get(address)
        assert page.status_code == 200, address
        assert not GREEN.search(page.text), address
        assert not ORDERS.search(text_of(page)), address
        for data in drawn(page.text):
            for point in data.get("points", [data]):
                assert point.get("state") != "inside" or point["held"] is True, address
            for series in data.get("series", []):
                assert all(point.get("color") != "inside" for point in series["points"]), address


@pytest.mark.parametrize("code", HELD)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_no_reason_to_hold_leaves_an_order_on_any_page_or_on_paper(
    lead, held, monkeypatch, code, unit
):
    """What only paper shows stands on the job's page too."""
    sheet = changed(KNOWN, **{"steering": {"wheel_deg": 20}, **HELD[code]})
    sheet = {**sheet, "units": unit, "limits": {**LIMITS, **sheet.get("limits", {})}}
    monkeypatch.setattr(job_view, "sheet_for", lambda *_: sheet)

    for address in pages(held):
        page = lead.get(address)
        assert page.status_code == 200, address
        assert not GREEN.search(page.text), address
        assert not ORDERS.search(text_of(page)), address
    says = " ".join(assess(sheet)["says"].split())
    assert says in text_of(lead.get(f"/desk/jobs/{held.id}"))


def test_an_accepted_round_that_was_on_hold_stays_without_green(lead, held):
    form = decision_form(lead.get(f"/desk/jobs/{held.id}"), "accepted")
    assert lead.post(f"/desk/jobs/{held.id}/decision", data=form).status_code == 303

    assert "inside, on hold" in text_of(lead.get(f"/desk/vehicles/{VEHICLE}"))
    for address in pages(held):
        assert not GREEN.search(lead.get(address).text), address


def test_the_same_round_with_nothing_to_hold_it_is_green(lead, phone):
    job = inside(phone)
    job.hand_in([], None)
    job.send()

    assert "word-inside" in lead.get(f"/desk/vehicles/{VEHICLE}").text
