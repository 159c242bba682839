"""Belt geometry: worked values, what cannot be a drive, and how the numbers move together."""

from __future__ import annotations

from collections.abc import Callable
from math import degrees, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.belt import belt_length_shop, belt_pitch_length, free_span, wrap_angle
from wizard.errors import InputError

INCH = 0.0254
LARGE = (30 * INCH, 18 * INCH, 4.5 * INCH)
METRIC = (0.750, 0.400, 0.112)


def test_span_of_two_drives() -> None:
    assert free_span(*LARGE) / INCH == pytest.approx(29.231, abs=5e-4)
    assert free_span(*METRIC) * 1000 == pytest.approx(736.05, abs=5e-3)


def test_length_of_two_drives() -> None:
    assert belt_pitch_length(*LARGE) / INCH == pytest.approx(96.868, abs=5e-4)
    assert belt_length_shop(*LARGE) / INCH == pytest.approx(96.862, abs=5e-4)
    assert belt_pitch_length(*METRIC) * 1000 == pytest.approx(2332.0, abs=0.05)


@pytest.mark.parametrize(
    ("drive", "wrap"), [(LARGE, 153.99), (METRIC, 157.86), ((0.5, 0.4, 0.1), 145.08)]
)
def test_wrap_of_three_drives(drive: tuple[float, float, float], wrap: float) -> None:
    assert degrees(wrap_angle(*drive)) == pytest.approx(wrap, abs=5e-3)


@pytest.mark.parametrize("formula", [free_span, wrap_angle, belt_pitch_length, belt_length_shop])
@pytest.mark.parametrize(
    ("drive", "said"),
    [
        ((0.75, 0.112, 0.400), "the two may be swapped"),
        ((0.25, 0.400, 0.112), "more than 10.08 in (256 mm), or the sheaves touch"),
        ((0.75, 0.400, 0.0), "motor sheave: given 0 in (0 mm), accepted more than zero"),
        ((-0.75, 0.400, 0.112), "centre distance: given -29.53 in (-750 mm)"),
        ((float("nan"), 0.400, 0.112), "centre distance"),
    ],
)
def test_what_cannot_be_a_drive_is_refused(
    formula: Callable[..., float], drive: tuple[float, float, float], said: str
) -> None:
    with pytest.raises(InputError) as caught:
        formula(*drive)
    assert said in str(caught.value)


drives = st.tuples(st.floats(0.05, 0.3), st.floats(1.0, 4.0), st.floats(1.05, 5.0)).map(
    lambda d: (d[2] * d[0] * (1 + d[1]) / 2, d[0] * d[1], d[0])
)


@given(drives)
def test_the_parts_of_a_belt_make_its_length(drive: tuple[float, float, float]) -> None:
    _, pump, motor = drive
    wrap = wrap_angle(*drive)
    arcs = wrap * motor / 2 + (2 * pi - wrap) * pump / 2
    assert belt_pitch_length(*drive) == pytest.approx(2 * free_span(*drive) + arcs, rel=1e-9)
    assert belt_length_shop(*drive) <= belt_pitch_length(*drive) * (1 + 1e-12)


@given(drives, st.floats(1.01, 3.0))
def test_longer_centres_wrap_more(drive: tuple[float, float, float], factor: float) -> None:
    centres, pump, motor = drive
    assert wrap_angle(centres * factor, pump, motor) >= wrap_angle(centres, pump, motor)


@given(drives, st.floats(0.1, 10.0))
def test_scale_changes_lengths_and_no_angle(
    drive: tuple[float, float, float], factor: float
) -> None:
    scaled = tuple(factor * one for one in drive)
    assert free_span(*scaled) == pytest.approx(factor * free_span(*drive))
    assert wrap_angle(*scaled) == pytest.approx(wrap_angle(*drive))
