"""A page whose phone is paired with a real shop, and ways to look at what arrived there."""

import json
from collections.abc import Callable
from typing import Any

from chrome import prepare
from kit.phones import Phone
from kit.servers import Server
from playwright.sync_api import BrowserContext, Page, Request, Route

TICK_MS = 300
PUSH = "**/log/push"
ALL_SENT = "allSent()"
# What the entries of page.js are about.
VEHICLE = "11111111-1111-4111-8111-111111111111"


class ShopPage:
    """Blank pages of one browser, whose phone is paired with the shop."""

    def __init__(self, context: BrowserContext, server: Server, phone: Phone) -> None:
        """Prepare the context; `origin` may be set to another way to the shop."""
        self.context = prepare(context, phone.ask("GET", "/build.json").json["build"])
        self.server = server
        self.phone = phone
        self.origin = server.url

    def open(self) -> Page:
        """One more tab, its store holding the pairing."""
        page = self.context.new_page()
        page.goto(f"{self.origin}/blank")
        page.evaluate(
            "(facts) => phoneStore().then((store) => store.setFacts(facts))", self.facts()
        )
        return page

    def facts(self) -> dict[str, Any]:
        """What pairing leaves in the store, and a short tick."""
        return {
            "server_id": self.phone.server_id,
            "epoch": 1,
            "phone": {"id": self.phone.id},
            "person": self.phone.person,
            "credential": self.phone.credential,
            "tick_ms": TICK_MS,
        }

    def arrived(self) -> list[str]:
        """The ids of all entries in the log, in its order."""
        return [entry["id"] for entry in self.phone.pull().json["entries"]]


def until(page: Page, condition: str) -> None:
    """Return once the condition, which may be a promise, comes true in the page."""
    page.evaluate(f"until(() => {condition})")


def sent(request: Request) -> dict[str, Any]:
    """The batch that a push carries."""
    return json.loads(request.post_data or "{}")


def batches_only(answer: Callable[[Route], None]) -> Callable[[Route], None]:
    """Leaves pushes without entries alone and gives the others to `answer`."""

    def handle(route: Route) -> None:
        if sent(route.request)["entries"]:
            answer(route)
        else:
            route.continue_()

    return handle


def refusal(status: int, code: str, **headers: str) -> dict[str, Any]:
    """What fulfils a request in the shop's name with this refusal."""
    body = json.dumps({"error": {"code": code, "says": f"The shop says {code}."}})
    return {
        "status": status,
        "content_type": "application/json",
        "headers": {"Content-Type": "application/json", **headers},
        "body": body,
    }
