"""Noise: which rule decides a day, protectors, peaks and blow guns."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.hearing import blow_gun, protected_level
from wizard.checks.noise import noise_exposure, noise_exposure_europe, noise_peak
from wizard.errors import InputError
from wizard.finding import ORDER, Finding, Severity, Verdict
from wizard.quantities import to_si

H = 3600.0


def verdict(finding: Finding) -> tuple[Verdict, Severity]:
    return finding.verdict, finding.severity


@pytest.mark.parametrize(
    ("level", "hours", "protected", "expected"),
    [
        (84.9, 8.0, False, (Verdict.PASS, Severity.SAFETY)),
        (85.0, 8.0, False, (Verdict.FAIL, Severity.HANDOVER)),
        (85.0, 8.0, True, (Verdict.ADVISORY, Severity.ADVISORY)),
        (89.9, 8.0, True, (Verdict.ADVISORY, Severity.ADVISORY)),
        (90.0, 8.0, True, (Verdict.FAIL, Severity.HANDOVER)),
        (90.0, 8.0, False, (Verdict.FAIL, Severity.SAFETY)),
        (90.0, 8.0, None, (Verdict.INCONCLUSIVE, Severity.SAFETY)),
        (86.0, 1.0, None, (Verdict.INCONCLUSIVE, Severity.HANDOVER)),
        (115.0, 0.1, False, (Verdict.FAIL, Severity.HANDOVER)),
        (115.1, 0.1, False, (Verdict.FAIL, Severity.SAFETY)),
        (115.1, 0.1, True, (Verdict.ADVISORY, Severity.ADVISORY)),
    ],
)
def test_each_limit_of_a_day(
    level: float, hours: float, protected: bool | None, expected: tuple[Verdict, Severity]
) -> None:
    assert verdict(noise_exposure((level,), (hours * H,), protected)) == expected


def test_a_mixed_day_at_the_limit_shows_all_doses() -> None:
    finding = noise_exposure((90.0, 95.0), (4 * H, 2 * H), True)
    assert finding.results["dose"] == pytest.approx(1.0)
    assert finding.results["average"] == pytest.approx(90.0)
    assert finding.results["limit_dose"] == pytest.approx(1.0)
    assert finding.results["niosh_dose"] > 4
    assert verdict(finding) == (Verdict.FAIL, Severity.HANDOVER)


def test_noise_between_80_and_90_counts_for_conservation_only() -> None:
    finding = noise_exposure((89.0,), (8 * H,), True)
    assert finding.results["limit_dose"] == 0.0 and finding.results["dose"] > 0.8


def test_the_setting_moves_the_trigger_and_leaves_the_limit() -> None:
    assert noise_exposure((87.0,), (8 * H,), False, 90.0).verdict is Verdict.ADVISORY
    assert noise_exposure((90.0,), (8 * H,), False, 90.0).holds
    with pytest.raises(InputError):
        noise_exposure((87.0,), (8 * H,), False, 95.0)


def test_a_quiet_reading_at_a_piston_machine_is_doubted() -> None:
    assert noise_exposure((62.0,), (8 * H,), False).ask
    assert not noise_exposure((84.0,), (8 * H,), False).ask


def test_a_quiet_long_day_can_pass_the_law_and_not_the_recommendation() -> None:
    finding = noise_exposure((84.0,), (24 * H,), False)
    assert finding.results["niosh_dose"] > 1
    assert finding.verdict is not Verdict.PASS


@given(st.floats(60, 115), st.floats(0.5, 11), st.floats(0, 5))
def test_louder_is_never_judged_better(level: float, hours: float, more: float) -> None:
    quiet = noise_exposure((level,), (hours * H,), False)
    loud = noise_exposure((level + more,), (hours * H,), False)
    assert ORDER.index(loud.verdict) <= ORDER.index(quiet.verdict)
    assert loud.holds or not quiet.holds


@pytest.mark.parametrize(
    ("level", "bare", "worn"),
    [
        (79.9, Verdict.PASS, Verdict.PASS),
        (80.0, Verdict.ADVISORY, Verdict.ADVISORY),
        (85.0, Verdict.FAIL, Verdict.ADVISORY),
        (87.1, Verdict.FAIL, Verdict.ADVISORY),
    ],
)
def test_european_action_and_limit_values(level: float, bare: Verdict, worn: Verdict) -> None:
    assert noise_exposure_europe((level,), (8 * H,), False).verdict is bare
    assert noise_exposure_europe((level,), (8 * H,), True).verdict is worn
    assert noise_exposure_europe((level,), (8 * H,), False).holds == (level > 87)


@pytest.mark.parametrize(
    ("level", "rating", "more", "ear", "expected"),
    [
        (100.0, 25.0, {"derating": "full"}, 82.0, Verdict.PASS),
        (100.0, 25.0, {}, 91.0, Verdict.FAIL),
        (94.0, 25.0, {}, 85.0, Verdict.PASS),
        (94.1, 25.0, {}, 85.1, Verdict.FAIL),
        (88.0, 33.0, {"derating": "full"}, 62.0, Verdict.ADVISORY),
        (96.0, 27.0, {"rating_kind": "SNR", "weighting": "C"}, 73.0, Verdict.PASS),
        (100.0, 30.0, {"weighting": "C"}, 85.0, Verdict.PASS),
    ],
)
def test_level_under_the_protector(
    level: float, rating: float, more: dict[str, str], ear: float, expected: Verdict
) -> None:
    finding = protected_level(level, rating, **more)
    assert finding.results["at_ear"] == pytest.approx(ear)
    assert finding.verdict is expected


def test_an_snr_with_an_a_reading_cannot_be_judged() -> None:
    finding = protected_level(95.0, 27.0, "SNR", "A")
    assert finding.verdict is Verdict.INCONCLUSIVE and finding.blocks_handover


def test_peak_and_blow_gun_on_and_over_the_limit() -> None:
    assert not noise_peak(140.0).holds and noise_peak(140.1).holds
    thirty = to_si(30.0, "gauge pressure", "psig")
    assert blow_gun(thirty).verdict is Verdict.PASS
    assert blow_gun(to_si(2.07, "gauge pressure", "bar(g)")).verdict is Verdict.FAIL
    assert blow_gun(thirty * 1.001).blocks_handover
