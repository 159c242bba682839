"""Intake: worked values and refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.intake import intake_flow_loss, resonant_length, sound_speed
from wizard.errors import InputError, OutsideValidity

INCH_WATER = 249.0889


def test_flow_lost_to_restriction() -> None:
    loss = intake_flow_loss(10 * INCH_WATER, 14.696 * 6894.757293168)
    assert loss == pytest.approx(0.024583, rel=5e-5)
    assert intake_flow_loss(25 * INCH_WATER, 85e3) == pytest.approx(0.073261, rel=5e-5)


@pytest.mark.parametrize(
    ("rpm", "strokes", "odd", "metres"),
    [(900, 1, 1, 5.7206), (1050, 2, 1, 2.4517), (800, 1, 3, 19.307)],
)
def test_resonant_lengths(rpm: float, strokes: int, odd: int, metres: float) -> None:
    assert resonant_length(293.15, rpm / 60, strokes, odd) == pytest.approx(metres, rel=5e-5)


@given(st.floats(250, 320), st.floats(5, 30), st.integers(1, 4), st.integers(0, 4))
def test_length_and_frequency_make_the_speed_of_sound(
    temperature: float, speed: float, strokes: int, half: int
) -> None:
    odd = 2 * half + 1
    length = resonant_length(temperature, speed, strokes, odd)
    assert length * 4 * speed * strokes / odd == pytest.approx(sound_speed(temperature))


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match="an odd number"):
        resonant_length(293.15, 15.0, 1, 2)
    with pytest.raises(OutsideValidity, match="suction strokes per turn: given 0"):
        resonant_length(293.15, 15.0, 0)
    with pytest.raises(InputError, match="less than the air pressure"):
        intake_flow_loss(110e3, 101e3)
    with pytest.raises(InputError, match="restriction: given -1 inH2O"):
        intake_flow_loss(-INCH_WATER, 101e3)
