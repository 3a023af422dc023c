"""Times as the desk writes them, also where the calendar ends."""

import pytest
from kit.desk_pages import text_of

from webapp.desk import formats
from webapp.desk.formats import shop_time, when

ENDS = {
    "0001-01-01T00:00:00+23:59": "Jan 1, 1, 00:00",
    "9999-12-31T23:59:59-23:59": "Dec 31, 9999, 23:59",
}


@pytest.mark.parametrize(("time", "written"), ENDS.items())
def test_a_time_that_the_shops_clock_cannot_have_is_written_as_it_is(time, written):
    assert when(shop_time(time)) == written


def test_a_command_in_a_sentence_is_set_as_one_and_nothing_else_becomes_markup(lead):
    assert formats.commands("Run `axlewright <b>` now.") == (
        "Run <code>axlewright &lt;b&gt;</code> now."
    )
    assert "Run <code>axlewright backup</code> on the shop PC." in lead.get("/desk/health").text
    for path in ("/desk", "/desk/missing", "/desk/health"):
        assert "`" not in text_of(lead.get(path)), path
