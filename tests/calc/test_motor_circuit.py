"""Table current, fuse and breaker, overload, fault current: worked values and ends."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.fault import ground_fault_current, transformer_fault_current
from wizard.calc.motor_circuit import (
    DEVICES,
    full_load_current,
    short_circuit_device,
    standard_ratings,
)
from wizard.calc.overload import overload_trip, thermal_protector_limit
from wizard.errors import InputError, OutsideValidity
from wizard.quantities import to_si

BREAKER, DUAL, PLAIN, INSTANT, INSTANT_B = DEVICES
HP, KW = to_si(1.0, "power", "hp"), 1000.0


@pytest.mark.parametrize(
    ("power", "phases", "volts", "amperes"),
    [
        (5 * HP, "three", 230.0, 15.2),
        (10 * HP, "three", 460.0, 14.0),
        (5 * HP, "single", 230.0, 28.0),
        (7.5 * HP, "three", 480.0, 11.0),
        (4 * KW, "three", 460.0, 7.6),
        (3.7 * KW, "three", 460.0, 7.6),
        (7.5 * KW, "three", 230.0, 28.0),
        (4 * HP, "three", 230.0, 15.2),
        (1.5 * HP, "three", 575.0, 2.4),
        (2 * HP, "single", 120.0, 24.0),
    ],
)
def test_table_current(power: float, phases: str, volts: float, amperes: float) -> None:
    assert full_load_current(power, phases, volts) == amperes


@pytest.mark.parametrize(
    ("power", "phases", "volts", "said"),
    [
        (15 * HP, "single", 230.0, "1.5 hp to 10 hp"),
        (3 * HP, "three", 115.0, "a combination that the table has a value for"),
        (10 * HP, "three", 400.0, "elsewhere the nameplate current is used"),
        (1 * HP, "three", 230.0, "1.5 hp to 30 hp"),
        (40 * HP, "three", 230.0, "1.5 hp to 30 hp"),
    ],
)
def test_no_table_value(power: float, phases: str, volts: float, said: str) -> None:
    with pytest.raises(OutsideValidity, match=said):
        full_load_current(power, phases, volts)


@pytest.mark.parametrize(
    ("amperes", "device", "expected"),
    [
        (34.0, BREAKER, (85.0, 90, 136.0, 125)),
        (34.0, DUAL, (59.5, 60, 76.5, 70)),
        (28.0, BREAKER, (70.0, 70, 112.0, 110)),
        (7.6, PLAIN, (22.8, 25, 30.4, 30)),
        (110.0, BREAKER, (275.0, 300, 330.0, 300)),
        (34.0, INSTANT, (272.0, 272.0, 442.0, 442.0)),
        (34.0, INSTANT_B, (374.0, 374.0, 578.0, 578.0)),
        (2.4, BREAKER, (6.0, 15, 9.6, 15)),
        (2.4, DUAL, (4.2, 6, 5.4, 6)),
    ],
)
def test_device(amperes: float, device: str, expected: tuple[float, ...]) -> None:
    assert short_circuit_device(amperes, device) == pytest.approx(expected)


def test_an_unknown_device_is_not_guessed() -> None:
    with pytest.raises(InputError, match="inverse-time breaker; dual-element"):
        short_circuit_device(34.0, "fuse")


@given(st.floats(1, 120), st.sampled_from(DEVICES[:3]))
def test_the_ratings_are_standard_and_ordered(amperes: float, device: str) -> None:
    found = short_circuit_device(amperes, device)
    ratings = standard_ratings(device.endswith("fuse"))
    assert found.basic_rating in ratings and found.absolute_rating in ratings
    assert found.basic <= found.basic_rating * (1 + 1e-9) <= found.absolute_rating * (1 + 1e-9)


@pytest.mark.parametrize(
    ("amperes", "factor", "rise", "delta", "expected"),
    [
        (32.0, 1.15, None, False, (40.0, 44.8)),
        (24.0, 1.15, None, False, (30.0, 33.6)),
        (17.0, 1.0, None, False, (19.55, 22.1)),
        (9.4, 1.0, 40.0, False, (11.75, 13.16)),
        (27.0, 1.15, None, True, (19.486, 21.824)),
        (10.0, 1.149, 40.1, False, (11.5, 13.0)),
    ],
)
def test_overload(
    amperes: float, factor: float, rise: float | None, delta: bool, expected: tuple[float, float]
) -> None:
    assert overload_trip(amperes, factor, rise, delta) == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize(("amperes", "percent"), [(9.0, 170), (9.1, 156), (20.0, 156), (20.1, 140)])
def test_thermal_protector(amperes: float, percent: float) -> None:
    assert thermal_protector_limit(amperes) == pytest.approx(amperes * percent / 100)


def test_fault_currents() -> None:
    assert ground_fault_current(277.0, 1.1) == pytest.approx(251.82, rel=1e-4)
    three = transformer_fault_current(75e3, 0.03, 480.0)
    assert transformer_fault_current(75e3, 0.03, 480.0, "single") == pytest.approx(three * 3**0.5)


@given(st.floats(0.005, 0.19), st.floats(0.001, 0.01))
def test_a_stiffer_transformer_gives_more_fault_current(z: float, more: float) -> None:
    assert transformer_fault_current(75e3, z, 480.0) > transformer_fault_current(
        75e3, z + more, 480.0
    )
