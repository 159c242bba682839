"""Oil carried over: worked values and the inverse."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.carry_over import oil_in_air, oil_lost
from wizard.errors import InputError, OutsideValidity


@pytest.mark.parametrize(
    ("milligrams", "flow", "litres"), [(10, 0.85, 0.57955), (30, 0.40, 0.81818), (15, 1.6, 1.6364)]
)
def test_litres_in_a_thousand_hours(milligrams: float, flow: float, litres: float) -> None:
    assert oil_lost(milligrams * 1e-6, flow / 60) * 1000 == pytest.approx(litres, rel=5e-5)


@given(st.floats(0, 1e-3), st.floats(1e-3, 0.1), st.floats(3600, 1e7), st.floats(800, 1050))
def test_top_up_gives_the_concentration_back(
    concentration: float, flow: float, running: float, density: float
) -> None:
    lost = oil_lost(concentration, flow, running, density)
    assert oil_in_air(lost, running, flow, density) == pytest.approx(concentration, abs=1e-15)


def test_what_no_oil_is_is_refused() -> None:
    with pytest.raises(OutsideValidity, match=r"oil density: given 0.7 kg/L, accepted 0.8 kg/L"):
        oil_lost(1e-5, 0.01, density=700.0)
    with pytest.raises(InputError, match="oil in the air: given -1 mg/m3"):
        oil_lost(-1e-6, 0.01)
    with pytest.raises(InputError, match="running time"):
        oil_in_air(1e-3, 0.0, 0.01)
