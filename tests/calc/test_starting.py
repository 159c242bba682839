"""Start and cycling: worked values, refusals, properties."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.starting import (
    code_letter_range,
    locked_rotor_current,
    source_dip,
    starting_power,
    voltage_at_start,
)
from wizard.calc.starts import cycle_starts, starts_allowed
from wizard.calc.voltage_drop import effective_impedance, line_drop
from wizard.errors import InputError, OutsideValidity
from wizard.quantities import to_si

HP, FT = to_si(1.0, "power", "hp"), 0.3048


@pytest.mark.parametrize(
    ("hp", "letter", "volts", "phases", "low", "high"),
    [
        (10, "G", 460.0, "three", 70.286, 78.946),
        (5, "J", 230.0, "single", 154.35, 173.70),
        (10, "H", 460.0, "three", 79.072, 88.987),
    ],
)
def test_locked_rotor_amperes(
    hp: float, letter: str, volts: float, phases: str, low: float, high: float
) -> None:
    span = code_letter_range(letter)
    ends = [locked_rotor_current(kva, hp * HP, volts, phases) for kva in span]
    assert ends == pytest.approx([low, high], rel=1e-4)


@pytest.mark.parametrize("letter", ["I", "O", "Q", "", "AA", "7"])
def test_letters_that_do_not_exist(letter: str) -> None:
    with pytest.raises(InputError, match="A B C D E F G H J K L M N P R S T U V"):
        code_letter_range(letter)


def test_the_open_ended_letter_wants_amperes() -> None:
    with pytest.raises(OutsideValidity, match="locked-rotor amperes of the plate"):
        code_letter_range("V")


def test_star_delta_draws_a_third() -> None:
    direct = locked_rotor_current(6.29, 10 * HP, 460.0)
    assert locked_rotor_current(6.29, 10 * HP, 460.0, starter="star-delta") == direct / 3


def test_an_inverter_does_not_start_like_this() -> None:
    with pytest.raises(InputError, match="direct on line; star-delta; soft starter"):
        locked_rotor_current(6.29, 10 * HP, 460.0, starter="inverter")


def test_dip_worked_values() -> None:
    assert 100 * source_dip(70.9e3, 75e3, 0.03) == pytest.approx(2.7578, rel=1e-4)
    assert 100 * source_dip(70.9e3, 30e3, 0.025) == pytest.approx(5.5787, rel=1e-4)
    z = effective_impedance("10 AWG", 0.40)
    drop = line_drop(88.987, z, 150 * FT)
    assert drop == pytest.approx(12.432, rel=1e-4)
    assert starting_power(88.987, 460.0) == pytest.approx(70.9e3, rel=1e-4)


def test_no_voltage_left_is_refused_not_negative() -> None:
    with pytest.raises(OutsideValidity, match="less than the supply"):
        voltage_at_start(230.0, 0.1, 230.0)


@given(st.floats(1e3, 1e6), st.floats(1e4, 1e6), st.floats(0.005, 0.2))
def test_a_dip_is_a_share_and_grows_with_the_start(
    start: float, transformer: float, z: float
) -> None:
    dip = source_dip(start, transformer, z)
    assert 0 < dip < 1
    assert source_dip(2 * start, transformer, z) > dip


@pytest.mark.parametrize(
    ("hp", "poles", "per_hour", "rest"),
    [
        (2, "2", 11.5, 77),
        (7.5, "4", 13.9, 44),
        (10, "4", 12.5, 46),
        (12, "4", 10.7, 50),
        (30, "6", 9.3, 53),
        (5.3641, "4", 16.3, 42),
        (10.058, "4", 12.5, 46),
    ],
)
def test_starts_allowed(hp: float, poles: str, per_hour: float, rest: float) -> None:
    allowed = starts_allowed(hp * HP, poles)
    assert 3600 * allowed.starts == pytest.approx(per_hour)
    assert allowed.rest == rest


def test_a_heavy_flywheel_leaves_fewer_starts() -> None:
    inertia = to_si(50.0, "moment of inertia", "lb·ft2")
    assert 3600 * starts_allowed(25 * HP, "4", inertia).starts == pytest.approx(2.44)
    light = to_si(1.0, "moment of inertia", "lb·ft2")
    assert 3600 * starts_allowed(25 * HP, "4", light).starts == pytest.approx(8.8)


def test_cycles() -> None:
    assert 3600 * cycle_starts(150.0, 240.0) == pytest.approx(9.2308, rel=1e-4)
    assert 3600 * cycle_starts(70.0, 50.0) == pytest.approx(30.0)


@pytest.mark.parametrize(("run", "off"), [(0.5, 10.0), (3601.0, 10.0), (60.0, 0.0), (60.0, -5.0)])
def test_times_that_cannot_be(run: float, off: float) -> None:
    with pytest.raises(InputError):
        cycle_starts(run, off)
