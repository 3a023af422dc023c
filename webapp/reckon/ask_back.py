"""What is asked back about one value as it is typed, before it is kept."""

from .judgment.advice import reason_of_ask
from .judgment.confirmations import is_confirmed, key_of
from .judgment.plausible import ask_of
from .sentences.advice_words import asks_with_words, reason_words


def ask_back(path: str, value: float, unit: str, confirmed: list) -> dict | None:
    """The question about a value of a sheet, {field, says, choices, key}; None where there is none.

    `confirmed` are the keys of the questions that were answered with "measured again, it is so".
    """
    for ask in ask_of(path, value):
        reason = reason_of_ask(ask)
        if not is_confirmed(reason, confirmed):
            reason["key"] = key_of(reason)
            reason["says"] = reason_words(reason, unit)
            found: dict = asks_with_words([reason], unit)[0]
            return found
    return None
