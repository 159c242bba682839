"""Circuit checks: table current, device, disconnect, fault rating, overload."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.motor_circuit import DEVICES
from wizard.checks.motor_circuit import (
    disconnect_distance,
    disconnect_rating,
    fault_current_rating,
    overcurrent_device,
    table_current,
)
from wizard.checks.overload import overload_elements, overload_setting, thermal_protector
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Limit, Severity, Verdict
from wizard.quantities import to_si

HP = to_si(1.0, "power", "hp")
SAFETY, HANDOVER, ADVISORY = Severity.SAFETY, Severity.HANDOVER, Severity.ADVISORY
FAIL, PASS, NOTE = Verdict.FAIL, Verdict.PASS, Verdict.ADVISORY
BREAKER, DUAL, PLAIN, INSTANT, _ = DEVICES


@pytest.mark.parametrize(
    ("hp", "volts", "plate", "current", "verdict"),
    [
        (10, 460.0, 12.2, 14.0, PASS),
        (10, 460.0, 15.4, 14.0, PASS),
        (10, 460.0, 15.41, 15.41, NOTE),
        (4, 230.0, 12.0, 15.2, PASS),
        (10, 400.0, 18.5, 18.5, PASS),
        (10, 690.0, 10.6, 10.6, PASS),
    ],
)
def test_sizing_current(
    hp: float, volts: float, plate: float, current: float, verdict: Verdict
) -> None:
    finding = table_current(hp * HP, "three", volts, plate)
    assert finding.verdict is verdict
    assert finding.results["current"] == current


def test_iec_practice_sizes_on_the_plate() -> None:
    found = table_current(10 * HP, "three", 460.0, 12.2, "IEC")
    assert found.results == {"current": 12.2}
    assert found.text == "Sized on the nameplate current, as IEC practice does."
    assert "no table" in table_current(10 * HP, "three", 400.0, 14.5).text


@pytest.mark.parametrize("practice", ["US", "IEC"])
@pytest.mark.parametrize(
    ("amperes", "asked"),
    [(46.0, True), (4.6, True), (25.1, True), (8.4, True), (14.5, False), (13.0, False)],
)
def test_an_ampere_figure_no_such_motor_has_is_asked_about(
    practice: str, amperes: float, asked: bool
) -> None:
    found = table_current(7500.0, "three", 400.0, amperes, practice)
    assert bool(found.ask) is asked
    assert found.verdict is (NOTE if asked else PASS)
    assert found.results == {"current": amperes}
    assert ("12 A to 21.6 A" in found.ask) is asked


def test_a_motor_beyond_what_is_known_is_sized_on_its_plate_unasked() -> None:
    found = table_current(29_000.0, "three", 400.0, 30.0, "IEC")
    assert (found.verdict, found.ask, found.results) == (PASS, "", {"current": 30.0})


def test_the_line_of_the_other_voltage_is_asked_about() -> None:
    assert "other voltage" in table_current(10 * HP, "three", 460.0, 25.0).ask
    assert table_current(10 * HP, "three", 460.0, 12.2).ask == ""


def test_no_row_is_said_not_guessed() -> None:
    with pytest.raises(OutsideValidity, match=r"1\.5 hp to 10 hp"):
        table_current(15 * HP, "single", 230.0, 60.0)


@pytest.mark.parametrize(
    ("rating", "failed", "expected"),
    [
        (70.0, "none recorded", (PASS, SAFETY)),
        (80.0, "none recorded", (FAIL, HANDOVER)),
        (80.0, "recorded", (PASS, SAFETY)),
        (110.0, "recorded", (PASS, SAFETY)),
        (125.0, "recorded", (FAIL, SAFETY)),
        (125.0, "none recorded", (FAIL, SAFETY)),
        (20.0, "none recorded", (NOTE, ADVISORY)),
    ],
)
def test_breaker_for_28_amperes(
    rating: float, failed: str, expected: tuple[Verdict, Severity]
) -> None:
    finding = overcurrent_device(28.0, BREAKER, rating, failed)
    assert (finding.verdict, finding.severity) == expected


def test_a_rating_that_is_not_made_is_refused_unless_adjustable() -> None:
    with pytest.raises(InputError, match="65 A, accepted 15, 20"):
        overcurrent_device(28.0, BREAKER, 65.0)
    assert overcurrent_device(28.0, BREAKER, 65.0, adjustable=True).verdict is PASS
    assert overcurrent_device(28.0, INSTANT, 210.0).verdict is PASS
    with pytest.raises(InputError, match="6 A, accepted 15"):
        overcurrent_device(2.4, BREAKER, 6.0)
    assert overcurrent_device(2.4, DUAL, 6.0).verdict is PASS


def test_a_tiny_motor_gets_nothing_beyond_the_basic_rating() -> None:
    assert overcurrent_device(2.4, BREAKER, 15.0).verdict is PASS
    assert overcurrent_device(2.4, BREAKER, 20.0, "recorded").holds


@pytest.mark.parametrize(
    ("rating", "verdict"), [(32.2, PASS), (32.19, FAIL), (60.0, PASS), (30.0, FAIL)]
)
def test_disconnect_rating(rating: float, verdict: Verdict) -> None:
    assert disconnect_rating(rating, 28.0).verdict is verdict


@pytest.mark.parametrize(("metres", "verdict"), [(15.24, PASS), (15.25, FAIL), (0.0, PASS)])
def test_disconnect_distance(metres: float, verdict: Verdict) -> None:
    assert disconnect_distance(metres).verdict is verdict


@pytest.mark.parametrize(
    ("rating", "available", "verdict"), [(5e3, 5e3, PASS), (5e3, 5.01e3, FAIL), (10e3, 5e3, PASS)]
)
def test_fault_rating(rating: float, available: float, verdict: Verdict) -> None:
    finding = fault_current_rating(rating, available)
    assert finding.verdict is verdict and finding.severity is SAFETY


def test_an_unknown_fault_current_holds() -> None:
    finding = fault_current_rating(5e3)
    assert finding.verdict is Verdict.INCONCLUSIVE and finding.holds
    assert fault_current_rating(5e3, None, 75e3, 0.03, 480.0).results["available"] == (
        pytest.approx(3007, rel=1e-3)
    )


@pytest.mark.parametrize(
    ("setting", "failed", "expected"),
    [
        (40.0, "none recorded", (PASS, SAFETY)),
        (40.1, "none recorded", (FAIL, SAFETY)),
        (40.1, "recorded", (PASS, SAFETY)),
        (44.8, "recorded", (PASS, SAFETY)),
        (44.9, "recorded", (FAIL, SAFETY)),
        (44.9, "none recorded", (FAIL, SAFETY)),
        (32.0, "none recorded", (PASS, SAFETY)),
        (31.9, "none recorded", (NOTE, ADVISORY)),
    ],
)
def test_trip_dial_for_32_amperes(
    setting: float, failed: str, expected: tuple[Verdict, Severity]
) -> None:
    finding = overload_setting(32.0, setting, "trip current", 1.15, failed_start=failed)
    assert (finding.verdict, finding.severity) == expected


@pytest.mark.parametrize(
    ("setting", "expected"),
    [
        (32.0, (PASS, SAFETY)),
        (33.6, (PASS, SAFETY)),
        (33.7, (FAIL, SAFETY)),
        (30.4, (PASS, SAFETY)),
        (30.3, (NOTE, ADVISORY)),
    ],
)
def test_motor_current_dial_is_never_multiplied(
    setting: float, expected: tuple[Verdict, Severity]
) -> None:
    finding = overload_setting(32.0, setting, "motor current", 1.15)
    assert (finding.verdict, finding.severity) == expected
    assert finding.results["trip"] == pytest.approx(1.25 * setting)
    least, most = (value.value for _, value in finding.working[-1].results)
    assert (least, most) == pytest.approx((30.4, 33.6))
    assert finding.limit == Limit(least, most, "current")


def test_after_a_failed_start_a_motor_current_dial_goes_up_by_the_share_of_the_code() -> None:
    for setting, verdict in ((35.84, PASS), (35.9, FAIL)):
        found = overload_setting(32.0, setting, "motor current", 1.15, failed_start="recorded")
        assert found.verdict is verdict
        assert [v.value for _, v in found.working[-1].results][1] == pytest.approx(1.4 / 1.25 * 32)


def test_an_unknown_dial_holds_and_the_setting_can_only_tighten() -> None:
    assert overload_setting(32.0, 32.0, "not known").holds
    assert overload_setting(32.0, 32.0).holds
    assert overload_setting(32.0, 40.0, "trip current", 1.15).verdict is PASS
    strict = overload_setting(32.0, 40.0, "trip current", 1.15, dial_rule="motor current")
    assert strict.holds


def test_inside_the_delta_the_relay_sees_less() -> None:
    assert overload_setting(27.0, 27.0, "motor current", 1.15).verdict is PASS
    assert overload_setting(27.0, 27.0, "motor current", 1.15, place="inside the delta").holds
    for setting, verdict in ((15.0, PASS), (16.3, PASS), (14.7, NOTE), (16.5, FAIL)):
        found = overload_setting(27.0, setting, "motor current", 1.15, place="inside the delta")
        assert found.verdict is verdict


def test_service_factor_and_rise() -> None:
    assert overload_setting(9.4, 11.75, "trip current", 1.0, 40.0).verdict is PASS
    assert overload_setting(9.4, 11.75, "trip current", 1.0, 41.0).verdict is FAIL
    assert overload_setting(9.4, 10.81, "trip current").verdict is PASS


def test_overload_asks_about_the_other_voltage() -> None:
    assert "other voltage" in overload_setting(28.0, 28.0, "motor current", table=14.0).ask
    assert overload_setting(12.4, 12.4, "motor current", table=14.0).ask == ""


@given(st.floats(1, 150), st.floats(0.2, 2.0), st.sampled_from([1.0, 1.15, 1.25]))
def test_no_setting_above_140_per_cent_ever_passes(
    full: float, share: float, factor: float
) -> None:
    finding = overload_setting(full, share * full, "trip current", factor, failed_start="recorded")
    if share > 1.4 * (1 + 1e-9):
        assert finding.holds


@pytest.mark.parametrize(
    ("elements", "phases", "verdict"),
    [(3, "three", PASS), (2, "three", FAIL), (1, "single", PASS), (2, "single", PASS)],
)
def test_elements(elements: int, phases: str, verdict: Verdict) -> None:
    assert overload_elements(elements, phases).verdict is verdict


def test_thermal_protector() -> None:
    assert thermal_protector(28.0, 39.2).verdict is PASS
    assert thermal_protector(28.0, 39.3).holds
    assert thermal_protector(28.0).verdict is NOTE
