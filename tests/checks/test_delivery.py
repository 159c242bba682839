"""Delivery: pass, short, data error, and the honest "could not tell"."""

from __future__ import annotations

from typing import Any

import pytest

from wizard.calc.pumpup_time import pumpup_time_falling
from wizard.checks.delivery import metered_delivery
from wizard.checks.pumpup_delivery import pumpup_delivery
from wizard.errors import InputError
from wizard.finding import Finding, Verdict

PSI, CFM, GAL, ATM = 6894.757293168, 0.3048**3 / 60, 0.003785411784, 101_325.0
FREE = "free air at the intake"
KNOWN = {"gauge_class": 0.0025, "gauge_full_scale": 200 * PSI, "volume_uncertainty": 0.01}
SETTLED = {"start_temperature": 293.15, "settled": 175 * PSI, "settled_again": 175 * PSI, **KNOWN}


def laps(share: float) -> tuple[tuple[float, float], ...]:
    """Laps of a cold tank whose pump delivers `share` of 15 cfm rated at 175 psig."""
    marks = [25.0 * n * PSI for n in range(8)]
    pump = (15 * CFM * share, 175 * PSI + ATM, ATM, ATM, 2)
    return tuple(
        (0.0 if not p else pumpup_time_falling(80 * GAL, ATM, p + ATM, *pump), p) for p in marks
    )


def deliver(share: float, **more: Any) -> Finding:
    common: dict[str, Any] = {
        "volume": 80 * GAL,
        "intake_temperature": 293.15,
        "rated_flow": 15 * CFM,
        "stages": "two",
        "rated_pressure": 175 * PSI,
        "flow_reference": FREE,
    }
    return pumpup_delivery(laps(share), **(common | more))


@pytest.mark.parametrize(
    ("rated", "flow", "doubt", "verdict"),
    [
        (0.400, 0.385, 0.012, Verdict.PASS),
        (0.900, 0.835, 0.030, Verdict.INCONCLUSIVE),
        (2.000, 1.70, 0.05, Verdict.FAIL),
        (2.000, 1.90, 0.05, Verdict.PASS),
        (2.000, 1.849, 0.05, Verdict.FAIL),
        (2.000, 1.851, 0.05, Verdict.INCONCLUSIVE),
        (2.000, 2.30, 0.05, Verdict.PASS),
        (2.000, 2.31, 0.05, Verdict.FAIL),
        (2.000, 1.95, 0.0975, Verdict.PASS),
        (2.000, 1.95, 0.0985, Verdict.INCONCLUSIVE),
    ],
)
def test_decision(rated: float, flow: float, doubt: float, verdict: Verdict) -> None:
    finding = metered_delivery(rated / 60, FREE, flow / 60, doubt / flow)
    assert finding.verdict is verdict


def test_more_than_the_pistons_sweep_is_a_data_error() -> None:
    finding = metered_delivery(1 / 60, FREE, 1 / 60, 0.01, displacement=1.04 / 60)
    assert finding.verdict is Verdict.FAIL and "More air than this pump can make" in finding.text


@pytest.mark.parametrize(
    ("share", "verdict"), [(1.0, Verdict.PASS), (0.92, Verdict.INCONCLUSIVE), (0.85, Verdict.FAIL)]
)
def test_settled_delivery(share: float, verdict: Verdict) -> None:
    finding = deliver(share, **SETTLED)
    assert finding.verdict is verdict
    assert finding.results["flow"] == pytest.approx(share * 15 * CFM, rel=1e-3)


def test_a_panel_gauge_cannot_judge_and_says_why() -> None:
    finding = deliver(1.0, start_temperature=293.15, end_temperature=293.15)
    assert finding.verdict is Verdict.INCONCLUSIVE
    assert "most of it comes from the pressure gauge" in finding.text
    assert "Assumed: gauge class, full scale, tank volume." in finding.text


def test_without_tank_temperature_the_number_is_only_indicative() -> None:
    finding = deliver(1.0, **KNOWN)
    assert finding.verdict is Verdict.INCONCLUSIVE and "indicative" in finding.text
    assert finding.value and finding.value.value > 15 * CFM


def test_a_warm_tank_is_taken_out() -> None:
    hot = deliver(1.0, start_temperature=293.15, end_temperature=323.15, **KNOWN)
    cold = deliver(1.0, start_temperature=293.15, end_temperature=293.15, **KNOWN)
    assert hot.value and cold.value and hot.value.value < 0.93 * cold.value.value


def test_a_leak_during_the_wait_is_added_back() -> None:
    leaky = {**SETTLED, "settled": 150 * PSI, "settled_again": 125 * PSI}
    found = deliver(1.0, **leaky).results["flow"]
    assert found == pytest.approx(deliver(1.0, **SETTLED).results["flow"])
    alone = {k: v for k, v in leaky.items() if k != "settled_again"}
    finding = deliver(1.0, **alone)
    assert finding.verdict is Verdict.INCONCLUSIVE and "leak" in finding.text


def test_a_rating_without_pressure_or_reference_is_not_judged() -> None:
    for missing in ("rated_pressure", "flow_reference"):
        finding = deliver(1.0, **SETTLED, **{missing: None})
        assert finding.verdict is Verdict.INCONCLUSIVE and "does not say" in finding.text


def test_speed_is_corrected_within_five_percent() -> None:
    slow = deliver(0.97, **SETTLED, measured_speed=14.55, rated_speed=15.0)
    assert slow.value and slow.value.value == pytest.approx(15 * CFM, rel=1e-3)
    far = deliver(0.97, **SETTLED, measured_speed=14.2, rated_speed=15.0)
    assert far.verdict is Verdict.INCONCLUSIVE and "more than 5 %" in far.text


def test_a_rating_by_mass_is_brought_to_an_intake_volume() -> None:
    normal = deliver(1.0, **SETTLED, flow_reference="Normal: 101.325 kPa, 0 °C, dry")
    assert normal.results["rated"] == pytest.approx(15 * CFM / 0.91958, rel=1e-4)
    assert normal.verdict is Verdict.INCONCLUSIVE


def test_a_settled_tank_that_is_still_warm_does_not_count() -> None:
    assert deliver(1.0, **SETTLED, settled_temperature=295.0).verdict is Verdict.PASS
    finding = deliver(1.0, **SETTLED, settled_temperature=295.5)
    assert finding.verdict is Verdict.INCONCLUSIVE and "within 2 K" in finding.text


def test_a_tank_hotter_than_any_tank_is_questioned() -> None:
    finding = deliver(1.0, start_temperature=293.15, end_temperature=375.0, **KNOWN)
    assert "discharge pipe" in finding.ask


def test_missed_laps_are_named() -> None:
    short = (laps(1.0)[0], *laps(1.0)[1:4], laps(1.0)[7])
    found = pumpup_delivery(short, 80 * GAL, 293.15, 15 * CFM, "two", 175 * PSI, FREE, **SETTLED)
    assert "No reading between" in found.text


def test_no_meter_no_judgement() -> None:
    assert metered_delivery(0.01, FREE).verdict is Verdict.NOT_APPLICABLE
    assert metered_delivery(0.01, FREE, 0.01).verdict is Verdict.INCONCLUSIVE


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: deliver(1.0, **{**SETTLED, "settled": 176 * PSI}), "at most the end of the run"),
        (lambda: deliver(1.0, **{**SETTLED, "settled_again": 176 * PSI}), "cannot gain"),
        (lambda: deliver(1.0, **{**SETTLED, "gauge_full_scale": -1.0}), "gauge full scale"),
        (lambda: deliver(1.0, **{**SETTLED, "volume_uncertainty": 0.0}), "volume_uncertainty"),
        (lambda: metered_delivery(0.01, FREE, -0.01, 0.02), "flow"),
        (lambda: metered_delivery(0.01, "cfm", 0.01, 0.02), "Normal: 101.325 kPa"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
