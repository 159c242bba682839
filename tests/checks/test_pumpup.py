"""The pump-up run against its prediction, and whether a second one agrees."""

from __future__ import annotations

import pytest

from wizard.checks.pumpup import pumpup_prediction, pumpup_repeat, pumpup_time
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

PSI, CFM, GAL = 6894.757293168, 0.3048**3 / 60, 0.003785411784
FREE = "free air at the intake"
PREDICTED = pumpup_prediction(0.0, 175 * PSI, 80 * GAL, 15 * CFM, 175 * PSI, FREE, "two").results[
    "predicted"
]


def run(share: float, **more: float) -> Finding:
    laps = ((0.0, 0.0), (share * PREDICTED, 175 * PSI))
    return pumpup_time(laps, 80 * GAL, 15 * CFM, 175 * PSI, FREE, "two", **more)


def test_prediction_before_the_start() -> None:
    assert pytest.approx(492.45, abs=0.01) == PREDICTED


@pytest.mark.parametrize(
    ("share", "verdict", "severity"),
    [
        (0.849, Verdict.ADVISORY, Severity.ADVISORY),
        (0.85, Verdict.PASS, Severity.HANDOVER),
        (1.0, Verdict.PASS, Severity.HANDOVER),
        (1.10, Verdict.PASS, Severity.HANDOVER),
        (1.101, Verdict.ADVISORY, Severity.ADVISORY),
        (1.20, Verdict.ADVISORY, Severity.ADVISORY),
        (1.201, Verdict.FAIL, Severity.HANDOVER),
        (2.0, Verdict.FAIL, Severity.HANDOVER),
        (2.001, Verdict.FAIL, Severity.SAFETY),
    ],
)
def test_time_against_prediction(share: float, verdict: Verdict, severity: Severity) -> None:
    finding = run(share)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert finding.results["ratio"] == pytest.approx(share)


def test_a_hot_tank_hides_a_slow_pump() -> None:
    cold = run(1.05)
    warm = run(1.05, start_temperature=293.15, end_temperature=318.15, intake_temperature=293.15)
    assert cold.verdict is Verdict.PASS
    assert warm.verdict is Verdict.ADVISORY
    assert warm.results["predicted"] < cold.results["predicted"]


def test_a_hill_gives_the_pump_more_time_per_pound_but_less_air() -> None:
    laps = ((0.0, 0.0), (PREDICTED, 175 * PSI))
    common = (80 * GAL, 15 * CFM, 175 * PSI, FREE, "two")
    hill = pumpup_time(laps, *common, 84_311.0)
    sea = pumpup_time(laps, *common)
    assert hill.results["predicted"] > sea.results["predicted"]


@pytest.mark.parametrize(
    ("laps", "said"),
    [
        (((0.0, 0.0), (60.0, 19.9 * PSI)), "rose by less than"),
        (((0.0, 0.0), (19.9, 60 * PSI)), "less than 20 s"),
    ],
)
def test_a_small_run_cannot_judge(laps: tuple[tuple[float, float], ...], said: str) -> None:
    finding = pumpup_time(laps, 80 * GAL, 15 * CFM, 175 * PSI, FREE, "two")
    assert finding.verdict is Verdict.INCONCLUSIVE and finding.severity is Severity.HANDOVER
    assert said in finding.text


def test_a_small_run_that_drags_on_is_stopped() -> None:
    finding = pumpup_time(
        ((0.0, 0.0), (200.0, 10 * PSI)), 80 * GAL, 15 * CFM, 175 * PSI, FREE, "two"
    )
    assert finding.holds


def test_an_odd_tank_is_questioned() -> None:
    finding = pumpup_prediction(0.0, 8e5, 5.0, 0.02, 8e5, FREE, "one")
    assert "Litres typed as gallons" in finding.ask
    assert "kPa typed as psi" in pumpup_prediction(0.0, 30e5, 0.3, 0.02, 30e5, FREE, "two").ask


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (
            lambda: run(
                1.0, start_temperature=300.0, end_temperature=297.0, intake_temperature=293.0
            ),
            "not colder after pumping",
        ),
        (lambda: run(1.0, extra_volume=-0.1), "extra volume"),
        (
            lambda: pumpup_time(((0.0, 5e5), (60.0, 5e5)), 0.3, 0.02, 8e5, FREE, "one"),
            "more than at the start",
        ),
        (lambda: pumpup_time(((0.0, 0.0), (60.0, 5e5)), 0.0, 0.02, 8e5, FREE, "one"), "volume"),
        (
            lambda: pumpup_time(((0.0, 0.0), (60.0, 5e5)), 0.3, 0.02, 8e5, "scfm", "one"),
            "Normal: 101.325 kPa",
        ),
        (lambda: pumpup_time(((0.0, 0.0), (60.0, 5e5)), 0.3, 0.02, 8e5, FREE, "three"), "one; two"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)


FIRST = ((0.0, 0.0), (200.0, 5e5), (400.0, 10e5))


@pytest.mark.parametrize(
    ("share", "verdict"),
    [(0.98, Verdict.PASS), (1.0, Verdict.PASS), (1.06, Verdict.INCONCLUSIVE)],
)
def test_second_run(share: float, verdict: Verdict) -> None:
    second = tuple((t * share, p) for t, p in FIRST)
    assert pumpup_repeat(FIRST, second, 0.05).verdict is verdict


def test_second_run_over_another_span() -> None:
    other = ((0.0, 3e5), (200.0, 6e5), (400.0, 10e5))
    assert "same pressures" in pumpup_repeat(FIRST, other, 0.05).text
    assert pumpup_repeat(FIRST).verdict is Verdict.NOT_APPLICABLE
    assert pumpup_repeat(FIRST, FIRST).verdict is Verdict.INCONCLUSIVE
