"""The painter: the terminal shows what a full repaint would show, for few bytes."""

from __future__ import annotations

import io

import pyte
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from textual._compositor import LayoutUpdate
from textual.geometry import Region
from textual.strip import Strip

from tests.tui.walk import walking
from wizard.quantities import parse_quantity
from wizard.tui.app import WizardApp
from wizard.tui.painter import Painter, Pen
from wizard.tui.spans import Letters, fitted, line, wrapped

WIDTH, HEIGHT = 24, 4
STYLES = [
    Style(color="#ffffff", bgcolor="#005f5f"),
    Style(color="#dadada", bgcolor="#1c1c1c", bold=True),
    Style(color="#dadada", bgcolor="#1c1c1c"),
    Style(color="#dadada", bgcolor="#1c1c1c", underline=True),
    Style(reverse=True),
    Style(),
]
CHARS = "ab 1─●漢é"


def console(system: str = "truecolor") -> Console:
    return Console(file=io.StringIO(), force_terminal=True, color_system=system)  # type: ignore[arg-type]


def update(rows: list[list[tuple[str, int]]]) -> LayoutUpdate:
    """Rows of (text, style number), each filled up to the width."""
    strips = [
        Strip([Segment(text, STYLES[n]) for text, n in row]).adjust_cell_length(WIDTH, STYLES[2])
        for row in rows
    ]
    return LayoutUpdate([[s] for s in strips], Region(0, 0, WIDTH, HEIGHT))


def picture(*sequences: str) -> list[list[object]]:
    screen = pyte.Screen(WIDTH, HEIGHT)
    stream = pyte.Stream(screen)
    for sequence in sequences:
        stream.feed(sequence)
    return [[seen(screen.buffer[y][x]) for x in range(WIDTH)] for y in range(HEIGHT)]


def seen(char: pyte.screens.Char) -> object:
    """What the eye can tell apart: a blank without line or reverse has no ink and no weight."""
    drawn = char.data != " " or char.reverse or char.underscore or char.strikethrough
    return char if drawn else (char.data, char.bg)


piece = st.tuples(st.text(CHARS, min_size=1, max_size=9), st.integers(0, len(STYLES) - 1))
frame = st.lists(st.lists(piece, max_size=4), min_size=HEIGHT, max_size=HEIGHT)


@settings(max_examples=150, deadline=None)
@given(st.lists(frame, min_size=1, max_size=4))
def test_differences_add_up_to_what_a_full_repaint_shows(frames: list) -> None:  # type: ignore[type-arg]
    out = console()
    painter = Painter()
    sent = [painter.sequence(update(f), out) for f in frames]
    whole = Painter().sequence(update(frames[-1]), out)
    assert picture(*sent) == picture(whole)


def test_nothing_is_sent_where_nothing_differs() -> None:
    painter, out = Painter(), console()
    rows = [[("line voltage", 1)], [("462 V", 0)], [], []]
    assert painter.sequence(update(rows), out)
    assert painter.sequence(update(rows), out) == ""


def test_one_more_digit_costs_a_jump_and_a_style() -> None:
    painter, out = Painter(), console()
    painter.sequence(update([[("46", 0)], [], [], []]), out)
    sent = painter.sequence(update([[("46", 0), ("2", 0)], [], [], []]), out)
    assert len(sent) < 40


def test_a_forgotten_picture_is_sent_whole() -> None:
    painter, out = Painter(), console()
    rows = [[("a", 0)], [("b", 1)], [], []]
    first = painter.sequence(update(rows), out)
    painter.forget()
    assert painter.sequence(update(rows), out) == first


def test_palette_colours_are_named_by_their_number() -> None:
    sent = Painter().sequence(update([[("x", 0)], [], [], []]), console())
    assert "38;5;231" in sent and "48;5;23" in sent


def test_sixteen_colours_are_used_where_there_are_no_more() -> None:
    sent = Painter().sequence(update([[("x", 0)], [], [], []]), console("standard"))
    assert "38;5" not in sent and "38;2" not in sent


def test_an_ascii_terminal_gets_ascii_only() -> None:
    painter = Painter(ascii_only=True)
    sent = painter.sequence(update([[("─ 60 °F ● é", 0)], [], [], []]), console())
    assert sent.isascii()
    assert "- 60  F * ?" in sent


def test_an_ascii_terminal_spells_signs_as_they_are_typed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Letters, "ascii_only", True)
    told = "".join(span.text for span in line("60 °F, 2 × π, 10 lbf·ft, ± 2 V"))
    assert told == "60 degF, 2 × pi, 10 lbf-ft, +/- 2 V"
    cut = fitted(line("the pressure switch"), 12)
    assert "".join(span.text for span in cut) == "the press..."
    rows = ["".join(s.text for s in row) for row in wrapped("at 60 °F or 90 °F", 10)]
    assert rows == ["at 60 degF", "or 90 degF"]
    for typed, kind, unit in (
        ("60 degF", "temperature", "°F"),
        ("10 lbf-ft", "torque", "lbf·ft"),
        ("5 N-m", "torque", "N·m"),
        ("0.2 ohm", "resistance", "ohm"),
    ):
        assert parse_quantity(typed, kind).unit == unit


async def test_the_unit_behind_the_field_is_spelled_out_and_not_cut(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async with walking() as walk:
        monkeypatch.setattr(Letters, "ascii_only", True)
        walk.work.field.put("", line("> "), "°F")
        await walk.settle()
        assert " degF" in walk.rows[7] and "..." not in walk.rows[7]


async def test_an_app_for_an_ascii_terminal_lays_out_what_is_spelled() -> None:
    async with walking(size=(80, 24)) as walk:
        assert not Letters.ascii_only
        assert "›" in walk.text
    WizardApp("Tess", ascii_only=True)
    assert Letters.ascii_only
    WizardApp("Tess")
    assert not Letters.ascii_only


def test_a_pen_changes_by_what_differs() -> None:
    strong = Pen(("1",), ("38", "5", "231"), ("48", "5", "23"))
    assert strong.after(strong) == ""
    assert Pen(("1",), ("38", "5", "80"), ("48", "5", "23")).after(strong) == "\x1b[38;5;80m"
    assert Pen((), strong.ink, strong.ground).after(strong) == "\x1b[22m"
    assert Pen().after(strong) == "\x1b[m"
