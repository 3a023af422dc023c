"""The values that entries hold: each a type with its bounds, and the words that name it.

The words end the sentence "... must be ...". They and the bounds stand in the JSON Schema too.
"""

import re
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    TypeAdapter,
    ValidationError,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema
from typing_extensions import TypedDict

from webapp.reckon.terms import AXLES, FACES, METHODS
from webapp.reckon.typed.length_grammar import LONGEST

UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
# Beyond these a sheet could not be read, and no phone lets it be typed.
MOST, FINEST = int(LONGEST), 100
# The most characters that a note, or a value as it was typed, may have.
LONGEST_TEXT = 4000
# Written out, as what counts as a blank differs between Python, Rust and JavaScript.
NOT_BLANK = (
    "[^\\t-\\r\\u001c-\\u0020\\u0085\\u00a0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f"
    "\\u3000\\ufeff]"
)


# What nobody sees in a name, and by which two names look the same: control and format characters,
# directions of writing, fillers. As it stands between the brackets of a pattern.
HIDDEN = (
    "\\u0000-\\u001f\\u007f-\\u009f\\u00ad\\u034f\\u061c\\u115f\\u1160\\u17b4\\u17b5"
    "\\u180b-\\u180f\\u200b-\\u200f\\u2028-\\u202e\\u2060-\\u206f\\u2800\\u3164\\ufeff"
    "\\uffa0\\ufff0-\\ufffb\U000e0000-\U000e0fff"
)
ONE_HIDDEN = re.compile(f"[{HIDDEN}]")
SEEN = f"[^{HIDDEN} \\u00a0\\u1680\\u2000-\\u200a\\u202f\\u205f\\u3000]"
HIDDEN_SAYS = (
    "The name holds a character that nobody sees, such as a zero-width space: type it by hand."
)


def holds_hidden(name: str) -> bool:
    """Whether a name holds a character that nobody sees."""
    return ONE_HIDDEN.search(name) is not None


def is_id(value: Any) -> bool:
    """Whether this is a UUID in the usual lower-case writing."""
    return isinstance(value, str) and UUID.fullmatch(value) is not None


def whole_number(written: str) -> int | None:
    """The whole number from 0 up that a text is, in the digits 0 to 9; None for any other text.

    No number that anything here counts has 20 digits, and reading thousands of them takes long.
    """
    plain = written.isascii() and written.isdigit() and len(written) < 20
    return int(written) if plain else None


@dataclass(frozen=True)
class OneOf:
    """One of some texts; stands beside `str` in a type."""

    choices: tuple[str, ...]

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        """What the value is checked by."""
        return core_schema.literal_schema(list(self.choices))

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, __: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """What the schema says of it."""
        return {
            "type": "string",
            "enum": list(self.choices),
            "description": "one of " + ", ".join(self.choices),
        }


class LeftOut:
    """What no entry may hold, as the log fills it in itself."""

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        """What refuses any value."""
        return core_schema.no_info_plain_validator_function(self.refuse)

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, __: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """What the schema says of it."""
        return {"not": {}, "description": "left out: the log fills it in itself"}

    def refuse(self, _: Any) -> Any:
        """Raise what is wrong with any value."""
        raise PydanticCustomError("left_out", "must be left out")


def one_of(*choices: str) -> OneOf:
    """One of these texts."""
    return OneOf(choices)


def text(most: int, least: int = 1) -> Any:
    """A text of at most so many characters; where `least` is 1, not only blanks."""
    words = f"a text of at most {most} characters" + (", not an empty one" if least else "")
    return Field(max_length=most, pattern=NOT_BLANK if least else None, description=words)


def name_of(most: int) -> Any:
    """What somebody or something is called: a text in which every character is seen."""
    words = f"a text of at most {most} characters, each of which is seen"
    rest = f"[^{HIDDEN}]*"
    return Field(max_length=most, pattern=f"^{rest}{SEEN}{rest}$", description=words)


def number(words: str, **bounds: Any) -> Any:
    """A finite number within bounds: ge, gt, le, lt."""
    return Field(allow_inf_nan=False, description=words, **bounds)


def whole(most: int) -> Any:
    """A whole number from 1."""
    return Field(ge=1, le=most, description=f"a whole number from 1 to {most}")


def texts_like(pattern: str, words: str) -> Any:
    """A text of one shape."""
    return Field(pattern=pattern, description=words)


def there_is(day: str) -> str:
    """The day again, where the calendar has it."""
    date.fromisoformat(day)
    return day


Id = Annotated[str, texts_like(f"^{UUID.pattern}$", "an id (a UUID in lower case)")]
Mm = Annotated[
    float,
    number(f"a number between -{MOST} and {MOST}", ge=-MOST, le=MOST),
]
AboveZero = Annotated[float, number(f"a number above 0, up to {MOST}", gt=0, le=MOST)]
Step = Annotated[float, number(f"a number above 0, up to {FINEST}", gt=0, le=FINEST)]
FromZero = Annotated[float, number(f"a number from 0 to {MOST}", ge=0, le=MOST)]
Angle = Annotated[float, number("an angle up to 720 degrees", gt=0, le=720)]
Tilt = Annotated[float, number("an angle from 0 to 45 degrees", ge=0, le=45)]
Turn = Annotated[float, number(f"a number from 0 to {FINEST}", ge=0, le=FINEST)]
Move = Annotated[float, number("a number between -2000 and 2000", ge=-2000, le=2000)]
AtWheel = Annotated[float, number("an angle up to 1080 degrees, left positive", ge=-1080, le=1080)]
YesNo = Annotated[bool, Field(description="true or false")]
Day = Annotated[
    str,
    Field(
        pattern=r"^2\d{3}-\d\d-\d\d$",
        description="a day such as 2026-12-24",
        json_schema_extra={"format": "date"},
    ),
    AfterValidator(there_is),
]
TagCode = Annotated[str, texts_like("^[0-9A-Z]{4}-[0-9A-Z]{4}$", "a tag code such as K7RM-4TQX")]
Hash = Annotated[
    str, texts_like("^[0-9a-f]{64}$", "the SHA-256 of the photo in 64 hexadecimal digits")
]
Side = Annotated[str, one_of("left", "right")]
Axle = Annotated[str, one_of(*AXLES)]
Unit = Annotated[str, one_of("in", "mm")]
DistanceUnit = Annotated[str, one_of("km", "mi")]
RoundName = Annotated[str, one_of("as_found", "fit_up", "as_left", "recheck")]
Face = Annotated[str, one_of(*FACES)]
Method = Annotated[str, one_of(*METHODS)]
Word = Annotated[str, text(40)]
Name = Annotated[str, text(60)]
Words = Annotated[str, text(200)]
Reason = Annotated[str, text(1000)]
AnyReason = Annotated[str, text(1000, least=0)]


def with_offset(when: str) -> str:
    """The time again, where there is one like it. Any year will do: clocks can be wrong."""
    datetime.fromisoformat(when)
    return when


When = Annotated[
    str,
    Field(
        pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)$",
        description="a time with its offset from UTC, such as 2026-11-25T10:42:07.120+01:00",
    ),
    AfterValidator(with_offset),
]


class Body(TypedDict, total=False):
    """What any body may say: the entry of its own kind that it replaces."""

    replaces: Id | None


A_TIME: TypeAdapter[str] = TypeAdapter(When)


def is_when(value: Any) -> bool:
    """Whether this is a time with its offset from UTC."""
    try:
        A_TIME.validate_python(value, strict=True)
    except ValidationError:
        return False
    return True
