"""Hose verdicts: rating when hot, burst ratio, the line from pump to tank."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.hose import (
    LINES,
    METAL,
    NOT_STATED,
    RUBBER,
    discharge_line,
    hose_burst_ratio,
    hose_rating,
)
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Limit, Verdict

PSI = 6894.757293168
ROOM = 294.0


def fahrenheit(degrees: float) -> float:
    return (degrees + 459.67) / 1.8


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("working", "setting", "expected"),
    [
        (250, 200, ("PASS", "safety")),
        (175, 200, ("FAIL", "safety")),
        (199.99, 200, ("FAIL", "safety")),
        (200, 200, ("ADVISORY", "advisory")),
        (219.9, 200, ("ADVISORY", "advisory")),
        (220, 200, ("PASS", "safety")),
        (290.0755, 175, ("PASS", "safety")),
    ],
)
def test_rating_at_room_temperature(
    working: float, setting: float, expected: tuple[str, str]
) -> None:
    for kind in (METAL, RUBBER):
        assert graded(hose_rating(working * PSI, setting * PSI, kind, ROOM)) == expected


def test_a_metal_hose_fails_when_hot() -> None:
    cold = hose_rating(230 * PSI, 200 * PSI, METAL, ROOM)
    hot = hose_rating(230 * PSI, 200 * PSI, METAL, fahrenheit(350))
    assert cold.verdict is Verdict.PASS and hot.holds
    assert hot.results["hot"] / PSI == pytest.approx(186.30, rel=1e-5)


def test_the_rating_decides_the_derating() -> None:
    at = (25e5, 11e5, METAL, 423.15)
    us, iso = hose_rating(*at), hose_rating(*at, rating="ISO 10380")
    unknown = hose_rating(*at, rating=NOT_STATED)
    assert us.results["hot"] > iso.results["hot"] == unknown.results["hot"]
    assert hose_rating(*at, maker_factor=0.9).results["hot"] == pytest.approx(22.5e5)


def test_rubber_ends_at_70_celsius_unless_it_says_otherwise() -> None:
    assert hose_rating(300 * PSI, 200 * PSI, RUBBER, 343.15).verdict is Verdict.PASS
    assert hose_rating(300 * PSI, 200 * PSI, RUBBER, 343.25).holds
    marked = hose_rating(300 * PSI, 200 * PSI, RUBBER, 370.0, marked_temperature=373.15)
    assert marked.verdict is Verdict.PASS


def test_burst_taken_for_working_pressure_is_refused() -> None:
    for burst in (800, 799):
        with pytest.raises(InputError, match="at or above the printed burst or proof pressure"):
            hose_rating(800 * PSI, 200 * PSI, METAL, ROOM, burst=burst * PSI)
    with pytest.raises(InputError, match="kind of hose"):
        hose_rating(800 * PSI, 200 * PSI, "garden", ROOM)
    with pytest.raises(OutsideValidity, match="metal hose"):
        hose_rating(800 * PSI, 200 * PSI, METAL, fahrenheit(401))


@given(st.floats(1e5, 5e6), st.floats(1e5, 2e6), st.floats(260.0, 470.0))
def test_a_stronger_hose_is_never_judged_worse(
    working: float, setting: float, kelvin: float
) -> None:
    rank = ["PASS", "ADVISORY", "FAIL"]
    one = hose_rating(working, setting, METAL, kelvin)
    more = hose_rating(1.05 * working, setting, METAL, kelvin)
    assert rank.index(more.verdict.value) <= rank.index(one.verdict.value)


@pytest.mark.parametrize(
    ("burst", "expected"),
    [
        (1000, ("PASS", "safety")),
        (999, ("FAIL", "handover")),
        (750, ("FAIL", "handover")),
        (749, ("FAIL", "safety")),
        (None, ("NOT APPLICABLE", "advisory")),
    ],
)
def test_burst_ratio(burst: float | None, expected: tuple[str, str]) -> None:
    assert graded(hose_burst_ratio(250 * PSI, None if burst is None else burst * PSI)) == expected


@pytest.mark.parametrize("burst", [700, 899, 901, 1199])
def test_sentence_limit_and_cure_of_a_weak_hose_name_the_one_rule(burst: float) -> None:
    found = hose_burst_ratio(300 * PSI, burst * PSI)
    assert found.limit == Limit(4.0, None, "ratio")
    assert "below four times" in found.text and "four or more" in found.clears
    assert "three" not in found.text
    assert ("no pressure is put on it" in found.text) is found.holds


@pytest.mark.parametrize(
    ("kind", "measured", "marked", "expected"),
    [
        (LINES[0], 480.0, None, ("PASS", "safety")),
        (LINES[2], 480.0, 470.0, ("FAIL", "safety")),
        (LINES[2], 470.0, 470.0, ("PASS", "safety")),
        (LINES[2], None, None, ("INCONCLUSIVE", "handover")),
        (LINES[3], None, None, ("FAIL", "handover")),
        (LINES[3], 340.0, None, ("FAIL", "handover")),
        (LINES[3], 350.0, None, ("FAIL", "safety")),
    ],
)
def test_discharge_line(
    kind: str, measured: float | None, marked: float | None, expected: tuple[str, str]
) -> None:
    assert graded(discharge_line(kind, measured, marked)) == expected


def test_the_expected_heat_of_one_stage_is_above_that_of_two() -> None:
    one = discharge_line(LINES[2], None, 450.0, 100 * PSI, 293.15)
    two = discharge_line(LINES[2], None, 450.0, 100 * PSI, 293.15, "two")
    assert graded(one) == ("FAIL", "handover") and two.verdict is Verdict.PASS
    assert one.value and one.value.value - 273.15 == pytest.approx(226.24, abs=0.05)
