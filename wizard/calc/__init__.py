"""Formulas: plain SI floats in and out, one function one formula, each with its source."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from wizard.formula import FORMULAS, FormulaSpec
from wizard.modules import import_all, import_one

_MODULES: dict[str, str] = {}


@cache
def load() -> dict[str, FormulaSpec]:
    """Every formula by name."""
    import_all(__name__)
    return FORMULAS


def named(name: str) -> FormulaSpec:
    """One formula, without importing the others where its module is known; KeyError if none."""
    if name not in FORMULAS and name in _MODULES:
        import_one(__name__, _MODULES[name])
    return FORMULAS[name] if name in FORMULAS else load()[name]


def names() -> tuple[str, ...]:
    """The name of every formula, without importing them where the names are known."""
    return tuple(_MODULES or load())


def recall(modules: Mapping[str, str]) -> None:
    """Take up which module defines which formula."""
    _MODULES.update(modules)
