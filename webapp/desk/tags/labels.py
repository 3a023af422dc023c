"""A sheet of tag labels as one drawing in millimeters: QR, tag code, vehicle name."""

import textwrap
from dataclasses import dataclass
from itertools import groupby
from typing import Any

import qrcode

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
# Lines of text on a label, in mm; a letter of the name is about half as wide as it is high.
CODE_HEIGHT, NAME_HEIGHT, PAD = 4.6, 3.6, 2.0
LETTER_WIDTH, CODE_LETTER_WIDTH = 0.56, 0.62
SMALLEST_QR = 12.0


@dataclass(frozen=True)
class Grid:
    """A label sheet: how many columns and rows, its edges and its gaps across and down in mm."""

    paper: str
    columns: int
    rows: int
    side: float
    top: float
    across: float
    down: float

    @property
    def width(self) -> float:
        """The width of a label in mm."""
        gaps = (self.columns - 1) * self.across
        return (PAPERS[self.paper][0] - 2 * self.side - gaps) / self.columns

    @property
    def height(self) -> float:
        """The height of a label in mm."""
        gaps = (self.rows - 1) * self.down
        return (PAPERS[self.paper][1] - 2 * self.top - gaps) / self.rows

    @property
    def fault(self) -> str | None:
        """Why labels of this grid cannot hold a tag, or None."""
        if min(self.height, self.width / 2) - 2 * PAD >= SMALLEST_QR:
            return None
        return (
            f"Labels of {max(self.width, 0):.0f} by {max(self.height, 0):.0f} mm are too small: "
            f"a tag needs {2 * (SMALLEST_QR + 2 * PAD):.0f} by {SMALLEST_QR + 2 * PAD:.0f} mm. "
            "Use fewer columns or rows."
        )

    def place(self, number: int) -> tuple[float, float]:
        """The upper left corner of a label on its page, in mm."""
        row, column = divmod(number % (self.columns * self.rows), self.columns)
        return (
            self.side + column * (self.width + self.across),
            self.top + row * (self.height + self.down),
        )


def pages(grid: Grid, tags: list[dict[str, Any]], skip: int) -> list[list[dict[str, Any]]]:
    """The labels of each page, for tags {code, name, address}, after leaving `skip` places out."""
    each_page = grid.columns * grid.rows
    labels = [label(grid, number, tag) for number, tag in enumerate(tags, skip)]
    return [list(page) for _, page in groupby(labels, lambda one: one["number"] // each_page)]


def label(grid: Grid, number: int, tag: dict[str, Any]) -> dict[str, Any]:
    """One label: where its corner, its QR and its lines of text go, in mm."""
    x, y = grid.place(number)
    size = min(grid.height, grid.width / 2) - 2 * PAD
    room = grid.width - size - 3 * PAD
    code_height = min(CODE_HEIGHT, room / (len(tag["code"]) * CODE_LETTER_WIDTH))
    most_lines = max(1, int((size - code_height - PAD) / (NAME_HEIGHT * 1.15)))
    path, modules = qr_path(tag["address"])
    return {
        **tag,
        "number": number,
        "x": x,
        "y": y,
        "size": size,
        "qr": path,
        "modules": modules,
        "text_x": size + 2 * PAD,
        "code_height": code_height,
        "lines": name_lines(tag["name"], int(room / (NAME_HEIGHT * LETTER_WIDTH)), most_lines),
    }


def name_lines(name: str, letters: int, most: int) -> list[str]:
    """The name in at most so many lines of so many letters; … where it had to be cut."""
    return textwrap.wrap(name, max(letters, 4), max_lines=most, placeholder=" …")


def qr_path(text: str) -> tuple[str, int]:
    """The dark modules of a QR code (correction M) as an SVG path, and its size in modules."""
    code = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_M, border=4)
    code.add_data(text)
    matrix = code.get_matrix()
    runs = [run for y, row in enumerate(matrix) for run in dark_runs(row, y)]
    return "".join(runs), len(matrix)


def dark_runs(row: list[bool], y: int) -> list[str]:
    """Path pieces for the runs of dark modules in a row."""
    pieces, x = [], 0
    for dark, run in groupby(row):
        length = len(list(run))
        if dark:
            pieces.append(f"M{x} {y}h{length}v1h-{length}z")
        x += length
    return pieces
