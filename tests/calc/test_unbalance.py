"""Unbalance: worked values, the derating curve, phasor properties."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.unbalance import (
    negative_sequence,
    unbalance_derating,
    unbalance_of_currents,
    unbalance_of_voltages,
)
from wizard.errors import InputError, OutsideValidity

near = st.floats(380, 420)


@pytest.mark.parametrize(
    ("volts", "percent", "negative", "factor"),
    [
        ((462.0, 463.0, 455.0), 1.0870, 1.0914, 0.99478),
        ((480.0, 476.0, 472.0), 0.84034, 0.97039, 1.0),
        ((550.0, 520.0, 535.0), 2.8037, 3.2393, 0.90570),
        ((241.0, 230.0, 219.0), 4.7826, 5.5315, 0.76870),
    ],
)
def test_worked_values(
    volts: tuple[float, ...], percent: float, negative: float, factor: float
) -> None:
    unbalance = unbalance_of_voltages(volts).unbalance
    assert 100 * unbalance == pytest.approx(percent, rel=1e-4)
    assert 100 * negative_sequence(volts) == pytest.approx(negative, rel=1e-4)
    assert unbalance_derating(unbalance) == pytest.approx(factor, rel=1e-5)


def test_it_is_the_deviation_from_the_mean_not_the_spread() -> None:
    spread = (480 - 472) / 476
    assert unbalance_of_voltages((480.0, 476.0, 472.0)).unbalance == pytest.approx(spread / 2)


def test_current_unbalance() -> None:
    assert unbalance_of_currents((13.1, 12.2, 14.0)).unbalance == pytest.approx(0.068702, rel=1e-5)


def test_the_site_may_read_the_curve_lower_at_three_per_cent() -> None:
    assert unbalance_derating(0.03, 0.88) == 0.88
    assert unbalance_derating(0.0275, 0.88) < unbalance_derating(0.0275)


def test_above_five_per_cent_there_is_no_curve() -> None:
    assert unbalance_derating(0.05) == pytest.approx(0.76)
    with pytest.raises(OutsideValidity, match=r"5\.1 %, accepted 0 % to 5 %"):
        unbalance_derating(0.051)


def test_readings_that_close_no_triangle_are_refused() -> None:
    with pytest.raises(InputError, match="none exceeds the sum of the other two"):
        negative_sequence((480.0, 100.0, 100.0))


def test_two_readings_are_refused() -> None:
    with pytest.raises(InputError, match="2 readings, accepted three readings, one a phase"):
        unbalance_of_voltages((480.0, 476.0))


@given(near, near, near)
def test_the_order_of_the_phases_does_not_matter(a: float, b: float, c: float) -> None:
    values = [negative_sequence(order) for order in permutations((a, b, c))]
    assert max(values) == pytest.approx(min(values), abs=1e-7)


@given(near, near, near, st.floats(0.3, 2.0))
def test_unbalance_has_no_unit(a: float, b: float, c: float, scale: float) -> None:
    ours = unbalance_of_voltages((scale * a, scale * b, scale * c)).unbalance
    assert ours == pytest.approx(unbalance_of_voltages((a, b, c)).unbalance, abs=1e-12)


@given(st.floats(0, 0.05), st.floats(0, 0.05))
def test_more_unbalance_never_leaves_more_power(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert unbalance_derating(low) >= unbalance_derating(high) - 1e-12
