"""Conductor, ground, bond and drop checks: limits, both practices, refusals."""

from __future__ import annotations

import pytest

from wizard.checks.conductor import conductor_capacity, conductor_size
from wizard.checks.ground import (
    automatic_disconnection,
    ground_bond,
    ground_fault_trip,
    grounding_conductor,
)
from wizard.checks.voltage_drop import voltage_drop
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Severity, Verdict

SAFETY, HANDOVER, ADVISORY = Severity.SAFETY, Severity.HANDOVER, Severity.ADVISORY
FAIL, PASS, NOTE = Verdict.FAIL, Verdict.PASS, Verdict.ADVISORY
WARM, FT = 303.15, 0.3048


@pytest.mark.parametrize(
    ("size", "terminal", "verdict"),
    [
        ("10 AWG", "75 °C", PASS),
        ("12 AWG", "75 °C", FAIL),
        ("10 AWG", "60 °C", FAIL),
        ("10 AWG", "not marked", FAIL),
        ("8 AWG", "not marked", PASS),
    ],
)
def test_conductor_for_28_amperes(size: str, terminal: str, verdict: Verdict) -> None:
    finding = conductor_size(28.0, size, "75 °C", terminal, WARM)
    assert (finding.verdict, finding.severity) == (verdict, SAFETY)
    assert ("taken as 60 °C" in finding.text) == (terminal == "not marked")


def test_the_least_size_is_named_and_handed_on() -> None:
    finding = conductor_size(28.0, "12 AWG", "90 °C", "75 °C", 318.15)
    assert "at least 8 AWG" in finding.clears
    assert finding.results["minimum"] == 8


def test_where_no_size_will_do_it_says_so() -> None:
    finding = conductor_size(80.0, "2 AWG", "75 °C", "60 °C", 318.15, 9)
    assert "an engineer sizes the run" in finding.clears
    assert "minimum" not in finding.results


def test_aluminium_is_refused() -> None:
    with pytest.raises(InputError, match="sizes aluminium by the code"):
        conductor_size(28.0, "8 AWG", "75 °C", "75 °C", WARM, material="aluminium")
    with pytest.raises(InputError, match="sizes aluminium by the code"):
        conductor_capacity(40.0, 28.0, material="aluminium")


def test_metric_wire_goes_by_the_other_standard() -> None:
    with pytest.raises(OutsideValidity, match="IEC 60364-5-52"):
        conductor_size(28.0, "6 mm²", "75 °C", "75 °C", WARM)


@pytest.mark.parametrize(
    ("capacity", "setting", "verdict"),
    [(32.0, 32.0, PASS), (31.9, 32.0, FAIL), (28.0, None, PASS), (27.9, None, FAIL)],
)
def test_capacity(capacity: float, setting: float | None, verdict: Verdict) -> None:
    assert conductor_capacity(capacity, 28.0, setting).verdict is verdict


@pytest.mark.parametrize(
    ("size", "phase", "rating", "minimum", "expected"),
    [
        ("12 AWG", "12 AWG", 20.0, None, (PASS, SAFETY)),
        ("14 AWG", "12 AWG", 20.0, None, (FAIL, SAFETY)),
        ("8 AWG", "8 AWG", 90.0, 8.0, (PASS, SAFETY)),
        ("10 AWG", "10 AWG", 90.0, 10.0, (PASS, SAFETY)),
        ("8 AWG", "6 AWG", 45.0, 8.0, (PASS, SAFETY)),
        ("10 AWG", "6 AWG", 45.0, 8.0, (FAIL, HANDOVER)),
        ("12 AWG", "6 AWG", 45.0, 8.0, (FAIL, SAFETY)),
        ("6 mm²", "6 mm²", None, None, (PASS, SAFETY)),
        ("4 mm²", "6 mm²", None, None, (FAIL, SAFETY)),
        ("16 mm²", "35 mm²", 63.0, None, (PASS, SAFETY)),
    ],
)
def test_grounding_conductor(
    size: str,
    phase: str,
    rating: float | None,
    minimum: float | None,
    expected: tuple[Verdict, Severity],
) -> None:
    finding = grounding_conductor(size, phase, rating, minimum)
    assert (finding.verdict, finding.severity) == expected


def test_awg_without_a_device_rating_is_not_a_pass() -> None:
    assert grounding_conductor("8 AWG", "8 AWG").holds


def test_sizes_of_two_systems_are_refused() -> None:
    with pytest.raises(InputError, match="both AWG or both mm²"):
        grounding_conductor("6 mm²", "10 AWG", 40.0)


@pytest.mark.parametrize(
    ("ohms", "expected"),
    [
        (0.1672, (PASS, SAFETY)),
        (0.1673, (FAIL, HANDOVER)),
        (1.0, (FAIL, HANDOVER)),
        (1.001, (FAIL, SAFETY)),
        (100.0, (FAIL, SAFETY)),
    ],
)
def test_bond_of_100_feet_of_10_awg(ohms: float, expected: tuple[Verdict, Severity]) -> None:
    finding = ground_bond(ohms, "10 AWG", 100 * FT)
    assert (finding.verdict, finding.severity) == expected


def test_bond_without_a_wire_has_a_tenth_of_an_ohm() -> None:
    assert ground_bond(0.1).verdict is PASS
    assert ground_bond(0.1001).verdict is FAIL


def test_a_bond_that_reads_too_well_is_asked_about() -> None:
    assert "leads on each other" in ground_bond(0.0049).ask
    assert ground_bond(0.005).ask == ""


@pytest.mark.parametrize("ohms", [-0.1, 100.1, float("nan")])
def test_bond_readings_that_cannot_be(ohms: float) -> None:
    with pytest.raises(InputError, match="0 ohm to 100 ohm"):
        ground_bond(ohms)


def test_a_very_long_run_never_excuses_more_than_an_ohm() -> None:
    assert ground_bond(1.01, "14 AWG", 600.0).holds


@pytest.mark.parametrize(("loop", "verdict"), [(1.1, PASS), (1.582, PASS), (1.59, NOTE)])
def test_fault_at_277_volts_on_35_amperes(loop: float, verdict: Verdict) -> None:
    assert ground_fault_trip(277.0, 35.0, loop).verdict is verdict


def test_loop_not_measured_is_noted() -> None:
    assert ground_fault_trip(277.0, 35.0).verdict is NOTE


@pytest.mark.parametrize(("loop", "verdict"), [(0.71875, PASS), (0.72, FAIL)])
def test_disconnection(loop: float, verdict: Verdict) -> None:
    finding = automatic_disconnection(loop, 230.0, 320.0)
    assert finding.verdict is verdict and finding.severity is SAFETY


def run_of(
    feet: float, strict: bool = False, feeder: float | None = 0.0
) -> tuple[Verdict, Severity]:
    finding = voltage_drop(28.0, feet * FT, "8 AWG", 230.0, "three", 0.85, "steel", feeder, strict)
    return finding.verdict, finding.severity


@pytest.mark.parametrize(
    ("feet", "strict", "feeder", "expected"),
    [
        (204.0, False, 0.0, (PASS, HANDOVER)),
        (204.2, False, 0.0, (NOTE, ADVISORY)),
        (204.2, True, 0.0, (FAIL, HANDOVER)),
        (340.0, False, 0.0, (NOTE, ADVISORY)),
        (340.2, False, 0.0, (FAIL, HANDOVER)),
        (120.0, False, 0.032, (PASS, HANDOVER)),
        (120.0, False, 0.033, (FAIL, HANDOVER)),
    ],
)
def test_drop_limits(
    feet: float, strict: bool, feeder: float, expected: tuple[Verdict, Severity]
) -> None:
    assert run_of(feet, strict, feeder) == expected


def test_drop_worked_value_and_remarks() -> None:
    finding = voltage_drop(28.0, 120 * FT, "8 AWG", 230.0, "three", 0.85)
    assert finding.results["drop"] == pytest.approx(4.0577, rel=1e-4)
    assert "feeder is not counted" in finding.text
    assert "one-way length" in voltage_drop(5.0, 501 * FT, "2 AWG", 480.0, "three").ask
    assert voltage_drop(5.0, 499 * FT, "2 AWG", 480.0, "three").ask == ""


def test_single_phase_counts_both_wires() -> None:
    three = voltage_drop(20.0, 30.0, "10 AWG", 230.0, "three").results["drop"]
    single = voltage_drop(20.0, 30.0, "10 AWG", 230.0, "single").results["drop"]
    assert single == pytest.approx(three * 2 / 3**0.5)


def test_metric_run() -> None:
    finding = voltage_drop(15.0, 40.0, "2.5 mm²", 400.0, "three", 0.84)
    assert finding.verdict is PASS
    assert finding.results["drop"] == pytest.approx(7.78, rel=5e-3)


def test_a_drop_no_run_has_is_refused() -> None:
    with pytest.raises(InputError, match="20 % or less; check length and units"):
        voltage_drop(28.0, 2000 * FT, "14 AWG", 230.0, "three")
    with pytest.raises(InputError, match="1 ft to 2000 ft"):
        voltage_drop(28.0, 2001 * FT, "2 AWG", 230.0, "three")
