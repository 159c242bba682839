"""Stages, displacement and power: worked values, order and ranges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.compression import (
    interstage_equal_work,
    interstage_from_cylinders,
    interstage_warm,
    stage_temperature,
    stage_temperature_by_efficiency,
)
from wizard.calc.displacement import (
    clearance_efficiency,
    overall_volumetric_efficiency,
    piston_displacement,
)
from wizard.calc.power import compression_power, isothermal_power, power_per_flow
from wizard.errors import InputError

PSI, CFM, HP = 6894.757293168, 0.3048**3 / 60, 745.69987158227


@pytest.mark.parametrize(
    ("ratio", "exponent", "celsius"),
    [
        (114.696 / 14.696, 1.30, 197.85),
        (114.696 / 14.696, 1.35, 226.24),
        (114.696 / 14.696, 1.40, 254.14),
        (3.5928, 1.30, 120.64),
        (3.5928, 1.40, 149.31),
        (885 / 85, 1.30, 230.24),
        (885 / 85, 1.40, 299.40),
    ],
)
def test_discharge_temperature(ratio: float, exponent: float, celsius: float) -> None:
    found = stage_temperature(293.15, ratio, exponent) - 273.15
    assert found == pytest.approx(celsius, abs=0.01)


@given(st.floats(1.01, 12.0), st.floats(1.05, 1.44), st.floats(0.3, 1.0))
def test_more_bending_or_more_loss_is_hotter(ratio: float, n: float, efficiency: float) -> None:
    assert stage_temperature(293.15, ratio, n) < stage_temperature(293.15, ratio, n + 0.01)
    uncooled = stage_temperature(293.15, ratio)
    lossy = stage_temperature_by_efficiency(293.15, ratio, efficiency)
    assert lossy >= uncooled * (1 - 1e-12)


@given(st.floats(1.1, 5.0))
def test_equal_work_shares_the_ratio(step: float) -> None:
    middle = interstage_equal_work(1e5, step * step * 1e5)
    assert middle / 1e5 == pytest.approx(step)
    first, second = (
        stage_temperature(293.15, r) for r in (middle / 1e5, step * step * 1e5 / middle)
    )
    assert first == pytest.approx(second)


def test_interstage() -> None:
    ends = (14.696, 189.696)
    assert interstage_equal_work(*ends) - 14.696 == pytest.approx(38.103, abs=0.001)
    assert interstage_warm(*ends, 293.15, 313.15) - 14.696 == pytest.approx(45.270, abs=0.001)
    low, high = 2 * 127.0**2, 101.6**2
    found = interstage_from_cylinders(14.696, low, high, 1.0, 1.05)
    assert found - 14.696 == pytest.approx(30.689, abs=0.001)


@pytest.mark.parametrize(
    ("bore", "stroke", "count", "rpm", "minute"),
    [
        (4.0 * 0.0254, 3.5 * 0.0254, 1, 900, 0.64867),
        (0.09, 0.07, 2, 1050, 0.93517),
        (5.25 * 0.0254, 3.5 * 0.0254, 2, 800, 1.98654),
    ],
)
def test_displacement(bore: float, stroke: float, count: int, rpm: float, minute: float) -> None:
    found = piston_displacement(bore, stroke, count, rpm / 60) * 60
    assert found == pytest.approx(minute, rel=1e-5)


def test_clearance_and_losses() -> None:
    caught = clearance_efficiency(0.04, 3.2, 1.25)
    assert caught == pytest.approx(0.93857, abs=1e-5)
    found = overall_volumetric_efficiency(caught, 0.97, 1.0, 0.95, 1.0, 0.02)
    assert found == pytest.approx(0.84759, abs=1e-5)


def test_power() -> None:
    ratio = 114.7 / 14.7
    assert isothermal_power(14.7 * PSI, CFM, ratio) / HP == pytest.approx(0.13179, abs=1e-5)
    assert compression_power(14.7 * PSI, CFM, ratio) / HP == pytest.approx(0.17929, abs=1e-5)
    assert compression_power(14.7 * PSI, CFM, ratio, 2) / HP == pytest.approx(0.15316, abs=1e-5)
    assert compression_power(1e5, 1 / 60, 8.0) == pytest.approx(4733.4, abs=0.1)
    assert compression_power(1e5, 1 / 60, 11.0, 2, 1.3) == pytest.approx(4604.1, abs=0.1)
    hundred = compression_power(14.7 * PSI, 100 * CFM, ratio) / HP / 0.75
    assert hundred == pytest.approx(23.9, abs=0.1)
    assert power_per_flow(10_500.0, 42 * CFM) * 100 * CFM / 1000 == pytest.approx(25.0)


@given(st.floats(1.5, 15.0))
def test_more_stages_come_nearer_to_isothermal(ratio: float) -> None:
    ideal = isothermal_power(1e5, 0.01, ratio)
    one, two = (compression_power(1e5, 0.01, ratio, n) for n in (1, 2))
    assert ideal < two < one


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: stage_temperature(293.15, 0.9), "1 or more"),
        (lambda: stage_temperature(293.15, 3.0, 1.5), "1.05 to 1.45"),
        (lambda: stage_temperature_by_efficiency(293.15, 3.0, 0.0), "efficiency"),
        (lambda: interstage_equal_work(1e5, 1e5), "more than the suction"),
        (lambda: piston_displacement(4.0, 0.07, 2, 15.0), "25 mm to 250 mm"),
        (lambda: piston_displacement(0.09, 0.07, 2, 1050.0), "200 rpm to 2000 rpm"),
        (lambda: piston_displacement(0.09, 0.07, 0, 15.0), "1 to 8"),
        (lambda: clearance_efficiency(0.1, 60.0, 1.2), "this one gives none"),
        (lambda: compression_power(1e5, 0.01, 8.0, 1, 1.0), "at 1, isothermal"),
        (lambda: compression_power(1e5, 0.01, 1.0), "more than 1"),
        (lambda: compression_power(1e5, 0.01, 8.0, 3), "1 or 2"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
