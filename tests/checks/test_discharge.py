"""Temperatures of air, cooler and oil at their limits."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.discharge import POCKET, SKIN, STEADY, discharge_temperature
from wizard.checks.interstage import NO_TAPPING, intercooler_approach
from wizard.checks.machine_heat import intake_air_temperature, sump_temperature
from wizard.errors import InputError
from wizard.finding import WEIGHT, Finding, Severity, Verdict

PSI = 6894.757293168
K = 273.15


def one(celsius: float, probe: str = POCKET, inlet: float = 50.0, **more: Any) -> Finding:
    common: dict[str, Any] = {"loaded_time": 1200.0} | more
    return discharge_temperature(celsius + K, probe, "one", inlet + K, 125 * PSI, **common)


def two(celsius: float, probe: str = POCKET, inlet: float = 70.0, **more: Any) -> Finding:
    common: dict[str, Any] = {"loaded_time": 900.0} | more
    return discharge_temperature(
        celsius + K, probe, "two", inlet + K, 175 * PSI, 38 * PSI, **common
    )


@pytest.mark.parametrize(
    ("finding", "verdict", "severity"),
    [
        (two(149.0), Verdict.PASS, Severity.SAFETY),
        (two(150.0), Verdict.ADVISORY, Severity.ADVISORY),
        (two(176.0), Verdict.ADVISORY, Severity.ADVISORY),
        (two(177.0), Verdict.ADVISORY, Severity.ADVISORY),
        (two(178.0), Verdict.FAIL, Severity.SAFETY),
        (two(160.0, SKIN), Verdict.ADVISORY, Severity.ADVISORY),
        (two(163.0, SKIN), Verdict.FAIL, Severity.SAFETY),
        (one(177.0), Verdict.PASS, Severity.SAFETY),
        (one(190.0), Verdict.ADVISORY, Severity.ADVISORY),
        (one(200.0), Verdict.ADVISORY, Severity.ADVISORY),
        (one(190.0, SKIN), Verdict.FAIL, Severity.HANDOVER),
        (one(220.0), Verdict.FAIL, Severity.HANDOVER),
        (one(221.0), Verdict.FAIL, Severity.SAFETY),
    ],
)
def test_steps(finding: Finding, verdict: Verdict, severity: Severity) -> None:
    assert (finding.verdict, finding.severity) == (verdict, severity)


def test_builder_may_allow_up_to_the_ceiling_and_may_ask_for_less() -> None:
    assert two(185.0, builder_limit=190.0 + K).verdict is Verdict.ADVISORY
    assert two(199.0, builder_limit=240.0 + K).verdict is Verdict.ADVISORY
    assert two(201.0, inlet=100.0, builder_limit=240.0 + K).holds
    assert two(161.0, builder_limit=160.0 + K).holds
    assert one(210.0, builder_limit=215.0 + K).verdict is Verdict.ADVISORY
    assert one(186.0, builder_limit=185.0 + K).severity is Severity.HANDOVER
    assert one(225.0, builder_limit=250.0 + K).holds


def test_hotter_than_uncooled_air_means_a_leaking_valve() -> None:
    finding = two(155.0, inlet=20.0)
    ceiling = finding.results["adiabatic"] - K
    assert two(ceiling + 9.9, inlet=20.0).verdict is not Verdict.FAIL
    over = two(ceiling + 10.1, inlet=20.0)
    assert over.verdict is Verdict.FAIL and over.severity is Severity.HANDOVER
    assert "leaking valve" in over.clears


@pytest.mark.parametrize(
    ("celsius", "verdict"),
    [(149.0, Verdict.PASS), (160.0, Verdict.ADVISORY), (178.0, Verdict.FAIL)],
)
def test_without_a_tapping_the_limits_still_judge_and_the_comparison_is_said_to_lack(
    celsius: float, verdict: Verdict
) -> None:
    finding = discharge_temperature(
        celsius + K, POCKET, "two", 20.0 + K, loaded_time=900.0, between=NO_TAPPING
    )
    assert finding.verdict is verdict and "Without a tapping" in finding.text
    assert "adiabatic" not in finding.results
    colder = two(celsius, inlet=20.0, between="steady")
    assert WEIGHT[finding.severity] <= WEIGHT[colder.severity]


def test_a_pressure_that_is_still_to_come_is_waited_for() -> None:
    assert discharge_temperature(420.0, POCKET, "two", 290.0).verdict is Verdict.OPEN


def test_a_machine_that_is_not_warm_cannot_pass_but_can_be_stopped() -> None:
    assert one(150.0, loaded_time=1199.0).verdict is Verdict.INCONCLUSIVE
    assert one(150.0, loaded_time=None).verdict is Verdict.INCONCLUSIVE
    assert one(150.0, loaded_time=600.0, change=STEADY).verdict is Verdict.PASS
    assert two(150.0, loaded_time=899.0).verdict is Verdict.INCONCLUSIVE
    assert not two(150.0, loaded_time=899.0).holds
    assert one(221.0, loaded_time=60.0).holds


@given(st.floats(60.0, 230.0), st.floats(0.1, 60.0))
def test_hotter_is_never_better(celsius: float, more: float) -> None:
    cooler, hotter = two(celsius), two(min(celsius + more, 390.0))
    order = (Verdict.PASS, Verdict.ADVISORY, Verdict.FAIL)
    assert order.index(hotter.verdict) >= order.index(cooler.verdict)
    if cooler.verdict is Verdict.FAIL:
        assert WEIGHT[hotter.severity] >= WEIGHT[cooler.severity]


@pytest.mark.parametrize(
    ("warmer", "verdict"),
    [
        (20.0, Verdict.PASS),
        (20.1, Verdict.ADVISORY),
        (26.0, Verdict.ADVISORY),
        (35.0, Verdict.ADVISORY),
        (35.1, Verdict.FAIL),
    ],
)
def test_intercooler(warmer: float, verdict: Verdict) -> None:
    assert intercooler_approach(295.15 + warmer, 295.15).verdict is verdict


def test_a_cooler_colder_than_the_room_is_questioned() -> None:
    assert "same thermometer" in intercooler_approach(290.0, 295.15).ask


@pytest.mark.parametrize(
    ("celsius", "verdict"),
    [
        (40.0, Verdict.PASS),
        (43.0, Verdict.ADVISORY),
        (46.0, Verdict.ADVISORY),
        (46.1, Verdict.FAIL),
    ],
)
def test_intake(celsius: float, verdict: Verdict) -> None:
    assert intake_air_temperature(celsius + K).verdict is verdict


@pytest.mark.parametrize(
    ("celsius", "oil", "verdict"),
    [
        (90.0, "mineral", Verdict.PASS),
        (90.1, "mineral", Verdict.FAIL),
        (90.1, "not known", Verdict.FAIL),
        (95.0, "semi-synthetic", Verdict.FAIL),
        (105.0, "synthetic", Verdict.PASS),
        (105.1, "synthetic", Verdict.FAIL),
    ],
)
def test_sump(celsius: float, oil: str, verdict: Verdict) -> None:
    assert sump_temperature(celsius + K, oil).verdict is verdict


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: one(450.0), "discharge temperature"),
        (lambda: one(150.0, probe="infrared"), "probe in a pocket in the air"),
        (
            lambda: discharge_temperature(400.0, POCKET, "two", 300.0, 2e5, 2e5),
            "more than at the inlet",
        ),
        (lambda: intake_air_temperature(25.0), "intake temperature"),
        (lambda: sump_temperature(600.0, "mineral"), "sump temperature"),
        (lambda: one(150.0, builder_limit=40.0 + K), "builder's limit"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
