"""Rules: answers in, a Finding out. `load` imports them all and fills the register."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from wizard.checks.rule import CHECKS, CheckSpec
from wizard.modules import import_all, import_one

_MODULES: dict[str, str] = {}


@cache
def load() -> dict[str, CheckSpec]:
    """Every check by name."""
    import_all(__name__)
    return CHECKS


def named(name: str) -> CheckSpec:
    """One check, without importing the others where its module is known; KeyError if none."""
    if name not in CHECKS and name in _MODULES:
        import_one(__name__, _MODULES[name])
    return CHECKS[name] if name in CHECKS else load()[name]


def names() -> tuple[str, ...]:
    """The name of every check, without importing them where the names are known."""
    return tuple(_MODULES or load())


def recall(modules: Mapping[str, str]) -> None:
    """Take up which module defines which check."""
    _MODULES.update(modules)
