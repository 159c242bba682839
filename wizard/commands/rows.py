"""The rows of a review as a table in lines: for a pipe whole, for a terminal as wide as that is.

Invariant: what a narrow terminal has no column for stands below the row, and no row breaks in a
word.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wizard.review.compare import Comparison
from wizard.review.row import Row
from wizard.review.table import COLUMNS, Column, doubts_of

WIDTHS = {"job": 16, "machine": 24, "site": 22, "technician": 16, "day": 10, "state": 31}
SHORT = {"holds": "H", "failures": "F", "advisories": "A", "open": "O", "doubts": "D"}
NARROW = {"job": 16, "day": 10, "state": 31, **dict.fromkeys(SHORT, 3)}
"""Columns of a narrow terminal and their widths; the state gives way where it is narrower still."""
LEGEND = "H holds  F failed  A advisories  O open  D doubts"


def table_lines(rows: Sequence[Row], against: Comparison, width: int = 0) -> Iterator[str]:
    """The rows as a table in lines, with what is wrong or doubtful below each.

    On a terminal of a `width` that is too narrow for all columns, machine, place and technician
    stand below, too; 0 is any width.
    """
    shown = columns_for(width)
    yield " ".join(
        f"{title:{'>' if c.name in SHORT else '<'}{w}}" for c, title, w in shown
    ).rstrip()
    below = not any(c.name == "site" for c, _, _ in shown)
    for row in rows:
        yield " ".join(_shown(c, row, w) for c, _, w in shown).rstrip()
        if below and not row.is_job and len(row.file) > WIDTHS["job"]:
            yield f"  {row.file}"
        if below and row.is_job:
            yield f"  {row.machine or 'no machine named'}; {row.site or 'no place named'}; " + (
                row.technician or "nobody"
            )
        if row.is_training:
            yield f"  training record, not a machine: {row.practised}"
        elif row.practice and row.is_job:
            yield "  practice run, not a machine"
        if row.error:
            yield f"  ! {row.error}"
        for doubt in doubts_of(row, against):
            yield f"  ? {doubt}"
    if below:
        yield LEGEND


def columns_for(width: int) -> list[tuple[Column, str, int]]:
    """The columns that a terminal takes, each with its title and how wide it is."""
    wide = [(c, c.title, WIDTHS.get(c.name, len(c.title))) for c in COLUMNS if c.title]
    if not width or width > sum(w + 1 for _, _, w in wide):
        return wide
    kept = [(c, SHORT.get(c.name, c.title), NARROW[c.name]) for c in COLUMNS if c.name in NARROW]
    over = sum(w + 1 for _, _, w in kept) - width
    return [
        (c, t, w - max(0, min(over, w - len(t))) if c.name == "state" else w) for c, t, w in kept
    ]


def _shown(column: Column, row: Row, width: int) -> str:
    if column.name in WIDTHS:
        return f"{_cut(column.text(row), width):<{width}}"
    return f"{column.text(row):>{width}}"


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 1]}…"
