"""Grounding conductor, bond and insulation: worked values and properties."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.ground import (
    bond_expected,
    bond_limit,
    ground_area,
    ground_size,
    protective_conductor,
)
from wizard.calc.insulation import (
    insulation_at_40,
    insulation_at_40_thermosetting,
    polarization_index,
)
from wizard.errors import InputError, OutsideValidity

FT, MEGOHM, ZERO = 0.3048, 1e6, 273.15


@pytest.mark.parametrize(
    ("rating", "awg"),
    [(6, 14), (15, 14), (15.1, 12), (20, 12), (60, 10), (70, 8), (100, 8), (200, 6), (300, 4)],
)
def test_ground_size(rating: float, awg: int) -> None:
    assert ground_size(rating) == awg


def test_above_300_amperes_is_outside() -> None:
    with pytest.raises(OutsideValidity, match="0 A to 300 A"):
        ground_size(301.0)


def test_the_ground_grows_with_the_phases_but_not_beyond_them() -> None:
    assert ground_area(10380, 26240, 16510) == pytest.approx(16497, rel=1e-4)
    assert ground_area(16510, 26240, 10380) == 26240
    assert ground_area(10380, 16510, 26240) == 10380


@given(st.floats(1, 120))
def test_protective_conductor_never_exceeds_the_line(area: float) -> None:
    assert protective_conductor(area * 1e-6) <= area * 1e-6 * (1 + 1e-9)


def test_bond_worked_values() -> None:
    expected = bond_expected("10 AWG", 100 * FT)
    assert expected == pytest.approx(0.10197, rel=1e-4)
    assert bond_limit(expected) == pytest.approx(0.16727, rel=1e-4)
    short = bond_expected("12 AWG", 15 * FT)
    assert short == pytest.approx(0.024424, rel=1e-4)
    assert bond_limit(short) == 0.10
    assert bond_expected("2.5 mm²", 100.0) == pytest.approx(0.741)


@pytest.mark.parametrize(
    ("megohms", "celsius", "corrected"),
    [(200, 20, 50.0), (25, 50, 50.0), (40, 45, 56.569), (6, 25, 2.1213), (40, 60, 160.0)],
)
def test_insulation_at_40(megohms: float, celsius: float, corrected: float) -> None:
    ours = insulation_at_40(megohms * MEGOHM, celsius + ZERO) / MEGOHM
    assert ours == pytest.approx(corrected, rel=1e-4)


def test_thermosetting() -> None:
    assert insulation_at_40_thermosetting(40 * MEGOHM, 60 + ZERO) / MEGOHM == pytest.approx(
        90.067, rel=1e-4
    )
    with pytest.raises(OutsideValidity, match="10 °C to 90 °C"):
        insulation_at_40_thermosetting(40 * MEGOHM, 9 + ZERO)


@pytest.mark.parametrize("megohms", [0.0, -5.0, 200_001.0, float("nan"), float("inf")])
def test_a_reading_that_cannot_be_is_refused(megohms: float) -> None:
    with pytest.raises(InputError, match="resistance"):
        insulation_at_40(megohms * MEGOHM, 293.15)


@given(st.floats(0.01, 2000), st.floats(-10, 80))
def test_ten_degrees_warmer_counts_double(megohms: float, celsius: float) -> None:
    cool = insulation_at_40(megohms * MEGOHM, celsius + ZERO)
    assert insulation_at_40(megohms * MEGOHM, celsius + 10 + ZERO) == pytest.approx(2 * cool)


def test_polarization_index_is_not_judged_above_5000_megohm() -> None:
    assert polarization_index(180 * MEGOHM, 450 * MEGOHM) == pytest.approx(2.5)
    with pytest.raises(OutsideValidity, match="5000 Mohm"):
        polarization_index(5001 * MEGOHM, 9000 * MEGOHM)
