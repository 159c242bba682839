"""Supply voltage, pair, sag, frequency: each limit on, inside and outside; questions asked."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.frequency import combined_variation, frequency
from wizard.checks.supply import nominal_pair, supply_voltage, voltage_sag
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

SAFETY, HANDOVER, ADVISORY = Severity.SAFETY, Severity.HANDOVER, Severity.ADVISORY
FAIL, PASS, NOTE = Verdict.FAIL, Verdict.PASS, Verdict.ADVISORY


def graded(finding: Finding) -> tuple[Verdict, Severity]:
    """What decides: the verdict, and the severity where it is not a pass."""
    return finding.verdict, finding.severity


@pytest.mark.parametrize(
    ("plate", "volts", "expected"),
    [
        (230.0, 253.0, (NOTE, ADVISORY)),
        (230.0, 253.1, (FAIL, SAFETY)),
        (230.0, 207.0, (NOTE, ADVISORY)),
        (230.0, 206.9, (FAIL, SAFETY)),
        (230.0, 241.5, (PASS, SAFETY)),
        (230.0, 241.6, (NOTE, ADVISORY)),
        (230.0, 218.5, (PASS, SAFETY)),
        (460.0, 441.0, (PASS, SAFETY)),
        (400.0, 365.0, (NOTE, ADVISORY)),
    ],
)
def test_voltage_limits(plate: float, volts: float, expected: tuple[Verdict, Severity]) -> None:
    finding = supply_voltage(plate, (volts,))
    assert graded(finding) == expected
    assert finding.limit and finding.limit.low == pytest.approx(0.9 * plate)
    assert bool(finding.clears) == (expected[0] is not PASS)


def test_the_worst_of_three_pairs_decides() -> None:
    finding = supply_voltage(460.0, (462.0, 463.0, 410.0))
    assert graded(finding) == (FAIL, SAFETY) and finding.holds
    assert finding.value and finding.value.value == 410.0
    assert finding.results["mean"] == pytest.approx(445.0)


@pytest.mark.parametrize(
    ("plate", "volts", "cause"),
    [
        (480.0, (277.0, 277.0, 277.0), "line to neutral"),
        (230.0, (133.0,), "line to neutral"),
        (230.0, (120.0,), "one leg to neutral"),
        (460.0, (230.0, 231.0, 229.0), "dual-voltage connection"),
        (230.0, (461.0, 460.0, 462.0), "Half of this fits"),
        (230.0, (90.0,), "typed wrong"),
        (400.0, (231.0, 230.0, 229.0), "line to neutral"),
    ],
)
def test_the_likely_cause_is_asked(plate: float, volts: tuple[float, ...], cause: str) -> None:
    finding = supply_voltage(plate, volts)
    assert cause in finding.ask
    assert finding.verdict is FAIL and finding.severity is SAFETY


@pytest.mark.parametrize("volts", [207.0, 230.0, 253.0, 206.0])
def test_no_question_near_the_band(volts: float) -> None:
    assert supply_voltage(230.0, (volts,)).ask == ""


@pytest.mark.parametrize(
    ("volts", "verdict"),
    [(187.2, NOTE), (187.1, FAIL), (208.0, PASS), (253.0, NOTE), (253.1, FAIL)],
)
def test_a_rated_range_widens_the_band(volts: float, verdict: Verdict) -> None:
    assert supply_voltage(208.0, (volts,), 230.0).verdict is verdict


@pytest.mark.parametrize(
    ("plate", "volts", "said"),
    [
        (99.0, (100.0,), "nameplate: given 99 V, accepted 100 V to 690 V."),
        (230.0, (0.0,), "measured: given 0 V, accepted more than zero."),
        (230.0, (-5.0,), "measured: given -5 V"),
        (230.0, (1000.1,), "measured: given 1000 V, accepted 0 V to 1000 V."),
        (230.0, (float("nan"),), "measured: given nan V"),
        (230.0, (230.0, 231.0), "2 readings, accepted one reading, or three pairs"),
    ],
)
def test_bad_input(plate: float, volts: tuple[float, ...], said: str) -> None:
    with pytest.raises(InputError) as caught:
        supply_voltage(plate, volts)
    assert said in str(caught.value)


def test_a_range_that_runs_backwards_is_refused() -> None:
    with pytest.raises(InputError, match="nameplate_high: given 208 V, accepted 230 V or more"):
        supply_voltage(230.0, (230.0,), 208.0)


@given(st.floats(100, 690), st.floats(0.5, 1.5))
def test_pass_means_inside_the_band(plate: float, share: float) -> None:
    volts = min(1000.0, share * plate)
    finding = supply_voltage(plate, (volts,))
    inside = abs(volts / plate - 1) <= 0.10 * (1 + 1e-9)
    assert (finding.verdict is not FAIL) == inside


@pytest.mark.parametrize(
    ("nominal", "plate", "expected"),
    [
        (208.0, 200.0, (PASS, SAFETY)),
        (208.0, 230.0, (FAIL, HANDOVER)),
        (240.0, 230.0, (PASS, SAFETY)),
        (240.0, 200.0, (FAIL, SAFETY)),
        (480.0, 460.0, (PASS, SAFETY)),
        (600.0, 575.0, (PASS, SAFETY)),
        (400.0, 400.0, (PASS, SAFETY)),
        (400.0, 380.0, (NOTE, ADVISORY)),
        (415.0, 400.0, (PASS, SAFETY)),
        (400.0, 460.0, (FAIL, SAFETY)),
    ],
)
def test_nominal_pairs(nominal: float, plate: float, expected: tuple[Verdict, Severity]) -> None:
    assert graded(nominal_pair(nominal, plate)) == expected


def test_the_right_motor_is_named() -> None:
    assert "208 V supply wants a motor rated 200 V" in nominal_pair(208.0, 230.0).clears


def test_usable_at_208_is_noted_not_rated() -> None:
    assert graded(nominal_pair(208.0, 230.0, usable_at=208.0)) == (NOTE, ADVISORY)
    assert graded(nominal_pair(207.5, 230.0, usable_at=208.0)) == (FAIL, HANDOVER)
    assert graded(nominal_pair(208.0, 208.0, 230.0)) == (PASS, SAFETY)


@pytest.mark.parametrize(
    ("running", "expected"),
    [
        (484.0, (PASS, HANDOVER)),
        (484 * 0.97, (PASS, HANDOVER)),
        (468.0, (NOTE, ADVISORY)),
        (484 * 0.95, (NOTE, ADVISORY)),
        (484 * 0.9499, (FAIL, HANDOVER)),
    ],
)
def test_sag(running: float, expected: tuple[Verdict, Severity]) -> None:
    assert graded(voltage_sag(484.0, (running,))) == expected


def test_sag_takes_the_mean_of_three_and_asks_about_a_rise() -> None:
    assert voltage_sag(480.0, (460.0, 480.0, 500.0)).results["sag"] == pytest.approx(0.0)
    assert "same place" in voltage_sag(460.0, (480.0,)).ask


@pytest.mark.parametrize(
    ("plate", "hertz", "expected"),
    [
        (60.0, 60.0, (PASS, SAFETY)),
        (60.0, 60.6, (PASS, SAFETY)),
        (60.0, 60.61, (NOTE, ADVISORY)),
        (60.0, 57.0, (NOTE, ADVISORY)),
        (60.0, 56.99, (FAIL, SAFETY)),
        (60.0, 63.01, (FAIL, SAFETY)),
        (50.0, 52.5, (NOTE, ADVISORY)),
        (50.0, 60.0, (FAIL, SAFETY)),
    ],
)
def test_frequency(plate: float, hertz: float, expected: tuple[Verdict, Severity]) -> None:
    assert graded(frequency(plate, hertz)) == expected


@pytest.mark.parametrize(
    ("plate", "hertz"), [(60.0, 47.5), (60.0, 52.5), (50.0, 57.0), (50.0, 63.0)]
)
def test_the_other_country_is_named(plate: float, hertz: float) -> None:
    assert frequency(plate, hertz).text.startswith("Wrong country")


@pytest.mark.parametrize("hertz", [53.0, 56.9])
def test_between_the_two_it_is_only_out_of_limits(hertz: float) -> None:
    assert "more than 5 % off" in frequency(60.0, hertz).text


@pytest.mark.parametrize(("plate", "hertz"), [(55.0, 55.0), (60.0, 39.0), (60.0, 71.0)])
def test_frequencies_that_cannot_be(plate: float, hertz: float) -> None:
    with pytest.raises(InputError):
        frequency(plate, hertz)


@pytest.mark.parametrize(
    ("volts", "hertz", "expected"),
    [
        (437.0, 59.1, (PASS, SAFETY)),
        (460 * 0.949, 60.96, (PASS, SAFETY)),
        (460 * 1.08, 58.2, (FAIL, HANDOVER)),
        (460 * 1.06, 57.6, (FAIL, HANDOVER)),
        (460 * 1.05, 57.0, (FAIL, HANDOVER)),
        (460 * 0.95, 57.0, (PASS, SAFETY)),
        (460 * 1.11, 60.0, (FAIL, SAFETY)),
        (400.0, 50.0, (FAIL, SAFETY)),
        (460.0, 56.9, (FAIL, SAFETY)),
    ],
)
def test_combined(volts: float, hertz: float, expected: tuple[Verdict, Severity]) -> None:
    assert graded(combined_variation(460.0, (volts,), 60.0, hertz)) == expected


def test_volts_per_hertz_decides_where_the_sum_is_good() -> None:
    finding = combined_variation(460.0, (460 * 1.05,), 60.0, 57.0)
    assert "Volts per hertz" in finding.text
