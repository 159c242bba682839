"""Relief capacity: worked margins, conversions, the strict cold-air rule, doubtful stamps."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.relief_flow import FREE_AIR, relief_capacity, relief_orifice
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Severity, Verdict

PSI = 6894.757293168
CFM = 0.3048**3 / 60
ISO = "ISO 1217: 1 bar, 20 °C, dry"
NORMAL = "Normal: 101.325 kPa, 0 °C, dry"


def fahrenheit(degrees: float) -> float:
    return (degrees + 459.67) / 1.8


@pytest.mark.parametrize(
    ("flow", "kelvin", "pressure", "required", "stamp", "margin", "verdict"),
    [
        (50.0, fahrenheit(32), 14.696 * PSI, 52.847, 60, 1.1353, Verdict.PASS),
        (2.20 / 60 / CFM, 263.15, 101325.0, 85.237, 86, 1.0090, Verdict.ADVISORY),
        (70.154, fahrenheit(20), 14.696 * PSI, 76.004, 75, 0.98679, Verdict.FAIL),
    ],
)
def test_worked_margins(
    flow: float,
    kelvin: float,
    pressure: float,
    required: float,
    stamp: float,
    margin: float,
    verdict: Verdict,
) -> None:
    found = relief_capacity(flow * CFM, kelvin, certified=stamp * CFM, intake_pressure=pressure)
    assert found.results["required"] / CFM == pytest.approx(required, rel=5e-5)
    assert found.results["margin"] == pytest.approx(margin, rel=5e-5)
    assert found.verdict is verdict
    assert found.holds is (verdict is Verdict.FAIL)


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (0.9999, Verdict.FAIL),
        (1.0, Verdict.ADVISORY),
        (1.0499, Verdict.ADVISORY),
        (1.05, Verdict.PASS),
    ],
)
def test_margin_ends(share: float, verdict: Verdict) -> None:
    needed = relief_capacity(50 * CFM, 273.15, certified=60 * CFM).results["required"]
    assert relief_capacity(50 * CFM, 273.15, certified=share * needed).verdict is verdict


def test_a_faster_sheave_needs_a_larger_valve() -> None:
    slow = relief_capacity(50 * CFM, 273.15, certified=60 * CFM, rated_speed=15, highest_speed=14)
    fast = relief_capacity(50 * CFM, 273.15, certified=60 * CFM, rated_speed=15, highest_speed=18)
    assert fast.results["required"] == pytest.approx(1.2 * slow.results["required"])
    assert slow.verdict is Verdict.PASS and fast.holds


def test_mass_stamp_further_valves_and_elevation() -> None:
    mass = relief_capacity(1 / 60, 288.15, certified_mass=73.5 / 3600)
    assert mass.results["margin"] == pytest.approx(1.0)
    two = relief_capacity(50 * CFM, 273.15, certified=30 * CFM, other_valves=30 * CFM)
    assert two.verdict is Verdict.PASS
    sea = relief_capacity(50 * CFM, 273.15, certified=60 * CFM, elevation=0.0)
    hill = relief_capacity(50 * CFM, 273.15, certified=60 * CFM, elevation=1524.0)
    pit = relief_capacity(50 * CFM, 273.15, certified=60 * CFM, elevation=-400.0)
    assert hill.results["required"] < sea.results["required"] < pit.results["required"]


def test_a_rating_in_standard_volumes_is_not_taken_smaller() -> None:
    plain = relief_capacity(50 * CFM, 273.15, certified=60 * CFM, delivery_reference=FREE_AIR)
    for reference in (ISO, NORMAL):
        stated = relief_capacity(50 * CFM, 273.15, certified=60 * CFM, delivery_reference=reference)
        assert stated.results["required"] >= plain.results["required"]


@given(st.floats(5.0, 300.0), st.floats(230.0, 300.0), st.floats(0.5, 2.0))
def test_colder_air_and_more_flow_ask_for_more(flow: float, kelvin: float, stamp: float) -> None:
    one = relief_capacity(flow * CFM, kelvin, certified=stamp * flow * CFM)
    colder = relief_capacity(flow * CFM, kelvin - 5, certified=stamp * flow * CFM)
    assert colder.results["required"] > one.results["required"]
    scaled = relief_capacity(2 * flow * CFM, kelvin, certified=2 * stamp * flow * CFM)
    assert scaled.results["margin"] == pytest.approx(one.results["margin"])


def test_bad_input_is_refused_by_name() -> None:
    with pytest.raises(InputError, match="stamped capacity: given none or two"):
        relief_capacity(50 * CFM, 273.15)
    with pytest.raises(InputError, match="none or two"):
        relief_capacity(50 * CFM, 273.15, certified=1.0, certified_mass=1.0)
    with pytest.raises(InputError, match="coldest intake: given"):
        relief_capacity(50 * CFM, 0.0, certified=1.0)
    with pytest.raises(OutsideValidity, match="name: given cubic feet"):
        relief_capacity(50 * CFM, 273.15, certified=1.0, certified_reference="cubic feet")
    assert "unit of the stamp" in relief_capacity(50 * CFM, 273.15, certified=2000 * CFM).ask


@pytest.mark.parametrize(("share", "verdict"), [(1.149, Verdict.PASS), (1.151, Verdict.ADVISORY)])
def test_doubtful_stamp(share: float, verdict: Verdict) -> None:
    area = 0.110 * 0.0254**2
    possible = relief_orifice(1.0, 200 * PSI, area).results["possible"]
    assert possible / CFM == pytest.approx(405.13 / 0.975, rel=1e-3)
    finding = relief_orifice(share * possible, 200 * PSI, area)
    assert finding.verdict is verdict and finding.severity is Severity.ADVISORY


def test_without_an_area_nothing_is_claimed() -> None:
    assert relief_orifice(60 * CFM, 200 * PSI).verdict is Verdict.NOT_APPLICABLE
    with pytest.raises(OutsideValidity, match="sub-critical"):
        relief_orifice(60 * CFM, 5 * PSI, 1e-4)
