"""Switch formulas: worked values and what they refuse."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.pressure_switch import (
    cut_out_spread,
    gauge_error,
    spread_allowance,
    switch_band,
)
from wizard.errors import InputError

PSI = 6894.757293168
READINGS = st.lists(st.floats(1e5, 2e6), min_size=1, max_size=6)


def test_worked_cycles() -> None:
    found = cut_out_spread((174.0, 176.0, 175.0))
    assert (found.mean, found.highest, found.spread) == (175.0, 176.0, 2.0)
    assert found.share == pytest.approx(0.011429, rel=1e-4)
    assert switch_band(175.0, 140.0) == 35.0
    assert gauge_error(168.0, 175.0) == -0.04


@given(READINGS)
def test_order_of_the_readings_does_not_matter(readings: list[float]) -> None:
    one, other = cut_out_spread(tuple(readings)), cut_out_spread(tuple(reversed(readings)))
    assert one.spread == other.spread and one.highest == other.highest
    assert min(readings) <= one.mean * (1 + 1e-12) and one.mean <= one.highest * (1 + 1e-12)


@pytest.mark.parametrize(("mean", "allowed"), [(100, 3.0), (150, 3.0), (151, 3.02), (200, 4.0)])
def test_allowance_changes_over_at_150_psi(mean: float, allowed: float) -> None:
    assert spread_allowance(mean * PSI) / PSI == pytest.approx(allowed)


def test_swapped_pressures_are_refused() -> None:
    with pytest.raises(InputError, match="cut-in: given at or above the cut-out"):
        switch_band(140.0, 140.0)
    with pytest.raises(InputError, match="readings: given nothing"):
        cut_out_spread(())
    with pytest.raises(InputError, match="test: given 0"):
        gauge_error(1.0, 0.0)
