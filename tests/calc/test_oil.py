"""Viscosity: worked values, inverses, and the edges of validity."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wizard.calc.oil import (
    saybolt_seconds,
    temperature_at_viscosity,
    viscosity_at,
    viscosity_at_100,
    viscosity_index_of,
    viscosity_line,
)
from wizard.errors import InputError, OutsideValidity

C = 273.15
CST = 1e-6


@pytest.mark.parametrize(
    ("index", "hot", "at"),
    [
        (95.0, 11.066, {0: 1836.7, 5: 1145.7, 20: 342.69, 80: 19.416}),
        (130.0, 13.210, {0: 1261.8, 80: 22.401}),
    ],
)
def test_vg_100_at_two_indices(index: float, hot: float, at: dict[int, float]) -> None:
    found = viscosity_at_100(100 * CST, index)
    assert found / CST == pytest.approx(hot, abs=5e-4)
    for celsius, viscosity in at.items():
        assert viscosity_at(celsius + C, 100 * CST, found) / CST == pytest.approx(viscosity, 5e-5)


@pytest.mark.parametrize(
    ("index", "most", "coldest"), [(95, 1000, 6.5207), (130, 1000, 2.8398), (95, 2000, -0.85950)]
)
def test_temperature_at_the_thickest(index: float, most: float, coldest: float) -> None:
    hot = viscosity_at_100(100 * CST, index)
    found = temperature_at_viscosity(most * CST, 100 * CST, hot)
    assert found - C == pytest.approx(coldest, abs=5e-4)


oils = st.tuples(st.floats(32, 300), st.floats(60, 160))


@settings(max_examples=40, deadline=None)
@given(oils)
def test_index_gives_itself_back(oil: tuple[float, float]) -> None:
    hot = viscosity_at_100(oil[0] * CST, oil[1])
    assert viscosity_index_of(oil[0] * CST, hot) == pytest.approx(oil[1], abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(oils, st.floats(-5, 120), st.floats(0.5, 20))
def test_oil_thins_with_heat_and_gives_its_temperature_back(
    oil: tuple[float, float], celsius: float, more: float
) -> None:
    hot = viscosity_at_100(oil[0] * CST, oil[1])
    thick = viscosity_at(celsius + C, oil[0] * CST, hot)
    assert thick > viscosity_at(celsius + more + C, oil[0] * CST, hot)
    assert temperature_at_viscosity(thick, oil[0] * CST, hot) == pytest.approx(celsius + C)


def test_outside_the_method_is_an_error_and_no_number() -> None:
    with pytest.raises(OutsideValidity, match="so warm that the oil is below 200000 cSt"):
        viscosity_at(200.0, 150 * CST, 14.9 * CST)
    with pytest.raises(OutsideValidity, match="accepted 2 cSt to 200000 cSt"):
        viscosity_at(600.0, 32 * CST, 5.4 * CST)
    with pytest.raises(OutsideValidity, match="viscosity index: given 300, accepted 0 to 250"):
        viscosity_at_100(100 * CST, 300.0)
    with pytest.raises(OutsideValidity, match="2 to 40 cSt at 100 °C"):
        viscosity_at_100(5000 * CST, 95.0)
    with pytest.raises(InputError, match="viscosity at 100 °C: given 120 cSt"):
        viscosity_line(100 * CST, 120 * CST)
    with pytest.raises(InputError, match="less than at 40 °C"):
        viscosity_index_of(10 * CST, 11 * CST)


def test_saybolt_seconds_rise_with_viscosity() -> None:
    warm = (130 + 459.67) / 1.8
    values = [saybolt_seconds(v * CST, warm) for v in (5, 20, 43, 100)]
    assert values == sorted(values)
    assert saybolt_seconds(43.1 * CST, warm) == pytest.approx(201, abs=1)
