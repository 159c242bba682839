"""Instruments as they are typed: the accuracy from a data sheet as numbers.

Invariant: an accuracy that is not understood is refused, never guessed.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from wizard.answer import typed_date
from wizard.errors import InputError, QuantityError
from wizard.instrument import Instrument
from wizard.quantities import parse_number, parse_quantity, show_typed, to_si

ACCEPTED = "1 %, 0.5 % of 16 bar, 2 V, 3 digits of 0.1 V, or several with + between"
_SHARE = re.compile(r"([0-9.,/ ]+)%\s*(?:of\s+)?(?:reading|rdg)?", re.IGNORECASE)
_DIGITS = re.compile(
    r"([0-9]{1,3}) ?(?:digits?|dgts?|counts?|d|lsd)(?: ?(?:of|at|x|×|\*) ?(.+))?", re.IGNORECASE
)
_SCALE = re.compile(r"([0-9.,/ ]+)%\s*(?:of|fs|full scale)\s+(.+)", re.IGNORECASE)


def wants_resolution(text: str) -> bool:
    """Whether an accuracy has digits whose size is not said.

    >>> wants_resolution("0.5 % + 3 digits"), wants_resolution("0.5 % + 3 digits of 0.1 V")
    (True, False)
    """
    found = [_DIGITS.fullmatch(part) for part in _parts(text)]
    return any(match and not match[2] for match in found)


def _parts(text: str) -> list[str]:
    return [part.strip(" ()") for part in text.replace("±", "").strip("() ").split("+")]


def with_accuracy(instrument: Instrument, text: str, unit: str, resolution: str = "") -> Instrument:
    """The instrument with an accuracy as printed on its data sheet.

    Digits count steps of the display, each as large as its `resolution` where the text does not
    say it.

    >>> meter = Instrument("meter A", "voltmeter", "voltage")
    >>> round(with_accuracy(meter, "±(1 % + 2 V)", "V").half_width(230.0), 9)
    4.3
    >>> round(with_accuracy(meter, "0.5 % + 3 digits", "V", "0.1 V").half_width(230.0), 9)
    1.45
    """
    for part in _parts(text):
        instrument = _with_part(instrument, part, unit, resolution)
    return instrument


def _with_part(instrument: Instrument, part: str, unit: str, resolution: str) -> Instrument:
    kind = instrument.quantity
    if kind and (match := _DIGITS.fullmatch(part)):
        if not (step := match[2] or resolution):
            raise InputError("accuracy", part, f"the size of a digit too, as {part} of 0.1 {unit}")
        size = _span(step, kind, unit, "size of a digit")
        return replace(instrument, fixed=instrument.fixed + int(match[1]) * size)
    if match := _SHARE.fullmatch(part):
        return replace(instrument, of_reading=_percent(match[1]))
    if kind and (match := _SCALE.fullmatch(part)):
        full = _span(match[2], kind, unit, "full scale")
        return replace(instrument, of_scale=_percent(match[1]), full_scale=full)
    if not kind or not part:
        raise InputError("accuracy", show_typed(part), ACCEPTED)
    try:
        fixed = _span(part, kind, unit, "accuracy")
    except QuantityError:
        raise InputError("accuracy", show_typed(part), ACCEPTED) from None
    return replace(instrument, fixed=instrument.fixed + fixed)


def _span(text: str, kind: str, unit: str, what: str) -> float:
    """A typed quantity as a distance from the zero of its unit."""
    reading = parse_quantity(text, kind, unit, what)
    return abs(reading.si - to_si(0.0, kind, reading.unit))


def _percent(text: str) -> float:
    share = parse_number(text, "accuracy") / 100
    if not 0 < share < 1:
        raise InputError("accuracy", f"{text} %", ACCEPTED)
    return share


def due_date(text: str, units: str = "us") -> date | None:
    """A calibration date as typed in a "us" or "metric" job; None where nothing is typed."""
    return typed_date("calibration due", text.strip(), units) if text.strip() else None
