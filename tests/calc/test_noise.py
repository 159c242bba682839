"""Noise: worked values, refusals, and how dose and level behave."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.hearing import protected_from_a, protected_from_snr
from wizard.calc.noise import (
    combined_level,
    daily_exposure_level,
    level_at_distance,
    niosh_hours,
    noise_dose,
    osha_average,
    osha_hours,
    osha_table_hours,
)
from wizard.errors import InputError, OutsideValidity

HOUR = 3600.0
levels = st.floats(40, 140)


def five(value: float) -> float:
    """A value rounded to the five digits of a worked one."""
    return float(f"{value:.5g}")


@pytest.mark.parametrize(
    ("got", "worked"),
    [
        (osha_hours(95.0) / HOUR, 4.0000),
        (osha_hours(81.0) / HOUR, 27.858),
        (osha_hours(97.0) / HOUR, 3.0314),
        (niosh_hours(95.0) / 60, 47.622),
        (niosh_hours(100.0) / 60, 15.000),
        (noise_dose((90.0, 95.0), (4 * HOUR, 2 * HOUR)), 1.0000),
        (osha_average(1.5), 92.925),
        (osha_average(1.0), 90.000),
        (combined_level((88.0, 84.0)), 89.455),
        (level_at_distance(91.0, 1.0, 3.0), 81.458),
    ],
)
def test_worked_values(got: float, worked: float) -> None:
    assert five(got) == worked


@given(levels.filter(lambda level: level <= 135))
def test_five_decibels_halve_the_legal_time(level: float) -> None:
    assert osha_hours(level + 5) == pytest.approx(osha_hours(level) / 2, rel=1e-9)


@given(levels.filter(lambda level: level <= 137))
def test_three_decibels_halve_the_recommended_time(level: float) -> None:
    assert niosh_hours(level + 3) == pytest.approx(niosh_hours(level) / 2, rel=1e-9)


@given(st.floats(90, 115), st.floats(0.1, 8), st.floats(0.1, 8))
def test_a_stay_split_in_two_is_the_same_dose(level: float, first: float, second: float) -> None:
    split = noise_dose((level, level), (first * HOUR, second * HOUR))
    whole = noise_dose((level,), ((first + second) * HOUR,))
    assert split == pytest.approx(whole, rel=1e-9)


@given(st.floats(80, 115))
def test_the_average_of_a_whole_shift_is_its_level(level: float) -> None:
    dose = noise_dose((level,), (8 * HOUR,))
    assert osha_average(dose) == pytest.approx(level, abs=0.002 * abs(level - 90) + 1e-9)
    assert daily_exposure_level((level,), (8 * HOUR,)) == pytest.approx(level, abs=1e-9)


@given(st.lists(levels, min_size=1, max_size=5))
def test_sources_together_are_at_least_the_loudest(sources: list[float]) -> None:
    together = combined_level(tuple(sources))
    assert max(sources) - 1e-9 <= together <= max(sources) + 10 * math.log10(len(sources)) + 1e-9


def test_levels_below_the_threshold_are_left_out() -> None:
    day = ((79.0, 95.0), (4 * HOUR, 4 * HOUR))
    assert noise_dose(*day) == 1.0
    assert noise_dose((85.0,), (8 * HOUR,), threshold=90.0) == 0.0


def test_chart_between_rows_takes_the_stricter_row() -> None:
    assert osha_table_hours(90.1) == 6 * HOUR
    with pytest.raises(OutsideValidity):
        osha_table_hours(115.5)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: osha_hours(39.0), "level: given 39 dBA, accepted 40 dBA to 140 dBA."),
        (lambda: osha_hours(math.nan), "level: given nan dBA, accepted 40 dBA to 140 dBA."),
        (
            lambda: noise_dose((90.0,), (25 * HOUR,)),
            "hours, together: given 25 h, accepted 0 h to 24 h.",
        ),
        (
            lambda: noise_dose((90.0,), (0.0,)),
            "hours, together: given 0 h, accepted more than zero.",
        ),
        (
            lambda: noise_dose((90.0, 80.0), (1.0,)),
            "hours: given 1 times, accepted one for each of 2 levels.",
        ),
        (lambda: noise_dose((90.0,), (-1.0,)), "hours: given -0.0002778 h, accepted zero or more."),
        (
            lambda: protected_from_a(90.0, 6.9),
            "nrr: given 6.9 dB, accepted 7 dB to 37 dB; below 7 dB it is not usable.",
        ),
        (lambda: protected_from_a(90.0, 38.0), "nrr: given 38 dBA, accepted 7 dBA to 37 dBA."),
        (lambda: protected_from_snr(90.0, 9.0), "snr: given 9 dBA, accepted 10 dBA to 40 dBA."),
        (
            lambda: level_at_distance(90.0, 0.0, 1.0),
            "near: given 0 ft (0 m), accepted more than zero.",
        ),
        (lambda: osha_average(0.0), "dose: given 0 %, accepted more than zero."),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence
