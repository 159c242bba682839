"""What the rows of answers and sign-offs repeat of their events.

Invariant: whoever writes a row and whoever checks one ask here, so they cannot differ.
"""

from __future__ import annotations

from typing import Any

from wizard.answer import Answer
from wizard.event import Event
from wizard.record.fits import is_series

SILENT = frozenset({"Recorded.", "Confirmed.", "Not given."})
"""Findings that say no more than verdict and answer do."""


def entry(answer: Answer) -> dict[str, Any]:
    """The columns of the row that follow from the answer; what is absent is None or empty.

    The value is left out where it is the text as typed; a series stands in its event only.
    """
    value, series = answer.value, ""
    if isinstance(value, tuple) and is_series(value):
        series = _readings(value, answer.unit)
        value = None
    elif isinstance(value, str) and value == answer.raw:
        value = None
    return {
        "raw": answer.raw,
        "value": _listed(value),
        "readings": series,
        "unit": answer.unit,
        "instrument": answer.instrument,
        "confirmed": answer.confirmed,
        "by": answer.by,
        "at": answer.at,
        "seq": answer.seq,
    }


def signoff(event: Event) -> dict[str, Any]:
    """The columns of a sign-off."""
    return {"event": event.seq, **event.data, "by": event.by, "at": event.at}


def told(text: str) -> str:
    """The text of a finding as the record holds it; empty where it says nothing."""
    return "" if text in SILENT else text


def _readings(rows: tuple[Any, ...], unit: str) -> str:
    """How many readings, the first and the last.

    >>> _readings(((0.0, 85.0), (30.0, 112.5)), "psig")
    '2, from 85 psig at 0 s to 112.5 psig at 30 s'
    """
    (began, first), (ended, last) = rows[0], rows[-1]
    return f"{len(rows)}, from {first:g} {unit} at {began:g} s to {last:g} {unit} at {ended:g} s"


def _listed(value: Any) -> Any:
    return [_listed(v) for v in value] if isinstance(value, tuple) else value
