"""Water a day, drain interval and open time, dew points."""

from __future__ import annotations

from typing import Any

import pytest

from wizard.checks.water import BY_HAND, LEVEL, TIMER, dew_point, drain_interval, water_load
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Severity, Verdict

HOUR = 3600.0
LIQUID = 1.0098 / HOUR


def test_water_of_a_working_day() -> None:
    finding = water_load(0.6 / 60, 308.15, 0.8, 10e5, 323.15, 6 * HOUR)
    assert finding.results["dropped"] * 6 * HOUR == pytest.approx(5.1712, rel=2e-3)
    assert finding.results["taken_in"] * 6 * HOUR == pytest.approx(6.8392, rel=2e-3)
    assert "5.17" in finding.text


def test_a_tank_that_is_too_hot_and_a_day_that_is_too_cold() -> None:
    hot = water_load(0.3 / 60, 283.15, 0.4, 2e5, 313.15, 6 * HOUR)
    assert hot.results["dropped"] == 0 and "too warm" in hot.text
    cold = water_load(0.3 / 60, 270.0, 0.9, 8e5, 274.0, 6 * HOUR)
    assert "freeze shut" in cold.text


def test_a_humidity_typed_as_a_fraction_of_a_percent_is_questioned() -> None:
    assert "humidity" in water_load(0.01, 303.15, 0.0045, 8e5, 308.15, HOUR).ask
    assert not water_load(0.01, 303.15, 0.45, 8e5, 308.15, HOUR).ask


@pytest.mark.parametrize(
    ("hours", "verdict"), [(1.98, Verdict.PASS), (1.99, Verdict.FAIL), (30.0, Verdict.FAIL)]
)
def test_interval(hours: float, verdict: Verdict) -> None:
    assert drain_interval(BY_HAND, LIQUID, 0.002, hours * HOUR).verdict is verdict


def test_a_shift_of_an_hour_fills_slowly_but_daily_is_the_least() -> None:
    finding = drain_interval(BY_HAND, LIQUID, 0.002, 24 * HOUR, HOUR)
    assert finding.verdict is Verdict.PASS
    assert finding.results["longest"] == pytest.approx(1.9806 * 24 * HOUR, rel=1e-4)
    late = drain_interval(BY_HAND, LIQUID, 0.002, 25 * HOUR, HOUR)
    assert (late.verdict, late.severity) == (Verdict.ADVISORY, Severity.ADVISORY)
    assert drain_interval(LEVEL, 0.0, 0.002, 24 * HOUR).verdict is Verdict.PASS


def timer(open_time: float | None, **more: Any) -> Finding:
    """A timer drain of 3 mm at 7 bar that opens after 0.99 h: 1 L in it, 7.192 s needed."""
    common: dict[str, Any] = {"open_time": open_time, "bore": 0.003, "pressure": 7e5}
    return drain_interval(TIMER, 1 / HOUR, 0.002, HOUR, **(common | more))


@pytest.mark.parametrize(
    ("seconds", "verdict"),
    [
        (7.19, Verdict.FAIL),
        (7.20, Verdict.PASS),
        (21.5, Verdict.PASS),
        (21.6, Verdict.ADVISORY),
    ],
)
def test_open_time(seconds: float, verdict: Verdict) -> None:
    assert timer(seconds).verdict is verdict


def test_a_timer_without_its_figures_is_not_judged() -> None:
    assert timer(None).verdict is Verdict.INCONCLUSIVE
    assert timer(10.0, bore=None).verdict is Verdict.INCONCLUSIVE


def test_dew_point_names_its_basis() -> None:
    finding = dew_point(276.15, 7e5, 278.15)
    assert finding.verdict is Verdict.PASS
    assert "over water, with frost from" in finding.text
    assert "frost" not in dew_point(311.15, 690e3).text
    assert dew_point(276.15, 7e5, 275.15).verdict is Verdict.ADVISORY
    assert dew_point().verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: water_load(0.01, 303.15, 70.0, 8e5, 308.15, HOUR), "humidity"),
        (lambda: water_load(0.01, 303.15, 0.7, 8e5, 308.15, 25 * HOUR), "hours per day"),
        (lambda: drain_interval("valve", LIQUID, 0.002, HOUR), "by hand; timer"),
        (lambda: drain_interval(BY_HAND, LIQUID, 0.0, HOUR), "allowance"),
        (lambda: drain_interval(BY_HAND, LIQUID, 0.002, -1.0), "interval"),
        (lambda: dew_point(360.0, 7e5), "-60 °C to 80 °C"),
        (lambda: dew_point(276.15, -1e4), "zero or more"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)


def test_a_tank_above_ninety_degrees_is_outside() -> None:
    with pytest.raises(OutsideValidity, match="0 °C to 90 °C"):
        water_load(0.01, 303.15, 0.7, 8e5, 364.0, HOUR)
