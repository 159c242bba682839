"""What the terminal shows, so that only cells that differ are sent.

Over a slow link bytes are time. Textual sends whole rows of every widget it repaints, each piece
with its full style; here a picture of the terminal is kept and the difference is sent, with the
shortest style change. Invariant: after any sequence of updates the terminal shows what a full
repaint would show; `forget` after anything else has written to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import chain, groupby
from typing import NamedTuple

from rich.cells import get_character_cell_size
from rich.color import Color, ColorSystem
from rich.color_triplet import ColorTriplet
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from textual._compositor import ChopsUpdate, CompositorUpdate, LayoutUpdate

from wizard.pictures.plain import plain

SYSTEMS = {
    "standard": ColorSystem.STANDARD,
    "256": ColorSystem.EIGHT_BIT,
    "truecolor": ColorSystem.TRUECOLOR,
}
_LEVELS = (0, 95, 135, 175, 215, 255)
PALETTE = {
    **{ColorTriplet(v, v, v): 232 + n for n, v in enumerate(range(8, 239, 10))},
    **{
        ColorTriplet(r, g, b): 16 + 36 * i + 6 * j + k
        for i, r in enumerate(_LEVELS)
        for j, g in enumerate(_LEVELS)
        for k, b in enumerate(_LEVELS)
    },
}
"""The numbers of the palette that all terminals of 256 colours share."""
OFF = {"1": "22", "2": "22", "3": "23", "4": "24", "7": "27", "9": "29"}
"""What ends each attribute."""
SEEN_ON_BLANKS = frozenset({"4", "7", "9"})
"""The attributes that show where there is no letter; no ink does."""
SHORT_GAP = 5
"""Unchanged cells cheaper to send again than to jump over."""
LONG_BLANK = 14
"""Blanks that are cheaper to erase than to send."""


class Pen(NamedTuple):
    """A style as the codes that select it: attributes, ink and ground."""

    flags: tuple[str, ...] = ()
    ink: tuple[str, ...] = ("39",)
    ground: tuple[str, ...] = ("49",)

    @property
    def plain(self) -> bool:
        """Whether a blank of this pen is its ground and nothing else."""
        return not SEEN_ON_BLANKS & set(self.flags)

    def on_ground(self, ground: tuple[str, ...]) -> Pen:
        """The pen nearest to this one that paints plain blanks of a ground."""
        return Pen(tuple(f for f in self.flags if f not in SEEN_ON_BLANKS), self.ink, ground)

    def after(self, other: Pen) -> str:
        """The shortest sequence that turns `other` into this pen."""
        if self == other:
            return ""
        if self == Pen():
            return "\x1b[m"
        codes = list(dict.fromkeys(OFF[f] for f in other.flags if f not in self.flags))
        codes.extend(f for f in self.flags if f not in other.flags or OFF[f] in codes)
        for mine, theirs in ((self.ink, other.ink), (self.ground, other.ground)):
            if mine != theirs:
                codes.extend(mine)
        return f"\x1b[{';'.join(codes)}m"


class Cell(NamedTuple):
    """A character and its pen; the right half of a wide character has no text.

    A plain blank has no ink: it is the ground, whatever pen paints it.
    """

    text: str
    pen: Pen

    def from_pen(self, pen: Pen) -> Pen:
        """The pen that paints this cell with the least change from `pen`."""
        return pen.on_ground(self.pen.ground) if self.text == " " and self.pen.plain else self.pen


FLAGS = (
    ("bold", "1"),
    ("dim", "2"),
    ("italic", "3"),
    ("underline", "4"),
    ("reverse", "7"),
    ("strike", "9"),
)


class Painter:
    """The terminal's picture.

    `ascii_only` turns every character into an ASCII one; `erase` says that the terminal fills
    erased cells with the ground in use, as all do but screen.
    """

    def __init__(self, ascii_only: bool = False, erase: bool = True) -> None:
        self.ascii_only, self.erase = ascii_only, erase
        self._rows: dict[int, list[Cell | None]] = {}
        self._pens: dict[Style | None, Pen] = {}

    def forget(self) -> None:
        """Take it that nothing is known of what the terminal shows."""
        self._rows.clear()

    def difference(self, update: CompositorUpdate) -> CompositorUpdate:
        """The update, to be sent as the cells that differ."""
        return Difference(self, update)

    def sequence(self, update: CompositorUpdate, console: Console) -> str:
        """The bytes that bring the terminal from what it shows to `update`."""
        system = SYSTEMS.get(console.color_system or "")
        out: list[str] = []
        pen = Pen()
        for y, pieces in _pieces(update):
            row = self._rows.setdefault(y, [])
            cells = list(self._cells(pieces, system))
            need = max((x for x, _ in cells), default=-1) + 1
            row.extend([None] * (need - len(row)))
            pen = self._paint_row(y, row, dict(cells), pen, out)
        if pen != Pen():
            out.append("\x1b[m")
        return "".join(out)

    def _paint_row(
        self, y: int, row: list[Cell | None], cells: dict[int, Cell], pen: Pen, out: list[str]
    ) -> Pen:
        changed = sorted(x for x, cell in cells.items() if row[x] != cell)
        for number, (start, end) in enumerate(_runs(changed, cells)):
            out.append(f"\x1b[{start + 1}G" if number else f"\x1b[{y + 1};{start + 1}H")
            pen = self._paint_run([cells[x] for x in range(start, end)], pen, out)
        for x in changed:
            row[x] = cells[x]
        return pen

    def _paint_run(self, cells: list[Cell], pen: Pen, out: list[str]) -> Pen:
        """Cells side by side; a long blank is erased and not written where that is safe."""
        skip = ""
        for cell, group in groupby(cells):
            count = len(list(group))
            fit = cell.from_pen(pen)
            out.append(skip + fit.after(pen))
            pen, skip = fit, ""
            if self.erase and cell.text == " " and count >= LONG_BLANK and pen.plain:
                out.append(f"\x1b[{count}X")
                skip = f"\x1b[{count}C"
            else:
                out.append(cell.text * count)
        return pen

    def _cells(
        self, pieces: Iterable[tuple[int, Iterable[Segment]]], system: ColorSystem | None
    ) -> Iterator[tuple[int, Cell]]:
        for start, segments in pieces:
            x = start
            last = None
            for text, style, control in segments:
                if control:
                    continue
                pen = self._pen(style, system)
                blank = Cell(" ", Pen(ground=pen.ground) if pen.plain else pen)
                for char in plain(text) if self.ascii_only else text:
                    size = get_character_cell_size(char)
                    if size == 0:
                        if last is not None:
                            last = Cell(last.text + char, last.pen)
                            yield x - get_character_cell_size(last.text[0]), last
                        continue
                    last = blank if char == " " else Cell(char, pen)
                    yield x, last
                    if size == 2:
                        yield x + 1, Cell("", pen)
                    x += size

    def _pen(self, style: Style | None, system: ColorSystem | None) -> Pen:
        pen = self._pens.get(style)
        if pen is None:
            pen = self._pens[style] = _pen(style, system)
        return pen


class Difference(CompositorUpdate):
    """An update that is worked out at the moment it is sent."""

    def __init__(self, painter: Painter, update: CompositorUpdate) -> None:
        self.painter, self.update = painter, update

    def render_segments(self, console: Console) -> str:
        """The bytes to send."""
        return self.painter.sequence(self.update, console)


def _pen(style: Style | None, system: ColorSystem | None) -> Pen:
    if style is None:
        return Pen()
    flags = tuple(code for name, code in FLAGS if getattr(style, name))
    ink: tuple[str, ...] = ("39",)
    ground: tuple[str, ...] = ("49",)
    if system is not None and style.color is not None:
        ink = _codes(style.color, system, foreground=True)
    if system is not None and style.bgcolor is not None:
        ground = _codes(style.bgcolor, system, foreground=False)
    return Pen(flags, ink, ground)


def _codes(color: Color, system: ColorSystem, *, foreground: bool) -> tuple[str, ...]:
    """The codes of a colour; the number of a palette colour rather than its red, green, blue."""
    number = PALETTE.get(color.triplet) if color.triplet else None
    if number is not None and system is not ColorSystem.STANDARD:
        return ("38" if foreground else "48", "5", str(number))
    return color.downgrade(system).get_ansi_codes(foreground=foreground)


def _pieces(
    update: CompositorUpdate,
) -> Iterator[tuple[int, list[tuple[int, Iterable[Segment]]]]]:
    """Row by row, the column and the segments of what may have changed."""
    if isinstance(update, LayoutUpdate):
        left, top = update.region.offset
        for y, strips in enumerate(update.strips, top):
            yield y, [(left, chain.from_iterable(strips))]
    elif isinstance(update, ChopsUpdate):
        for y in sorted({y for y, _, _ in update.spans}):
            chops: Mapping[int, Iterable[Segment] | None] = update.chops[y]
            yield y, [(x, strip) for x, strip in chops.items() if strip is not None]


def _runs(changed: list[int], cells: Mapping[int, Cell]) -> Iterator[tuple[int, int]]:
    """Changed columns as runs; a run begins on the left half of a wide character and bridges
    a short gap where that costs less than a jump."""
    start = end = -1
    for x in changed:
        if cells[x].text == "" and x - 1 in cells:
            x -= 1
        stop = x + 2 if x + 1 in cells and cells[x + 1].text == "" else x + 1
        if start < 0:
            start, end = x, stop
        elif x <= end or _worth_bridging(cells, end, x):
            end = max(end, stop)
        else:
            yield start, end
            start, end = x, stop
    if start >= 0:
        yield start, end


def _worth_bridging(cells: Mapping[int, Cell], end: int, x: int) -> bool:
    if x - end > SHORT_GAP:
        return False
    pen = cells[end - 1].pen
    return all(g in cells and cells[g].from_pen(pen) == pen for g in range(end, x))
