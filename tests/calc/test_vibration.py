"""Vibration formula: a worked value and a refusal."""

from __future__ import annotations

import pytest

from wizard.calc.vibration import rms_of_peak
from wizard.errors import InputError


def test_peak_over_root_two() -> None:
    assert rms_of_peak(1.414213562) == pytest.approx(1.0, rel=1e-9)
    assert rms_of_peak(0.0) == 0.0


def test_negative_peak_is_refused() -> None:
    with pytest.raises(InputError, match=r"peak: given -39\.37 in/s \(-1000 mm/s\)"):
        rms_of_peak(-1.0)
