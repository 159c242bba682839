"""Hose formulas: worked values, ends of the tables, what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.hose import (
    RATINGS,
    burst_to_working,
    hose_live_length,
    hose_to_relief,
    hot_working_pressure,
    metal_hose_factor,
)
from wizard.errors import InputError, OutsideValidity


def fahrenheit(degrees: float) -> float:
    return (degrees + 459.67) / 1.8


@pytest.mark.parametrize(
    ("working", "degrees", "hot"),
    [
        (300, 300, 249.0),
        (250, 325, 205.0),
        (25, 350.60, 20.241),
        (230, 350, 186.30),
        (300, 40, 300),
    ],
)
def test_worked_deratings(working: float, degrees: float, hot: float) -> None:
    factor = metal_hose_factor(fahrenheit(degrees))
    assert hot_working_pressure(working, factor) == pytest.approx(hot, rel=1e-5)


@pytest.mark.parametrize("rating", RATINGS)
def test_the_table_ends_at_400_fahrenheit(rating: str) -> None:
    assert 0.5 < metal_hose_factor(fahrenheit(400.0), rating) < 0.8
    with pytest.raises(OutsideValidity, match="temperature of a metal hose"):
        metal_hose_factor(fahrenheit(400.1), rating)


@given(st.floats(200.0, 477.0), st.floats(0.0, 50.0))
def test_hotter_is_never_stronger_and_iso_never_above_us(kelvin: float, more: float) -> None:
    for rating in RATINGS:
        hotter = min(kelvin + more, 477.0)
        assert metal_hose_factor(hotter, rating) <= metal_hose_factor(kelvin, rating)
    assert metal_hose_factor(kelvin, "ISO 10380") <= metal_hose_factor(kelvin) + 0.01


@pytest.mark.parametrize(("radius", "offset", "length"), [(8, 1, 7), (12, 0.5, 6.0208)])
def test_live_length(radius: float, offset: float, length: float) -> None:
    assert hose_live_length(radius, offset) == pytest.approx(length, rel=1e-5)


@given(st.floats(0.01, 5.0), st.floats(1e-6, 1.0))
def test_live_length_is_unit_free_and_covers_the_offset(radius: float, offset: float) -> None:
    length = hose_live_length(radius, offset)
    assert length >= offset
    assert hose_live_length(radius * 1e3, offset * 1e3) == pytest.approx(1e3 * length)


def test_ratios_and_swapped_burst() -> None:
    assert hose_to_relief(175.0, 200.0) == 0.875
    assert burst_to_working(560.0, 200.0) == 2.8
    with pytest.raises(InputError, match="burst: given at or below the working pressure"):
        burst_to_working(200.0, 200.0)
    with pytest.raises(InputError, match=r"factor: given 1\.1"):
        hot_working_pressure(200.0, 1.1)
