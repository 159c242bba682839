"""Conductors: sizes as written, ampacity, voltage drop."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.conductor import (
    awg_of,
    circular_mils,
    minimum_conductor,
    square_millimetres,
    usable_ampacity,
)
from wizard.calc.voltage_drop import (
    copper_constant_drop,
    drop_share,
    effective_impedance,
    line_drop,
)
from wizard.errors import InputError, OutsideValidity

FT, KFT, ZERO = 0.3048, 304.8, 273.15
INSULATIONS = ("60 °C", "75 °C", "90 °C")


@pytest.mark.parametrize(
    ("text", "awg"),
    [
        ("10 AWG", 10),
        ("awg 10", 10),
        ("10", 10),
        ("6 mm²", None),
        ("2,5 mm2", None),
        ("25mm2", None),
    ],
)
def test_sizes_as_people_write_them(text: str, awg: int | None) -> None:
    assert awg_of(text) == awg


@pytest.mark.parametrize("text", ["9 AWG", "1/0", "", "5 mm²", "50 mm²", "ten", "10 AWG aluminium"])
def test_other_sizes_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="copper 14, 12, 10, 8, 6, 4, 3 or 2 AWG"):
        awg_of(text)


def test_the_two_systems_are_not_mixed() -> None:
    with pytest.raises(InputError, match="an AWG size"):
        circular_mils("6 mm²")
    with pytest.raises(InputError, match="a metric size"):
        square_millimetres("10 AWG")


@pytest.mark.parametrize(
    ("amperes", "insulation", "terminal", "celsius", "bundled", "awg", "usable"),
    [
        (28.0, "75 °C", "75 °C", 30.0, 3, 10, 35.0),
        (28.0, "75 °C", "60 °C", 30.0, 3, 8, 40.0),
        (28.0, "75 °C", "not marked", 30.0, 3, 8, 40.0),
        (28.0, "90 °C", "75 °C", 45.0, 3, 8, 47.85),
        (40.0, "75 °C", "75 °C", 30.0, 3, 8, 50.0),
        (28.0, "90 °C", "75 °C", 40.0, 6, 8, 40.04),
    ],
)
def test_smallest_conductor(
    amperes: float,
    insulation: str,
    terminal: str,
    celsius: float,
    bundled: int,
    awg: int,
    usable: float,
) -> None:
    place = (insulation, terminal, celsius + ZERO, bundled)
    assert minimum_conductor(amperes, *place) == awg
    assert usable_ampacity(f"{awg} AWG", *place).usable == pytest.approx(usable)


@pytest.mark.parametrize(
    ("celsius", "factor"), [(30.0, 1.0), (30.1, 0.94), (35.0, 0.94), (35.1, 0.88), (60.0, 0.58)]
)
def test_a_band_holds_its_upper_edge(celsius: float, factor: float) -> None:
    carries = usable_ampacity("10 AWG", "75 °C", "75 °C", celsius + ZERO)
    assert carries.corrected == pytest.approx(35 * factor)


def test_a_cool_room_counts_only_where_it_is_credited() -> None:
    assert usable_ampacity("10 AWG", "75 °C", "75 °C", 283.15).corrected == 35.0
    assert usable_ampacity("10 AWG", "75 °C", "75 °C", 283.15, 3, True).corrected == 42.0


@pytest.mark.parametrize(("count", "factor"), [(3, 1), (4, 0.8), (9, 0.7), (21, 0.45), (41, 0.35)])
def test_bundling(count: int, factor: float) -> None:
    carries = usable_ampacity("10 AWG", "75 °C", "75 °C", 303.15, count)
    assert carries.corrected == pytest.approx(35 * factor)


def test_sixty_degree_wire_has_no_value_above_55_degrees() -> None:
    with pytest.raises(OutsideValidity, match=r"131 °F \(55 °C\) with 60 °C insulation"):
        usable_ampacity("10 AWG", "60 °C", "60 °C", 60 + ZERO)


def test_nothing_to_2_awg_carries_30_hp_at_230_volts_in_a_hot_full_pipe() -> None:
    with pytest.raises(OutsideValidity, match="what 2 AWG copper carries"):
        minimum_conductor(80.0, "75 °C", "60 °C", 45 + ZERO, 9)


@given(st.sampled_from(INSULATIONS), st.floats(-20, 55), st.floats(0, 20), st.integers(1, 40))
def test_heat_and_company_never_help(
    insulation: str, celsius: float, warmer: float, count: int
) -> None:
    hot = min(55.0, celsius + warmer)
    cool_wire = usable_ampacity("8 AWG", insulation, "75 °C", celsius + ZERO, count)
    hot_wire = usable_ampacity("8 AWG", insulation, "75 °C", hot + ZERO, count + 1)
    assert hot_wire.usable <= cool_wire.usable


def test_voltage_drop_worked_values() -> None:
    assert line_drop(20.0, 1.1 / KFT, 200 * FT) == pytest.approx(7.6210, rel=1e-4)
    assert line_drop(20.0, 1.7 / KFT, 200 * FT) == pytest.approx(11.778, rel=1e-4)
    z = effective_impedance("8 AWG", 0.85)
    assert z * KFT == pytest.approx(0.69724, rel=1e-5)
    drop = line_drop(28.0, z, 120 * FT)
    assert drop == pytest.approx(4.0577, rel=1e-4)
    assert 100 * drop_share(drop, 230.0) == pytest.approx(1.7642, rel=1e-4)
    quick = copper_constant_drop(22.0, 75 * FT, "10 AWG", "single")
    assert 100 * drop_share(quick, 230.0) == pytest.approx(1.7831, rel=1e-4)


def test_metric_impedance_is_warm_copper_with_reactance() -> None:
    expected = 3.08 * (1 + 0.00393 * 50) * 0.85 + 0.08 * math.sin(math.acos(0.85))
    assert effective_impedance("6 mm²") * 1000 == pytest.approx(expected)


def test_the_printed_column_may_be_chosen() -> None:
    assert effective_impedance("10 AWG", method="printed") * KFT == pytest.approx(1.1)
    assert effective_impedance("2 AWG", conduit="PVC or aluminium", method="printed") * KFT == (
        pytest.approx(0.19)
    )


@given(st.floats(1, 120), st.floats(5, 200), st.sampled_from(["14 AWG", "8 AWG", "2 AWG"]))
def test_close_to_the_exact_phasor_answer(amperes: float, feet: float, size: str) -> None:
    r, x = {"14 AWG": (3.1, 0.073), "8 AWG": (0.78, 0.065), "2 AWG": (0.20, 0.057)}[size]
    volts = 480 / math.sqrt(3)
    z = complex(r, x) * feet / 1000
    exact = abs(volts + amperes * cmath.exp(-1j * math.acos(0.85)) * z) - volts
    ours = line_drop(amperes, effective_impedance(size, 0.85), feet * FT)
    assert ours <= exact * math.sqrt(3) + 1e-9
    if ours < 0.03 * 480:
        assert ours == pytest.approx(exact * math.sqrt(3), rel=0.03)
