"""What a record holds beyond what this version knows, carried through a save unchanged.

Invariant: a key written by a newer version keeps its value however often an older one saves.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from wizard.record.migrate import SCHEMA

MIN_WRITER = 1
"""The oldest schema that may write what this version writes."""

Values = Mapping[str, Any]


@dataclass(frozen=True)
class Extra:
    """Unknown keys by place, and the settings exactly as the record first had them.

    `tables` are unknown keys of single tables ("" for the top), `rows` those of the rows of an
    array by what identifies a row: the key of an answer, the seq of an event, a name.
    """

    schema: int = SCHEMA
    min_writer: int = MIN_WRITER
    settings: Values | None = None
    tables: Mapping[str, Values] = field(default_factory=dict)
    rows: Mapping[str, Mapping[Any, Values]] = field(default_factory=dict)

    def of(self, table: str) -> Values:
        """The unknown keys of a single table."""
        return self.tables.get(table, {})

    def row(self, table: str, identity: Any) -> Values:
        """The unknown keys of one row of an array."""
        return self.rows.get(table, {}).get(identity, {})


NOTHING = Extra()
