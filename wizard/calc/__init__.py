"""Formulas: plain SI floats in and out, one function one formula, each with its source."""

from __future__ import annotations

from functools import cache
from importlib import import_module, resources

from wizard.formula import FORMULAS, FormulaSpec


@cache
def load() -> dict[str, FormulaSpec]:
    """Every formula by name."""
    for entry in sorted(resources.files(__package__).iterdir(), key=lambda e: e.name):
        if entry.name.endswith(".py") and entry.name != "__init__.py":
            import_module(f"{__package__}.{entry.name.removesuffix('.py')}")
    return FORMULAS
