"""What the tests of the shop log share."""

import pytest
from kit.entries import hire

from webapp.shoplog import ShopLog


@pytest.fixture(scope="module")
def long_log(tmp_path_factory):
    """One log for the many examples of a law, each with ids of its own."""
    with ShopLog(tmp_path_factory.mktemp("shop")) as opened:
        yield opened


@pytest.fixture(scope="module")
def long_crew(long_log):
    """The crew of that log."""
    return hire(long_log)
