"""Packages whose modules register what they define, imported all at once or one by one."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path


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
