"""Receiver papers: products, proof pressures and calendar arithmetic."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.receiver_papers import (
    due_date,
    hydrostatic_proof_pressure,
    inspection_time_left,
    pressure_volume,
)
from wizard.errors import InputError, OutsideValidity

DAYS = st.dates(date(1990, 1, 1), date(2040, 1, 1))


@pytest.mark.parametrize(("bar", "litre", "product"), [(10, 270, 2700.0), (8, 24, 192.0)])
def test_product(bar: float, litre: float, product: float) -> None:
    assert pressure_volume(bar * 1e5, litre / 1e3) / 100 == pytest.approx(product)


def test_proof_pressure_by_rule() -> None:
    assert hydrostatic_proof_pressure(200.0) == pytest.approx(260.0)
    assert hydrostatic_proof_pressure(200.0, "simple pressure vessel") == 300.0
    with pytest.raises(OutsideValidity, match="rule"):
        hydrostatic_proof_pressure(200.0, "by feel")


@pytest.mark.parametrize(
    ("last", "months", "due"),
    [
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2025, 1, 31), 1, date(2025, 2, 28)),
        (date(2021, 3, 2), 60, date(2026, 3, 2)),
        (date(2025, 11, 30), 3, date(2026, 2, 28)),
    ],
)
def test_due_date_keeps_to_the_month(last: date, months: int, due: date) -> None:
    assert due_date(last, months) == due


@given(DAYS, st.integers(1, 239))
def test_a_longer_interval_is_never_due_earlier(last: date, months: int) -> None:
    assert due_date(last, months) < due_date(last, months + 1)
    assert last + timedelta(days=27 * months) < due_date(last, months)


def test_inspection_in_the_future_is_refused() -> None:
    with pytest.raises(InputError, match="last inspection: given 2026-03-03"):
        inspection_time_left(date(2026, 3, 3), 60, date(2026, 3, 2))
    with pytest.raises(InputError, match="months: given 0"):
        inspection_time_left(date(2026, 3, 1), 0, date(2026, 3, 2))
