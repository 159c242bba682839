"""Lines of text with the role of each piece: what views return and sheets paint.

Invariant: a role says what a piece means, its colours are the look's business; no control or
invisible character is in a line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rich.cells import cell_len, chop_cells, set_cell_size

from wizard.pictures.plain import spelled
from wizard.text import show


class Span(NamedTuple):
    """A piece of a line."""

    text: str
    role: str = "text"


Line = tuple[Span, ...]
Lines = list[Line]

BLANK: Line = ()


class Letters:
    """What text becomes before it is laid out: itself, or words where signs cannot be shown."""

    ascii_only = False

    @classmethod
    def of(cls, text: object) -> str:
        """The text as it is laid out, every character made visible."""
        return spelled(show(text)) if cls.ascii_only else show(text)


def line(*pieces: str | Span | tuple[str, str]) -> Line:
    """A line of plain texts and (text, role) pairs, every character made visible.

    >>> line("limit ", ("207 V", "strong"))
    (Span(text='limit ', role='text'), Span(text='207 V', role='strong'))
    """
    return tuple(
        Span(Letters.of(p)) if isinstance(p, str) else Span(Letters.of(p[0]), p[1])
        for p in pieces
        if p and p[0]
    )


def width_of(spans: Line) -> int:
    """Cells a line takes."""
    return sum(cell_len(s.text) for s in spans)


def fitted(spans: Line, width: int) -> Line:
    """The line cut to `width` cells, with a mark where something is missing.

    >>> fitted(line("pressure ", ("switch", "strong")), 12)
    (Span(text='pressure ', role='text'), Span(text='sw…', role='strong'))
    """
    if width_of(spans) <= width:
        return spans
    if width <= 0:
        return BLANK
    out: list[Span] = []
    more = Letters.of("…")[:width]
    left = width - len(more)
    for span in spans:
        size = cell_len(span.text)
        if size > left:
            out.append(Span(set_cell_size(span.text, left) + more, span.role))
            return tuple(out)
        out.append(span)
        left -= size
    return tuple(out)


def between(left: Line, right: Line, width: int) -> Line:
    """Two lines on one row, the second against the right edge; the first gives way.

    >>> between(line("left"), line("right"), 12)
    (Span(text='left', role='text'), Span(text='   ', role='text'), Span(text='right', role='text'))
    """
    right = fitted(right, width)
    left = fitted(left, max(0, width - width_of(right) - 2))
    gap = width - width_of(left) - width_of(right)
    return (*left, Span(" " * gap), *right) if gap > 0 else (*left, *right)


def wrapped(text: str, width: int, role: str = "text", first: str = "", rest: str = "") -> Lines:
    """Text broken at spaces; `first` and `rest` begin the first and the other lines.

    >>> [l[-1].text for l in wrapped("one two three", 7)]
    ['one two', 'three']
    """
    rows: list[str] = []
    current = ""
    room = max(8, width - max(cell_len(first), cell_len(rest)))
    for word in _words(Letters.of(text), room):
        longer = f"{current} {word}" if current else word
        if current and cell_len(longer) > room:
            rows.append(current)
            current = word
        else:
            current = longer
    rows.append(current)
    return [
        line((first if number == 0 else rest, role), (row, role)) for number, row in enumerate(rows)
    ]


def _words(text: str, room: int) -> Iterator[str]:
    for word in text.split():
        if cell_len(word) <= room:
            yield word
        else:
            yield from chop_cells(word, room)


def at_most(lines: Lines, height: int, width: int, more: str = "…") -> Lines:
    """The first `height` lines; the last of them says so when some are left out.

    >>> text_of(at_most(wrapped("one two three four", 8), 1, 8))
    'one …'
    >>> text_of(at_most(wrapped("incomprehensible", 12), 1, 12, "… F1"))
    'incompr … F1'
    """
    if len(lines) <= height:
        return lines
    if height <= 0:
        return []
    more = Letters.of(more)
    last = _whole_words(lines[height - 1], width - cell_len(more) - 1)
    return [*lines[: height - 1], (*last, Span(f" {more}", "dim"))]


def _whole_words(spans: Line, width: int) -> Line:
    """The line without the words at its end that are beyond `width` cells; no mark says so."""
    if width_of(spans) <= width:
        return spans
    out: list[Span] = []
    left = max(0, width)
    for text, role in spans:
        if cell_len(text) > left:
            cut = set_cell_size(text, left)
            whole = cut if text[len(cut) : len(cut) + 1] == " " else cut.rpartition(" ")[0]
            return (*out, Span((whole or cut).rstrip(), role))
        out.append(Span(text, role))
        left -= cell_len(text)
    return tuple(out)


def text_of(lines: Iterable[Line]) -> str:
    """Lines as plain text."""
    return "\n".join("".join(s.text for s in spans).rstrip() for spans in lines)
