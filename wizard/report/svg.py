"""Drawings as SVG inside a page.

Invariant: whatever text goes in is escaped, nothing outside the page is named, and every drawing
says in words what it shows.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from html import escape

from wizard.pictures.ladder import Rung, ladder_word
from wizard.report.blocks import Ladder, Plot
from wizard.text import show

WIDTH = 640
ROW, BAR_AT, BAR = 24, 200, 300
Place = Callable[[float, float], tuple[float, float]]
PLOT_HEIGHT, LEFT, RIGHT, TOP, FOOT = 190, 62, 16, 12, 34


def ladder_svg(block: Ladder) -> str:
    """Bars of the pressures to one scale, the highest on top."""
    rungs = list(reversed(block.rungs))
    height = ROW * len(rungs) + 8
    most = max((r.value for r in rungs), default=0.0) or 1.0
    words = "; ".join(f"{r.name} {r.text}" for r in rungs)
    return _svg(height, f"Pressures to one scale: {words}", _rungs(rungs, block.rungs, most))


def _rungs(rungs: Sequence[Rung], lowest_first: Sequence[Rung], most: float) -> Iterator[str]:
    for number, rung in enumerate(rungs):
        y = ROW * number + 4
        width = max(2.0, max(0.0, rung.value) / most * BAR)
        word = ladder_word(lowest_first, len(rungs) - 1 - number)
        yield _text(0, y + 15, rung.name)
        yield _text(BAR_AT - 10, y + 15, rung.text, "end")
        kind = "bad" if word else "bar"
        yield f'<rect class="{kind}" x="{BAR_AT}" y="{y}" width="{width:.1f}" height="16"/>'
        if word:
            yield _text(BAR_AT + width + 8, y + 15, word)


def plot_svg(block: Plot) -> str:
    """Readings against time, each a point, joined by straight lines."""
    if len(block.points) < 2:
        return ""
    last = block.points[-1][0] or 1.0
    low, high, step = _scale([v for _, v in block.points])
    wide, tall = WIDTH - LEFT - RIGHT, PLOT_HEIGHT - TOP - FOOT

    def place(time: float, value: float) -> tuple[float, float]:
        return LEFT + time / last * wide, TOP + (high - value) / (high - low) * tall

    words = (
        f"{block.title}: {_number(block.points[0][1])} to {_number(block.points[-1][1])} "
        f"{block.unit} in {_number(last)} s"
    )
    return _svg(PLOT_HEIGHT, words, _plotted(block, place, (low, high, step), last))


def _plotted(
    block: Plot, place: Place, scale: tuple[float, float, float], last: float
) -> Iterator[str]:
    low, high, step = scale
    value = low
    while value <= high + step / 2:
        _, y = place(0.0, value)
        yield f'<line class="grid" x1="{LEFT}" y1="{y:.1f}" x2="{WIDTH - RIGHT}" y2="{y:.1f}"/>'
        yield _text(LEFT - 6, y + 4, _number(value), "end")
        value += step
    _, _, tick = _scale([0.0, last])
    for number in range(int(last / tick + 1e-9) + 1):
        x, y = place(number * tick, low)
        yield f'<line class="tick" x1="{x:.1f}" y1="{y:.1f}" x2="{x:.1f}" y2="{y + 4:.1f}"/>'
        yield _text(x, PLOT_HEIGHT - FOOT + 16, _number(number * tick), "middle")
    yield _text(0, TOP + 10, block.unit)
    yield _text(WIDTH - RIGHT, PLOT_HEIGHT - 4, "seconds", "end")
    points = [place(t, v) for t, v in block.points]
    line = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    yield f'<polyline class="curve" points="{line}"/>'
    yield from (f'<circle class="point" cx="{x:.1f}" cy="{y:.1f}" r="3"/>' for x, y in points)


def _scale(values: Sequence[float]) -> tuple[float, float, float]:
    """Ends and step of an axis in round numbers.

    >>> _scale([2.0, 40.0, 118.0]), _scale([128.0, 127.8, 127.45])
    ((0.0, 120.0, 20.0), (127.4, 128.0, 0.1))
    """
    low, high = min(values), max(values)
    if 0 < low < high / 2:
        low = 0.0
    span = (high - low) or abs(high) or 1.0
    power = 10.0 ** math.floor(math.log10(span / 5))
    step = next(power * n for n in (1, 2, 5, 10) if span / (power * n) <= 6.5)
    digits = max(0, -math.floor(math.log10(step)))
    return (
        round(math.floor(low / step + 1e-9) * step, digits),
        round(math.ceil(high / step - 1e-9) * step, digits),
        round(step, digits),
    )


def _number(value: float) -> str:
    return f"{value:.6g}"


def _text(x: float, y: float, text: str, anchor: str = "start") -> str:
    said = escape(show(text), quote=True)
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{said}</text>'


def _svg(height: int, words: str, parts: Iterator[str]) -> str:
    said = escape(show(words), quote=True)
    return (
        f'<svg viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{said}">'
        f"<title>{said}</title>{''.join(parts)}</svg>"
    )
