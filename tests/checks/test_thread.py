"""Thread verdicts: turns on, inside and outside the band."""

from __future__ import annotations

import pytest

from wizard.checks.thread import thread_turns
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("hand", "wrench", "expected"),
    [
        (4.5, 3, ("PASS", "handover")),
        (3, 1.5, ("PASS", "handover")),
        (2.75, 3, ("FAIL", "handover")),
        (4.5, 1.25, ("FAIL", "handover")),
        (4.5, 3.5, ("PASS", "handover")),
        (4.5, 3.75, ("ADVISORY", "advisory")),
    ],
)
def test_turns(hand: float, wrench: float, expected: tuple[str, str]) -> None:
    assert graded(thread_turns("1/2", hand, wrench)) == expected


def test_axial_make_up_is_handed_on() -> None:
    found = thread_turns("1", 4.5, 3.25)
    assert found.results["make_up"] / 0.0254 == pytest.approx(0.28261, rel=1e-4)


@pytest.mark.parametrize("turns", [-0.25, 8.25, 2.1, float("nan")])
def test_only_quarter_turns_from_0_to_8(turns: float) -> None:
    with pytest.raises(InputError, match="0 to 8 in quarter turns"):
        thread_turns("1/2", 4.5, turns)


def test_unknown_size() -> None:
    with pytest.raises(OutsideValidity, match="size"):
        thread_turns("5/8", 4.5, 3)
