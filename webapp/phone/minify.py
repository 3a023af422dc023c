"""Scripts and stylesheets without comments of their own lines and without indentation.

Nothing within a line is touched, so that strings, templates and patterns stay as they are. The
repository keeps the text as it is read.
"""

import re

LINE_COMMENT = re.compile(r"^[ \t]*//[^\n]*(?:\n|\Z)", re.M)
BLOCK_COMMENT = re.compile(r"^[ \t]*/\*.*?\*/[ \t]*(?:\n|\Z)", re.M | re.S)
INDENT = re.compile(r"^[ \t]+", re.M)
BLANK = re.compile(r"^\n", re.M)


def shortened(text: str) -> str:
    """The text with nothing but what runs; as it is where a template goes on over a line's end."""
    if any(line.count("`") % 2 for line in text.splitlines()):
        return text
    for pattern in (BLOCK_COMMENT, LINE_COMMENT, INDENT, BLANK):
        text = pattern.sub("", text)
    return text
