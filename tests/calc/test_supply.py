"""Voltage and frequency: worked values, ends of validity, properties."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.supply import (
    combined_deviation,
    frequency_deviation,
    sag_ratio,
    voltage_band,
    voltage_deviation,
    volts_per_hertz,
)
from wizard.errors import InputError

plates = st.floats(100, 690)


@pytest.mark.parametrize(
    ("nominal", "plate", "percent", "low", "high"),
    [
        (208, 200, 4.0, 180.0, 220.0),
        (208, 230, -9.5652, 207.0, 253.0),
        (240, 200, 20.0, 180.0, 220.0),
        (480, 460, 4.3478, 414.0, 506.0),
        (600, 575, 4.3478, 517.5, 632.5),
        (400, 380, 5.2632, 342.0, 418.0),
        (400, 460, -13.043, 414.0, 506.0),
    ],
)
def test_pairs_of_supply_and_plate(
    nominal: float, plate: float, percent: float, low: float, high: float
) -> None:
    assert 100 * voltage_deviation(nominal, plate) == pytest.approx(percent, rel=1e-4)
    assert voltage_band(plate) == pytest.approx((low, high))


def test_worked_values() -> None:
    assert 100 * sag_ratio(484.0, 468.0) == pytest.approx(3.3058, rel=1e-4)
    assert 100 * combined_deviation(-0.05, -0.015) == pytest.approx(6.5)
    assert 100 * frequency_deviation(50.0, 60.0) == pytest.approx(-16.667, rel=1e-4)
    assert volts_per_hertz(400.0, 460.0, 50.0, 60.0) == pytest.approx(1.0435, rel=1e-4)


@pytest.mark.parametrize("plate", [99.0, 691.0, 0.0, -230.0, float("nan"), float("inf")])
def test_a_plate_outside_100_to_690_volts_is_refused(plate: float) -> None:
    with pytest.raises(InputError, match="accepted 100 V to 690 V"):
        voltage_band(plate)


@pytest.mark.parametrize("hertz", [39.9, 70.1, float("nan")])
def test_a_frequency_outside_40_to_70_hertz_is_refused(hertz: float) -> None:
    with pytest.raises(InputError, match="accepted 40 Hz to 70 Hz"):
        frequency_deviation(hertz, 60.0)


@given(plates)
def test_the_ends_of_the_band_deviate_by_ten_per_cent(plate: float) -> None:
    low, high = voltage_band(plate)
    assert voltage_deviation(low, plate) == pytest.approx(-0.10)
    assert voltage_deviation(high, plate) == pytest.approx(0.10)


@given(plates, st.floats(0.5, 1.4), st.floats(0.01, 0.05))
def test_more_volts_deviate_upwards(plate: float, share: float, more: float) -> None:
    assert voltage_deviation((share + more) * plate, plate) > voltage_deviation(
        share * plate, plate
    )
