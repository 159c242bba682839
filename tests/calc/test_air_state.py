"""The state of the air: worked values, ranges, and what does not depend on the unit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.air_state import (
    absolute_pressure,
    air_mass_ratio,
    flow_state,
    free_air_from_inlet,
    reference_flow,
    standard_atmosphere,
    station_pressure,
)
from wizard.calc.vapour import (
    frost_pressure,
    moist_density,
    saturation_pressure,
    saturation_pressure_by_hand,
    vapour_pressure,
)
from wizard.errors import InputError, OutsideValidity, WizardError
from wizard.quantities import to_si

ISO = flow_state("ISO 1217: 1 bar, 20 °C, dry")
US = flow_state("US: 14.696 psia, 60 °F, dry")
ASME = flow_state("ASME: 14.7 psia, 68 °F, 36 % RH")


@pytest.mark.parametrize(
    ("metres", "kilopascal", "kelvin"),
    [(0, 101.325, 288.15), (500, 95.461, 284.90), (1524, 84.311, 278.25), (3000, 70.121, 268.66)],
)
def test_standard_atmosphere(metres: float, kilopascal: float, kelvin: float) -> None:
    found = standard_atmosphere(metres)
    assert found.pressure / 1000 == pytest.approx(kilopascal, rel=2e-5)
    assert found.temperature == pytest.approx(kelvin, abs=0.006)


@pytest.mark.parametrize("metres", [-501.0, 5001.0, float("nan")])
def test_atmosphere_refuses_what_it_does_not_cover(metres: float) -> None:
    with pytest.raises(OutsideValidity, match="-500 m to 5000 m"):
        standard_atmosphere(metres)


def test_weather_report_in_inches() -> None:
    inch = to_si(1.0, "absolute pressure", "inHg")
    found = station_pressure(29.85 * inch, to_si(4200.0, "length", "ft"))
    assert found / inch == pytest.approx(25.590, abs=0.001)


@pytest.mark.parametrize(
    ("metres", "celsius", "share"),
    [(0, 15, 1.0), (0, 40, 0.92017), (1500, 15, 0.83454), (1500, 35, 0.78037)],
)
def test_mass_ratio(metres: float, celsius: float, share: float) -> None:
    pressure = standard_atmosphere(metres).pressure
    assert air_mass_ratio(pressure, celsius + 273.15) == pytest.approx(share, abs=1e-5)


@pytest.mark.parametrize(
    ("before", "after", "flow", "expected"),
    [
        ((98_000.0, 303.15, 0.6), ISO, 1.0, 0.92303),
        ((98_000.0, 303.15, 0.6), (101_325.0, 273.15, 0.0), 1.0, 0.84881),
        ((US[0], 308.15, 0.7), US, 50.0, 45.023),
        (ISO, US, 50.0, 48.598),
        (ISO, ASME, 50.0, 49.746),
    ],
)
def test_reference_flow(
    before: tuple[float, float, float],
    after: tuple[float, float, float],
    flow: float,
    expected: float,
) -> None:
    assert reference_flow(flow, *before, *after) == pytest.approx(expected, rel=2e-5)


state = st.tuples(st.floats(70e3, 105e3), st.floats(275.0, 315.0), st.floats(0.0, 1.0))


@given(state, state, st.floats(0.001, 1.0))
def test_reference_flow_there_and_back(
    one: tuple[float, float, float], two: tuple[float, float, float], flow: float
) -> None:
    there = reference_flow(flow, *one, *two)
    assert reference_flow(there, *two, *one) == pytest.approx(flow, rel=1e-9)


@given(state, st.floats(0.001, 1.0), st.floats(0.0, 0.9))
def test_humid_air_is_less_air(
    condition: tuple[float, float, float], humidity: float, share: float
) -> None:
    pressure, kelvin, _ = condition
    damp = reference_flow(1.0, pressure, kelvin, humidity, *ISO)
    drier = reference_flow(1.0, pressure, kelvin, humidity * share, *ISO)
    assert damp < drier
    assert moist_density(pressure, kelvin, humidity) < moist_density(pressure, kelvin, 0.0)


def test_dry_cold_air_needs_no_vapour_curve() -> None:
    assert reference_flow(1.0, 101_325.0, 233.15, 0.0, *ISO) > 1.0
    assert vapour_pressure(200.0, 0.0) == 0.0


def test_curves_meet_at_the_freezing_point() -> None:
    assert saturation_pressure(273.15) == pytest.approx(frost_pressure(273.15), rel=2e-4)
    assert vapour_pressure(273.14, 1.0) < vapour_pressure(273.16, 1.0)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: absolute_pressure(-102_000.0, 101_325.0), "gauge"),
        (lambda: absolute_pressure(1e5, 0.0), "ambient"),
        (lambda: reference_flow(1.0, 98e3, 303.15, 45.0, *ISO), "4500 %"),
        (lambda: reference_flow(1.0, 2000.0, 303.15, 1.0, *ISO), "pressure of its vapour"),
        (lambda: reference_flow(-1.0, 98e3, 303.15, 0.5, *ISO), "zero or more"),
        (lambda: saturation_pressure(272.0), "temperature: given 29.93 °F (-1.15 °C)"),
        (lambda: frost_pressure(274.0), "temperature: given 33.53 °F (0.85 °C)"),
        (lambda: saturation_pressure_by_hand(330.0), "0 °C to 50 °C"),
        (lambda: free_air_from_inlet(1.0, 102e3, 101e3), "at most the ambient"),
        (lambda: flow_state("scfm"), "ISO 1217: 1 bar, 20 °C, dry"),
        (lambda: moist_density(float("nan"), 300.0, 0.5), "pressure"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(WizardError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
    assert isinstance(caught.value, InputError)
