"""A curve through readings, as lines of text.

Invariant: every reading is on the picture, and the axes carry their numbers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

Points = Sequence[tuple[float, float]]


def curve(points: Points, width: int, height: int, unit: str) -> list[str]:
    """Readings against seconds, joined by straight lines two levels a row.

    >>> for line in curve([(0, 0), (30, 50), (60, 100)], 34, 4, "psi"): print(line.rstrip())
    100 psi ┤                   ▄▄▄▄▀●
            │            ●▄▄▄▀▀▀
            │      ▄▄▄▀▀▀
      0 psi ┤●▄▀▀▀▀
            └┬───────────────────────┬
             0 s                  60 s
    """
    if not points:
        return []
    low, high = _ends([v for _, v in points])
    last = max(t for t, _ in points) or 1.0
    left = [f"{high:g} {unit}".strip(), f"{low:g} {unit}".strip()]
    margin = max(len(text) for text in left) + 1
    columns, rows = max(8, width - margin - 1), max(2, height)
    grid = [[" "] * columns for _ in range(rows)]
    levels = 2 * rows - 1
    for x, value in _joined(points, last, columns):
        level = round((value - low) / (high - low) * levels)
        grid[rows - 1 - level // 2][x] = "▀" if level % 2 else "▄"
    for time, value in points:
        level = round((value - low) / (high - low) * levels)
        grid[rows - 1 - level // 2][round(time / last * (columns - 1))] = "●"
    lines = []
    for number, cells in enumerate(grid):
        text = left[0] if number == 0 else left[1] if number == rows - 1 else ""
        lines.append(f"{text:>{margin - 1}} {'┤' if text else '│'}{''.join(cells)}")
    lines.append(" " * margin + "└┬" + "─" * (columns - 2) + "┬")
    lines.append(" " * (margin + 1) + "0 s" + f"{last:g} s".rjust(columns - 3))
    return lines


def _ends(values: Sequence[float]) -> tuple[float, float]:
    low, high = min(values), max(values)
    if 0 < low < high / 2:
        low = 0.0
    return (low, high) if high > low else (low - 1.0, high + 1.0)


def _joined(points: Points, last: float, columns: int) -> Iterator[tuple[int, float]]:
    """The value at each column between the first and the last reading."""
    for (t1, v1), (t2, v2) in pairwise(points):
        first, end = (round(t / last * (columns - 1)) for t in (t1, t2))
        for x in range(first, end + 1):
            share = (x - first) / (end - first) if end > first else 0.0
            yield x, v1 + share * (v2 - v1)
