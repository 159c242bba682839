"""What ends a practice run: the act, what would have happened, what to do instead."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import resources

import tomli


@dataclass(frozen=True, slots=True)
class Danger:
    """One way to end a run, told soberly."""

    name: str
    title: str
    happened: str
    instead: str


@cache
def dangers() -> dict[str, Danger]:
    """Every danger by name."""
    text = resources.files(__package__).joinpath("dangers.toml").read_text("utf-8")
    return {name: Danger(name, **told) for name, told in tomli.loads(text).items()}
