"""The choices of an item, in columns."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len

from wizard.procedure.item import Item
from wizard.tui.judged import Judged
from wizard.tui.spans import BLANK, Line, Lines, Span, fitted, line, width_of

MOST_COLUMNS = 6


def options(item: Item, state: Judged, width: int, height: int) -> Lines:
    """The choices, numbered, in as many columns as are needed; the chosen one is marked."""
    chosen = state.parsed.value if state.parsed is not None else None
    pieces = [
        _piece(item, place, option, option == chosen)
        for place, option in enumerate(item.listed(state.units.system), 1)
    ]
    count, columns = len(pieces), 1
    while -(-count // columns) > max(1, height) and columns < MOST_COLUMNS:
        columns += 1
    rows = -(-count // columns)
    cells = widths([1 + max(map(width_of, c)) for c in _split(pieces, rows)], width, columns)
    return [
        tuple(
            span
            for piece, cell in zip(pieces[row::rows], cells, strict=False)
            for span in _filled(piece, cell)
        )
        for row in range(rows)
    ]


def in_full(listed: Lines, state: Judged, width: int) -> Line:
    """What is chosen, where its place in the list is too narrow for it; else nothing."""
    marked = [span.text for row in listed for span in row if span.role == "select"]
    option = str(state.parsed.value) if state.parsed is not None else ""
    if not marked or "".join(marked).rstrip().endswith(option):
        return BLANK
    return fitted(line(("= ", "dim"), (option, "strong")), width)


def widths(natural: Sequence[int], width: int, columns: int) -> list[int]:
    """Equal columns where all fit in them; else as wide as wanted, the widest giving way first.

    >>> widths([20, 12], 60, 2)
    [30, 30]
    >>> widths([40, 12], 60, 2)
    [40, 12]
    >>> widths([40, 12, 30], 60, 3)
    [24, 12, 24]
    """
    if max(natural) <= width // columns:
        return [width // columns] * len(natural)
    most = max(natural)
    while sum(min(n, most) for n in natural) > width and most > 1:
        most -= 1
    return [min(n, most) for n in natural]


def _split(pieces: Sequence[Line], rows: int) -> list[Sequence[Line]]:
    return [pieces[start : start + rows] for start in range(0, len(pieces), rows)]


def _piece(item: Item, number: int, option: str, chosen: bool) -> Line:
    mark, shown = "►" if chosen else " ", f"{number:>2}" if item.numbered else "  "
    return line((f"{mark} {shown}  {option}", "select" if chosen else "text"))


def _filled(piece: Line, width: int) -> Line:
    cut = fitted(piece, width - 1)
    return (*cut, Span(" " * (width - sum(cell_len(s.text) for s in cut)), "text"))
