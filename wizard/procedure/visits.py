"""What a visit after the handover looks at again.

Invariant: a kind of visit names items of the procedure and tasks of the maintenance table only.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

import tomli

from wizard.errors import InputError
from wizard.text import show


@dataclass(frozen=True, slots=True)
class VisitKind:
    """One kind of visit: items in the order of the work, and the tasks that belong to it."""

    name: str
    title: str
    about: str
    caution: str
    tasks: tuple[str, ...]
    items: tuple[str, ...]


@cache
def visit_kinds() -> Mapping[str, VisitKind]:
    """The kinds by name."""
    text = resources.files(__package__).joinpath("visits.toml").read_text("utf-8")
    return {
        name: VisitKind(
            name,
            row["title"],
            row["about"],
            row["caution"],
            tuple(row["tasks"]),
            tuple(row["items"]),
        )
        for name, row in tomli.loads(text).items()
    }


def visit_kind(name: str) -> VisitKind:
    """The kind with this name; InputError where there is none."""
    kinds = visit_kinds()
    if name not in kinds:
        raise InputError("kind of visit", show(name) or "nothing", ", ".join(kinds))
    return kinds[name]
