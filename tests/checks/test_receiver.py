"""Receiver verdicts: plate, cold, papers, inspection, proof record."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.proof_record import proof_record
from wizard.checks.receiver import (
    receiver_inspection,
    receiver_papers,
    receiver_plate,
    receiver_temperature,
)
from wizard.errors import InputError
from wizard.finding import Finding, Verdict

PSI, FT3 = 6894.757293168, 0.3048**3
US, UK = "United States", "United Kingdom"
TODAY = date(2026, 3, 2)


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("plate", "mark", "place", "expected"),
    [
        ("read in full", "ASME U or UM", US, ("PASS", "safety")),
        ("partly unreadable", "ASME U or UM", US, ("FAIL", "safety")),
        ("missing", "ASME U or UM", US, ("FAIL", "safety")),
        ("read in full", "none", UK, ("FAIL", "safety")),
        ("read in full", "CE or UKCA", US, ("FAIL", "handover")),
        ("read in full", "CE or UKCA", UK, ("PASS", "safety")),
        ("read in full", "other national mark", "other", ("ADVISORY", "advisory")),
    ],
)
def test_plate(plate: str, mark: str, place: str, expected: tuple[str, str]) -> None:
    assert graded(receiver_plate(plate, mark, place)) == expected


@pytest.mark.parametrize(
    ("site", "plate", "verdict"),
    [
        (253.15, 253.15, Verdict.PASS),
        (253.10, 253.15, Verdict.FAIL),
        (260.0, 253.15, Verdict.PASS),
        (260.0, None, Verdict.INCONCLUSIVE),
    ],
)
def test_cold(site: float, plate: float | None, verdict: Verdict) -> None:
    finding = receiver_temperature(site, plate)
    assert finding.verdict is verdict
    assert finding.holds is (verdict is not Verdict.PASS)


def test_celsius_for_kelvin_is_refused() -> None:
    with pytest.raises(InputError, match="lowest site temperature"):
        receiver_temperature(20.0, 253.15)


@pytest.mark.parametrize(
    ("place", "papers", "gauge", "volume", "expected"),
    [
        (UK, "none", 10e5, 0.270, ("FAIL", "handover")),
        (UK, "none", 8e5, 0.024, ("PASS", "handover")),
        (UK, "none", 10e5, 0.025, ("FAIL", "handover")),
        (UK, "none", 10e5, 0.02499, ("PASS", "handover")),
        (UK, "authority asked, none required", 10e5, 0.270, ("FAIL", "handover")),
        (UK, "in hand", 10e5, 0.270, ("PASS", "handover")),
        (US, "none", 150 * PSI, 1.5 * FT3, ("PASS", "handover")),
        (US, "none", 150 * PSI, 1.51 * FT3, ("FAIL", "handover")),
        (US, "none", 150.1 * PSI, 1.5 * FT3, ("FAIL", "handover")),
        (US, "authority asked, none required", 200 * PSI, 0.3, ("ADVISORY", "advisory")),
        ("European Union", "none", 8e5, 0.024, ("FAIL", "handover")),
        ("other", "none", 8e5, 0.024, ("FAIL", "handover")),
    ],
)
def test_papers(
    place: str, papers: str, gauge: float, volume: float, expected: tuple[str, str]
) -> None:
    assert graded(receiver_papers(place, papers, gauge, volume)) == expected


@pytest.mark.parametrize(
    ("history", "last", "months", "verdict"),
    [
        ("new", None, None, Verdict.PASS),
        ("used before", None, None, Verdict.FAIL),
        ("used before", date(2021, 3, 2), None, Verdict.PASS),
        ("used before", date(2021, 3, 1), None, Verdict.FAIL),
        ("used before", date(2025, 3, 2), 12, Verdict.PASS),
        ("used before", date(2025, 3, 1), 12, Verdict.FAIL),
    ],
)
def test_inspection(history: str, last: date | None, months: int | None, verdict: Verdict) -> None:
    finding = receiver_inspection(history, TODAY, last, months)
    assert finding.verdict is verdict and not finding.holds
    assert finding.blocks_handover is (verdict is Verdict.FAIL)


def test_a_portable_machine_is_due_after_three_years() -> None:
    last = date(2022, 3, 2)
    assert receiver_inspection("used before", TODAY, last).verdict is Verdict.PASS
    assert receiver_inspection("used before", TODAY, last, portable=True).verdict is Verdict.FAIL


def test_interval_and_future_dates_are_refused() -> None:
    with pytest.raises(InputError, match="interval: given 0 months"):
        receiver_inspection("new", TODAY, None, 0)
    with pytest.raises(InputError, match="last inspection: given 2026-03-03"):
        receiver_inspection("used before", TODAY, date(2026, 3, 3))


@given(st.floats(1e5, 2e6), st.floats(0.5, 2.0))
def test_proof_record_follows_the_factor(limit: float, factor: float) -> None:
    finding = proof_record(limit, factor * limit)
    assert (finding.verdict is Verdict.PASS) is (factor >= 1.3 * (1 - 1e-9))


def test_no_proof_on_record_only_informs() -> None:
    finding = proof_record(200 * PSI)
    assert finding.verdict is Verdict.PASS and "No proof pressure" in finding.text
