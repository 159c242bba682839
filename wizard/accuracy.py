"""Instruments as they are typed: the accuracy from a data sheet as numbers.

Invariant: an accuracy that is not understood is refused, never guessed.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from wizard.errors import InputError
from wizard.instrument import Instrument
from wizard.quantities import parse_number, parse_quantity, show_typed, to_si

ACCEPTED = "1 %, 0.5 % of 16 bar, 2 V, or several with + between"
_SHARE = re.compile(r"([0-9.,/ ]+)%\s*(?:of\s+)?(?:reading|rdg)?", re.IGNORECASE)
_SCALE = re.compile(r"([0-9.,/ ]+)%\s*(?:of|fs|full scale)\s+(.+)", re.IGNORECASE)


def with_accuracy(instrument: Instrument, text: str, unit: str) -> Instrument:
    """The instrument with an accuracy as printed on its data sheet.

    >>> meter = Instrument("meter A", "voltmeter", "voltage")
    >>> round(with_accuracy(meter, "±(1 % + 2 V)", "V").half_width(230.0), 9)
    4.3
    """
    for part in text.replace("±", "").strip("() ").split("+"):
        instrument = _with_part(instrument, part.strip(" ()"), unit)
    return instrument


def _with_part(instrument: Instrument, part: str, unit: str) -> Instrument:
    kind = instrument.quantity
    if match := _SHARE.fullmatch(part):
        return replace(instrument, of_reading=_percent(match[1]))
    if kind and (match := _SCALE.fullmatch(part)):
        full = _span(match[2], kind, unit, "full scale")
        return replace(instrument, of_scale=_percent(match[1]), full_scale=full)
    if not kind or not part:
        raise InputError("accuracy", show_typed(part), ACCEPTED)
    return replace(instrument, fixed=_span(part, kind, unit, "accuracy"))


def _span(text: str, kind: str, unit: str, what: str) -> float:
    """A typed quantity as a distance from the zero of its unit."""
    reading = parse_quantity(text, kind, unit, what)
    return abs(reading.si - to_si(0.0, kind, reading.unit))


def _percent(text: str) -> float:
    share = parse_number(text, "accuracy") / 100
    if not 0 < share < 1:
        raise InputError("accuracy", f"{text} %", ACCEPTED)
    return share


def due_date(text: str) -> date | None:
    """A calibration date; None where nothing is typed."""
    if not text.strip():
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise InputError("calibration due", show_typed(text), "a date as 2026-03-01") from None
