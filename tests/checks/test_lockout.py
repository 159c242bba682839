"""Zero energy: what counts as dead and empty, and what never does."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.demo.maker import commission, scenario
from wizard.checks.lockout import (
    absence_of_voltage,
    live_parts,
    lockout_recheck,
    zero_energy_air,
    zero_energy_electrical,
)
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Verdict
from wizard.quantities import Quantity, to_si

ZERO = (0.0, 0.0, 0.0)
PSI = to_si(1.0, "gauge pressure", "psig")


@pytest.mark.parametrize(
    ("highest", "verdict"),
    [
        (0.0, Verdict.PASS),
        (0.1, Verdict.ADVISORY),
        (4.99, Verdict.ADVISORY),
        (5.0, Verdict.ADVISORY),
        (5.01, Verdict.FAIL),
        (230.0, Verdict.FAIL),
    ],
)
def test_more_than_five_volts_are_not_dead(highest: float, verdict: Verdict) -> None:
    finding = absence_of_voltage((0.0, highest, 0.0))
    assert finding.verdict is verdict
    assert finding.holds == (verdict is Verdict.FAIL)


def test_worked_case_of_ghost_volts_is_an_advisory() -> None:
    finding = zero_energy_electrical(240.0, 240.0, single=(1.2, 0.9, 1.1))
    assert finding.verdict is Verdict.ADVISORY and not finding.holds
    assert finding.check == "zero_energy_electrical"
    assert "proved before and after" in finding.text


@pytest.mark.parametrize(("between", "after"), [(ZERO, 231.0), (ZERO, 12.0), ((230.0,) * 3, 231.0)])
def test_the_proof_has_the_limit_of_a_working_meter(
    between: tuple[float, ...], after: float
) -> None:
    finding = zero_energy_electrical(240.0, after, between, ZERO)
    assert finding.limit == Limit(50.0, None, "voltage")
    assert finding.value == Quantity(after, "voltage")


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (None, 240.0, "before the test"),
        (240.0, None, "after the test"),
        (None, None, "before and after the test"),
        (240.0, 0.0, "after the test"),
        (49.0, 240.0, "before the test"),
    ],
)
def test_a_meter_that_was_not_proved_proves_nothing(
    before: float | None, after: float | None, said: str
) -> None:
    finding = zero_energy_electrical(before, after, ZERO, ZERO)
    assert finding.holds and finding.verdict is Verdict.FAIL and said in finding.text


@pytest.mark.parametrize(
    "readings",
    [{}, {"between": ZERO}, {"to_ground": ZERO}, {"single": (0.0, 0.0)}],
    ids=["none", "lines only", "ground only", "two of three"],
)
def test_pairs_left_out_are_never_a_pass(readings: dict[str, Any]) -> None:
    finding = zero_energy_electrical(240.0, 240.0, **readings)
    assert finding.verdict is Verdict.INCONCLUSIVE and finding.holds


def test_a_live_pair_fails_even_when_others_are_missing() -> None:
    assert zero_energy_electrical(240.0, 240.0, (0.0, 230.0, 0.0)).verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("psi", "division", "passes"),
    [
        (0.0, None, True),
        (0.01, None, False),
        (2.0, 2.0, True),
        (2.01, 2.0, False),
        (3, None, False),
    ],
)
def test_gauge_at_zero_or_within_one_division_without_peg(
    psi: float, division: float | None, passes: bool
) -> None:
    finding = zero_energy_air(psi * PSI, True, True, None if division is None else division * PSI)
    assert (finding.verdict is Verdict.PASS) is passes


@pytest.mark.parametrize(("drain", "quiet"), [(False, True), (True, False), (False, False)])
def test_gauge_at_zero_is_not_enough(drain: bool, quiet: bool) -> None:
    assert zero_energy_air(0.0, drain, quiet).holds


@given(st.floats(1, 400 * PSI))
def test_any_pressure_holds_and_shows_what_it_pushes_with(gauge: float) -> None:
    finding = zero_energy_air(gauge, True, True)
    assert finding.holds and len(finding.working) == 1


def test_sixty_minutes_away_ask_for_a_new_proof() -> None:
    assert not lockout_recheck("same crew", "not repeated", 3599.0).holds
    assert lockout_recheck("same crew", "not repeated", 3600.0).holds
    assert lockout_recheck("same crew", "no break of 60 min, same crew", 3600.0).holds
    assert not lockout_recheck("changed", "repeated", 7200.0).holds
    assert lockout_recheck("changed", "not repeated").holds
    assert lockout_recheck("same crew", "not repeated").verdict is Verdict.OPEN


def test_live_parts_want_electrician_and_plan() -> None:
    assert not live_parts(49.0, False, False).holds
    assert live_parts(50.0, True, False).holds and live_parts(50.0, False, True).holds
    assert "avoid contact" in live_parts(120.0, True, True).text
    assert "12 in" in live_parts(480.0, True, True).text


@pytest.mark.parametrize("voltage", [49.0, 50.0, 230.0, 400.0])
@pytest.mark.parametrize("plan", [True, False])
def test_an_iec_job_is_told_of_live_parts_by_its_own_standard(voltage: float, plan: bool) -> None:
    american, european = live_parts(voltage, True, plan), live_parts(voltage, True, plan, "IEC")
    assert american.verdict is european.verdict and american.severity is european.severity
    cited = " ".join(source.text for source in european.sources)
    assert "EN 50110-1" in cited and "NFPA" not in cited and "29 CFR" not in cited
    assert not any("EN 50110" in source.text for source in american.sources)
    assert "imited approach" not in f"{european.text} {european.clears} {european.working}"


@pytest.mark.parametrize("voltage", [50.0, 150.0, 151.0, 400.0, 750.0])
def test_nobody_comes_nearer_to_live_parts_in_an_iec_job_than_in_a_us_job(voltage: float) -> None:
    (limited,) = live_parts(voltage, True, True).working
    zone, barrier = live_parts(voltage, True, True, "IEC").working
    assert zone.results[0][1].value == 0.3
    assert barrier.results[0][1].value >= limited.results[0][1].value
    assert "0.3 m (12 in), and no contact" in live_parts(voltage, True, True, "IEC").text


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: zero_energy_air(-1.0, True, True),
            "gauge: given -0.000145 psig (-0.00001 bar(g)), "
            "accepted 0 psig to 400 psig (0 bar(g) to 27.57 bar(g)).",
        ),
        (
            lambda: zero_energy_air(401 * PSI, True, True),
            "gauge: given 401 psig (27.65 bar(g)), "
            "accepted 0 psig to 400 psig (0 bar(g) to 27.57 bar(g)).",
        ),
        (
            lambda: absence_of_voltage((-1.0,)),
            "readings: given -1 V, accepted zero or more.",
        ),
        (
            lambda: absence_of_voltage(()),
            "readings: given nothing, accepted one voltage for every pair.",
        ),
        (
            lambda: lockout_recheck("same crew", "repeated", -1.0),
            "away: given -0.0002778 h, accepted 0 h to 72 h.",
        ),
        (
            lambda: lockout_recheck("some", "repeated", 0.0),
            "crew: given “some”, accepted same crew; changed.",
        ),
        (lambda: live_parts(751.0, True, True), "voltage: given 751 V, accepted 0 V to 750 V."),
        (
            lambda: live_parts(400.0, True, True, "EU"),
            "practice: given “EU”, accepted US; IEC.",
        ),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence


def test_a_coarse_gauge_is_no_proof() -> None:
    with pytest.raises(InputError):
        zero_energy_air(0.0, True, True, 6 * PSI)


@pytest.mark.parametrize(
    "judged",
    [
        lambda practice: absence_of_voltage(ZERO, practice),
        lambda practice: absence_of_voltage((230.0, 0.0, 0.0), practice),
        lambda practice: zero_energy_electrical(240.0, 240.0, ZERO, ZERO, practice=practice),
        lambda practice: zero_energy_electrical(practice=practice),
        lambda practice: zero_energy_air(0.0, True, True, practice=practice),
        lambda practice: zero_energy_air(PSI, True, False, practice=practice),
        lambda practice: lockout_recheck("changed", "not repeated", practice=practice),
        lambda practice: live_parts(0.0, True, True, practice),
    ],
)
def test_the_rule_is_named_by_the_practice_of_the_job(judged: Callable[[str], Finding]) -> None:
    american, other = judged("US"), judged("IEC")
    assert (american.verdict, american.text) == (other.verdict, other.text)
    assert any("29 CFR" in s.text for s in american.sources)
    assert other.sources and not any("CFR" in s.text or "NFPA" in s.text for s in other.sources)
    assert all(s.mark != "confirmed" for s in other.sources if s.text.startswith("EN ISO"))
    with pytest.raises(InputError, match="practice"):
        judged("NEC")


def test_an_iec_job_shows_no_american_rule_where_it_proves_zero_energy() -> None:
    job = commission("P1", scenario("metric_7_5_kw"), until="energy.gauge")
    named = {
        key: [s.text for f in job.findings[key] for s in f.sources]
        for key in ("energy.dead_between", "energy.dead_to_ground", "energy.proof_after",
                    "energy.gauge", "energy.live_plan")
    }  # fmt: skip
    assert all(named.values())
    assert not any("CFR" in text for texts in named.values() for text in texts)
