"""Drawings: what is said to be to scale is, and what is on them fits."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.pictures.ladder import Rung, ladder
from wizard.pictures.machine import lift, oil_glass, wall_gap
from wizard.pictures.plain import plain
from wizard.pictures.plot import curve
from wizard.pictures.scale import band_line, ends_line, marker_line, scale_for

NUMBER = st.floats(-1e6, 1e6, allow_nan=False)
WIDTH = st.integers(20, 80)


@given(NUMBER, st.floats(0.001, 1e5), WIDTH, st.floats(-0.4, 1.4))
def test_the_marker_is_inside_the_bar_exactly_where_the_value_is_in_the_band(
    low: float, room: float, width: int, share: float
) -> None:
    high = low + room
    scale = scale_for(low, high)
    bar = band_line(scale, width)
    value = low + share * room
    marks = marker_line(scale, width, [value], ["▲"])
    column = marks.index("▲")
    first, last = bar.index("├"), bar.rindex("┤")
    assert len(bar) == len(marks) == width
    if 0.1 <= share <= 0.9:
        assert first <= column <= last
    elif share < -0.1 or share > 1.1:
        assert not first < column < last


@given(NUMBER, WIDTH)
def test_values_far_off_are_shown_as_arrows_at_the_ends(limit: float, width: int) -> None:
    scale = scale_for(None, limit)
    length = scale.end - scale.start
    assert marker_line(scale, width, [scale.end + length], ["▲"])[-1] == "►"
    assert marker_line(scale, width, [scale.start - length], ["▲"])[0] == "◄"


@given(st.one_of(st.none(), NUMBER), st.one_of(st.none(), st.floats(0.01, 1e5)), WIDTH)
def test_no_band_is_too_odd_to_draw(low: float | None, room: float | None, width: int) -> None:
    high = None if room is None else (low or 0.0) + room
    scale = scale_for(low, high)
    for row in (band_line(scale, width), ends_line(scale, width, "207.5 V", "253 V")):
        assert len(row) == width


def test_readings_at_one_place_are_told_from_one_reading() -> None:
    scale = scale_for(207.0, 253.0)
    assert "+" in marker_line(scale, 40, [230.0, 230.1], ["1", "2"])


def rungs(**values: float) -> list[Rung]:
    pairs = enumerate(values.items())
    return [Rung(name.replace("_", " "), v, f"{v:g} psi", level) for level, (name, v) in pairs]


def test_ladder_bars_are_as_long_as_their_pressures() -> None:
    rows = ladder(rungs(cut_in=50, cut_out=100, relief=200), 70)
    bars = {row.split("  ")[0]: row.count("█") for row in rows}
    assert bars["relief"] == pytest.approx(2 * bars["cut out"], abs=1)
    assert bars["cut out"] == pytest.approx(2 * bars["cut in"], abs=1)
    assert rows[0].startswith("relief") and rows[-1].startswith("cut in")


def test_a_rung_out_of_order_is_said_in_words() -> None:
    rows = ladder(rungs(relief=200, hose=150), 70)
    assert rows[0].endswith("below relief")
    assert all("below" not in row for row in ladder(rungs(relief=150, hose=200), 70))
    same = [Rung("hose", 250, "250 psi", 4), Rung("receiver", 200, "200 psi", 4)]
    assert all("below" not in row for row in ladder(same, 70))


@given(
    st.lists(st.tuples(st.floats(0, 5000), st.floats(0, 300)), min_size=2, max_size=40),
    st.integers(30, 70),
    st.integers(3, 9),
)
def test_a_curve_shows_readings_within_its_axes(
    points: list[tuple[float, float]], width: int, height: int
) -> None:
    points = sorted({round(t, 1): (round(t, 1), v) for t, v in points}.values())
    rows = curve(points, width, height, "psi")
    assert len(rows) == height + 2
    assert all(len(row) <= width + 2 for row in rows)
    assert any("●" in row for row in rows)


@pytest.mark.parametrize("degrees", [30, 40, 45, 60, 70])
def test_slings_lean_as_their_angle_says(degrees: int) -> None:
    rows = [r for r in lift(math.radians(degrees), f"{degrees}°") if "╱" in r]
    top, bottom = rows[0].split("╲")[0], rows[-1].split("╲")[0]
    run = top.index("╱") - bottom.index("╱")
    rise = 2 * (len(rows) - 1)
    assert math.degrees(math.atan2(rise, run)) == pytest.approx(degrees, abs=9)


def test_the_oil_stands_as_high_as_it_is_read() -> None:
    counts = [sum("▒" in row for row in oil_glass(level / 100)) for level in (0, 30, 50, 80, 100)]
    assert counts == sorted(counts) and counts[0] == 0 and counts[-1] > counts[1]
    assert "▒" not in "".join(oil_glass(None))


def test_a_gap_below_the_least_is_drawn_shorter_than_it() -> None:
    def columns(gap: float) -> tuple[int, int]:
        rows = wall_gap(gap, f"{gap} m", 0.3048, "12 in")
        return rows[0].index("┌"), rows[3].index("│")

    short, least = columns(0.2)
    assert short < least
    wide, least = columns(0.5)
    assert wide > least


@given(st.text(max_size=60))
def test_plain_text_is_ascii_and_as_long(text: str) -> None:
    assert plain(text).isascii()
    assert len(plain(text)) == len(text)
