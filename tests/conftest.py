"""What the tests share: a folder, the service on it, a paired phone and a lead at the desk."""

import pytest
from entries import hire
from hypothesis import settings

from webapp.shoplog import ShopLog

settings.register_profile("steady", derandomize=True, database=None, deadline=None)
settings.load_profile("steady")


@pytest.fixture
def log_folder(tmp_path):
    """An empty folder for a shop's log."""
    return tmp_path / "shop"


@pytest.fixture
def log(log_folder):
    """A new shop's log, closed after the test."""
    with ShopLog(log_folder) as opened:
        yield opened


@pytest.fixture
def crew(log):
    """A technician and a lead with a phone each."""
    return hire(log)
