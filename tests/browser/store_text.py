"""The phone's store as text: what its transactions do, step by step."""

import re


def steps_of_transactions(text: str) -> list[str]:
    """The bodies of the functions that are handed to a transaction."""
    bodies = []
    for found in re.finditer(r"\(transaction\) => \{", text):
        depth, end = 1, found.end()
        while depth:
            depth += {"{": 1, "}": -1}.get(text[end], 0)
            end += 1
        bodies.append(text[found.end() : end])
    return bodies
