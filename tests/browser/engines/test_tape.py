"""The drawn tape in three browsers: the mark under the finger is the mark that is entered."""

import pytest
from engines.browsers import PHONE

pytestmark = pytest.mark.browser

# Upright, held across and on a tablet; where there is room beside the tape it is drawn in part of
# its box, and the touch must be reckoned with that.
SIZES = [PHONE, (800, 360), (768, 1024)]


def test_the_mark_under_the_finger_is_entered_on_any_screen(technician):
    technician.open_tag()
    technician.open_job()
    technician.make_ready()
    for size in SIZES:
        technician.browser.resize(*size)
        for fraction in ("1/16", "7/16", "15/16"):
            technician.touch_mark(fraction)
            technician.pad_reads(fraction)
    technician.press("32nds")
    for size in SIZES:
        technician.browser.resize(*size)
        for fraction in ("1/32", "15/32", "31/32"):
            technician.touch_mark(fraction)
            technician.pad_reads(fraction)
