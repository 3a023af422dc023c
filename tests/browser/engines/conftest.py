"""What the tests in three browsers share: a technician with a phone of each of them."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from engines.browsers import BROWSERS, Browser
from engines.technician import Technician
from kit.phones import Phone
from kit.servers import Server


@pytest.fixture(params=BROWSERS)
def new_browser(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Callable[[], Browser]]:
    """Starts a browser on the test's one profile: new_browser()."""
    started: list[Browser] = []

    def start() -> Browser:
        started.append(BROWSERS[request.param](tmp_path / "phone"))
        started[-1].start()
        return started[-1]

    yield start
    for browser in started:
        browser.kill()


@pytest.fixture
def technician(new_browser: Callable[[], Browser], shop_of_one: tuple[Server, Phone]) -> Technician:
    """A technician with a paired phone, at the list of vehicles."""
    made = Technician(new_browser(), shop_of_one[0])
    made.pair()
    return made
