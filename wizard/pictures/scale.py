"""A band drawn to scale, with a marker for each reading.

Invariant: the scale depends on the limit alone, so the marker moves and the band does not.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """The stretch of numbers shown: `start` to `end`, the accepted part `low` to `high`."""

    start: float
    end: float
    low: float | None
    high: float | None

    def column(self, value: float, width: int) -> int:
        """The column of a value; -1 left of the scale and `width` right of it."""
        share = (value - self.start) / (self.end - self.start)
        column = math.floor(share * (width - 1) + 0.5)
        return max(-1, min(width, column))


def scale_for(low: float | None, high: float | None) -> Scale:
    """The scale around a band; an open end reaches to zero, or as far again.

    >>> scale_for(207.0, 253.0)
    Scale(start=184.0, end=276.0, low=207.0, high=253.0)
    >>> scale_for(None, 10.0)
    Scale(start=0.0, end=15.0, low=None, high=10.0)
    >>> scale_for(200.0, None)
    Scale(start=100.0, end=300.0, low=200.0, high=None)
    """
    if low is not None and high is not None:
        room = (high - low) / 2 or abs(high) / 10 or 1.0
        return Scale(low - room, high + room, low, high)
    end = high if high is not None else low
    if end is None:
        return Scale(0.0, 1.0, None, None)
    room = abs(end) / 2 or 1.0
    if high is not None:
        return Scale(min(0.0, end - room), end + room, None, high)
    return Scale(end - room, end + room, low, None)


def band_line(scale: Scale, width: int) -> str:
    """The scale as one line: dots outside the band, a bar with its ends inside.

    >>> band_line(scale_for(207.0, 253.0), 25)
    '······├───────────┤······'
    >>> band_line(scale_for(None, 10.0), 25)
    '────────────────┤········'
    """
    first = 0 if scale.low is None else max(0, scale.column(scale.low, width))
    last = width - 1 if scale.high is None else min(width - 1, scale.column(scale.high, width))
    inside = ["─"] * (last - first + 1)
    if scale.low is not None:
        inside[0] = "├"
    if scale.high is not None:
        inside[-1] = "┤" if len(inside) > 1 or scale.low is None else "┼"
    return "·" * first + "".join(inside) + "·" * (width - 1 - last)


def marker_line(scale: Scale, width: int, values: Sequence[float], marks: Sequence[str]) -> str:
    """One mark under each value; arrows at the ends for values beyond the scale.

    >>> marker_line(scale_for(207.0, 253.0), 25, [230.0], ["▲"])
    '            ▲            '
    >>> marker_line(scale_for(207.0, 253.0), 25, [900.0, 230.0], ["1", "2"])
    '            2           ►'
    """
    line = [" "] * width
    for value, mark in zip(values, marks, strict=True):
        column = scale.column(value, width)
        if column < 0:
            line[0] = "◄"
        elif column >= width:
            line[-1] = "►"
        else:
            line[column] = mark if line[column] == " " else "+"
    return "".join(line)


def ends_line(scale: Scale, width: int, low: str, high: str) -> str:
    """The texts of the two ends under the ends; empty texts are left out.

    >>> ends_line(scale_for(207.0, 253.0), 25, "207 V", "253 V")
    '    207 V       253 V    '
    """
    line = " " * width
    if scale.low is not None and low:
        line = _centred(line, scale.column(scale.low, width), low, 0)
    if scale.high is not None and high:
        after = len(line.rstrip()) + 2 if line.strip() else 0
        line = _centred(line, scale.column(scale.high, width), high, after)
    return line


def _centred(line: str, column: int, text: str, after: int) -> str:
    at = max(after, min(column - len(text) // 2, len(line) - len(text)), 0)
    return (line[:at] + text + line[at + len(text) :])[: len(line)]
