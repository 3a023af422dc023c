"""What the lines of an export hold beside entries: people, phones, and what was set aside."""

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any

from pydantic import Field, TypeAdapter, ValidationError
from typing_extensions import TypedDict

from webapp.shoplog.rules import sentences
from webapp.shoplog.rules.json_schema import schema_of
from webapp.shoplog.rules.kinds import LARGEST_LOCAL_NO
from webapp.shoplog.rules.own_kinds import PersonName
from webapp.shoplog.rules.values import Id, When, name_of, one_of, text

Count = Annotated[
    int, Field(ge=0, le=LARGEST_LOCAL_NO, description="a whole number from 0 to 10,000,000")
]


class CarriedPerson(TypedDict):
    """Somebody of the shop."""

    id: Id
    name: PersonName
    role: Annotated[str, one_of("technician", "lead")]


class CarriedPhone(TypedDict):
    """A phone or desk, whose it is, and how far its numbers went."""

    id: Id
    person: Id
    name: Annotated[str, name_of(200)]
    paired_at: When
    build: Annotated[str, text(64, least=0)] | None
    last_local_no: Count


class CarriedAside(TypedDict):
    """An entry that was set aside, and which phone sent it when."""

    phone: Id
    received_at: When
    entry: Annotated[dict[str, Any], Field(description="an entry")]


CARRIED: Mapping[str, Any] = {
    "person": CarriedPerson,
    "phone": CarriedPhone,
    "aside": CarriedAside,
}


@cache
def checker(name: str) -> Any:
    """What checks a line of this name."""
    return TypeAdapter(CARRIED[name]).validator


def line_faults(name: str, value: Any) -> list[str]:
    """A sentence for everything that is wrong with what a line of this name holds."""
    if not isinstance(value, dict):
        return [f"The {name} must be an object."]
    try:
        checker(name).validate_python(value, strict=True)
    except ValidationError as error:
        return sentences.of_faults(name, value, error, schema_of(CARRIED[name]))
    return []
