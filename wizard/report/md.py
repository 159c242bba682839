"""A sheet as Markdown.

Invariant: text from a record is text in the result too: it makes no heading, link, tag or table.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

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
from wizard.report.txt import drawn
from wizard.text import show

WIDTH = 78
_SPECIAL = re.compile(
    r"[\\`*\[<>|~$]"  # wherever they stand
    r"|(?<![^\W_])_|_(?![^\W_])"  # at the end of a word
    r"|&(?=#?\w+;)"  # before the name of a character
    r"|^(?:[#=]|[-+](?=[\s-]|$))"  # at the beginning
    r"|#(?=#*$)"  # at the end of a heading
)


def markdown(sheet: Sheet) -> str:
    """The sheet."""
    return "\n".join(_lines(sheet)) + "\n"


def escaped(text: str) -> str:
    """Text that Markdown shows as it is, escaped only where it would mean something else.

    >>> escaped("[a](b) <c> #x").count(chr(92)), escaped("-20 °F to 5 (hp) on 2026-11-25")
    (3, '-20 °F to 5 (hp) on 2026-11-25')
    """
    said = _SPECIAL.sub(lambda found: "\\" + found[0], show(text).strip())
    return re.sub(r"^(\d+)([.)])(?=\s|$)", r"\1\\\2", said)


def _lines(sheet: Sheet) -> Iterator[str]:
    yield f"# {escaped(sheet.title)}"
    yield ""
    yield "  \n".join([*map(escaped, sheet.about), f"Written {escaped(sheet.made)}"])
    for warning in sheet.warnings:
        yield ""
        yield f"> **{escaped(warning)}**"
    for section in sheet.sections:
        yield ""
        yield f"## {escaped(section.title)}"
        for block in section.blocks:
            yield ""
            yield from _block(block)


def _block(block: Block) -> Iterator[str]:
    match block:
        case Facts(pairs):
            yield from _table(Table(("", ""), pairs))
        case Table():
            yield from _table(block)
        case Para(said, strong):
            yield f"**{escaped(said)}**" if strong else escaped(said)
        case Bullets(items):
            yield from (f"- {escaped(item)}" for item in items)
        case Ladder() | Plot():
            yield from _fenced(drawn(block, WIDTH))
        case Lines(names):
            for name in names:
                yield f"- {escaped(name)}: \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_"
        case Code(lines):
            yield from _fenced([show(line) for line in lines])


def _fenced(lines: list[str]) -> Iterator[str]:
    longest = max((len(run) for line in lines for run in re.findall(r"`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    yield f"{fence}text"
    yield from lines
    yield fence


def _table(table: Table) -> Iterator[str]:
    columns = len(table.head)
    yield f"| {' | '.join(map(escaped, table.head))} |"
    yield "|" + " --- |" * columns
    for row in table.rows:
        if len(row) == 1 < columns:
            yield f"| **{escaped(row[0])}** |" + " |" * (columns - 1)
        else:
            yield f"| {' | '.join(map(escaped, row))} |"
