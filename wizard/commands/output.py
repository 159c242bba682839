"""Printing: JSON that scripts rely on, text that is safe on a terminal."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from datetime import date
from typing import Any

GOOD, UNFINISHED, FAILED, UNREADABLE, USAGE = 0, 1, 2, 3, 64
"""Exit status: good; not finished or advisory only; failed or held; unreadable or bad input;
wrong usage."""

STATUS_OF_VERDICT = {
    "PASS": GOOD,
    "NOT APPLICABLE": GOOD,
    "ADVISORY": UNFINISHED,
    "OPEN": UNFINISHED,
    "INCONCLUSIVE": FAILED,
    "FAIL": FAILED,
}


def print_json(data: Any) -> None:
    """One JSON value on stdout; never NaN."""
    print(json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False, default=_plain))


def _plain(value: object) -> str:
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} has no JSON form")


def print_lines(lines: Iterable[str]) -> None:
    """Lines of data on stdout."""
    for line in lines:
        print(line)


def narrate(text: str) -> None:
    """A sentence for the person, on stderr."""
    print(text, file=sys.stderr)
