"""Guides, kept inside the package as Markdown."""

from __future__ import annotations

from pathlib import Path

from wizard.errors import InputError
from wizard.guide.plain import plain
from wizard.text import show

__all__ = ["about", "names", "plain", "text"]

ORDER = ("field", "lead", "apprentice", "changes", "proof")


def names() -> tuple[str, ...]:
    """The guides, in the order in which they are listed."""
    found = {path.stem for path in Path(__file__).parent.glob("*.md")}
    return (*(n for n in ORDER if n in found), *sorted(found - set(ORDER)))


def text(name: str) -> str:
    """A guide as Markdown; InputError where there is none of that name."""
    if name not in names():
        raise InputError("guide", show(name) or "nothing", ", ".join(names()))
    return (Path(__file__).parent / f"{name}.md").read_text("utf-8")


def about(name: str) -> str:
    """The title of a guide."""
    return text(name).partition("\n")[0].lstrip("# ")
