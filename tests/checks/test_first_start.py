"""First-start verdicts: only the good answer passes, every limit on both sides."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.first_start import (
    GUARDS,
    SEEN,
    STOPS,
    emergency_stop,
    first_hold,
    guard,
    hand_stop,
    pressure_step,
    rotation,
    unloaded_run,
)
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

PSI = 6894.757293168


@pytest.mark.parametrize(
    ("check", "answers"), [(rotation, SEEN), (guard, GUARDS), (emergency_stop, STOPS)]
)
def test_only_the_first_answer_passes(
    check: Callable[[str], Finding], answers: tuple[str, ...]
) -> None:
    assert check(answers[0]).verdict is Verdict.PASS
    for answer in answers[1:]:
        finding = check(answer)
        assert finding.holds and "ock out" in finding.clears
    with pytest.raises(InputError, match="“perhaps”"):
        check("perhaps")


@pytest.mark.parametrize(
    ("minutes", "verdict"),
    [(30, Verdict.PASS), (29.9, Verdict.ADVISORY), (20, Verdict.ADVISORY), (19.9, Verdict.FAIL)],
)
def test_unloaded_run(minutes: float, verdict: Verdict) -> None:
    assert unloaded_run(minutes * 60).verdict is verdict


@pytest.mark.parametrize(
    ("bar", "verdict"),
    [(1.7, Verdict.PASS), (1.69, Verdict.FAIL), (2.1, Verdict.PASS), (2.11, Verdict.FAIL)],
)
def test_first_hold(bar: float, verdict: Verdict) -> None:
    assert first_hold(bar * 1e5).verdict is verdict
    assert first_hold(25 * PSI).verdict is first_hold(30 * PSI).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("psi", "share", "verdict"),
    [
        (87.5, 0.5, Verdict.PASS),
        (78.75, 0.5, Verdict.PASS),
        (78.7, 0.5, Verdict.FAIL),
        (140.0, 0.75, Verdict.PASS),
        (140.1, 0.75, Verdict.FAIL),
    ],
)
def test_step(psi: float, share: float, verdict: Verdict) -> None:
    assert pressure_step(psi * PSI, 175 * PSI, share).verdict is verdict


@pytest.mark.parametrize(
    ("cut_out", "setting", "stop"), [(175, 200, 180), (150, 165, 155), (145, 150, 145)]
)
def test_hand_stop(cut_out: float, setting: float, stop: float) -> None:
    shown = hand_stop(cut_out * PSI, setting * PSI)
    assert shown.results["pressure"] / PSI == pytest.approx(stop)
    assert f"{stop} psig" in shown.text
    on = hand_stop(cut_out * PSI, setting * PSI, stop * PSI)
    past = hand_stop(cut_out * PSI, setting * PSI, (stop + 0.1) * PSI)
    assert on.verdict is Verdict.PASS and past.holds
    assert past.severity is Severity.SAFETY


def test_hand_stop_wants_a_relief_setting_above_the_cut_out() -> None:
    with pytest.raises(InputError, match="expected cut-out: given 200 psig"):
        hand_stop(200 * PSI, 200 * PSI)


@given(st.floats(2e5, 1.5e6), st.floats(1e4, 5e5), st.floats(1e5, 2e6))
def test_a_higher_reading_never_clears_a_hold(cut_out: float, more: float, reached: float) -> None:
    one = hand_stop(cut_out, cut_out + more, reached)
    higher = hand_stop(cut_out, cut_out + more, 1.01 * reached)
    assert higher.holds or not one.holds
