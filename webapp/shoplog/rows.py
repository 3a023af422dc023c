"""What the log hands out and takes in: plain dicts with text for keys."""

from typing import Any

# One row of a query, the body of an entry, or a line of a page made from them.
Row = dict[str, Any]
