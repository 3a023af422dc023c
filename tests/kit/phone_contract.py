"""The contract of entries as phones check it, in a JavaScript engine."""

import json
from functools import cache
from typing import Any

from py_mini_racer import MiniRacer

from kit.engine import reckon_script
from webapp.phone.compiler.bundle import closure, shared
from webapp.phone.shell_files import SOURCES

TABLE, CONTRACT = "js/store/contract_table.js", "js/store/contract.js"
TEXTS = {name: (SOURCES / name).read_text("utf-8") for name in (TABLE, CONTRACT)}
KNOWN = shared(TEXTS)


@cache
def engine() -> MiniRacer:
    """An engine that holds the phone's contract and the arithmetic that it asks."""
    context = MiniRacer()
    parts = [
        reckon_script(),
        "const entry_rules$rules_broken = reckon.entry_rules.rules_broken;",
        *(closure(name, text, KNOWN) for name, text in TEXTS.items()),
    ]
    context.eval("\n".join(parts))
    return context


def on_phone(name: str, *given: Any) -> Any:
    """The answer of one of the contract's functions to values that JSON can hold."""
    values = ", ".join(json.dumps(each) for each in given)
    return json.loads(engine().eval(f"JSON.stringify({KNOWN[CONTRACT][name]}({values}))"))
