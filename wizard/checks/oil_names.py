"""Grades as people write them, and what is taken when the index is not known."""

from __future__ import annotations

from typing import Any

from wizard.errors import InputError
from wizard.kinds import Number
from wizard.tables import table

USUAL_INDEX = 95.0
"""Viscosity index of a plain mineral oil, taken where none is given."""


def grade(what: str, name: str) -> dict[str, Any]:
    """The row of the ISO grade that a name means; SAE names give their nearest ISO grade.

    >>> grade("grade", "vg 100")["name"], grade("grade", "SAE 30")["midpoint"]
    ('ISO VG 100', 100.0)
    """
    folded = " ".join(name.upper().split())
    sae = {row["name"]: row["iso"] for row in table("sae_oils").rows}
    wanted = sae.get(folded, folded)
    rows = table("iso_vg").rows
    for row in rows:
        full = str(row["name"])
        if wanted in (full, full.removeprefix("ISO "), full.removeprefix("ISO VG ")):
            return row
    listed = ", ".join([*(str(row["name"]) for row in rows), *sae])
    raise InputError(what, f"“{name}”", listed)


def index_or_usual(index: Number | None) -> Number:
    """The viscosity index as given, or that of a plain mineral oil."""
    return USUAL_INDEX if index is None else index
