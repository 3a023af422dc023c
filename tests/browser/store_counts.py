"""The phone's store asked what it holds, from a page that knows `phoneStore`."""

from typing import Any

from playwright.sync_api import Page


def counts(page: Page) -> dict[str, Any]:
    """What the store says of itself."""
    return page.evaluate("phoneStore().then((store) => store.counts())")
