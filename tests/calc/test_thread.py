"""Thread formula: worked make-ups and sizes outside the table."""

from __future__ import annotations

import pytest

from wizard.calc.thread import thread_make_up
from wizard.errors import OutsideValidity


@pytest.mark.parametrize(
    ("size", "turns", "inches"), [("1/2", 3, 0.21429), ("1", 3.25, 0.28261), ("1/4", 3, 0.16667)]
)
def test_make_up(size: str, turns: float, inches: float) -> None:
    assert thread_make_up(size, turns) / 0.0254 == pytest.approx(inches, rel=1e-4)


def test_a_size_outside_the_table_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="size: given 3, accepted 1/8"):
        thread_make_up("3", 3.0)
