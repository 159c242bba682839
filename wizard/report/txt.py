"""A sheet as plain text for any printer or screen.

Invariant: no line is wider than the page, and nothing but text is in it.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from wizard.pictures.ladder import Rung, ladder
from wizard.pictures.plot import curve
from wizard.report.blocks import (
    Block,
    Bullets,
    Code,
    Facts,
    Ladder,
    Lines,
    Para,
    Plot,
    Sheet,
    Table,
)
from wizard.text import show

WIDTH, DRAWN = 96, 78
LONGEST = 40
NAMED = 44


def text(sheet: Sheet) -> str:
    """The sheet."""
    return "\n".join(line.rstrip() for line in _lines(sheet)) + "\n"


def _lines(sheet: Sheet) -> Iterator[str]:
    yield from _wrapped(show(sheet.title).upper())
    for about in sheet.about:
        yield from _wrapped(about)
    yield f"Written {sheet.made}"
    for warning in sheet.warnings:
        yield ""
        yield from _wrapped(f"*** {warning} ***")
    for section in sheet.sections:
        yield ""
        yield ""
        title = _wrapped(show(section.title).upper())
        yield from title
        yield "=" * len(title[-1])
        for block in section.blocks:
            yield ""
            yield from block_lines(block, WIDTH)


def block_lines(block: Block, width: int) -> Iterator[str]:
    """One block as lines."""
    match block:
        case Facts(pairs):
            names = [show(name)[:LONGEST] for name, _ in pairs]
            longest = max(map(len, names), default=0)
            for name, (_, value) in zip(names, pairs, strict=True):
                lead = f"{name:<{longest}}  "
                yield from _wrapped(value, width, lead)
        case Table():
            yield from _table(block, width)
        case Para(said, strong):
            yield from _wrapped(said.upper() if strong else said, width)
        case Bullets(items):
            for item in items:
                yield from _wrapped(item, width, "- ")
        case Ladder() | Plot():
            yield from drawn(block, width)
        case Lines(names):
            for name in names:
                yield ""
                *above, last = _wrapped(name, NAMED)
                yield from above
                yield f"{last:<{NAMED}} {'_' * 24}  {'_' * 12}"
        case Code(lines):
            yield from (f"    {show(line)}" for line in lines)


def drawn(block: Ladder | Plot, width: int) -> list[str]:
    """A drawing as lines of text."""
    room = min(width, DRAWN)
    if isinstance(block, Ladder):
        rungs = [Rung(show(r.name)[:LONGEST], r.value, show(r.text), r.level) for r in block.rungs]
        return ladder(rungs, room)
    return [show(block.title), *curve(block.points, room, 10, show(block.unit))]


def _wrapped(said: str, width: int = WIDTH, lead: str = "") -> list[str]:
    rest = " " * len(lead)
    rows = textwrap.wrap(show(said), width - len(lead)) or [""]
    return [lead + rows[0], *(rest + row for row in rows[1:])]


def _table(table: Table, width: int) -> Iterator[str]:
    widths = _widths(table, width)
    if any(table.head):
        yield from _row(table.head, widths)
        yield "  ".join("-" * w for w in widths)
    for row in table.rows:
        if len(row) == 1 < len(table.head):
            yield ""
            yield show(row[0])
        else:
            yield from _row(row, widths)


def _row(cells: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    columns = [textwrap.wrap(show(c), w) or [""] for c, w in zip(cells, widths, strict=True)]
    for number in range(max(map(len, columns))):
        parts = (c[number] if number < len(c) else "" for c in columns)
        yield "  ".join(f"{part:<{w}}" for part, w in zip(parts, widths, strict=True))


def _widths(table: Table, width: int) -> list[int]:
    """Columns as the table asks for, made to fit the page."""
    asked = list(table.widths) or [width // len(table.head)] * len(table.head)
    room = width - 2 * (len(asked) - 1)
    scale = room / sum(asked)
    return [max(3, int(w * scale)) for w in asked]
