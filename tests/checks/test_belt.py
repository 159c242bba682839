"""Belt drive as built: each limit on, inside and outside; refusals; questions."""

from __future__ import annotations

from math import asin, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.belt import belt_count, belt_deflection, belt_length, belt_span, belt_wrap
from wizard.errors import InputError
from wizard.finding import Severity, Verdict

DRIVE = (0.750, 0.400, 0.112)
SPAN, LENGTH = 0.7360462, 2.3319832


def drive_with_wrap(wrap: float) -> tuple[float, float, float]:
    """A drive with this wrap in degrees: centres for sheaves of 600 mm and 100 mm."""
    return 0.25 / sin(radians(180 - wrap) / 2), 0.600, 0.100


@pytest.mark.parametrize(
    ("wrap", "verdict", "severity"),
    [
        (119.9, Verdict.FAIL, Severity.HANDOVER),
        (120.0, Verdict.ADVISORY, Severity.ADVISORY),
        (120.1, Verdict.ADVISORY, Severity.ADVISORY),
        (139.9, Verdict.ADVISORY, Severity.ADVISORY),
        (140.0, Verdict.PASS, Severity.ADVISORY),
        (140.1, Verdict.PASS, Severity.ADVISORY),
    ],
)
def test_wrap(wrap: float, verdict: Verdict, severity: Severity) -> None:
    drive = drive_with_wrap(wrap) if wrap > 121 else (_centres(wrap), 0.600, 0.040)
    finding = belt_wrap(*drive)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert finding.value and finding.value.value == pytest.approx(radians(wrap))


def _centres(wrap: float) -> float:
    """Centres at which sheaves of 600 mm and 40 mm have this wrap, in degrees."""
    return 0.28 / sin((pi - radians(wrap)) / 2)


def test_wrap_hands_on_span_and_length() -> None:
    results = belt_wrap(*DRIVE).results
    assert results["span"] == pytest.approx(SPAN, rel=1e-6)
    assert results["length"] == pytest.approx(LENGTH, rel=1e-6)
    assert results["wrap"] == pytest.approx(pi - 2 * asin(0.288 / 1.5))


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (0.949, Verdict.ADVISORY),
        (0.951, Verdict.PASS),
        (1.049, Verdict.PASS),
        (1.051, Verdict.ADVISORY),
    ],
)
def test_measured_span(share: float, verdict: Verdict) -> None:
    assert belt_span(share * SPAN, *DRIVE).verdict is verdict


def test_centre_distance_typed_for_the_span_is_asked_about() -> None:
    assert "distance between the shafts" in belt_span(0.750, *DRIVE).ask
    assert not belt_span(SPAN, *DRIVE).ask


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (0.979, Verdict.ADVISORY),
        (0.981, Verdict.PASS),
        (1.019, Verdict.PASS),
        (1.021, Verdict.ADVISORY),
    ],
)
def test_belt_length(share: float, verdict: Verdict) -> None:
    assert belt_length(share * LENGTH, *DRIVE).verdict is verdict


def test_belts_and_grooves() -> None:
    assert belt_count(2, 2).verdict is Verdict.PASS
    assert belt_count(2, 3).text.startswith("1 of 3 grooves without a belt")
    with pytest.raises(InputError, match="belts: given 3, accepted at most the 2 grooves"):
        belt_count(3, 2)
    with pytest.raises(InputError, match="belts: given 0, accepted 1 to 12"):
        belt_count(0, 2)


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (0.899, Verdict.INCONCLUSIVE),
        (0.901, Verdict.PASS),
        (1.0, Verdict.PASS),
        (1.099, Verdict.PASS),
        (1.101, Verdict.INCONCLUSIVE),
    ],
)
def test_deflection_counts_within_ten_percent(share: float, verdict: Verdict) -> None:
    finding = belt_deflection(share * SPAN / 64, *DRIVE)
    assert (finding.verdict, finding.severity) == (verdict, Severity.HANDOVER)
    assert finding.results["target"] == pytest.approx(0.011501, rel=1e-4)


def test_a_deflection_of_nothing_is_refused() -> None:
    with pytest.raises(
        InputError, match=r"deflection: given 0 in \(0 mm\), accepted more than zero"
    ):
        belt_deflection(0.0, *DRIVE)


@given(st.floats(0.001, 0.05), st.floats(0.01, 100))
def test_deflection_judges_alike_in_every_unit(deflection: float, scale: float) -> None:
    scaled = tuple(scale * one for one in DRIVE)
    ours = belt_deflection(deflection, *DRIVE).verdict
    edges = [abs(deflection / (SPAN / 64) - edge) for edge in (0.9, 1.1)]
    if min(edges) > 1e-6:
        assert belt_deflection(scale * deflection, *scaled).verdict is ours
