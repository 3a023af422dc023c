"""Texts as they are typed into the fields of a job: near to what shops write, and far from it."""

from hypothesis import strategies as st

NUMBERS = st.sampled_from(
    [
        "0",
        "1",
        "3",
        "8",
        "14",
        "45",
        "90",
        "200",
        "365",
        "0.9",
        "1.5",
        "10.9",
        ".020",
        "1,5",
        "1.200",
    ]
)
FRACTIONS = st.sampled_from(["3/8", "1/2", "7/16", "9/16", "½", "21/4", "3/0"])


def texts_of(marks: str, words: str) -> st.SearchStrategy[str]:
    """Texts of numbers, fractions and these marks and words, in any order."""
    said = st.sampled_from([*marks, *words.split()])
    pieces = st.lists(NUMBERS | FRACTIONS | said, max_size=6)
    return st.builds(lambda found, gap: gap.join(found), pieces, st.sampled_from([" ", ""]))


LENGTHS = texts_of(
    "/-+.,\"'", "mm in cm ft thou strong shy heavy bare and a half ths quarters of inch"
)
ANGLES = texts_of(
    "/.,'°*-:;",
    "deg min o'clock oclock turn left right L half past to quarter and a the between",
)
TORQUES = texts_of(".,±+-/'°%()=", "Nm N·m ft-lb lb kgm daNm then and turn flats half a")
DIALS = texts_of('/+-&.Mx"', "mm in thou and")
TURNS = texts_of("/+-.", "turn turns flats and a half of")
RATIOS = texts_of(":/.", "to 1 18")
DRIVEN = texts_of(".,", "km mi miles k 500")
ANY = LENGTHS | ANGLES | TORQUES | DIALS | st.text(max_size=8)


def with_text(path, text, **more):
    """A sheet with a text at a path."""
    value = text
    for name in reversed(path.split(".")):
        value = {name.removesuffix("[]"): [value] if name.endswith("[]") else value}
    return {**more, **value}
