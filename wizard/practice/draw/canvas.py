"""A sheet of character cells to draw on: dots and lines in braille or ASCII, text on top.

Invariant: coordinates are in dots, two across and four down in every cell, so that a dot is about
square; ASCII draws the same figure one cell at a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

ACROSS, DOWN = 2, 4
_BRAILLE = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))


class Canvas:
    """Cells that dots and text are put on; the last one put on a cell is seen."""

    def __init__(self, columns: int, rows: int, ascii_only: bool = False) -> None:
        """An empty sheet."""
        self.columns, self.rows, self.ascii_only = columns, rows, ascii_only
        self._dots: dict[tuple[int, int], int] = {}
        self._marks: dict[tuple[int, int], str] = {}

    def dot(self, x: float, y: float, mark: str = ".") -> None:
        """One dot; `mark` is its character in ASCII."""
        column, row = int(x // ACROSS), int(y // DOWN)
        if not (0 <= column < self.columns and 0 <= row < self.rows):
            return
        if self.ascii_only:
            self._marks[column, row] = mark
            return
        bit = _BRAILLE[int(x) % ACROSS][int(y) % DOWN]
        self._dots[column, row] = self._dots.get((column, row), 0) | bit

    def line(self, x0: float, y0: float, x1: float, y1: float, mark: str = ".") -> None:
        """A straight line of dots."""
        steps = max(1, int(hypot(x1 - x0, y1 - y0) * 1.5))
        for i in range(steps + 1):
            share = i / steps
            self.dot(x0 + share * (x1 - x0), y0 + share * (y1 - y0), mark)

    def text(self, column: int, row: int, words: str) -> None:
        """Words in cells, over whatever is there."""
        for i, letter in enumerate(words):
            if 0 <= column + i < self.columns and 0 <= row < self.rows:
                self._marks[column + i, row] = letter

    def lines(self) -> tuple[str, ...]:
        """The rows as text, without trailing spaces."""
        return tuple("".join(self._row(row)).rstrip() for row in range(self.rows))

    def _row(self, row: int) -> Iterator[str]:
        for column in range(self.columns):
            if mark := self._marks.get((column, row)):
                yield mark
            else:
                bits = self._dots.get((column, row), 0)
                yield chr(0x2800 + bits) if bits else " "
