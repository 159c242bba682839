"""Unloader and check valve verdicts."""

from __future__ import annotations

import pytest

from wizard.checks.unloader import check_valve_hold, unloader_vent
from wizard.errors import InputError
from wizard.finding import Finding, Verdict

VOLUME, RATED = 0.27, 0.4 / 60


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("vent", "hiss", "expected"),
    [
        (10.0, None, ("PASS", "handover")),
        (10.1, 10.1, ("ADVISORY", "advisory")),
        (20.0, 20.0, ("ADVISORY", "advisory")),
        (20.1, 20.1, ("FAIL", "handover")),
        (5.0, 30.0, ("PASS", "handover")),
        (5.0, 30.1, ("FAIL", "handover")),
    ],
)
def test_vent(vent: float, hiss: float | None, expected: tuple[str, str]) -> None:
    assert graded(unloader_vent(vent, hiss)) == expected


def fall_of(share: float) -> float:
    """Pressure fall in ten minutes, Pa, that loses this share of the rated flow."""
    return share * RATED * 600 * 101325 / VOLUME


@pytest.mark.parametrize(
    ("share", "expected"),
    [
        (0.0, ("PASS", "handover")),
        (0.01, ("PASS", "handover")),
        (0.0101, ("ADVISORY", "advisory")),
        (0.02, ("ADVISORY", "advisory")),
        (0.0201, ("FAIL", "handover")),
    ],
)
def test_hold_with_temperatures(share: float, expected: tuple[str, str]) -> None:
    ends = (10e5, 10e5 - fall_of(share))
    assert graded(check_valve_hold(ends, 600.0, VOLUME, RATED, (297.0, 297.0))) == expected


def test_without_temperatures_a_fall_is_not_called_a_leak() -> None:
    ends = (10e5, 10e5 - fall_of(0.05))
    assert graded(check_valve_hold(ends, 600.0, VOLUME, RATED)) == ("INCONCLUSIVE", "handover")
    tight = (10e5, 10e5 - fall_of(0.005))
    assert check_valve_hold(tight, 600.0, VOLUME, RATED).verdict is Verdict.PASS
    assert check_valve_hold((10e5, 10e5), 600.0, VOLUME, RATED).verdict is Verdict.PASS


def test_cooling_explains_the_fall_and_gives_no_credit() -> None:
    found = check_valve_hold((8e5, 7.85e5), 1800.0, 0.30, RATED, (303.15, 297.15))
    assert found.verdict is Verdict.PASS and found.results["leak"] == 0.0
    assert "No leak" in found.text


def test_a_short_hold_says_nothing() -> None:
    assert check_valve_hold((10e5, 10e5), 599.0, VOLUME, RATED).verdict is Verdict.INCONCLUSIVE


def test_two_readings_are_wanted() -> None:
    with pytest.raises(InputError, match="pressures: given 1 readings"):
        check_valve_hold((10e5,), 600.0, VOLUME, RATED)
    with pytest.raises(InputError, match="temperatures: given 3 readings"):
        check_valve_hold((10e5, 9e5), 600.0, VOLUME, RATED, (297.0, 297.0, 297.0))
    with pytest.raises(InputError, match="vent time: given"):
        unloader_vent(-1.0)
