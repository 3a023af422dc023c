"""What is asked back about one value as it is typed, before it is kept."""

from .judgment.advice import reason_of_ask
from .judgment.confirmations import is_confirmed, key_of
from .judgment.plausible import ask_of, asks_of_parts
from .sentences.advice_words import asks_with_words, reason_words


def ask_back(path: str, value: float, unit: str, confirmed: list) -> dict | None:
    """The question about a value by its path, {field, says, choices, key, never}; or None.

    `confirmed` are the keys of the questions that were answered with "measured again: it is right";
    where it can `never` be so, that is no answer.
    """
    return first_open(ask_of(path, value), unit, confirmed)


def ask_beside(before: dict, after: dict) -> dict | None:
    """The question that a sheet raises and did not before: about a value that fits no other."""
    known = [key_of(reason_of_ask(each)) for each in asks_of_parts(before)]
    answered = known + (after.get("confirmed") or [])
    return first_open(asks_of_parts(after), after.get("units") or "mm", answered)


def first_open(asks: list, unit: str, confirmed: list) -> dict | None:
    """The first of these questions that nobody has answered, with its words; or None."""
    for ask in asks:
        reason = reason_of_ask(ask)
        if not is_confirmed(reason, confirmed):
            reason["key"] = key_of(reason)
            reason["says"] = reason_words(reason, unit)
            found: dict = asks_with_words([reason], unit)[0]
            found["never"] = reason.get("never") is True
            return found
    return None
