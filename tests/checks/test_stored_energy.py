"""Stored energy verdicts: the 100 kJ line and the refusal of air proof tests."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from wizard.checks.stored_energy import PROOF_TESTS, proof_test, stored_energy
from wizard.errors import InputError
from wizard.finding import Severity, Verdict


def test_the_line_is_at_100_kilojoule() -> None:
    at = brentq(lambda v: stored_energy(v, 8e5).results["energy"] - 100e3, 0.01, 1.0, xtol=1e-15)
    assert stored_energy(at, 8e5).verdict is Verdict.PASS
    above = stored_energy(at * 1.0001, 8e5)
    assert above.verdict is Verdict.ADVISORY and "Nobody stands in line" in above.text


def test_worked_tank() -> None:
    found = stored_energy(80 * 0.003785411784, 175 * 6894.757293168)
    assert found.results["energy"] == pytest.approx(513.75e3, rel=5e-5)
    assert found.results["tnt"] == pytest.approx(0.12040, rel=5e-5)
    assert "94 km/h" in found.text
    assert len(found.working) == 5


@given(st.floats(0.02, 2.0), st.floats(5e4, 2e6))
def test_more_pressure_never_reads_safer(volume: float, gauge: float) -> None:
    one, more = stored_energy(volume, gauge), stored_energy(volume, 1.1 * gauge)
    assert more.results["car_speed"] > one.results["car_speed"]
    assert not (one.verdict is Verdict.ADVISORY and more.verdict is Verdict.PASS)


def test_air_proof_test_is_refused_and_says_how_far_away() -> None:
    refused = proof_test(PROOF_TESTS[2], 0.3, 12e5)
    assert refused.holds and refused.severity is Severity.SAFETY
    assert "30 m" in refused.text and "water" in refused.clears
    for method in PROOF_TESTS[:2]:
        assert proof_test(method, 0.3, 12e5).verdict is Verdict.PASS
    with pytest.raises(InputError, match="method"):
        proof_test("with whatever is at hand", 0.3, 12e5)


def test_unusual_and_impossible_input() -> None:
    assert "Is the pressure right" in stored_energy(0.3, 25e5).ask
    with pytest.raises(InputError, match="receiver volume"):
        stored_energy(0.0, 8e5)
    with pytest.raises(InputError, match="pressure: given"):
        stored_energy(0.3, -1.0)
