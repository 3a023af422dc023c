"""Curves on two logarithmic axes as an SVG picture, each named at its end."""

import math
from html import escape

WIDTH, HEIGHT = 760, 460
LEFT, RIGHT, TOP, BOTTOM = 64, 190, 24, 48
LINES = (
    "#1d4f91",
    "#a32a1c",
    "#0f6b52",
    "#8a5a00",
    "#5b3a8c",
    "#3a3f44",
    "#007a8a",
    "#9a1f6b",
    "#c05a00",
    "#4f6d1a",
    "#7a3f3f",
)
CLOSE = 15  # labels stand at least so far apart

Curve = list[tuple[float, float]]


def plot(curves: dict[str, Curve], across: str, up: str) -> str:
    """The picture of curves given as points (x, y), both above 0."""
    points = [point for curve in curves.values() for point in curve]
    at = scale(points)
    colored = zip(curves.values(), LINES, strict=False)
    lines = [drawn(curve, at, color) for curve, color in colored]
    parts = [*grid(points, at), *lines, *labels(curves, at), *titles(across, up)]
    size = f'viewBox="0 0 {WIDTH} {HEIGHT}" font-family="sans-serif" font-size="13"'
    ground = f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fffefa"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{ground}{"".join(parts)}</svg>\n'


def decades(values: list[float]) -> range:
    """The powers of ten that hold all values between them."""
    return range(math.floor(math.log10(min(values))), math.ceil(math.log10(max(values))) + 1)


def scale(points: Curve):
    """What turns a point into its place on the picture."""
    wide, high = (decades([point[axis] for point in points]) for axis in (0, 1))
    step_x = (WIDTH - LEFT - RIGHT) / max(len(wide) - 1, 1)
    step_y = (HEIGHT - TOP - BOTTOM) / max(len(high) - 1, 1)

    def at(x: float, y: float) -> tuple[float, float]:
        over, above = math.log10(x) - wide[0], math.log10(y) - high[0]
        return round(LEFT + over * step_x, 1), round(HEIGHT - BOTTOM - above * step_y, 1)

    return at


def grid(points: Curve, at) -> list[str]:
    """A line and a number for each power of ten."""
    wide, high = (decades([point[axis] for point in points]) for axis in (0, 1))
    x0, y0 = at(10.0 ** wide[0], 10.0 ** high[0])
    x1, y1 = at(10.0 ** wide[-1], 10.0 ** high[-1])
    parts = []
    for power in wide:
        x = at(10.0**power, 10.0 ** high[0])[0]
        parts += [line(x, y0, x, y1, "#d6d0c4", 1), text(x, y0 + 20, f"{10**power:,}", "middle")]
    for power in high:
        y = at(10.0 ** wide[0], 10.0**power)[1]
        parts += [line(x0, y, x1, y, "#d6d0c4", 1), text(x0 - 8, y + 4, f"{10.0**power:,g}", "end")]
    return parts


def drawn(curve: Curve, at, color: str) -> str:
    """One curve with its points."""
    places = [at(*point) for point in curve]
    path = " ".join(f"{x},{y}" for x, y in places)
    dots = "".join(f'<circle cx="{x}" cy="{y}" r="3" fill="{color}"/>' for x, y in places)
    return f'<polyline points="{path}" fill="none" stroke="{color}" stroke-width="2"/>{dots}'


def labels(curves: dict[str, Curve], at) -> list[str]:
    """The names at the ends of the curves, moved apart where they would touch."""
    ends = [
        (at(*curve[-1]), name, color)
        for (name, curve), color in zip(curves.items(), LINES, strict=False)
    ]
    parts, free = [], -math.inf
    for (x, y), name, color in sorted(ends, key=lambda end: end[0][1]):
        free = max(y + 4, free + CLOSE)
        parts.append(text(x + 10, round(free, 1), name, "start", color))
    return parts


def titles(across: str, up: str) -> list[str]:
    """What the axes measure."""
    return [
        text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 8, across, "middle"),
        text(LEFT - 56, TOP - 8, up, "start"),
    ]


def line(x1: float, y1: float, x2: float, y2: float, color: str, width: float) -> str:
    """A straight line."""
    ends = f'x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"'
    return f'<line {ends} stroke="{color}" stroke-width="{width}"/>'


def text(x: float, y: float, words: str, anchor: str, color: str = "#3a3f44") -> str:
    """Words on the picture."""
    return f'<text x="{x}" y="{y}" text-anchor="{anchor}" fill="{color}">{escape(words)}</text>'
