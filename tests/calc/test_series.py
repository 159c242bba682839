"""Lines through laps agree with numpy, and a series that runs backward is refused."""

from __future__ import annotations

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.series import checked, duration, gap_note, gaps, line
from wizard.errors import InputError

CURVED = ((0.0, 0.0), (50.0, 2.1e5), (100.0, 4.0e5), (170.0, 6.4e5), (250.0, 8.7e5))
laps = st.lists(st.tuples(st.floats(1.0, 60.0), st.floats(0.0, 1e6)), min_size=3, max_size=12).map(
    lambda steps: tuple(
        (sum(w for w, _ in steps[: n + 1]), value) for n, (_, value) in enumerate(steps)
    )
)


@given(laps)
def test_slope_is_that_of_numpy(series: tuple[tuple[float, float], ...]) -> None:
    times, values = (numpy.array(column) for column in zip(*series, strict=True))
    slope, level = numpy.polyfit(times, values, 1)
    found = line(series)
    assert found.slope == pytest.approx(float(slope), rel=1e-6, abs=1e-6)
    assert found.start == pytest.approx(float(level + slope * times[0]), rel=1e-6, abs=1e-3)
    assert found.end == pytest.approx(float(level + slope * times[-1]), rel=1e-6, abs=1e-3)


def test_scatter_is_taken_about_a_parabola() -> None:
    times, values = (numpy.array(column) for column in zip(*CURVED, strict=True))
    bent = numpy.polyval(numpy.polyfit(times, values, 2), times)
    scatter = float(((values - bent) ** 2).sum()) / (len(CURVED) - 3)
    spread = float(((times - times.mean()) ** 2).sum())
    assert line(CURVED).slope_error == pytest.approx((scatter / spread) ** 0.5, rel=1e-9)


def test_with_three_laps_the_scatter_is_about_the_line() -> None:
    times, values = (numpy.array(column) for column in zip(*CURVED[:3], strict=True))
    slope, level = numpy.polyfit(times, values, 1)
    scatter = float(((values - level - slope * times) ** 2).sum())
    spread = float(((times - times.mean()) ** 2).sum())
    assert line(CURVED[:3]).slope_error == pytest.approx((scatter / spread) ** 0.5, rel=1e-9)


def test_two_laps_are_end_minus_start() -> None:
    found = line(((10.0, 1e5), (70.0, 7e5)))
    assert (found.start, found.end, found.slope) == (1e5, 7e5, 1e4)
    assert found.slope_error == 0


@given(laps, st.floats(0.5, 2.0))
def test_slope_scales_with_the_unit(series: tuple[tuple[float, float], ...], factor: float) -> None:
    scaled = tuple((t, factor * v) for t, v in series)
    assert line(scaled).slope == pytest.approx(factor * line(series).slope, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(
    ("series", "said"),
    [
        (((0.0, 1.0),), "at least a start and an end"),
        (((0.0, 1.0), (30.0, 2.0), (30.0, 3.0)), "one reading at each time"),
        (((0.0, 1.0), (30.0, 2.0), (20.0, 3.0)), "times that increase"),
        (((0.0, 1.0), (30.0, float("nan"))), "finite numbers"),
    ],
)
def test_bad_series_is_named(series: tuple[tuple[float, float], ...], said: str) -> None:
    with pytest.raises(InputError) as caught:
        checked("laps", series)
    assert said in str(caught.value)


def test_missed_laps_are_noted() -> None:
    series = ((0.0, 1.0), (10.0, 2.0), (20.0, 3.0), (80.0, 9.0))
    assert [(g.after, g.before) for g in gaps(series)] == [(20.0, 80.0)]
    assert gap_note(series) == " No reading between 20 s and 80 s."
    assert gap_note(series[:3]) == ""
    assert duration(series) == 80.0
