"""Lifting: worked values, refusals, and how tension follows angle and legs."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.lifting import (
    credited_legs,
    hitch_capacity,
    hook_height,
    leg_tension,
    shackle_side_capacity,
    sling_angle,
    two_leg_tensions,
)
from wizard.calc.loads import hook_load, sling_utilisation
from wizard.calc.moving import fork_capacity_at, tipping_angle
from wizard.errors import InputError

INCH, FOOT = 0.0254, 0.3048
slopes = st.floats(math.radians(1), math.radians(90))


def five(value: float) -> float:
    """A value rounded to the five digits of a worked one."""
    return float(f"{value:.5g}")


def test_worked_values() -> None:
    assert five(leg_tension(1450.0, 2, math.radians(55))) == 885.06
    assert five(leg_tension(1450.0, 3, math.radians(55))) == 590.04
    near, far = two_leg_tensions(900.0, 14 * INCH, 22 * INCH, 30 * INCH)
    assert [five(near), five(far)] == [606.94, 434.03]
    rise = hook_height(4 * FOOT, 4.2 * FOOT)
    assert five(math.degrees(sling_angle(rise, 2.1 * FOOT))) == 58.332
    assert five(math.degrees(tipping_angle(9 * INCH, 32 * INCH))) == 15.709
    assert fork_capacity_at(4000.0, 24 * INCH, 30 * INCH) == pytest.approx(3200.0)
    assert five(sling_utilisation(885.06, 1100.0)) == 0.80460


@given(st.floats(30, 9000), st.integers(1, 3), slopes)
def test_the_legs_together_hold_the_weight(weight: float, legs: int, angle: float) -> None:
    tension = leg_tension(weight, legs, angle)
    assert legs * tension * math.sin(angle) == pytest.approx(weight, rel=1e-9)


@given(st.floats(30, 9000), slopes, slopes)
def test_a_flatter_sling_never_pulls_less(weight: float, one: float, other: float) -> None:
    flat, steep = sorted((one, other))
    assert leg_tension(weight, 2, flat) >= leg_tension(weight, 2, steep) * (1 - 1e-12)


@given(st.floats(0.01, 2), st.floats(0.01, 2), st.floats(0.1, 5))
def test_two_legs_balance_up_and_sideways(near: float, far: float, height: float) -> None:
    one, other = two_leg_tensions(900.0, near, far, height)
    up = one * height / math.hypot(near, height) + other * height / math.hypot(far, height)
    sideways = one * near / math.hypot(near, height) - other * far / math.hypot(far, height)
    assert up == pytest.approx(900.0, rel=1e-9)
    assert sideways == pytest.approx(0.0, abs=1e-6)


@given(st.floats(0.2, 10), st.floats(0, 0.19))
def test_length_comes_back_from_height_and_span(length: float, span: float) -> None:
    assert math.hypot(hook_height(length, span), span / 2) == pytest.approx(length, rel=1e-9)


@given(st.integers(1, 4), st.integers(2, 3))
def test_a_fourth_leg_is_never_credited(legs: int, limit: int) -> None:
    assert credited_legs(legs, limit) <= min(legs, 3)


@given(st.floats(500, 5000), st.floats(0.3, 1.5), st.floats(0.1, 3), st.floats(0.1, 3))
def test_a_truck_never_carries_more_farther_out(
    rated: float, centre: float, one: float, other: float
) -> None:
    close, out = sorted((one, other))
    capacity = fork_capacity_at(rated, centre, out)
    assert capacity <= fork_capacity_at(rated, centre, close) <= rated


def test_basket_and_side_pull_between_tabled_angles_are_on_the_safe_side() -> None:
    assert hitch_capacity(100.0, "basket", math.radians(30)) == pytest.approx(100.0)
    assert shackle_side_capacity(100.0, math.radians(46)) == 50.0


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: leg_tension(20.0, 2, 1.0),
            "weight: given 44.09 lb (20 kg), accepted 50 lb to 20000 lb (22.68 kg to 9071 kg).",
        ),
        (lambda: leg_tension(500.0, 2, 0.0), "angle: given 0 °, accepted more than zero."),
        (lambda: leg_tension(500.0, 2, 2.0), "angle: given 114.6 °, accepted 0 ° to 90 °."),
        (lambda: credited_legs(5), "legs: given 5, accepted 1 to 4."),
        (lambda: credited_legs(4, 4), "limit: given 4, accepted 2 to 3."),
        (
            lambda: hook_height(1.0, 2.0),
            "length: given a sling no longer than half the span, "
            "accepted a sling longer than half the span.",
        ),
        (
            lambda: hitch_capacity(100.0, "granny"),
            "hitch: given “granny”, accepted straight; choker; basket.",
        ),
        (
            lambda: hook_load(500.0, -1.0),
            "rigging: given -2.205 lb (-1 kg), accepted zero or more.",
        ),
        (
            lambda: sling_utilisation(1.0, 0.0),
            "capacity: given 0 lb (0 kg), accepted more than zero.",
        ),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence
