"""Older records brought to the present schema.

Invariant: a step is a pure function from the tables of one schema to those of the next and leaves
the events as they are, because sign-offs cover their chain.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

SCHEMA = 1
"""The meaning of the fields that this version writes."""

Step = Callable[[dict[str, Any]], dict[str, Any]]

STEPS: Mapping[int, Step] = {}
"""Schema to the step that leads to the next one; schema 1 is the first."""


def migrated(
    tables: dict[str, Any], target: int = SCHEMA, steps: Mapping[int, Step] = STEPS
) -> dict[str, Any]:
    """The tables in schema `target`; KeyError where a step is missing."""
    schema = tables["schema"]
    while schema < target:
        tables = {**steps[schema](tables), "schema": schema + 1}
        schema += 1
    return tables
