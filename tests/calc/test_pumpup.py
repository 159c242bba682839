"""Pump-up: worked values, what heat does to them, and how well they are known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.acceptance import rating_tolerance
from wizard.calc.pumpup import (
    pumpup_flow_simple,
    pumpup_flow_warm,
    settled_without_leak,
    speed_corrected_flow,
)
from wizard.calc.pumpup_time import (
    pumpup_time_constant,
    pumpup_time_falling,
    pumpup_time_warm,
)
from wizard.calc.uncertainty import dominant, gauge_uncertainty, pumpup_uncertainty
from wizard.errors import InputError, OutsideValidity

PSI, CFM, GAL, ATM = 6894.757293168, 0.3048**3 / 60, 0.003785411784, 101_325.0


@pytest.mark.parametrize(
    ("volume", "start", "end", "time", "ambient", "cfm"),
    [
        (80 * GAL, 0.0, 100.0, 180.0, 14.696, 24.257),
        (120 * GAL, 90.0, 175.0, 210.0, 12.2, 31.933),
    ],
)
def test_simple_form(
    volume: float, start: float, end: float, time: float, ambient: float, cfm: float
) -> None:
    low, high = ((p + ambient) * PSI for p in (start, end))
    found = pumpup_flow_simple(volume, low, high, time, ambient * PSI)
    assert found / CFM == pytest.approx(cfm, rel=3e-5)


def test_warm_form() -> None:
    ends = (114.696 * PSI, 164.696 * PSI)
    found = pumpup_flow_warm(80 * GAL, *ends, 300.0, 312.0, 60.0, 14.696 * PSI, 293.15)
    assert found / CFM == pytest.approx(31.050, abs=0.001)
    found = pumpup_flow_warm(0.5, 95e3, 1095e3, 293.15, 328.15, 300.0, 95e3, 293.15)
    assert found * 60 == pytest.approx(0.92969, abs=1e-5)


volume = st.floats(0.05, 1.0)
rise = st.tuples(st.floats(1e5, 5e5), st.floats(1.5e5, 10e5))
temperature = st.floats(280.0, 310.0)


@given(volume, rise, st.floats(30.0, 600.0), temperature)
def test_without_warming_both_forms_agree(
    tank: float, span: tuple[float, float], time: float, kelvin: float
) -> None:
    start, end = span[0], span[0] + span[1]
    cold = pumpup_flow_simple(tank, start, end, time, ATM)
    warm = pumpup_flow_warm(tank, start, end, kelvin, kelvin, time, ATM, kelvin)
    assert warm == pytest.approx(cold, rel=1e-9)


@given(volume, rise, st.floats(30.0, 600.0), st.floats(0.0, 40.0))
def test_a_warm_tank_flatters(
    tank: float, span: tuple[float, float], time: float, warmer: float
) -> None:
    start, end = span[0], span[0] + span[1]
    cold = pumpup_flow_simple(tank, start, end, time, ATM)
    warm = pumpup_flow_warm(tank, start, end, 293.15, 293.15 + warmer, time, ATM, 293.15)
    assert warm <= cold * (1 + 1e-9)


@given(volume, rise, st.floats(0.002, 0.05), st.floats(0.0, 30.0))
def test_time_and_flow_are_inverse(
    tank: float, span: tuple[float, float], flow: float, warmer: float
) -> None:
    start, end = span[0], span[0] + span[1]
    cold = pumpup_time_constant(tank, start, end, flow, ATM)
    assert pumpup_flow_simple(tank, start, end, cold, ATM) == pytest.approx(flow, rel=1e-9)
    warm = pumpup_time_warm(cold, start, end, 295.0, 295.0 + warmer, 293.15)
    back = pumpup_flow_warm(tank, start, end, 295.0, 295.0 + warmer, warm, ATM, 293.15)
    assert back == pytest.approx(flow, rel=1e-9)


@pytest.mark.parametrize(
    ("volume", "start", "end", "flow", "rated", "stages", "seconds"),
    [
        (80 * GAL, 0.0, 135 * PSI, 15 * CFM, 100 * PSI, 1, 368.56),
        (80 * GAL, 0.0, 175 * PSI, 15 * CFM, 175 * PSI, 2, 492.45),
        (0.5, 6e5, 10e5, 0.02, 10e5, 2, 97.691),
    ],
)
def test_falling_delivery(
    volume: float, start: float, end: float, flow: float, rated: float, stages: int, seconds: float
) -> None:
    found = pumpup_time_falling(volume, start + ATM, end + ATM, flow, rated + ATM, ATM, ATM, stages)
    assert found == pytest.approx(seconds, rel=2e-5)
    assert found < pumpup_time_constant(volume, start + ATM, end + ATM, flow, ATM)


def test_pump_that_cannot_reach_the_pressure() -> None:
    with pytest.raises(OutsideValidity, match="a pressure that this pump can reach"):
        pumpup_time_falling(0.3, ATM, 40e5, 0.01, 8e5, ATM, ATM, 1, 0.10, 1.2)


@pytest.mark.parametrize(
    ("ends", "temperatures", "time", "u_t", "u_p", "combined"),
    [
        ((100.0, 150.0), (300.0, 312.0), 60.0, 3.0, 1.0, 0.055280),
        ((0.0, 150.0), (293.0, 318.0), 180.0, 3.0, 1.0, 0.018085),
        ((0.0, 138.0), (293.0, 293.0), 180.0, 0.5, 0.25, 0.011335),
    ],
)
def test_uncertainty(
    ends: tuple[float, float],
    temperatures: tuple[float, float],
    time: float,
    u_t: float,
    u_p: float,
    combined: float,
) -> None:
    low, high = ((p + 14.696) * PSI for p in ends)
    found = pumpup_uncertainty(
        low, high, *temperatures, time, 14.696 * PSI, 293.15, u_p * PSI, temperature_uncertainty=u_t
    )
    assert found.combined == pytest.approx(combined, rel=2e-4)
    assert found.expanded == 2 * found.combined


def test_the_dominant_term_is_named() -> None:
    ends = (ATM, 11e5)
    kind = {
        "volume_uncertainty": "the tank volume",
        "time_uncertainty": "the stopwatch",
        "scatter": "the scatter of the laps",
        "model": "the step to rated pressure",
    }
    for name, words in kind.items():
        high = 50.0 if name == "time_uncertainty" else 0.3
        found = pumpup_uncertainty(*ends, 293.0, 293.0, 100.0, ATM, 293.0, 100.0, **{name: high})
        assert dominant(found) == words


@pytest.mark.parametrize("name", ["pressure_uncertainty", "volume_uncertainty"])
def test_no_uncertainty_can_be_zero(name: str) -> None:
    known = {"pressure_uncertainty": 100.0} | {name: 0.0}
    with pytest.raises(InputError, match=name):
        pumpup_uncertainty(ATM, 11e5, 293.0, 293.0, 100.0, ATM, 293.0, **known)


@pytest.mark.parametrize(
    ("minute", "percent"), [(0.4999, 7), (0.5, 6), (1.5, 6), (1.5001, 5), (15.0, 5), (15.1, 4)]
)
def test_tolerance_at_its_borders(minute: float, percent: int) -> None:
    found = rating_tolerance(minute / 60)
    assert found.flow == pytest.approx(percent / 100)
    assert found.specific_energy == pytest.approx((percent + 1) / 100)


def test_speed_correction_ends_at_five_percent() -> None:
    assert speed_corrected_flow(1.0, 105.0, 100.0) == pytest.approx(1 / 1.05)
    with pytest.raises(OutsideValidity, match="95 % to 105 %"):
        speed_corrected_flow(1.0, 105.1, 100.0)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: pumpup_flow_simple(0.3, 5e5, 5e5, 60.0, ATM), "more than the start"),
        (lambda: pumpup_flow_simple(0.0, 1e5, 5e5, 60.0, ATM), "volume"),
        (
            lambda: pumpup_flow_warm(0.3, 1e5, 5e5, 300.0, 297.9, 60.0, ATM, 293.0),
            "not colder after pumping",
        ),
        (lambda: settled_without_leak(9e5, 9.1e5), "cannot gain"),
        (lambda: gauge_uncertainty(1.0, 10e5), "at most 10 %"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
