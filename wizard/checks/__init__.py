"""Rules: answers in, a Finding out. `load` imports them all and fills the register."""

from __future__ import annotations

from functools import cache
from importlib import import_module, resources

from wizard.checks.rule import CHECKS, CheckSpec


@cache
def load() -> dict[str, CheckSpec]:
    """Every check by name."""
    for entry in sorted(resources.files(__package__).iterdir(), key=lambda e: e.name):
        if entry.name.endswith(".py") and entry.name != "__init__.py":
            import_module(f"{__package__}.{entry.name.removesuffix('.py')}")
    return CHECKS
