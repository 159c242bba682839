"""What a sheet is made of, with no word about how it is written.

Invariant: a block holds plain text only; whoever writes it escapes it.
"""

from __future__ import annotations

from dataclasses import dataclass

from wizard.pictures.ladder import Rung


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head; `small` where there are many and they are looked up rather than read.

    A row of one cell is a heading within the table; `columns` are those of the page that it may
    be broken into where the page is wide enough.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[int, ...] = ()
    small: bool = False
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph; `strong` where it must not be missed."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Bullets:
    """Sentences, one below the other."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ladder:
    """Pressures drawn to one scale, the lowest first."""

    rungs: tuple[Rung, ...]


@dataclass(frozen=True, slots=True)
class Plot:
    """Readings against seconds, in a unit."""

    title: str
    points: tuple[tuple[float, float], ...]
    unit: str


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines to write on by hand, with what belongs on each."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Code:
    """Commands to type, line by line."""

    lines: tuple[str, ...]


Block = Facts | Table | Para | Bullets | Ladder | Plot | Lines | Code


@dataclass(frozen=True, slots=True)
class Section:
    """A title and its blocks; `apart` where it begins a page when printed."""

    title: str
    blocks: tuple[Block, ...]
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet; `warnings` are what a reader must see before anything else."""

    title: str
    about: tuple[str, ...]
    warnings: tuple[str, ...]
    sections: tuple[Section, ...]
    made: str
    language: str = "en"
