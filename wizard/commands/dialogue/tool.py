"""An instrument put on the list of the job: its name, accuracy and calibration, line by line.

Invariant: a line that is not understood is asked for again, so that those before it are kept.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from wizard.accuracy import due_date, wants_resolution, with_accuracy
from wizard.errors import InputError
from wizard.instrument import Instrument
from wizard.procedure.item import Item

T = TypeVar("T")
Line = Callable[[str], str]
Say = Callable[[list[str]], None]

ACCURACY = "Accuracy, as 1 % + 2 V or 1 % + 3 digits; Enter if unknown> "
DUE = "Calibration due, as 2026-03-01; Enter if none> "


def new_instrument(item: Item, units: str, line: Line, say: Say) -> Instrument:
    """The instrument that a person describes; InputError where it gets no name."""
    kind, unit = item.instrument or "instrument", item.unit_in(units)
    name = " ".join(line(f"Name or number of the {kind}> ").split())[:80]
    if not name:
        raise InputError("instrument", "nothing", "a name or number")
    bare = Instrument(name, kind, item.quantity)

    def known(accuracy: str) -> Instrument:
        if not accuracy:
            return bare
        if not wants_resolution(accuracy):
            return with_accuracy(bare, accuracy, unit)
        with_accuracy(bare, accuracy, unit, f"1 {unit}")  # what is wrong besides is said first
        ask = f"Size of one digit, as 0.1 {unit}; Enter to give the accuracy again> "

        def sized(step: str) -> Instrument | None:
            return with_accuracy(bare, accuracy, unit, step) if step else None

        return _until(ask, sized, line, say) or _until(ACCURACY, known, line, say)

    made = _until(ACCURACY, known, line, say)
    return replace(made, calibration_due=_until(DUE, lambda text: due_date(text, units), line, say))


def _until(ask: str, understood: Callable[[str], T], line: Line, say: Say) -> T:
    while True:
        try:
            return understood(line(ask).strip())
        except InputError as problem:
            say([str(problem)])
