"""An answer: what was typed, what it means, who gave it, when and with which instrument.

Invariant: the text as typed and the unit as typed are kept; SI is derived, never stored alone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from itertools import pairwise
from typing import Any

from wizard.errors import InputError
from wizard.procedure.item import Item
from wizard.quantities import (
    Reading,
    format_quantity,
    is_within,
    parse_quantity,
    parse_set,
    show_typed,
    to_si,
)
from wizard.text import clean as clean

MAX_WRITTEN = 400
MAX_TYPED = 100_000
MAX_ROWS = 5000
NOT_GIVEN = ""

Value = float | int | str | bool | date | tuple[float, ...] | tuple[tuple[float, float], ...] | None


@dataclass(frozen=True, slots=True)
class Parsed:
    """Typed text understood: `value` in `unit` (empty where there is none)."""

    raw: str
    value: Value
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer of one item as the record holds it."""

    key: str
    raw: str
    value: Value
    unit: str
    by: str
    at: datetime
    seq: int
    instrument: str = ""
    confirmed: str = ""

    @property
    def number(self) -> bool:
        """Whether the value is a reading and not a word or a plain value."""
        return bool(self.unit) or (
            isinstance(self.value, float | tuple) and not isinstance(self.value, bool)
        )


def si_value(item: Item, answer: Parsed | Answer) -> Any:
    """The value as checks take it: SI for readings, the plain value otherwise.

    A word such as "OL", or nothing given, is None for a reading.
    """
    value = answer.value
    if not item.measured:
        return value
    if value is None or isinstance(value, str | bool | date):
        return None
    if isinstance(value, tuple):
        if item.kind == "series":
            return tuple((float(t), _si(item, answer, v)) for t, v in value)  # type: ignore[misc]
        return tuple(_si(item, answer, v) for v in value)
    return _si(item, answer, value)


def _si(item: Item, answer: Parsed | Answer, value: Any) -> float:
    return to_si(float(value), item.quantity, answer.unit)


def parse(item: Item, text: str, units: str) -> Parsed:
    """What `text` means as an answer to `item` in a "us" or "metric" job.

    InputError says in one sentence what was given and what is accepted.
    """
    raw = clean(text)
    if len(raw) > MAX_TYPED:
        raise InputError(item.ask, f"{len(raw)} characters", f"at most {MAX_TYPED}")
    if not raw:
        if item.optional:
            return Parsed(NOT_GIVEN, None)
        raise InputError(item.ask, "nothing", _accepted(item, units))
    for word in item.words:
        if raw.casefold() == word.casefold():
            return Parsed(raw, word)
    return _PARSERS[item.kind](item, raw, units)


def _accepted(item: Item, units: str) -> str:
    """What the item takes, as the end of a sentence."""
    words = "".join(f", or {word}" for word in item.words)
    if item.kind == "confirm":
        return "yes or no"
    if item.kind == "choose":
        if not item.numbered:
            return "; ".join(item.listed(units))
        return "; ".join(f"{n} {o}" for n, o in enumerate(item.options, 1))
    if item.kind == "date":
        return DATES[units]
    if item.kind == "write":
        return "some text"
    if item.kind == "count":
        return item.accepted_in() or "a whole number"
    if item.kind == "series":
        return "time and reading in pairs, as 0 100; 30 112.5; 60 124 " + item.unit_in(units)
    if len(item.labels) > 1:
        return f"{len(item.labels)} numbers in {item.unit_in(units)}{words}"
    unit = item.unit_in(units)
    return (item.accepted_in(unit) or (f"a number in {unit}" if unit else "a number")) + words


def _confirm(item: Item, raw: str, units: str) -> Parsed:
    answers = {"y": True, "yes": True, "n": False, "no": False}
    if raw.casefold() not in answers:
        raise InputError(item.ask, show_typed(raw), "yes or no")
    return Parsed(raw, answers[raw.casefold()])


def _choose(item: Item, raw: str, units: str) -> Parsed:
    if not item.numbered:
        return Parsed(raw, _sized(item, raw, units))
    folded = raw.casefold()
    for option in item.options:
        if option.casefold() == folded:
            return Parsed(raw, option)
    if raw.isdecimal() and 1 <= int(raw[:4]) <= len(item.options):
        return Parsed(raw, item.options[int(raw) - 1])
    starts = [o for o in item.options if o.casefold().startswith(folded)]
    if len(starts) == 1:
        return Parsed(raw, starts[0])
    raise InputError(item.ask, show_typed(raw), _accepted(item, units))


_FIGURE = re.compile(r"\d+(?:[./]\d+)*")
_OWN_UNIT = {"us": "awg", "metric": "mm2"}
"""The unit of a wire size that is typed without one, where a list has sizes in both."""


def _sized(item: Item, raw: str, units: str) -> str:
    """The option that is typed as a size, never by its place in the list.

    A figure alone is the option that begins with it; it wants its unit where two do, or where it
    would be taken for a size of the other system: 16 of a US job is no 16 mm².
    """
    typed, sizes = _size(raw), {_size(o): o for o in item.options}
    if typed in sizes:
        return sizes[typed]
    if not _FIGURE.fullmatch(typed):
        found = [o for size, o in sizes.items() if size.startswith(typed)]
    else:
        ends = {size.removeprefix(typed): o for size, o in sizes.items() if _begins(size, typed)}
        found = list(ends.values())
        others = {_FIGURE.sub("", size, count=1) for size in sizes}
        foreign = set(_OWN_UNIT.values()) <= others and _OWN_UNIT[units] not in ends
        if foreign and found and typed.isdecimal():
            raise InputError(item.ask, f"{raw} without a unit", f"{' or '.join(found)} in full")
    if len(found) == 1:
        return found[0]
    accepted = f"{' or '.join(found)}, which of them" if found else _accepted(item, units)
    raise InputError(item.ask, show_typed(raw), accepted)


def _size(text: str) -> str:
    """A size as it is compared: 2,5 mm2 is 2.5mm², AWG 14 is 14 awg."""
    plain = "".join(text.casefold().replace(",", ".").replace("²", "2").split())
    plain = plain.replace("°", "").replace("^", "").replace("sqmm", "mm2").replace("qmm", "mm2")
    return f"{plain[3:]}awg" if re.fullmatch(r"awg\d+", plain) else plain


def _begins(size: str, figure: str) -> bool:
    first = _FIGURE.match(size)
    return first is not None and first[0] == figure


def _write(item: Item, raw: str, units: str) -> Parsed:
    if len(raw) > MAX_WRITTEN:
        raise InputError(item.ask, f"{len(raw)} characters", f"at most {MAX_WRITTEN}")
    return Parsed(raw, raw)


DATES = {"us": "a date as 2026-03-01", "metric": "a date as 2026-03-01 or 1.3.2026"}
"""How a date is typed, in a "us" or "metric" job."""

_DOTTED = re.compile(r"(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})")


def _date(item: Item, raw: str, units: str) -> Parsed:
    return Parsed(raw, typed_date(item.ask, raw, units))


def typed_date(what: str, raw: str, units: str) -> date:
    """Year, month and day, or in a metric job day, month and year with dots.

    Strokes are never guessed at: 3/4/2026 is March to one and April to another.
    """
    dotted = _DOTTED.fullmatch(raw) if units == "metric" else None
    try:
        if dotted:
            return date(int(dotted[3]), int(dotted[2]), int(dotted[1]))
        return date.fromisoformat(raw)
    except ValueError:
        strokes = "/" if units == "metric" else "/ or ."
        two_ways = re.search(r"\d/\d" if units == "metric" else r"\d[/.]\d", raw)
        why = f"; with {strokes} it could be read two ways" if two_ways else ""
        raise InputError(what, show_typed(raw), DATES[units] + why) from None


def _count(item: Item, raw: str, units: str) -> Parsed:
    if not re.fullmatch(r"[+-]?\d{1,9}", raw):
        raise InputError(item.ask, show_typed(raw), _accepted(item, units))
    value = int(raw)
    low, high = item.accept or (0, 10**9)
    if not low <= value <= high:
        raise InputError(item.ask, raw, item.accepted_in() or "0 or more")
    return Parsed(raw, value)


def _measure(item: Item, raw: str, units: str) -> Parsed:
    unit = item.unit_in(units)
    if not item.labels:
        reading = parse_quantity(raw, item.quantity, unit, item.ask)
        _within(item, reading, raw)
        return Parsed(raw, reading.value, reading.unit)
    readings = parse_set(raw, item.quantity, unit, item.labels, item.ask)
    for reading in readings:
        _within(item, reading, format_quantity(reading.si, item.quantity, reading.unit))
    if len({r.unit for r in readings}) > 1:
        raise InputError(item.ask, show_typed(raw), "one unit for all readings")
    return Parsed(raw, tuple(r.value for r in readings), readings[0].unit)


def _within(item: Item, reading: Reading, given: str) -> None:
    """Refuse what is not accepted, in the unit that was typed or else taken."""
    if item.accept and not is_within(reading.si, *item.accept):
        raise InputError(item.ask, given, item.accepted_in(reading.unit))


_GROUPED = re.compile(r"(?<![\d.,/])[1-9]\d{0,2}\.\d{3}(?![\d.,/])")


def two_ways(item: Item, parsed: Parsed, units: str) -> str:
    """What a number such as 1.200 of a metric job may mean besides 1.2; empty where nothing else.

    A point before just three digits parts thousands in half of Europe and decimals elsewhere.
    Only a thousandfold that is usual here is worth a question: 1.250 mm of a gap is no 1250 mm.
    """
    usual = item.likely or item.accept
    if units != "metric" or not usual or item.kind not in ("measure", "time"):
        return ""
    for typed in _GROUPED.findall(parsed.raw):
        plain = float(typed)
        if is_within(to_si(1000 * plain, item.quantity, parsed.unit), *usual):
            one, other = (f"{n:g} {parsed.unit}".rstrip() for n in (plain, 1000 * plain))
            return f"{typed} can mean {one} or {other}; it is taken as {one}."
    return ""


def _series(item: Item, raw: str, units: str) -> Parsed:
    pairs = [p.split(maxsplit=1) for p in raw.split(";") if p.strip()]
    for pair in pairs:
        if len(pair) != 2:
            raise InputError(item.ask, show_typed(pair[0]), _accepted(item, units))
    last = parse_quantity(pairs[-1][1], item.quantity, item.unit_in(units), item.ask)
    rows = []
    for time, text in pairs:
        reading = parse_quantity(text, item.quantity, last.unit, item.ask)
        if reading.unit != last.unit:
            raise InputError(item.ask, show_typed(text), "one unit for all readings")
        _within(item, reading, text)
        rows.append((parse_quantity(time, "time", "s", item.ask).si, reading.value))
    return series(item, rows, last.unit, raw)


def series(item: Item, rows: list[tuple[float, float]], unit: str, raw: str) -> Parsed:
    """A checked series of (seconds, reading in `unit`)."""
    if not 2 <= len(rows) <= MAX_ROWS:
        raise InputError(item.ask, f"{len(rows)} readings", f"2 to {MAX_ROWS}")
    for (before, _), (after, _) in pairwise(rows):
        if after <= before:
            raise InputError(item.ask, f"{after:g} s after {before:g} s", "times that increase")
    return Parsed(raw, tuple(rows), unit)


_PARSERS: Mapping[str, Callable[[Item, str, str], Parsed]] = {
    "measure": _measure,
    "time": _measure,
    "count": _count,
    "confirm": _confirm,
    "choose": _choose,
    "write": _write,
    "date": _date,
    "series": _series,
}
