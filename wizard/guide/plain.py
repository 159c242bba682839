"""Markdown as plain text for a terminal.

Invariant: no word of the text is lost, and no line is wider than asked for but in code and in
words that are longer than a line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby
from textwrap import wrap

_LIST = re.compile(r"(\s*)([-*]|\d+\.)\s+(.*)")
_LINK = re.compile(r"!?\[([^\]]*)\]\(([^)]*)\)")
_CELLS = re.compile(r"(?<!\\)\|")
_RULE = re.compile(r"\|?[\s:|-]+\|?")
_GAP = 2


def plain(markdown: str, width: int = 78) -> Iterator[str]:
    """The lines of a text."""
    lines = iter(_blocks(markdown))
    for kind, block in groupby(lines, key=lambda pair: pair[0]):
        rows = [row for _, row in block]
        if kind == "code":
            yield from (f"    {row}".rstrip() for row in rows)
        elif kind == "table":
            yield from _table(rows, width)
        elif kind == "text":
            yield from _paragraph(rows, width)
        elif kind == "blank":
            yield ""
        else:
            for row in rows:
                yield from _heading(row)


def _blocks(markdown: str) -> Iterator[tuple[str, str]]:
    """Each line with the kind of block that it belongs to; fences of code are left out."""
    code = False
    for row in markdown.splitlines():
        if row.startswith("```"):
            code = not code
        elif code:
            yield "code", row
        elif not row.strip():
            yield "blank", ""
        elif row.startswith("#"):
            yield "heading", row
        else:
            yield ("table" if row.startswith("|") else "text"), row


def _heading(row: str) -> Iterator[str]:
    level = len(row) - len(row.lstrip("#"))
    title = _words(row.lstrip("# "))
    yield title.upper() if level == 1 else title
    if level <= 2:
        yield ("=" if level == 1 else "-") * len(title)


def _words(text: str) -> str:
    """Text without its marks; a link keeps where it leads."""
    linked = _LINK.sub(lambda m: m[1] if m[1] == m[2] else f"{m[1]} ({m[2]})", text)
    bare = re.sub(r"\*\*(.+?)\*\*", r"\1", linked)
    return re.sub(r"`([^`]+)`", r"\1", bare).replace(r"\|", "|")


def _paragraph(rows: list[str], width: int) -> Iterator[str]:
    """Running text and lists, wrapped; a list's lines hang."""
    pieces: list[tuple[str, str]] = []
    for row in rows:
        if found := _LIST.fullmatch(row):
            mark = f"{found[1]}{found[2]} "
            pieces.append((mark, found[3]))
        elif pieces:
            mark, text = pieces[-1]
            pieces[-1] = (mark, f"{text} {row.strip()}")
        else:
            pieces.append(("", row))
    for mark, text in pieces:
        yield from wrap(
            _words(text),
            width,
            initial_indent=mark,
            subsequent_indent=" " * len(mark),
            break_long_words=False,
            break_on_hyphens=False,
        )


def _table(rows: list[str], width: int) -> Iterator[str]:
    """Columns where they fit, else each row as lines of name and value."""
    kept = [r.strip().strip("|") for r in rows if not _RULE.fullmatch(r)]
    cells = [[_words(c.strip()) for c in _CELLS.split(row)] for row in kept]
    if not cells:
        return
    most = max(map(len, cells))
    head, *body = ([*row, *[""] * (most - len(row))] for row in cells)
    columns = [max(len(row[n]) for row in (head, *body)) for n in range(len(head))]
    last = width - sum(columns[:-1]) - _GAP * (len(columns) - 1)
    if last < min(24, columns[-1]):
        yield from _records(head, body, width)
        return
    for row in (head, ["-" * min(c, last) for c in columns], *body):
        fixed = "".join(f"{cell:<{c + _GAP}}" for cell, c in zip(row, columns[:-1], strict=False))
        lines = wrap(row[-1], last, break_long_words=False, break_on_hyphens=False) or [""]
        yield (fixed + lines[0]).rstrip()
        yield from (" " * len(fixed) + line for line in lines[1:])


def _records(head: list[str], body: list[list[str]], width: int) -> Iterator[str]:
    for first, *rest in body:
        yield first
        for name, value in zip(head[1:], rest, strict=True):
            yield from wrap(
                f"{name}: {value}",
                width,
                initial_indent="    ",
                subsequent_indent="      ",
                break_long_words=False,
                break_on_hyphens=False,
            )
        yield ""
