"""Rows as CSV that a spreadsheet opens without running anything.

Invariant: a text that a spreadsheet would take for a formula begins with an apostrophe; numbers
stay numbers.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

RISKY = ("=", "+", "-", "@", "\t", "\r")

Cell = str | int | float | bool | None


def csv_text(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """A table with its head line.

    >>> print(csv_text(["a", "b"], [["=1+1", -5.2], ["-5.2 bar", None]]), end="")
    a,b
    '=1+1,-5.2
    '-5.2 bar,
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows([safe(cell) for cell in row] for row in rows)
    return out.getvalue()


def safe(cell: Cell) -> Cell:
    """A cell that no spreadsheet takes for a formula, on one line."""
    if not isinstance(cell, str):
        return cell
    text = " ".join(cell.split("\n"))
    return f"'{text}" if text.startswith(RISKY) else text
