"""Relief formulas: worked values, the ends of their rules, and what they refuse."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.first_start import hand_stop_pressure
from wizard.calc.relief import (
    delivery_at_speed,
    lift_pressure,
    margin_below_relief,
    relief_margin,
    relieving_pressure,
)
from wizard.calc.relief_orifice import orifice_capacity, orifice_mass_flow
from wizard.errors import InputError, OutsideValidity

PSI = 6894.757293168
CFM = 0.3048**3 / 60
IN2 = 0.0254**2
PRESSURES = st.floats(1e4, 2e6)


@pytest.mark.parametrize(
    ("psig", "several", "psia"),
    [(200, False, 234.696), (25, False, 42.696), (30, False, 47.696), (25, True, 43.696)],
)
def test_relieving_pressure(psig: float, several: bool, psia: float) -> None:
    got = relieving_pressure(psig * PSI, 14.696 * PSI, several)
    assert got / PSI == pytest.approx(psia, rel=1e-6)


@given(PRESSURES)
def test_relieving_pressure_is_never_less_than_ten_percent_over(pressure: float) -> None:
    assert relieving_pressure(pressure, 1e5) >= 1.1 * pressure + 1e5 - 1e-3


@pytest.mark.parametrize(
    ("area", "psig", "coefficient", "scfm"),
    [(0.110, 200, 0.975, 461.69), (0.110, 200, 0.8775, 415.52), (0.11045, 165, 0.878, 348.97)],
)
def test_orifice_capacity(area: float, psig: float, coefficient: float, scfm: float) -> None:
    upstream = 1.1 * psig * PSI + 14.696 * PSI
    got = orifice_capacity(area * IN2, upstream, 519.67 / 1.8, coefficient)
    assert got / CFM == pytest.approx(scfm, rel=5e-5)


def test_orifice_is_not_answered_below_the_speed_of_sound() -> None:
    with pytest.raises(OutsideValidity, match=r"below 0\.5283"):
        orifice_capacity(1e-4, 1.8e5, 290.0)
    with pytest.raises(OutsideValidity, match="choked"):
        orifice_mass_flow(1e-4, 1.9e5, 290.0)
    assert orifice_mass_flow(1e-4, 1.92e5, 290.0) > 0


@given(st.floats(1e-6, 1e-3), st.floats(3e5, 2e6), st.floats(260.0, 340.0))
def test_twice_the_hole_passes_twice_the_air(area: float, pressure: float, kelvin: float) -> None:
    one = orifice_mass_flow(area, pressure, kelvin)
    assert orifice_mass_flow(2 * area, pressure, kelvin) == pytest.approx(2 * one)
    assert orifice_mass_flow(area, pressure, kelvin + 10) < one


@given(PRESSURES, st.floats(0.1, 0.99))
def test_margin_gives_back_the_cut_out(setting: float, share: float) -> None:
    got = margin_below_relief(setting, share * setting)
    assert setting * (1 - got.share) == pytest.approx(share * setting)
    assert setting - got.difference == pytest.approx(share * setting)


@pytest.mark.parametrize(
    ("cut_out", "setting", "stop"), [(175, 200, 180), (150, 165, 155), (145, 150, 145)]
)
def test_hand_stop(cut_out: float, setting: float, stop: float) -> None:
    assert hand_stop_pressure(cut_out * PSI, setting * PSI) / PSI == pytest.approx(stop)


@given(PRESSURES, PRESSURES)
def test_hand_stop_is_below_the_relief_setting(cut_out: float, more: float) -> None:
    setting = cut_out + more
    assert hand_stop_pressure(cut_out, setting) < setting


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: relieving_pressure(0.0), "set_pressure: given 0"),
        (lambda: lift_pressure(-1.0), "relief_set: given -0.000145 psig"),
        (lambda: relief_margin(1.0, 0.0), "required: given 0"),
        (lambda: delivery_at_speed(1.0, 0.0, 1.0), "rated_speed: given 0"),
        (lambda: hand_stop_pressure(2e5, 2e5), "expected cut-out: given at or above"),
    ],
)
def test_impossible_input_is_refused_by_name(call: object, said: str) -> None:
    assert callable(call)
    with pytest.raises(InputError, match=said):
        call()
