"""The yard's people and what they write with; all invented."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Person:
    """Somebody of the yard: what they do, and how they write a reading down (see tape.py)."""

    key: str
    name: str
    role: str
    hand: str


PEOPLE = [
    Person("hesper", "Hesper Maundlow", "lead", "plain"),
    Person("corvan", "Corvan Ittersby", "lead", "plain"),
    Person("wrenna", "Wrenna Tollock", "technician", "dash"),
    Person("dov", "Dov Askerry", "technician", "named"),
    Person("imke", "Imke Sallowby", "technician", "mark"),
]
BY_KEY = {person.key: person for person in PEOPLE}

# Who carries a phone, by the phone's name; each lead also writes at the desk PC.
PHONES = {
    "corvan": "Corvan's phone",
    "wrenna": "Wrenna's phone",
    "dov": "Dov's phone",
    "imke": "Imke's phone",
}
DESKS = {"hesper desk": "hesper", "corvan desk": "corvan"}

# Whose jobs are decided at which desk: nobody's own.
LEADS_DESK = {
    "corvan": "hesper desk",
    "wrenna": "hesper desk",
    "imke": "hesper desk",
    "dov": "corvan desk",
}
