"""Insulation, start, cycling, heat, torque and running checks: limits and refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.derating import altitude_and_heat
from wizard.checks.insulation import insulation_resistance
from wizard.checks.motor_load import running_current, shaft_power
from wizard.checks.starting import coil_voltage, start_method, starting_dip, starting_voltage
from wizard.checks.starts import starts_per_hour
from wizard.checks.terminal import terminal_torque
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict
from wizard.quantities import to_si

SAFETY, HANDOVER, ADVISORY = Severity.SAFETY, Severity.HANDOVER, Severity.ADVISORY
FAIL, PASS, NOTE, DOUBT = Verdict.FAIL, Verdict.PASS, Verdict.ADVISORY, Verdict.INCONCLUSIVE
HP, KW, MEGOHM, ZERO, FT = to_si(1.0, "power", "hp"), 1000.0, 1e6, 273.15, 0.3048
SLOT = "slotted, larger slot"


def graded(finding: Finding) -> tuple[Verdict, Severity]:
    """Verdict and severity."""
    return finding.verdict, finding.severity


def phases(*megohms: float) -> tuple[float, ...]:
    """Readings in ohm."""
    return tuple(m * MEGOHM for m in megohms)


@pytest.mark.parametrize(
    ("megohms", "expected"),
    [
        ((0.999, 1.0, 1.0), (FAIL, SAFETY)),
        ((1.0, 1.0, 1.0), (FAIL, HANDOVER)),
        ((4.99, 5.0, 5.0), (FAIL, HANDOVER)),
        ((5.0, 5.0, 5.0), (NOTE, ADVISORY)),
        ((99.0, 100.0, 100.0), (NOTE, ADVISORY)),
        ((100.0, 100.0, 100.0), (PASS, SAFETY)),
        ((100.0, 200.0, 200.0), (PASS, SAFETY)),
        ((99.9, 200.0, 210.0), (FAIL, HANDOVER)),
        ((150.0, 301.0, 900.0), (FAIL, HANDOVER)),
        ((0.4, 5.0, 5.0), (FAIL, SAFETY)),
    ],
)
def test_insulation_at_40_degrees(
    megohms: tuple[float, ...], expected: tuple[Verdict, Severity]
) -> None:
    assert graded(insulation_resistance(phases(*megohms), 40 + ZERO)) == expected


def test_six_megohm_at_25_degrees_is_not_six() -> None:
    finding = insulation_resistance(phases(6), 25 + ZERO)
    assert graded(finding) == (FAIL, HANDOVER)
    assert finding.results["lowest"] == pytest.approx(2.1213 * MEGOHM, rel=1e-4)


@pytest.mark.parametrize("volts", [250.0, 1000.0, 490.0])
def test_another_test_voltage_is_refused(volts: float) -> None:
    with pytest.raises(InputError, match="500 V DC for a winding below 1000 V"):
        insulation_resistance(phases(100), 293.15, volts)


@given(st.floats(0.1, 1e5), st.floats(-10, 90))
def test_insulation_does_not_depend_on_the_order(megohms: float, celsius: float) -> None:
    one = insulation_resistance(phases(megohms, 2 * megohms, megohms), celsius + ZERO)
    other = insulation_resistance(phases(2 * megohms, megohms, megohms), celsius + ZERO)
    assert graded(one) == graded(other)


def dip(**more: object) -> Finding:
    """10 hp letter H on 150 ft of 10 AWG at 480 V."""
    start = {"code_letter": "H", **more}
    return starting_dip(
        10 * HP,
        460.0,
        "three",
        480.0,
        150 * FT,
        "10 AWG",
        **start,  # type: ignore[arg-type]
    )


def test_dip_grades() -> None:
    assert graded(dip(transformer=75e3, impedance=0.03)) == (PASS, HANDOVER)
    assert graded(dip(transformer=30e3, impedance=0.025)) == (NOTE, ADVISORY)
    assert graded(dip(transformer=30e3, impedance=0.08)) == (FAIL, HANDOVER)
    assert graded(dip()) == (NOTE, ADVISORY)


def test_dip_without_data_is_no_pass() -> None:
    assert graded(dip(code_letter="none")) == (DOUBT, ADVISORY)
    assert graded(
        dip(code_letter="none", locked_rotor=88.987, transformer=75e3, impedance=0.03)
    ) == (
        PASS,
        HANDOVER,
    )


def test_star_delta_dips_less() -> None:
    direct, star = dip().results, dip(starter="star-delta").results
    assert star["current"] == pytest.approx(direct["current"] / 3)
    assert star["voltage"] > direct["voltage"]


def test_a_starved_motor_fails() -> None:
    finding = starting_dip(5 * HP, 230.0, "single", 240.0, 200 * FT, "12 AWG", "J")
    assert graded(finding) == (FAIL, HANDOVER)


@pytest.mark.parametrize(
    ("lowest", "predicted", "expected"),
    [
        (368.0, None, (PASS, HANDOVER)),
        (367.9, 450.0, (FAIL, HANDOVER)),
        (None, 450.0, (NOTE, ADVISORY)),
        (None, 360.0, (FAIL, HANDOVER)),
        (None, None, (DOUBT, HANDOVER)),
    ],
)
def test_starting_voltage(
    lowest: float | None, predicted: float | None, expected: tuple[Verdict, Severity]
) -> None:
    assert graded(starting_voltage(460.0, lowest, predicted)) == expected


def test_coil() -> None:
    assert coil_voltage(120.0, 102.0).verdict is PASS
    assert coil_voltage(120.0, 101.9).verdict is FAIL
    assert coil_voltage(120.0).verdict is NOTE
    assert coil_voltage(None, 110.0).verdict is NOTE


@pytest.mark.parametrize(
    ("run", "off", "hp", "expected"),
    [
        (150.0, 240.0, 10, (NOTE, ADVISORY)),
        (70.0, 50.0, 20, (FAIL, HANDOVER)),
        (300.0, 300.0, 10, (PASS, HANDOVER)),
        (300.0, 299.0, 10, (NOTE, ADVISORY)),
        (144.0, 144.0, 10, (NOTE, ADVISORY)),
        (143.9, 144.0, 10, (FAIL, HANDOVER)),
        (600.0, 45.9, 10, (FAIL, HANDOVER)),
        (600.0, 46.0, 10, (PASS, HANDOVER)),
    ],
)
def test_starts(run: float, off: float, hp: float, expected: tuple[Verdict, Severity]) -> None:
    assert graded(starts_per_hour(run, off, hp * HP, "4")) == expected


@pytest.mark.parametrize(
    ("metres", "celsius", "share", "expected"),
    [
        (500.0, 40.0, 1.0, (PASS, SAFETY)),
        (2000.0, 40.0, 0.921, (PASS, SAFETY)),
        (2000.0, 40.0, 0.922, (FAIL, HANDOVER)),
        (500.0, 45.0, None, (NOTE, ADVISORY)),
        (1001.0, 20.0, None, (NOTE, ADVISORY)),
        (500.0, 46.0, 0.5, (PASS, SAFETY)),
        (500.0, 46.1, 0.5, (FAIL, SAFETY)),
        (500.0, 46.1, None, (FAIL, SAFETY)),
    ],
)
def test_altitude_and_heat(
    metres: float, celsius: float, share: float | None, expected: tuple[Verdict, Severity]
) -> None:
    shaft = None if share is None else share * 10 * HP
    assert graded(altitude_and_heat(metres, celsius + ZERO, 10 * HP, shaft)) == expected


def test_a_service_factor_pays_for_altitude_alone() -> None:
    given = {"power": 10 * HP, "shaft": 10 * HP, "service_factor": 1.15}
    assert altitude_and_heat(2740.0, 40 + ZERO, **given).verdict is PASS
    assert altitude_and_heat(2741.0, 40 + ZERO, **given).verdict is FAIL
    assert altitude_and_heat(2740.0, 41 + ZERO, **given).verdict is FAIL


def test_unbalance_adds_to_the_derating() -> None:
    finding = altitude_and_heat(2000.0, 40 + ZERO, 10 * HP, 0.9 * 10 * HP, unbalance_factor=0.95)
    assert finding.verdict is FAIL
    assert finding.results["allowed"] == pytest.approx(0.92195 * 0.95 * 10 * HP, rel=1e-4)


@pytest.mark.parametrize(
    ("share", "verdict"), [(0.9, PASS), (0.899, FAIL), (1.2, PASS), (1.201, FAIL), (0.75864, FAIL)]
)
def test_torque(share: float, verdict: Verdict) -> None:
    target = to_si(35.0, "torque", "lbf·in")
    assert terminal_torque(share * target, target).verdict is verdict
    assert terminal_torque(share * target, screw=SLOT, size="10 AWG").verdict is verdict


def test_the_label_beats_the_table() -> None:
    label = to_si(20.0, "torque", "lbf·in")
    finding = terminal_torque(label, label, SLOT, "10 AWG")
    assert finding.results["target"] == label and finding.verdict is PASS


def test_torque_without_a_target_and_with_a_wrong_unit() -> None:
    assert graded(terminal_torque(4.0)) == (DOUBT, HANDOVER)
    many = to_si(35.0, "torque", "lbf·ft")
    assert "is the unit right" in terminal_torque(many, screw=SLOT, size="10 AWG").ask
    with pytest.raises(InputError, match="more than zero"):
        terminal_torque(0.0, 4.0)


@pytest.mark.parametrize(
    ("amperes", "plate", "expected"),
    [
        (30.4, "not stated", (FAIL, SAFETY)),
        (29.9, "not stated", (FAIL, HANDOVER)),
        (29.91, "continuous at service factor", (FAIL, SAFETY)),
        (29.9, "continuous at service factor", (PASS, SAFETY)),
        (26.0, "not stated", (PASS, SAFETY)),
        (26.01, "not stated", (FAIL, HANDOVER)),
        (13.0, "not stated", (PASS, SAFETY)),
        (12.9, "not stated", (NOTE, ADVISORY)),
    ],
)
def test_running_current_of_26_amperes(
    amperes: float, plate: str, expected: tuple[Verdict, Severity]
) -> None:
    finding = running_current((amperes, amperes - 1, amperes - 2), 26.0, 1.15, 231.0, 230.0, plate)
    assert graded(finding) == expected


def test_the_service_factor_needs_volts_inside_five_per_cent() -> None:
    words = "continuous at service factor"
    assert running_current((28.0,), 26.0, 1.15, 218.5, 230.0, words).verdict is PASS
    assert running_current((28.0,), 26.0, 1.15, 218.0, 230.0, words).verdict is FAIL
    assert running_current((28.0,), 26.0, 1.15, plate=words).verdict is FAIL


@pytest.mark.parametrize(
    ("amperes", "said"), [((0.0,), "whole cable reads zero"), ((501.0,), "0.1 A to 500 A"),
                          ((5.0, 5.0), "one line, or three")]
)  # fmt: skip
def test_currents_that_cannot_be(amperes: tuple[float, ...], said: str) -> None:
    with pytest.raises(InputError, match=said):
        running_current(amperes, 26.0)


def test_a_current_far_off_is_asked_about() -> None:
    assert "right range" in running_current((79.0,), 26.0).ask


def load(amperes: float, **more: float) -> Finding:
    """10 hp at 460 V, power factor 0.85, efficiency 0.895."""
    known = {"power_factor": 0.85, "efficiency": 0.895, **more}
    lines = (amperes, amperes, amperes)
    return shaft_power(460.0, lines, "three", 10 * HP, **known)


@pytest.mark.parametrize(
    ("amperes", "more", "expected"),
    [
        (12.29, {}, (PASS, SAFETY)),
        (12.31, {}, (FAIL, SAFETY)),
        (14.1, {"service_factor": 1.15}, (PASS, SAFETY)),
        (14.2, {"service_factor": 1.15}, (FAIL, SAFETY)),
        (12.0, {"site_factor": 0.92}, (FAIL, HANDOVER)),
        (11.3, {"site_factor": 0.92}, (PASS, SAFETY)),
        (11.3, {"site_factor": 0.92, "unbalance_factor": 0.95}, (FAIL, HANDOVER)),
    ],
)
def test_shaft_power(
    amperes: float, more: dict[str, float], expected: tuple[Verdict, Severity]
) -> None:
    assert graded(load(amperes, **more)) == expected


def test_without_a_power_factor_only_a_sure_pass_counts() -> None:
    lines = (10.0, 10.0, 10.0)
    sure = shaft_power(460.0, lines, "three", 10 * HP, efficiency=0.895)
    assert sure.verdict is PASS and "taken as 1" in sure.text
    lines = (12.0, 12.0, 12.0)
    doubt = shaft_power(460.0, lines, "three", 10 * HP, efficiency=0.895)
    assert graded(doubt) == (DOUBT, HANDOVER)
    plate = shaft_power(460.0, lines, "three", 10 * HP, None, 0.85, 0.895)
    assert plate.verdict is PASS and "from the plate" in plate.text


def test_a_missing_efficiency_is_assumed_and_said() -> None:
    finding = shaft_power(460.0, (12.0, 12.0, 12.0), "three", 10 * HP, 0.85)
    assert "Efficiency assumed" in finding.text
    assert finding.results["shaft"] == pytest.approx(0.89 * finding.results["input"])


def test_single_phase_shaft_power() -> None:
    finding = shaft_power(230.0, (21.5,), "single", 5 * HP, 0.93, None, 0.80)
    assert finding.results["shaft"] == pytest.approx(3.6791 * KW, rel=1e-4)
    assert finding.verdict is PASS


def test_star_delta_is_not_taken_for_a_single_phase_motor() -> None:
    with pytest.raises(InputError, match="single-phase"):
        start_method("star-delta", "single")
    assert start_method("star-delta", "three").verdict is PASS
    assert start_method("direct on line", "single").verdict is PASS
