"""Leaks, storage, cycles, water and drains: worked values, order and ranges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.drain import drain_flow, drain_open_time
from wizard.calc.leak import (
    leak_by_decay,
    leak_by_duty,
    leak_choked,
    leak_energy,
    leak_with_cooling,
)
from wizard.calc.leak_hole import leak_hole, leak_through_hole
from wizard.calc.receiver_cycle import (
    receiver_for_starts,
    shortest_cycle,
    storage_time,
    storage_volume,
    switch_cycle,
)
from wizard.calc.water import atmospheric_dew_point, water_balance
from wizard.errors import InputError

PSI, CFM, GAL, ATM = 6894.757293168, 0.3048**3 / 60, 0.003785411784, 101_325.0
FT3 = 0.3048**3


@pytest.mark.parametrize(
    ("volume", "start", "end", "minutes", "round_form", "exact"),
    [
        (50 * FT3, 100, 50, 10, 21.259, 22.338),
        (11 * FT3, 120, 110, 25, 0.37415, 0.31101),
    ],
)
def test_decay(
    volume: float, start: float, end: float, minutes: float, round_form: float, exact: float
) -> None:
    room = 14.7 * PSI
    by_round = leak_by_decay(volume, start * PSI, end * PSI, minutes * 60, room, 1.25)
    assert by_round / CFM == pytest.approx(round_form, rel=4e-4)
    low, high = ((p * PSI + room) for p in (end, start))
    assert leak_choked(volume, high, low, minutes * 60, room) / CFM == pytest.approx(
        exact, rel=4e-4
    )


def test_the_round_factor_is_only_one_of_many() -> None:
    for end, factor in ((50, 1.3134), (90, 1.0463)):
        low, high = (p * PSI + ATM for p in (end, 100))
        exact = leak_choked(1.0, high, low, 600.0, ATM)
        assert exact / leak_by_decay(1.0, 100 * PSI, end * PSI, 600.0, ATM) == pytest.approx(
            factor, abs=2e-4
        )


def test_cooling_is_no_leak() -> None:
    found = leak_with_cooling(0.3, 901_325.0, 886_325.0, 303.15, 297.15, 1800.0, ATM, 297.15)
    assert 60 * found == pytest.approx(-0.00028021, rel=1e-3)


@given(st.floats(3e5, 12e5), st.floats(0.55, 0.99), st.floats(60.0, 3600.0))
def test_a_leak_at_the_start_is_more_than_the_average(
    start: float, share: float, time: float
) -> None:
    end = max(share * start, 2 * ATM)
    if end < start:
        at_start = leak_choked(0.3, start, end, time, ATM)
        average = leak_by_decay(0.3, start - ATM, end - ATM, time, ATM)
        assert at_start >= average * (1 - 1e-9)


@given(st.floats(1e-5, 5e-3), st.floats(3e5, 15e5), st.floats(0.5, 1.0))
def test_hole_and_leak_are_inverse(leak: float, pressure: float, coefficient: float) -> None:
    diameter = leak_hole(leak, pressure, 293.15, ATM, 293.15, coefficient)
    back = leak_through_hole(diameter, pressure, 293.15, ATM, 293.15, coefficient)
    assert back == pytest.approx(leak, rel=1e-9)


def test_energy_of_ten_cfm() -> None:
    specific = 18_000.0 / (100 * CFM)
    assert leak_energy(10 * CFM, specific, 8000 * 3600.0) / 3.6e6 == pytest.approx(14_400.0)


@pytest.mark.parametrize(
    ("volume", "band", "made", "drawn", "load", "off", "hourly", "duty"),
    [
        (80 * GAL, 35 * PSI, 23 * CFM, 11.5 * CFM, 2.2148, 2.2148, 13.545, 0.5),
        (0.27, 2e5, 0.01, 0.4 / 60, 2.6647, 1.3323, 15.011, 0.66667),
        (0.5, 2.5e5, 0.02, 0.005, 1.3707, 4.1122, 10.943, 0.25),
    ],
)
def test_switch_cycle(
    volume: float,
    band: float,
    made: float,
    drawn: float,
    load: float,
    off: float,
    hourly: float,
    duty: float,
) -> None:
    found = switch_cycle(volume, band, made, drawn, ATM)
    assert found.load_time / 60 == pytest.approx(load, rel=1e-4)
    assert found.off_time / 60 == pytest.approx(off, rel=1e-4)
    assert 3600 * found.rate == pytest.approx(hourly, rel=1e-4)
    assert found.duty == pytest.approx(duty, rel=1e-4)


@given(st.floats(0.05, 0.95))
def test_no_demand_makes_a_shorter_cycle_than_half(share: float) -> None:
    found = switch_cycle(0.27, 2e5, 0.01, share * 0.01, ATM)
    shortest = shortest_cycle(0.27, 2e5, 0.01, ATM)
    assert 1 / found.rate >= shortest * (1 - 1e-9)
    tank = receiver_for_starts(1 / shortest, 2e5, 0.01, ATM)
    assert tank == pytest.approx(0.27)


@given(st.floats(10.0, 600.0), st.floats(0.005, 0.05), st.floats(0.0, 0.004))
def test_storage_there_and_back(time: float, demand: float, delivery: float) -> None:
    tank = storage_volume(time, 9e5, 6e5, demand, ATM, delivery)
    assert storage_time(tank, 9e5, 6e5, demand, ATM, delivery) == pytest.approx(time)


@pytest.mark.parametrize(
    ("case", "taken_in", "dropped"),
    [
        ((1 / 60, ATM, 303.15, 0.7, 8e5, 308.15), 1.2748, 1.0098),
        ((0.3 / 60, ATM, 283.15, 0.4, 8e5, 303.15), 0.067662, 0.0019119),
        ((0.3 / 60, ATM, 283.15, 0.4, 2e5, 313.15), 0.067662, 0.0),
    ],
)
def test_water(
    case: tuple[float, float, float, float, float, float], taken_in: float, dropped: float
) -> None:
    found = water_balance(*case)
    assert 3600 * found.taken_in == pytest.approx(taken_in, rel=2e-4)
    assert 3600 * found.dropped == pytest.approx(dropped, rel=2e-3)


@given(st.floats(0.1, 1.0), st.floats(2e5, 14e5), st.floats(275.0, 340.0))
def test_more_pressure_or_less_heat_drops_more(share: float, gauge: float, tank: float) -> None:
    found = water_balance(0.01, ATM, 303.15, share, gauge, tank)
    assert 0 <= found.dropped <= found.taken_in
    assert water_balance(0.01, ATM, 303.15, share, gauge * 1.1, tank).dropped >= found.dropped
    assert water_balance(0.01, ATM, 303.15, share, gauge, tank + 5).dropped <= found.dropped


def test_tank_too_hot_to_hold_liquid() -> None:
    found = water_balance(0.01, 60_000.0, 303.15, 0.5, 0.0, 363.15)
    assert found.dropped == 0


@pytest.mark.parametrize(
    ("celsius", "gauge", "dew"),
    [(3.0, 7e5, -23.097), (38.0, 100 * PSI, 4.6235), (20.0, 10e5, -13.569)],
)
def test_dew_point(celsius: float, gauge: float, dew: float) -> None:
    found = atmospheric_dew_point(celsius + 273.15, gauge)
    assert found.dew - 273.15 == pytest.approx(dew, abs=0.001)
    assert 0 <= found.frost - found.dew < 5


def test_drain_in_both_systems() -> None:
    assert 1000 * drain_flow(0.003, 7e5) == pytest.approx(0.16150, abs=1e-5)
    assert 1000 * drain_flow(0.125 * 0.0254, 100 * PSI) == pytest.approx(0.17952, abs=1e-5)
    assert drain_open_time(0.001, 0.16150e-3) == pytest.approx(7.192, abs=0.001)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: leak_by_decay(0.3, 5e5, 5e5, 60.0, ATM), "less than the start"),
        (lambda: leak_choked(0.3, 5e5, 1.8e5, 60.0, ATM), "1.893 times the ambient"),
        (lambda: leak_hole(0.001, 1.8e5, 293.0, ATM, 293.0), "1.893 times the ambient"),
        (lambda: leak_by_duty(0.0, 60.0), "on_time"),
        (lambda: leak_energy(0.001, 5e5, 9000 * 3600.0), "0 h to 8784 h"),
        (lambda: storage_time(0.3, 8e5, 6e5, 0.01, ATM, 0.02), "never empties"),
        (lambda: switch_cycle(0.3, 2e5, 0.01, 0.01, ATM), "never reaches cut-out"),
        (lambda: water_balance(0.01, ATM, 303.15, 0.5, 8e5, 364.0), "0 °C to 90 °C"),
        (lambda: atmospheric_dew_point(360.0, 7e5), "-60 °C to 80 °C"),
        (lambda: drain_flow(0.003, -1.0), "pressure"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
