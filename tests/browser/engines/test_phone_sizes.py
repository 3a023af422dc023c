"""Every screen in three browsers at phone size: nothing too wide, cut off or out of reach."""

import pytest
from engines.browsers import PHONE
from engines.technician import Technician
from inspector import CUT_OFF, SMALL_TARGETS, TARGETS, TOO_WIDE
from visits import VISITS, Yard

pytestmark = pytest.mark.browser

SIZES = [PHONE, (320, 568)]
FAULTS = f"""[
  ...(document.documentElement.scrollWidth > innerWidth ? ({TOO_WIDE})(innerWidth) : [])
    .map((fault) => `too wide: ${{fault}}`),
  ...({CUT_OFF})().map((fault) => `cut off: ${{fault}}`),
  ...({SMALL_TARGETS})(arguments[0]).map((fault) => `too small: ${{fault}}`),
  ...outOfReach(),
]"""


@pytest.fixture
def visitor(new_browser, real_server, leads_phone):
    """A technician in a shop with a job at every stage, and where to find them."""
    places = Yard(real_server[1], leads_phone).places
    made = Technician(new_browser(), real_server[0])
    made.pair()
    made.shows(".state", "Everything is at the shop")
    return made, places


def test_every_screen_fits_and_every_button_is_in_reach(visitor):
    technician, places = visitor
    faults = []
    for size in SIZES:
        technician.browser.resize(*size)
        for name, (address, words) in VISITS.items():
            technician.browser.run("location.hash = arguments[0]", address.format(**places))
            technician.shows("main", words)
            found = technician.look(FAULTS, TARGETS)
            faults += [f"{name}, {size[0]} wide: {fault}" for fault in found]
    assert not faults, "\n".join(faults)
