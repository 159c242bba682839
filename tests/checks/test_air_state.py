"""Air pressure, its source, and what the site costs in air."""

from __future__ import annotations

import pytest

from wizard.calc.air_state import standard_atmosphere
from wizard.checks.air_state import (
    BAROMETER,
    STANDARD,
    WEATHER,
    ambient_pressure,
    flow_at_reference,
    mass_flow_ratio,
    weather_report_pressure,
)
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Severity, Verdict

HERE = standard_atmosphere(1524.0).pressure


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (1.0, Verdict.PASS),
        (1.04, Verdict.PASS),
        (1.0401, Verdict.ADVISORY),
        (0.96, Verdict.PASS),
        (0.9599, Verdict.ADVISORY),
    ],
)
def test_pressure_fits_the_elevation(share: float, verdict: Verdict) -> None:
    finding = ambient_pressure(share * HERE, 1524.0, BAROMETER)
    assert finding.verdict is verdict
    assert bool(finding.ask) is (verdict is Verdict.ADVISORY)


def test_feet_typed_as_metres_are_questioned() -> None:
    finding = ambient_pressure(HERE, 5000.0, STANDARD)
    assert "Feet typed as metres" in finding.ask


def test_a_weather_report_must_be_corrected() -> None:
    raw = ambient_pressure(101_800.0, 1524.0, WEATHER)
    assert raw.verdict is Verdict.INCONCLUSIVE and raw.severity is Severity.HANDOVER
    uncorrected = ambient_pressure(101_800.0, 1524.0, WEATHER, 101_800.0)
    assert uncorrected.verdict is Verdict.INCONCLUSIVE
    assert "is not that" in uncorrected.text
    station = weather_report_pressure(101_800.0, 1524.0).results["station"]
    assert ambient_pressure(station, 1524.0, WEATHER, 101_800.0).verdict is Verdict.PASS


def test_report_worth_943_hectopascal() -> None:
    finding = weather_report_pressure(102_000.0, 650.0)
    assert finding.value and finding.value.value == pytest.approx(94_382.0, abs=1.0)


@pytest.mark.parametrize(
    ("kelvin", "verdict"),
    [(288.15, Verdict.PASS), (320.0, Verdict.PASS), (320.5, Verdict.ADVISORY)],
)
def test_less_than_nine_tenths_of_the_air_is_noted(kelvin: float, verdict: Verdict) -> None:
    assert mass_flow_ratio(101_325.0, kelvin).verdict is verdict


def test_thin_air_costs_a_second_time_in_the_clearance() -> None:
    mass = mass_flow_ratio(HERE, 288.15).results["ratio"]
    both = mass_flow_ratio(HERE, 288.15, 125 * 6894.757, "one").results["ratio"]
    two = mass_flow_ratio(HERE, 288.15, 125 * 6894.757, "two").results["ratio"]
    assert both < two < mass


def test_flow_is_named_with_its_condition() -> None:
    finding = flow_at_reference("ANR: 1 bar, 20 °C, 65 % RH", 98e3, 303.15, 0.6, 0.0167)
    assert "ANR: 1 bar, 20 °C, 65 % RH" in finding.text
    none = flow_at_reference("ANR: 1 bar, 20 °C, 65 % RH", 98e3, 303.15, 0.6)
    assert none.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: ambient_pressure(-1.0, 0.0, BAROMETER), "measured"),
        (lambda: ambient_pressure(1e5, 0.0, "phone"), "barometer at the machine"),
        (lambda: weather_report_pressure(84_000.0, 1500.0), "reported pressure"),
        (lambda: mass_flow_ratio(1e5, 25.0), "temperature"),
        (lambda: mass_flow_ratio(1e5, 300.0, 1e6, "three"), "one; two"),
        (lambda: flow_at_reference("scfm", 1e5, 300.0, 0.5, 0.01), "ISO 1217"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)


def test_a_site_above_five_thousand_metres_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="elevation"):
        ambient_pressure(50_000.0, 5200.0, BAROMETER)
