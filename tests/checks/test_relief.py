"""Relief valve verdicts: each limit on, inside and outside, each bad input by name."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.relief import (
    lift_test,
    operating_margin,
    part_rating,
    relief_interstage,
    relief_plate,
    relief_set_pressure,
)
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

PSI = 6894.757293168
BAR = 1e5
GAUGE = st.floats(1e5, 2e6)


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("stamp", "mawp", "verdict"),
    [
        (200 * PSI, 200 * PSI, Verdict.PASS),
        (175 * PSI, 165 * PSI, Verdict.FAIL),
        (160 * PSI, 11 * BAR, Verdict.FAIL),
        (159.5 * PSI, 11 * BAR, Verdict.PASS),
        (200.01 * PSI, 200 * PSI, Verdict.FAIL),
        (199.99 * PSI, 200 * PSI, Verdict.PASS),
    ],
)
def test_set_pressure_has_no_rounding_tolerance(
    stamp: float, mawp: float, verdict: Verdict
) -> None:
    finding = relief_set_pressure(stamp, mawp)
    assert finding.verdict is verdict
    assert finding.holds is (verdict is Verdict.FAIL)
    assert finding.working


def test_the_plates_doubt_what_the_valve_as_fitted_is_held_for() -> None:
    for stamp, mawp in ((12.0, 11.0), (11.001, 11.0)):
        on_plate = relief_plate(stamp * BAR, mawp * BAR)
        assert graded(on_plate) == ("ADVISORY", "advisory") and on_plate.ask
        assert on_plate.danger and "Do not fit this valve" in on_plate.clears
        assert relief_set_pressure(stamp * BAR, mawp * BAR).holds
    agreed = relief_plate(11 * BAR, 11 * BAR)
    assert agreed.verdict is Verdict.PASS and not agreed.ask and not agreed.clears


@pytest.mark.parametrize(
    ("rating", "verdict"),
    [
        (145.0, Verdict.FAIL),
        (149.99, Verdict.FAIL),
        (150.0, Verdict.PASS),
        (232.0, Verdict.PASS),
    ],
)
def test_the_weakest_part_stands_the_relief_setting(rating: float, verdict: Verdict) -> None:
    finding = part_rating(rating * PSI, 150 * PSI)
    assert finding.verdict is verdict and finding.holds is (verdict is Verdict.FAIL)
    assert finding.limit and finding.limit.low == 150 * PSI and finding.limit.high is None
    assert finding.value and finding.value.value == rating * PSI


def test_a_rating_in_bar_against_a_stamp_in_psi_is_asked_about() -> None:
    assert "bar" in part_rating(11 * PSI, 160 * PSI).ask
    with pytest.raises(InputError, match="rating: given 0 psig"):
        part_rating(0.0, 160 * PSI)


def test_psi_for_bar_is_asked_about() -> None:
    assert "bar" in relief_set_pressure(11 * BAR, 160 * BAR).ask
    assert "bar" in relief_set_pressure(11 * PSI, 160 * PSI).ask
    assert not relief_set_pressure(150 * PSI, 165 * PSI).ask
    assert "Is the pressure right" in relief_set_pressure(30 * BAR, 30 * BAR).ask


@pytest.mark.parametrize(
    ("setting", "cut_out", "expected"),
    [
        (200, 175, ("PASS", "safety")),
        (200, 180, ("PASS", "safety")),
        (200, 180.1, ("ADVISORY", "advisory")),
        (165, 150, ("ADVISORY", "advisory")),
        (200, 190, ("ADVISORY", "advisory")),
        (200, 190.1, ("FAIL", "handover")),
        (150, 145, ("FAIL", "handover")),
        (45, 40.2, ("FAIL", "handover")),
        (45, 40, ("PASS", "safety")),
        (200, 199.99, ("FAIL", "handover")),
        (200, 200, ("FAIL", "safety")),
        (200, 210, ("FAIL", "safety")),
    ],
)
def test_operating_margin(setting: float, cut_out: float, expected: tuple[str, str]) -> None:
    assert graded(operating_margin(setting * PSI, cut_out * PSI)) == expected


@given(GAUGE, st.floats(0.3, 1.2), st.floats(1.0, 1.2))
def test_a_higher_cut_out_is_never_judged_better(set_: float, share: float, more: float) -> None:
    rank = [("PASS", "safety"), ("ADVISORY", "advisory"), ("FAIL", "handover"), ("FAIL", "safety")]
    one = graded(operating_margin(set_, share * set_))
    assert rank.index(graded(operating_margin(set_, share * set_ * more))) >= rank.index(one)


@pytest.mark.parametrize(
    ("stamp", "builder", "normal", "expected"),
    [
        (60, 60, 38, ("PASS", "safety")),
        (60.1, 60, 38, ("FAIL", "safety")),
        (38, 60, 38, ("FAIL", "handover")),
        (38.1, 60, 38, ("PASS", "safety")),
        (60, None, 38, ("INCONCLUSIVE", "safety")),
        (60, 60, None, ("PASS", "safety")),
    ],
)
def test_interstage(
    stamp: float, builder: float | None, normal: float | None, expected: tuple[str, str]
) -> None:
    scaled = [None if v is None else v * PSI for v in (builder, normal)]
    assert graded(relief_interstage(stamp * PSI, *scaled)) == expected


@pytest.mark.parametrize(
    ("pressure", "result", "verdict"),
    [
        (150, None, Verdict.PASS),
        (149.9, "lifts freely and reseals", Verdict.INCONCLUSIVE),
        (150, "lifts freely and reseals", Verdict.PASS),
        (150, "does not reseal", Verdict.FAIL),
        (160, "does not lift", Verdict.FAIL),
        (200, None, Verdict.PASS),
        (200.1, None, Verdict.FAIL),
    ],
)
def test_lift(pressure: float, result: str | None, verdict: Verdict) -> None:
    finding = lift_test(pressure * PSI, 200 * PSI, result)
    assert finding.verdict is verdict and finding.severity is Severity.SAFETY


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((0.0, 1e6), "set pressure: given 0 psig"),
        ((1e6, -1e5), r"receiver limit: given -14\.5 psig \(-1 bar\(g\)\)"),
        ((float("nan"), 1e6), "set pressure: given nan"),
    ],
)
def test_impossible_pressures_are_refused(arguments: tuple[float, ...], said: str) -> None:
    with pytest.raises(InputError, match=said):
        relief_set_pressure(*arguments)
