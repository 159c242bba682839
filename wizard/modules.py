"""Packages whose modules are imported all at once or one by one, or when they are first wanted."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from typing import Any


def import_all(package: str) -> None:
    """Import every module of a package."""
    folder = Path(import_module(package).__path__[0])
    for path in sorted(folder.glob("*.py")):
        if path.stem != "__init__":
            import_module(f"{package}.{path.stem}")


def import_one(package: str, module: str) -> None:
    """Import one module of a package; nothing where it has no such module."""
    if (Path(import_module(package).__path__[0]) / f"{module}.py").is_file():
        import_module(f"{package}.{module}")


def export(package: str, homes: Mapping[str, tuple[str, ...]], name: str) -> Any:
    """What a package exports, its module imported when it is first wanted; `homes` says where
    each name is. AttributeError where it is nowhere."""
    for module, names in homes.items():
        if name in names:
            return getattr(import_module(f"{package}.{module}"), name)
    raise AttributeError(f"module {package!r} has no attribute {name!r}")
