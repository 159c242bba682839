"""Stored energy: worked values, order of the three forms, and monotony."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.stored_energy import (
    car_speed,
    proof_test_distance,
    stored_energy_brode,
    stored_energy_isentropic,
    stored_energy_pcc2,
    tnt_equivalent,
)
from wizard.errors import InputError, OutsideValidity

PSI, GAL = 6894.757293168, 0.003785411784
TANKS = [
    (175 * PSI, 80 * GAL, 513.40, 513.75, 913.48, 120.40, 94.221),
    (125 * PSI, 30 * GAL, 129.75, 129.84, 244.68, 30.430, 47.368),
    (11e5, 0.5, 760.81, 761.33, 1375.0, 178.43, 114.70),
]
GAUGE, VOLUME = st.floats(1e4, 2.1e6), st.floats(0.02, 2.0)


@pytest.mark.parametrize(("gauge", "volume", "isentropic", "pcc2", "brode", "tnt", "car"), TANKS)
def test_worked_tanks(
    gauge: float,
    volume: float,
    isentropic: float,
    pcc2: float,
    brode: float,
    tnt: float,
    car: float,
) -> None:
    energy = stored_energy_pcc2(gauge, volume)
    assert stored_energy_isentropic(gauge, volume) / 1e3 == pytest.approx(isentropic, rel=5e-5)
    assert energy / 1e3 == pytest.approx(pcc2, rel=5e-5)
    assert stored_energy_brode(gauge, volume) / 1e3 == pytest.approx(brode, rel=5e-5)
    assert tnt_equivalent(energy) * 1e3 == pytest.approx(tnt, rel=1e-4)
    assert car_speed(energy) * 3.6 == pytest.approx(car, rel=1e-4)


@given(GAUGE, VOLUME)
def test_upper_bound_is_above_and_more_pressure_stores_more(gauge: float, volume: float) -> None:
    one = stored_energy_isentropic(gauge, volume)
    assert 0 < one < stored_energy_brode(gauge, volume)
    assert stored_energy_isentropic(gauge * 1.01, volume) > one
    assert stored_energy_isentropic(gauge, 2 * volume) == pytest.approx(2 * one)


def test_distance_steps() -> None:
    assert proof_test_distance(1e5) == 30.0
    assert proof_test_distance(135.5e6) > 30.0


def test_refuses_an_empty_tank_and_odd_gases() -> None:
    with pytest.raises(InputError, match="pressure: given 0"):
        stored_energy_pcc2(0.0, 0.3)
    with pytest.raises(InputError, match=r"volume: given -264\.2 gal"):
        stored_energy_brode(1e5, -1.0)
    with pytest.raises(OutsideValidity, match="heat_ratio"):
        stored_energy_isentropic(1e5, 0.3, heat_ratio=1.0)
