"""A procedure as plain values and back, to be kept once it has been verified.

Invariant: what comes back equals what went in; nothing is verified here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from wizard.finding import Severity
from wizard.procedure.item import (
    Answered,
    Binding,
    Item,
    Literal,
    Phase,
    Procedure,
    Reference,
    Result,
    Setting,
)

_REFERENCES: Mapping[str, type[Reference]] = {
    "answer": Answered,
    "result": Result,
    "setting": Setting,
    "literal": Literal,
}
_NAMES = {kind: name for name, kind in _REFERENCES.items()}
_TUPLES = ("labels", "options", "bad", "advise", "accept", "likely", "same_instrument")


def to_plain(procedure: Procedure) -> dict[str, Any]:
    """Lists, mappings, texts and numbers that JSON takes."""
    return {
        "name": procedure.name,
        "version": procedure.version,
        "sha256": procedure.sha256,
        "phases": [_values(p, without="items") for p in procedure.phases],
        "items": [_item_values(i) for i in procedure.items.values()],
        "dependents": procedure.dependents,
    }


def from_plain(data: Mapping[str, Any]) -> Procedure:
    """The procedure in these values; KeyError, TypeError or ValueError where they are none."""
    items = {row["key"]: _item(row) for row in data["items"]}
    phases = tuple(
        Phase(**row, items=tuple(i for i in items.values() if i.phase == row["number"]))
        for row in data["phases"]
    )
    dependents = {key: tuple(after) for key, after in data["dependents"].items()}
    return Procedure(data["name"], data["version"], data["sha256"], phases, items, dependents)


def _values(given: Item | Phase, without: str) -> dict[str, Any]:
    """The fields that differ from their defaults."""
    return {
        f.name: value
        for f in fields(given)
        if f.name != without and (value := getattr(given, f.name)) != f.default
    }


def _item_values(item: Item) -> dict[str, Any]:
    values = _values(item, without="checks")
    if item.checks:
        values["checks"] = [
            [b.rule, {n: _reference_values(r) for n, r in b.inputs.items()}] for b in item.checks
        ]
    return values


def _reference_values(reference: Reference) -> list[Any]:
    return [_NAMES[type(reference)], *(getattr(reference, f.name) for f in fields(reference))]


def _item(row: Mapping[str, Any]) -> Item:
    given = dict(row)
    given["severity"] = Severity(row["severity"])
    given["when"] = {k: tuple(v) for k, v in row.get("when", {}).items()}
    given["checks"] = tuple(
        Binding(rule, {name: _REFERENCES[kind](*rest) for name, (kind, *rest) in inputs.items()})
        for rule, inputs in row.get("checks", ())
    )
    for name in _TUPLES:
        if name in row:
            given[name] = tuple(row[name])
    return Item(**given)
