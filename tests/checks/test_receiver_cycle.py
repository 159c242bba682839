"""Storage, starts, duty and the shortest run at their limits."""

from __future__ import annotations

from typing import Any

import pytest

from wizard.checks.receiver_cycle import (
    CONTINUOUS,
    START_STOP,
    duty,
    receiver_storage,
    switching_cycles,
)
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

HP = 745.7


def switched(load: float, off: float, power: float = 4000.0, **more: Any) -> Finding:
    common: dict[str, Any] = {"control": START_STOP, "motor_power": power}
    return switching_cycles(**(common | {"load_time": load, "off_time": off} | more))


@pytest.mark.parametrize(
    ("power", "cycle", "verdict"),
    [
        (5500.0, 360.0, Verdict.PASS),
        (5500.0, 359.0, Verdict.FAIL),
        (5501.0, 600.0, Verdict.PASS),
        (5501.0, 599.0, Verdict.FAIL),
    ],
)
def test_starts_by_motor_power(power: float, cycle: float, verdict: Verdict) -> None:
    assert switched(130.0, cycle - 130.0, power).verdict is verdict


def test_the_motor_makers_figure_counts_before_ours() -> None:
    assert switched(130.0, 160.0, starts_allowed=12.5 / 3600).verdict is Verdict.PASS
    assert switched(130.0, 230.0, 7500.0, starts_allowed=12.5 / 3600).verdict is Verdict.PASS


def test_a_machine_that_runs_on_has_no_limit_of_starts() -> None:
    finding = switched(130.0, 20.0, control=CONTINUOUS)
    assert finding.verdict is Verdict.PASS and finding.limit is None


@pytest.mark.parametrize(("load", "verdict"), [(120.0, Verdict.PASS), (119.0, Verdict.ADVISORY)])
def test_short_runs_leave_water_in_the_oil(load: float, verdict: Verdict) -> None:
    assert switched(load, 600.0).verdict is verdict


PLANT: dict[str, Any] = {
    "control": START_STOP,
    "motor_power": 4000.0,
    "volume": 0.27,
    "cut_out": (9e5, 9.05e5, 8.95e5),
    "cut_in": (7e5, 7e5, 7e5),
    "delivery": 0.01,
}


def test_a_stated_demand_gives_the_cycle() -> None:
    finding = switching_cycles(**PLANT, demand=0.4 / 60)
    assert 3600 * finding.results["rate"] == pytest.approx(15.011, rel=1e-4)
    assert finding.verdict is Verdict.FAIL
    assert "gal" in finding.clears, "how large a receiver would do"


def test_demand_at_or_above_the_delivery_never_stops() -> None:
    finding = switching_cycles(**PLANT, demand=0.01)
    assert finding.verdict is Verdict.FAIL and "never reaches cut-out" in finding.text
    assert switching_cycles(**PLANT).verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("share", "verdict", "severity"),
    [
        (0.65, Verdict.PASS, Severity.HANDOVER),
        (0.651, Verdict.ADVISORY, Severity.ADVISORY),
        (0.75, Verdict.ADVISORY, Severity.ADVISORY),
        (0.751, Verdict.FAIL, Severity.HANDOVER),
        (1.0, Verdict.FAIL, Severity.HANDOVER),
        (1.2, Verdict.FAIL, Severity.HANDOVER),
    ],
)
def test_duty(share: float, verdict: Verdict, severity: Severity) -> None:
    finding = duty(delivery=0.01, demand=share * 0.01)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert finding.results["duty"] == pytest.approx(share)


def test_the_builders_duty_counts_before_ours() -> None:
    assert duty(90.0, 10.0, allowed=1.0).verdict is Verdict.PASS
    assert duty(51.0, 49.0, allowed=0.5).verdict is Verdict.FAIL
    assert duty(50.0, 50.0, allowed=0.5).verdict is Verdict.PASS
    assert duty().verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(("seconds", "verdict"), [(53.0, Verdict.PASS), (53.4, Verdict.ADVISORY)])
def test_storage(seconds: float, verdict: Verdict) -> None:
    finding = receiver_storage(0.27, 10e5, 0.0001, 0.0201, seconds, 6e5)
    assert finding.verdict is verdict
    assert finding.results["time"] == pytest.approx(53.294, abs=0.001)


def test_peak_that_the_pump_covers_or_nobody_stated() -> None:
    assert "never empties" in receiver_storage(0.27, 10e5, 0.02, 0.02, 60.0, 6e5).text
    assert receiver_storage(0.27, 10e5, 0.02).verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: receiver_storage(0.27, 6e5, 0.01, 0.02, 60.0, 6e5), "lowest pressure"),
        (lambda: switched(0.0, 60.0), "time on load"),
        (lambda: switched(60.0, 60.0, control="manual"), "starts and stops"),
        (lambda: switching_cycles(**(PLANT | {"cut_in": (9.5e5,)})), "less than the cut-out"),
        (lambda: duty(60.0, 60.0, allowed=65.0), "at most 100 %"),
        (lambda: duty(-60.0, 60.0), "time on load"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
