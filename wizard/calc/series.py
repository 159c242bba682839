"""Timed readings: the straight line through them, their scatter and the gaps between them.

Invariant: the times of a series increase; a series that does not is refused, never sorted.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from wizard.errors import InputError

FIT_FROM = 3
"""Laps from which a line is fitted; with two, end minus start is all there is."""
GAP_FACTOR = 3.0

Points = tuple[tuple[float, float], ...]


class Line(NamedTuple):
    """A line through a series: value = start + slope (time - first time)."""

    start: float
    end: float
    slope: float
    slope_error: float
    laps: int


class Gap(NamedTuple):
    """A wait between two laps that is much longer than the others, s since the start."""

    after: float
    before: float


def checked(what: str, series: Points) -> Points:
    """The series, if it has at least two finite laps with times that increase."""
    if len(series) < 2:
        raise InputError(what, f"{len(series)} laps", "at least a start and an end")
    for time, value in series:
        if not (math.isfinite(time) and math.isfinite(value)):
            raise InputError(what, "a time or a reading without end", "finite numbers")
    for (before, _), (after, _) in pairwise(series):
        if after == before:
            raise InputError(what, f"two readings at {after:g} s", "one reading at each time")
        if after < before:
            raise InputError(what, f"{after:g} s after {before:g} s", "times that increase")
    return series


def duration(series: Points) -> float:
    """Seconds from the first lap to the last."""
    return series[-1][0] - series[0][0]


def line(series: Points) -> Line:
    """The least-squares line; with two laps the line through both.

    The scatter is taken about a parabola from four laps on, because a delivery that falls with
    pressure bends the curve, and a bend is no scatter. The slope error is one standard deviation.

    >>> line(((0.0, 1.0), (10.0, 3.0), (20.0, 5.0), (30.0, 7.0)))
    Line(start=1.0, end=7.0, slope=0.2, slope_error=0.0, laps=4)
    """
    count = len(series)
    (first, low), (last, high) = series[0], series[-1]
    if count < FIT_FROM:
        return Line(low, high, (high - low) / (last - first), 0.0, count)
    mean_time = sum(t for t, _ in series) / count
    mean = sum(v for _, v in series) / count
    times = [t - mean_time for t, _ in series]
    values = [v - mean for _, v in series]
    spread = sum(t * t for t in times)
    slope = sum(t * v for t, v in zip(times, values, strict=True)) / spread
    left = [v - slope * t for t, v in zip(times, values, strict=True)]
    freedom = count - 2
    if count > FIT_FROM:
        left, freedom = _without_bend(times, left, spread), count - 3
    scatter = sum(r * r for r in left) / freedom
    start = mean + slope * (first - mean_time)
    return Line(start, start + slope * (last - first), slope, math.sqrt(scatter / spread), count)


def _without_bend(times: list[float], left: list[float], spread: float) -> list[float]:
    """Residuals of a line after the best parabola has been taken out as well."""
    tilt = sum(t**3 for t in times) / spread
    level = spread / len(times)
    bend = [t * t - tilt * t - level for t in times]
    size = sum(b * b for b in bend)
    if size <= 1e-12 * spread * spread:
        return left
    share = sum(b * r for b, r in zip(bend, left, strict=True)) / size
    return [r - share * b for b, r in zip(bend, left, strict=True)]


def gaps(series: Points) -> tuple[Gap, ...]:
    """Waits longer than three times the middle one: laps that were missed.

    >>> gaps(((0.0, 1.0), (10.0, 2.0), (20.0, 3.0), (80.0, 9.0), (90.0, 10.0)))
    (Gap(after=20.0, before=80.0),)
    """
    waits = sorted(b - a for (a, _), (b, _) in pairwise(series))
    if len(waits) < FIT_FROM:
        return ()
    usual = waits[len(waits) // 2]
    return tuple(Gap(a, b) for (a, _), (b, _) in pairwise(series) if b - a > GAP_FACTOR * usual)


def gap_note(series: Points) -> str:
    """A sentence about missed laps, or nothing.

    >>> gap_note(((0.0, 1.0), (10.0, 2.0), (20.0, 3.0), (80.0, 9.0)))
    ' No reading between 20 s and 80 s.'
    """
    found = gaps(series)
    if not found:
        return ""
    listed = ", ".join(f"{g.after:g} s and {g.before:g} s" for g in found[:3])
    return f" No reading between {listed}."
