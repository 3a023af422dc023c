"""What the phone's first load is spent on: `python tests/bench/first_load.py` prints it as a table.

A part's share is what the script is smaller by without that part, once it is minified and
compressed. Parts that are alike compress better together, so the shares come to less than the
whole; the rest of it is what parts have in common.
"""

import re
from collections.abc import Mapping

import brotli

from webapp.phone.compiler.compile import RECKON
from webapp.phone.compiler.finished import app_of, smaller
from webapp.phone.shell_files import SOURCES

# Where a module begins in the joined script.
BEGINS = re.compile(r"^// (?:js/)?([\w/]+)(?:\.js)?$", re.M)


def main() -> None:
    """Print the table."""
    texts = {
        path.relative_to(SOURCES).as_posix(): path.read_text("utf-8")
        for path in SOURCES.rglob("*.js")
    }
    script = app_of(texts)
    whole = sent(script)
    print(f"| part of the script | kB of {whole / 1000:.1f} |\n|---|---|")
    for part, rest in without_each(script).items():
        print(f"| {part} | {(whole - sent(rest)) / 1000:.1f} |")


def sent(script: str) -> int:
    """The bytes of a script as a phone gets it."""
    return len(brotli.compress(smaller("js/app.js", script.encode()), quality=11))


def without_each(script: str) -> Mapping[str, str]:
    """The script without each of its parts, by the part's name."""
    found = list(BEGINS.finditer(script))
    ends = [each.start() for each in found[1:]] + [script.rindex("})();")]
    spans: dict[str, list[tuple[int, int]]] = {}
    for each, end in zip(found, ends, strict=True):
        spans.setdefault(part_of(each[1]), []).append((each.start(), end))
    return {part: cut(script, spans[part]) for part in sorted(spans)}


def cut(script: str, spans: list[tuple[int, int]]) -> str:
    """The script without these stretches of it."""
    for start, end in reversed(spans):
        script = script[:start] + script[end:]
    return script


def part_of(module: str) -> str:
    """The folder of a module, of the arithmetic by its name or of the scripts by its path."""
    paths = list(RECKON.rglob(f"{module}.py")) if "/" not in module else []
    if paths:
        folder = paths[0].parent.relative_to(RECKON.parent).as_posix()
        return f"`webapp/{folder}`"
    folder = module.rpartition("/")[0]
    return f"`static/js/{folder}`" if folder else "`static/js`"


if __name__ == "__main__":
    main()
