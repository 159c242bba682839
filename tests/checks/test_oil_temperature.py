"""Cold start and running film: limits by grade, pour point, heater, what is not known."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wizard.checks.oil_temperature import cold_start, running_film
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Severity, Verdict

C = 273.15
CST = 1e-6
LOW_POUR = -30 + C


@pytest.mark.parametrize(
    ("celsius", "verdict", "severity"),
    [
        (6.51, Verdict.FAIL, Severity.SAFETY),
        (6.53, Verdict.ADVISORY, Severity.ADVISORY),
        (14.0, Verdict.ADVISORY, Severity.ADVISORY),
        (16.0, Verdict.PASS, Severity.SAFETY),
    ],
)
def test_vg_100_of_index_95(celsius: float, verdict: Verdict, severity: Severity) -> None:
    finding = cold_start("ISO VG 100", celsius + C, index=95.0, pour_point=LOW_POUR)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert finding.results["coldest_start"] - C == pytest.approx(6.5207, abs=5e-4)


def test_index_130_starts_colder_and_95_is_taken_where_none_is_given() -> None:
    flat = cold_start("ISO VG 100", 280.0, index=130.0, pour_point=LOW_POUR)
    assert flat.results["coldest_start"] - C == pytest.approx(2.8398, abs=5e-4)
    unknown = cold_start("ISO VG 100", 280.0, pour_point=LOW_POUR)
    assert unknown.results["coldest_start"] - C == pytest.approx(6.5207, abs=5e-4)


def test_ten_kelvin_above_the_pour_point() -> None:
    for celsius, verdict in ((20.0, Verdict.PASS), (19.99, Verdict.FAIL)):
        finding = cold_start("ISO VG 32", celsius + C, pour_point=10 + C)
        assert finding.verdict is verdict
    assert cold_start("ISO VG 32", 19.99 + C, pour_point=10 + C).holds


def test_a_heater_carries_the_cold_morning() -> None:
    cold = {"temperature": -10 + C, "pour_point": LOW_POUR}
    assert cold_start("ISO VG 100", **cold).holds
    assert cold_start("ISO VG 100", **cold, heated=20 + C).verdict is Verdict.PASS
    assert cold_start("ISO VG 100", 25 + C, heated=5 + C).verdict is Verdict.PASS


def test_without_a_pour_point_a_cool_start_is_not_passed() -> None:
    assert cold_start("ISO VG 32", 8 + C).verdict is Verdict.ADVISORY
    assert cold_start("ISO VG 32", 12 + C).verdict is Verdict.PASS


def test_tested_values_come_before_the_grade() -> None:
    found = cold_start("ISO VG 100", 280.0, viscosity_40=100 * CST, viscosity_100=13.2103 * CST)
    assert found.results["coldest_start"] - C == pytest.approx(2.84, abs=2e-3)


def test_far_below_the_method_is_still_a_stop() -> None:
    assert cold_start("ISO VG 220", -55 + C).holds


def test_temperatures_that_cannot_be_meant() -> None:
    with pytest.raises(OutsideValidity, match=r"coldest temperature: given -94 °F \(-70 °C\)"):
        cold_start("ISO VG 100", -70 + C)
    with pytest.raises(InputError, match="grade filled"):
        cold_start("treacle", 280.0)
    assert cold_start("ISO VG 100", -45 + C).ask


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(["ISO VG 46", "ISO VG 68", "ISO VG 100", "ISO VG 150"]),
    st.floats(-20, 40),
    st.floats(0, 20),
)
def test_a_warmer_start_is_never_judged_worse(name: str, celsius: float, more: float) -> None:
    order = [Verdict.FAIL, Verdict.ADVISORY, Verdict.PASS]
    cold, warm = (
        order.index(cold_start(name, t + C, pour_point=LOW_POUR).verdict)
        for t in (celsius, celsius + more)
    )
    assert warm >= cold


@pytest.mark.parametrize(
    ("name", "celsius", "verdict"),
    [
        ("ISO VG 100", 80, Verdict.PASS),
        ("ISO VG 100", 105, Verdict.ADVISORY),
        ("ISO VG 46", 90, Verdict.ADVISORY),
    ],
)
def test_running_film(name: str, celsius: float, verdict: Verdict) -> None:
    finding = running_film(name, celsius + C, index=95.0)
    assert (finding.verdict, finding.severity) == (verdict, Severity.ADVISORY)


def test_film_of_exactly_ten_centistokes_passes() -> None:
    at_limit = running_film("ISO VG 100", 100 + C, viscosity_40=90 * CST, viscosity_100=10 * CST)
    assert at_limit.verdict is Verdict.PASS
    thinner = running_film("ISO VG 100", 100 + C, viscosity_40=90 * CST, viscosity_100=9.99 * CST)
    assert thinner.verdict is Verdict.ADVISORY
