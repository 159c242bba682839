"""Settings as left: the band on, inside and outside."""

from __future__ import annotations

import pytest

from wizard.checks.handover import setting_as_left
from wizard.errors import InputError
from wizard.finding import Verdict

PSI = 6894.757293168


@pytest.mark.parametrize(
    ("left", "tested", "verdict"),
    [
        (103.0, 100.0, Verdict.PASS),
        (103.1, 100.0, Verdict.FAIL),
        (97.0, 100.0, Verdict.PASS),
        (96.9, 100.0, Verdict.FAIL),
        (196.0, 200.0, Verdict.PASS),
        (204.1, 200.0, Verdict.FAIL),
    ],
)
def test_band_is_3_psi_or_2_percent(left: float, tested: float, verdict: Verdict) -> None:
    spread = ((tested - 1) * PSI, tested * PSI, (tested + 1) * PSI)
    assert setting_as_left(left * PSI, spread).verdict is verdict


def test_text_says_which_way_it_was_turned() -> None:
    assert "above what was tested" in setting_as_left(120 * PSI, (100 * PSI,)).text
    assert "below what was tested" in setting_as_left(80 * PSI, (100 * PSI,)).text


def test_no_pressure_is_refused() -> None:
    with pytest.raises(InputError, match="pressure: given 0 psig"):
        setting_as_left(0.0, (100 * PSI,))
