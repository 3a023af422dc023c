"""People as sentences name them, on a phone whose person is called you."""

from .change_words import listed


def called(people: dict, person: str | None) -> dict:
    """What each id of `people` {id: {name, before}} is called, and work that no shop has yet: `""`.

    That is of the `person` whose phone it is; without one nobody is called you. Somebody who was
    renamed is told with the names `before`, as older work was done under those.
    """
    names: dict = {}
    for hand in people:
        before = people[hand].get("before") or []
        formerly = f" (before: {listed(before)})" if len(before) > 0 else ""
        names[hand] = f"{people[hand]['name']}{formerly}"
    if person is not None:
        names[person] = "you"
        names[""] = "you"
    return names


def names_of(hands: list, names: dict) -> list:
    """What the hands that are known are called, each once; `names` as `called` gives them."""
    found: list = []
    for hand in hands:
        if names.get(hand) is not None and names[hand] not in found:
            found.append(names[hand])
    return found


def by_words(hands: list, names: dict) -> str:
    """By whom something was done, with its comma before it; empty where nobody is known."""
    who = names_of(hands, names)
    return f", by {listed(who)}" if len(who) > 0 else ""
