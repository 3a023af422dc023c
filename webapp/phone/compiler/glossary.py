"""The glossary of the docs as the phone has it."""

import json
import re
from pathlib import Path

PAGE = Path(__file__).parents[3] / "docs" / "glossary.md"
ROW = re.compile(r"^\| (.+?) \| (.+?) \| ?(.*?) ?\|$", re.M)
WATCH = re.compile(r"^\*\*Watch out\*\*: (.+?)(?=\n\n|\Z)", re.M | re.S)
HEADER = "word"
# Sentences use these in their everyday sense as well, in which their line would mislead.
EVERYDAY = {
    *("ahead of, behind", "answer", "change", "difference", "extra", "flat", "hold"),
    *("inside, outside", "left, right", "open", "pair", "repeat", "rise", "run", "sheet"),
    *("shift", "source", "standing", "stands", "step", "sum", "tick", "touches", "track", "walk"),
}


def glossary_json(page: str) -> bytes:
    """The sections of the page, as a list of {title, words, watch}.

    `words` holds [word, meaning, also called, whether screens use it in this sense alone] each;
    `watch` is what can trip one up, or nothing.
    """
    sections = []
    for part in re.split(r"^## ", page, flags=re.M)[1:]:
        title, _, text = part.partition("\n")
        rows = [
            [*row, row[0] not in EVERYDAY] for row in ROW.findall(plain(text)) if row[0] != HEADER
        ]
        watch = [plain(found) for found in WATCH.findall(text)]
        sections.append({"title": title, "words": rows, "watch": "".join(watch)})
    return json.dumps(sections, ensure_ascii=False, separators=(",", ":")).encode()


def plain(text: str) -> str:
    """A text of the page without the marks for emphasis, one line a paragraph."""
    return re.sub(r"(?<!\|)\n(?![\n|])", " ", re.sub(r"[*`]", "", text)).strip()
