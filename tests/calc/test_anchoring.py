"""Bolts and anchors: worked values, refusals, and how clamp and travel behave."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.anchoring import anchor_distances, anchor_embedment, anchor_kinds, torque_share
from wizard.calc.bolt_size import proof_strength, thread_size
from wizard.calc.bolts import (
    back_off_travel,
    bolt_preload,
    bolt_stiffness,
    bolt_stretch,
    residual_preload,
    torque_for_preload,
)
from wizard.errors import InputError
from wizard.quantities import from_si, to_si

INCH = 0.0254
TEN = to_si(10.0, "torque", "lbf·ft")


def five(value: float) -> float:
    """A value rounded to the five digits of a worked one."""
    return float(f"{value:.5g}")


@pytest.mark.parametrize(
    ("unit", "worked"), [("N·m", 13.558), ("kgf·m", 1.3825), ("lbf·in", 120.00)]
)
def test_ten_pound_feet_in_any_unit(unit: str, worked: float) -> None:
    assert five(from_si(TEN, "torque", unit)) == worked


def test_worked_values() -> None:
    preload = bolt_preload(TEN, 0.375 * INCH)
    area = 0.0775 * INCH**2
    assert from_si(preload, "force", "lbf") == pytest.approx(1600.0)
    assert five(torque_for_preload(0.70 * 580e6 * 84.3e-6, 0.012)) == 82.142
    assert five(bolt_stretch(preload, 4 * INCH, area) / INCH) == 0.0028476
    travel = back_off_travel(math.pi / 2, 0.0625 * INCH)
    assert travel / INCH == pytest.approx(0.015625)
    stiffness = bolt_stiffness(4 * INCH, area)
    assert from_si(stiffness, "stiffness", "lbf/in") == pytest.approx(561875.0)
    soft, rigid = (to_si(k, "stiffness", "lbf/in") for k in (5000.0, 4e6))
    left = residual_preload(preload, travel, stiffness, soft)
    assert five(from_si(left, "force", "lbf")) == 1522.6
    assert residual_preload(preload, travel, stiffness, rigid) == 0.0
    spacing, edge = anchor_distances(0.5 * INCH, anchor_kinds()[0])
    assert [five(spacing / INCH), five(edge / INCH)] == [3.0, 4.0]
    assert anchor_embedment(0.5 * INCH, 6 * INCH, 3 * INCH).greatest / INCH == pytest.approx(4.0)


@given(st.floats(1, 600), st.floats(0.006, 0.0254), st.floats(0.1, 0.5))
def test_torque_comes_back_from_its_preload(torque: float, size: float, factor: float) -> None:
    preload = bolt_preload(torque, size, factor)
    assert torque_for_preload(preload, size, factor) == pytest.approx(torque, rel=1e-9)


@given(st.floats(0, 6.28), st.floats(0, 6.28))
def test_turning_back_farther_never_leaves_more_clamp(one: float, other: float) -> None:
    less, more = sorted((one, other))
    left = [
        residual_preload(7000.0, back_off_travel(turn, 0.0016), 1e8, 1e6) for turn in (less, more)
    ]
    assert 0.0 <= left[1] <= left[0]


@given(st.floats(0.05, 2))
def test_greatest_embedment_leaves_a_third_or_four_inches(slab: float) -> None:
    greatest = anchor_embedment(0.0127, slab, 0.05).greatest
    assert slab - greatest == pytest.approx(min(slab / 3, 4 * INCH), rel=1e-9)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: bolt_preload(0.1, 0.01),
            "torque: given 0.07376 lbf·ft (0.1 N·m), "
            "accepted 0.5 lbf·ft to 500 lbf·ft (0.678 N·m to 677.9 N·m).",
        ),
        (
            lambda: bolt_preload(10.0, 0.005),
            "diameter: given 0.1969 in (5 mm), accepted 0.2363 in to 1 in (6 mm to 25.4 mm).",
        ),
        (
            lambda: bolt_preload(10.0, 0.01, 0.6),
            "nut_factor: given 0.6, accepted 0.1 to 0.5.",
        ),
        (
            lambda: proof_strength("9.9", 0.01),
            "grade: given “9.9”, accepted SAE grade 2; SAE grade 5; SAE grade 8; 4.6; 5.8; 8.8; "
            "10.9.",
        ),
        (
            lambda: proof_strength("8.8", 0.030),
            "diameter: given 1.181 in (30 mm), accepted up to 0.9449 in (24 mm).",
        ),
        (
            lambda: torque_share(-1.0, TEN),
            "applied: given -0.7376 lbf·ft (-1 N·m), accepted more than zero.",
        ),
        (
            lambda: anchor_embedment(0.0127, 0.0, 0.05),
            "slab: given 0 in (0 mm), accepted more than zero.",
        ),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence


def test_an_unknown_thread_lists_the_known_ones() -> None:
    with pytest.raises(InputError) as caught:
        thread_size("M11")
    assert "M10" in str(caught.value) and "3/8-16" in str(caught.value)
