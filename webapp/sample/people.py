"""The people of the sample shop and how they write; all made up."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Person:
    """A person in the shop: their role, and how they write down a reading (see tape.py)."""

    key: str
    name: str
    role: str
    hand: str


PEOPLE = [
    Person("ruth", "Ruth Calloway", "lead", "plain"),
    Person("luis", "Luis Ortega", "lead", "plain"),
    Person("jen", "Jen Kowalski", "technician", "dash"),
    Person("marcus", "Marcus Hale", "technician", "named"),
    Person("priya", "Priya Nair", "technician", "mark"),
]
BY_KEY = {person.key: person for person in PEOPLE}

# Who carries a phone, by the phone's name; each lead also writes at the desk PC.
PHONES = {
    "luis": "Luis's phone",
    "jen": "Jen's phone",
    "marcus": "Marcus's phone",
    "priya": "Priya's phone",
}
DESKS = {"ruth desk": "ruth", "luis desk": "luis"}

# Whose jobs are decided at which desk: nobody's own.
LEADS_DESK = {
    "luis": "ruth desk",
    "jen": "ruth desk",
    "priya": "ruth desk",
    "marcus": "luis desk",
}
