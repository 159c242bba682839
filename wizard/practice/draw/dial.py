"""A needle gauge: the whole dial, and a close look at the scale around the needle.

Invariant: the close look is the scale straightened, five columns to a division, so that a reading
can be taken to a fifth of a division; looked at from the side the needle stands off its place, and
its image in the mirror beside it gives that away.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, pi, sin

from wizard.practice.draw.canvas import ACROSS, DOWN, Canvas
from wizard.quantities import format_number

COLUMNS, ROWS = 44, 12
SWEEP = 1.5 * pi
"""The scale runs over three quarters of a turn, from lower left clockwise to lower right."""
PER_DIVISION = 5
PARALLAX = 0.6
"""Divisions by which the needle seems to stand off when looked at from the side."""
EYES = {"square": 0.0, "from the left": PARALLAX, "from the right": -PARALLAX}
_MIRROR_COVERED = "In the mirror (:) the needle covers its own image: the eye is square to it."
_MIRROR_BESIDE = "In the mirror (:) the image stands beside the needle: the eye is not square."


@dataclass(frozen=True, slots=True)
class Scale:
    """The print of a dial: from zero to `full`, in `unit`."""

    full: float
    division: float
    numbered: int
    """Divisions from one number to the next."""
    unit: str
    mirror: bool = False


def dial(scale: Scale, value: float, title: str, ascii_only: bool = False) -> tuple[str, ...]:
    """The gauge as seen from two steps away; `value` in the unit of the scale."""
    sheet = Canvas(COLUMNS, ROWS, ascii_only)
    middle_x, middle_y = COLUMNS * ACROSS / 2, ROWS * DOWN * 0.54
    radius = ROWS * DOWN * 0.50
    divisions = round(scale.full / scale.division)
    stride = max(1, round(divisions / 30))
    while scale.numbered % stride:
        stride += 1
    for i in range(0, divisions + 1, stride):
        numbered = i % scale.numbered == 0
        inner = 0.97 if ascii_only else 0.84 if numbered else 0.95
        ends = radius * inner, radius * (0.97 if ascii_only else 1.0)
        _spoke(sheet, middle_x, middle_y, i / divisions, *ends, "+" if numbered else ".")
    turned = min(max(value / scale.full, -0.02), 1.04)
    _needle(sheet, middle_x, middle_y, turned, radius * 0.88)
    step = scale.numbered * max(1, ceil(divisions / scale.numbered / 7))
    for i in range(0, divisions + 1, step):
        words = format_number(i * scale.division)
        x, y = _point(middle_x, middle_y, i / divisions, radius * 0.66)
        sheet.text(round(x / ACROSS - len(words) / 2), int(y // DOWN), words)
    sheet.text(round(middle_x / ACROSS), int(middle_y // DOWN), "O")
    sheet.text(round(middle_x / ACROSS - len(scale.unit) / 2), ROWS - 3, scale.unit)
    heading = f"{title}, 0 to {format_number(scale.full)} {scale.unit}"
    return (heading, *sheet.lines())


def _point(x: float, y: float, turned: float, radius: float) -> tuple[float, float]:
    """Where a share of the scale lies on a circle; up is less y."""
    angle = 1.25 * pi - SWEEP * turned
    return x + radius * cos(angle), y - radius * sin(angle)


def _needle(sheet: Canvas, x: float, y: float, turned: float, length: float) -> None:
    """A needle that is broad at its hub and pointed at its tip."""
    tip = _point(x, y, turned, length)
    angle = 1.25 * pi - SWEEP * turned
    for aside in (-1.2, 0.0, 1.2):
        sheet.line(x + aside * sin(angle), y + aside * cos(angle), *tip, "*")


def _spoke(
    sheet: Canvas, x: float, y: float, turned: float, inner: float, outer: float, mark: str
) -> None:
    start, end = _point(x, y, turned, inner), _point(x, y, turned, outer)
    sheet.line(*start, *end, mark)


def close_look(
    scale: Scale, value: float, eye: str = "square", ascii_only: bool = False, width: int = 71
) -> tuple[str, ...]:
    """The scale around the needle, straightened; the needle is the column of arrows."""
    offset = EYES[eye] * scale.division
    seen = value + offset
    middle = round(value / scale.division)
    half = width // PER_DIVISION // 2
    first = middle - half
    ticks, numbers = [" "] * width, [" "] * (width + 8)
    long, short = ("|", "'") if ascii_only else ("┃", "╵")
    last = round(scale.full / scale.division)
    for i in range(max(0, first), min(last, first + 2 * half) + 1):
        column = (i - first) * PER_DIVISION
        ticks[column] = long if i % scale.numbered == 0 else short
        if i % scale.numbered == 0:
            _write(numbers, column, format_number(i * scale.division))
    column = _column(scale, seen, first, width)
    needle = " " * column + ("V" if ascii_only else "▼")
    stem = " " * column + "|"
    lines = ["".join(numbers).rstrip(), "".join(ticks).rstrip(), needle, stem]
    if scale.mirror:
        image = _column(scale, seen + offset, first, width)
        lines.append(" " * image + ":")
        lines.append(_MIRROR_COVERED if image == column else _MIRROR_BESIDE)
    return tuple(lines)


def _write(cells: list[str], middle: int, words: str) -> None:
    start = max(0, middle - len(words) // 2)
    cells[start : start + len(words)] = list(words)


def _column(scale: Scale, value: float, first: int, width: int) -> int:
    place = (value / scale.division - first) * PER_DIVISION
    return min(max(round(place), 0), width - 1)
