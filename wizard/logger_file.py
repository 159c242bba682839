"""A logger's CSV file as a series of readings.

Invariant: nothing is dropped or averaged in silence; every change to the logged rows is a remark.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from statistics import fmean, median

from wizard.answer import Parsed, series
from wizard.errors import InputError, QuantityError
from wizard.procedure.item import Item
from wizard.quantities import is_within, parse_number, parse_quantity, show_typed, to_si, unit_of

KEPT_ROWS = 600
MAX_CHARACTERS = 4_000_000
_TIME_NAMES = ("time", "elapsed", "zeit", "t", "timestamp", "date", "seconds")
_UNIT = re.compile(r"[\[(]([^\])]+)[\])]|[_ ]([A-Za-z°0-9/]+)$")


@dataclass(frozen=True, slots=True)
class Logged:
    """The answer that a file makes and what was noticed on the way."""

    parsed: Parsed
    remarks: tuple[str, ...]


def read_log(item: Item, text: str, name: str, system: str, units: Mapping[str, str]) -> Logged:
    """The series in CSV `text`; `units` gives the unit of a column whose header has none.

    InputError names file and line.
    """
    if len(text) > MAX_CHARACTERS:
        raise InputError(name, f"{len(text)} characters", f"at most {MAX_CHARACTERS}")
    rows = _rows(text.lstrip("\ufeff"))
    if len(rows) < 3:
        raise InputError(name, f"{len(rows)} lines", "a header and at least two readings")
    header = [cell.strip() for cell in rows[0][1]]
    time_column, value_column = _columns(header, name, item)
    time_unit = _unit_of(header[time_column], "time", units, "s", name)
    unit = _unit_of(header[value_column], item.quantity, units, "", name)
    remarks: list[str] = []
    points: list[tuple[float, float]] = []
    origin = ""
    for line, cells in rows[1:]:
        try:
            clock, value = cells[time_column].strip(), cells[value_column].strip()
        except IndexError:
            raise InputError(
                f"{name}, line {line}", f"{len(cells)} columns", f"{len(header)} columns"
            ) from None
        origin = origin or clock
        try:
            points.append((_seconds(clock, time_unit, origin), parse_number(value, "reading")))
        except (QuantityError, ValueError):
            raise InputError(
                f"{name}, line {line}",
                show_typed(f"{clock}, {value}"),
                f"a time and a reading in {unit}",
            ) from None
    points = _thinned(_in_order(points, name, remarks), remarks)
    _gaps(points, remarks)
    _noise(points, unit, remarks)
    start = points[0][0]
    shifted = [(round(t - start, 3), v) for t, v in points]
    raw = f"{len(rows) - 1} logged rows, {shifted[-1][0]:g} s"
    parsed = series(item, shifted, unit, raw)
    if item.accept and any(
        not is_within(to_si(v, item.quantity, unit), *item.accept) for _, v in shifted
    ):
        raise InputError(name, "readings outside the range", item.accepted_in(unit))
    return Logged(parsed, tuple(remarks))


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Non-empty, non-comment lines with their number, split at the delimiter of the first."""
    lines = [
        (n, line)
        for n, line in enumerate(text.splitlines(), 1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    first = lines[0][1] if lines else ""
    delimiter = next((d for d in ("\t", ";", ",") if d in first), ",")
    return [(n, next(csv.reader(io.StringIO(line), delimiter=delimiter))) for n, line in lines]


def _columns(header: list[str], name: str, item: Item) -> tuple[int, int]:
    times = [
        n
        for n, cell in enumerate(header)
        if re.split(r"[\s_(\[]", cell.casefold())[0] in _TIME_NAMES
    ]
    values = [
        n
        for n, cell in enumerate(header)
        if n not in times and any(w in cell.casefold() for w in item.quantity.split())
    ]
    if not values:
        values = [n for n in range(len(header)) if n not in times]
    if len(times) != 1 or len(values) != 1:
        raise InputError(name, ", ".join(header), f"one time and one {item.quantity} column")
    return times[0], values[0]


def _unit_of(header: str, kind: str, units: Mapping[str, str], default: str, name: str) -> str:
    for column, unit in units.items():
        if column.casefold() in header.casefold():
            return unit_of(kind, unit).symbol
    if match := _UNIT.search(header):
        try:
            return unit_of(kind, match[1] or match[2]).symbol
        except QuantityError:
            if match[1]:
                raise
    if default:
        return default
    raise InputError(
        name,
        f"column {show_typed(header)} without a unit",
        f"a unit in the header or --unit {header.split()[0]}=UNIT",
    )


def _seconds(text: str, unit: str, origin: str) -> float:
    if "-" in text[1:] or "T" in text:
        return (datetime.fromisoformat(text) - datetime.fromisoformat(origin)).total_seconds()
    return parse_quantity(text, "time", unit).si


def _in_order(
    points: Iterable[tuple[float, float]], name: str, remarks: list[str]
) -> list[tuple[float, float]]:
    grouped: list[tuple[float, list[float]]] = []
    for time, value in points:
        if grouped and time < grouped[-1][0]:
            raise InputError(
                name, f"time {time:g} s after {grouped[-1][0]:g} s", "times that do not go back"
            )
        if grouped and time == grouped[-1][0]:
            grouped[-1][1].append(value)
        else:
            grouped.append((time, [value]))
    repeated = sum(len(values) > 1 for _, values in grouped)
    if repeated:
        remarks.append(f"{repeated} repeated times: their readings are averaged.")
    return [(time, fmean(values)) for time, values in grouped]


def _thinned(points: list[tuple[float, float]], remarks: list[str]) -> list[tuple[float, float]]:
    if len(points) <= KEPT_ROWS:
        return points
    each = -(-len(points) // KEPT_ROWS)
    groups = [points[n : n + each] for n in range(0, len(points), each)]
    remarks.append(f"{len(points)} readings: every {each} in a row are averaged.")
    return [(fmean(t for t, _ in g), fmean(v for _, v in g)) for g in groups]


def _gaps(points: list[tuple[float, float]], remarks: list[str]) -> None:
    steps = [after[0] - before[0] for before, after in pairwise(points)]
    if not steps:
        return
    usual = median(steps)
    wide = [(points[n][0], step) for n, step in enumerate(steps) if step > 5 * usual]
    if wide:
        time, step = max(wide, key=lambda g: g[1])
        remarks.append(f"{len(wide)} gaps, the widest {step:g} s after {time:g} s.")


def _noise(points: list[tuple[float, float]], unit: str, remarks: list[str]) -> None:
    bends = [
        abs(a[1] - 2 * b[1] + c[1]) / 2
        for a, b, c in zip(points, points[1:], points[2:], strict=False)
    ]
    span = max(v for _, v in points) - min(v for _, v in points)
    if bends and span and (scatter := median(bends)) > 0.01 * span:
        remarks.append(f"The readings scatter by about {scatter:.3g} {unit}.")
