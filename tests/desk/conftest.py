"""What the tests of the desk share beside what all tests do."""

import pytest


@pytest.fixture
def leads_phone(new_phone):
    """The lead's paired phone, which may file what a technician's may not."""
    return new_phone("Orla Bennett")
