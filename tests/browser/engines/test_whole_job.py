"""The technician's whole job in three browsers, with the shop in reach and without it."""

import pytest
from yard import TAG, expected_answer

pytestmark = pytest.mark.browser

HEIGHTS = ["8 3/4", "8 5/8"]
SIDES = ["8 7/16", "8 7/16", "8", "8 1/16"]


def the_job(phone):
    """The entries of the only job, as the shop has them."""
    return [entry for entry in phone.pull(most=500).json["entries"] if entry["job"]]


def readings_of(job):
    """The readings among those entries, as they were typed."""
    return [entry["typed"] for entry in job if entry["kind"] == "reading"]


def test_the_whole_job(technician, shop_of_one):
    technician.open_tag()
    technician.open_job()
    technician.make_ready()
    technician.read(*HEIGHTS)
    technician.press("Next: centering")
    technician.read(*SIDES)
    assert technician.text(".answer") == expected_answer()
    technician.hand_in()
    technician.shows(".state", "Everything is at the shop")

    job = the_job(shop_of_one[1])
    assert readings_of(job) == [*HEIGHTS, *SIDES]
    assert job[-1]["kind"] == "hand_in"


def test_the_whole_job_out_of_reach_with_a_browser_that_is_killed(
    technician, new_browser, shop_of_one
):
    """The tag opens the app from nothing, and what was shown as saved outlives the kill at once."""
    server, phone = shop_of_one
    server.stop()
    technician.browser.run("location.reload()")
    technician.open_tag()
    technician.open_job()
    technician.make_ready()
    technician.read(HEIGHTS[0])
    technician.browser.kill()
    technician.browser = new_browser()
    technician.browser.go(f"{server.url}/t/{TAG}")
    technician.press("as found")
    technician.press("Continue: ride height")
    technician.read(HEIGHTS[1])
    technician.press("Next: centering")
    technician.read(*SIDES)
    assert technician.text(".answer") == expected_answer()
    technician.hand_in()
    technician.shows(".state", "on this phone only")

    server.start()
    technician.touch(".state")
    technician.press("Try the shop again")
    technician.shows(".state", "Everything is at the shop")
    job = the_job(phone)
    assert readings_of(job) == [*HEIGHTS, *SIDES]
    assert job[-1]["kind"] == "hand_in"
