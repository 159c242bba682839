"""Published tables as TOML beside this file, each with its source and honesty mark.

Invariant: a look-up outside the table is an error, never an extrapolation.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import tomli

from wizard.errors import OutsideValidity
from wizard.sources import Source


@dataclass(frozen=True, slots=True)
class Table:
    """A table: `rows` in file order, `columns` what each column holds and in which unit."""

    name: str
    title: str
    source: Source
    columns: dict[str, str]
    rows: tuple[dict[str, Any], ...]

    def row(self, column: str, value: Any) -> dict[str, Any]:
        """The row whose `column` equals `value`; OutsideValidity where there is none."""
        for row in self.rows:
            if row[column] == value:
                return row
        listed = ", ".join(str(row[column]) for row in self.rows)
        raise OutsideValidity(f"{self.title}: {column}", str(value), listed)

    def at_or_above(self, column: str, value: float) -> dict[str, Any]:
        """The first row whose `column` is at or above `value` (rows ascend)."""
        for row in self.rows:
            if row[column] >= value - 1e-9 * abs(value):
                return row
        raise OutsideValidity(
            f"{self.title}: {column}", f"{value:g}", f"up to {self.rows[-1][column]:g}"
        )

    def between(self, column: str, value: float, result: str) -> float:
        """`result` by straight line between the rows around `value` (rows ascend)."""
        first, last = self.rows[0][column], self.rows[-1][column]
        if not first <= value <= last:
            raise OutsideValidity(f"{self.title}: {column}", f"{value:g}", f"{first:g} to {last:g}")
        for low, high in zip(self.rows, self.rows[1:], strict=False):
            if value <= high[column]:
                share = (value - low[column]) / (high[column] - low[column])
                return float(low[result] + share * (high[result] - low[result]))
        return float(self.rows[-1][result])


@cache
def table(name: str) -> Table:
    """The table in `name`.toml.

    The file has `title`, `[source]` with text and mark, `[columns]` and `[[rows]]`.
    """
    text = Path(__file__).with_name(f"{name}.toml").read_text("utf-8")
    data = tomli.loads(text)
    source = Source(data["source"]["text"], data["source"]["mark"])
    return Table(name, data["title"], source, data["columns"], tuple(data["rows"]))
