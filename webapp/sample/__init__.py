"""The sample shop: a made-up county shop, its vehicles, its people and a year of its jobs.

Everything comes out the same each time, from fixed seeds and without a clock; the year ends on
`LAST_DAY`. Only the ids of people and phones are the log's own.
"""

from collections.abc import Mapping

from webapp.shoplog import ShopLog

from .entry_writer import Entry
from .people import DESKS, PEOPLE, PHONES
from .shop import Shop
from .year import LAST_DAY

__all__ = ["LAST_DAY", "entries", "load"]

# No credential hashes to this, so nobody can send as one of the sample's phones.
NO_CREDENTIAL = "none: sample phone of {}"


def entries(phones: Mapping[str, str]) -> list[tuple[str, list[Entry]]]:
    """The year as (phone id, batch) in order of arrival; `phones` names an id for each key.

    The keys are those of `people.PHONES` and `people.DESKS`.
    """
    return [(batch.phone, batch.entries) for batch in Shop(phones).run()]


def load(log: ShopLog) -> None:
    """Fill an empty log with the sample shop; ValueError where the log holds or refuses entries."""
    if log.pull(0, 1)["entries"]:
        raise ValueError("The sample shop goes into an empty log only.")
    for batch in Shop(register(log)).run():
        for answer in log.append(batch.phone, batch.entries, received_at=batch.sent_at):
            if answer["verdict"] != "stored":
                raise ValueError(f"The sample's entry {answer['id']}: {answer['reason']}")


def register(log: ShopLog) -> dict[str, str]:
    """Add the people and phones; the phones' IDs by their keys."""
    people = {person.key: log.add_person(person.name, person.role)["id"] for person in PEOPLE}
    phones = {
        key: log.add_phone(people[key], name, NO_CREDENTIAL.format(key))["id"]
        for key, name in PHONES.items()
    }
    return phones | {key: log.desk_of(people[person])["id"] for key, person in DESKS.items()}
