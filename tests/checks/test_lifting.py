"""Lifting and moving: every limit on, inside and outside, and what cannot be judged."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.lifting import (
    lift_weight,
    lifting_angle,
    off_centre_lift,
    shackle_capacity,
    sling_capacity,
    sling_geometry,
)
from wizard.checks.moving import fork_capacity, fork_length, route_clearance, tip_angle
from wizard.errors import InputError
from wizard.finding import ORDER, Severity, Verdict
from wizard.quantities import to_si

POUND, INCH = 0.45359237, 0.0254


@pytest.mark.parametrize(
    ("degrees", "verdict", "severity"),
    [
        (90.0, Verdict.PASS, Severity.SAFETY),
        (60.0, Verdict.PASS, Severity.SAFETY),
        (59.9, Verdict.ADVISORY, Severity.ADVISORY),
        (45.0, Verdict.ADVISORY, Severity.ADVISORY),
        (44.9, Verdict.FAIL, Severity.HANDOVER),
        (30.0, Verdict.FAIL, Severity.HANDOVER),
        (29.9, Verdict.FAIL, Severity.SAFETY),
    ],
)
def test_sling_angle(degrees: float, verdict: Verdict, severity: Severity) -> None:
    finding = lifting_angle(math.radians(degrees))
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert bool(finding.ask) == (degrees < 45)


def test_an_angle_from_the_vertical_is_turned_and_never_guessed() -> None:
    turned = lifting_angle(math.radians(25), "from vertical")
    assert math.degrees(turned.results["angle"]) == pytest.approx(65)
    assert lifting_angle(math.radians(65), "not sure").verdict is Verdict.INCONCLUSIVE
    assert lifting_angle(math.radians(65), "not sure").holds


def test_length_and_span_of_the_worked_case() -> None:
    finding = sling_geometry(4 * 0.3048, 4.2 * 0.3048)
    assert math.degrees(finding.results["angle"]) == pytest.approx(58.332, abs=5e-4)
    assert finding.verdict is Verdict.ADVISORY
    assert sling_geometry(2.0, 0.0).verdict is Verdict.PASS
    with pytest.raises(InputError):
        sling_geometry(1.0, 2.0)


def test_four_legs_count_as_two_unless_a_rigger_equalised_them() -> None:
    weight, angle, rating = 1450 * POUND, math.radians(55), 1100 * POUND
    two = sling_capacity(weight, 4, angle, rating)
    assert two.results["tension"] / POUND == pytest.approx(885.06, abs=5e-3)
    assert two.results["utilisation"] == pytest.approx(0.80460, abs=5e-6)
    assert (two.verdict, two.severity) == (Verdict.FAIL, Severity.HANDOVER)
    three = sling_capacity(weight, 4, angle, rating, credited=3)
    assert three.results["tension"] / POUND == pytest.approx(590.04, abs=5e-3)
    assert three.verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("share", "plan", "verdict", "severity"),
    [
        (0.75, None, Verdict.PASS, Severity.SAFETY),
        (0.7501, None, Verdict.FAIL, Severity.HANDOVER),
        (0.7501, True, Verdict.ADVISORY, Severity.ADVISORY),
        (1.0, True, Verdict.ADVISORY, Severity.ADVISORY),
        (1.0001, True, Verdict.FAIL, Severity.SAFETY),
    ],
)
def test_share_of_the_capacity(
    share: float, plan: bool | None, verdict: Verdict, severity: Severity
) -> None:
    finding = sling_capacity(1000.0 * share, 1, math.pi / 2, 1000.0, person_in_charge=plan)
    assert (finding.verdict, finding.severity) == (verdict, severity)


def test_hitch_changes_the_capacity() -> None:
    upright = math.pi / 2
    assert sling_capacity(760.0, 1, upright, 1000.0, "choker").holds
    basket = sling_capacity(1400.0, 1, math.radians(60), 1000.0, "basket")
    assert basket.results["utilisation"] == pytest.approx(1400 / 1732.05, rel=1e-5)
    assert sling_capacity(500.0, 2, math.radians(29), 5000.0).holds


@given(st.floats(30, 4000), st.floats(31, 90), st.floats(31, 90))
def test_a_steeper_sling_is_never_judged_worse(weight: float, one: float, other: float) -> None:
    flat, steep = (math.radians(a) for a in sorted((one, other)))
    worse = sling_capacity(weight, 2, flat, 2000.0)
    better = sling_capacity(weight, 2, steep, 2000.0)
    assert ORDER.index(worse.verdict) <= ORDER.index(better.verdict)


def test_each_leg_by_itself() -> None:
    given_ = (900 * POUND, 14 * INCH, 22 * INCH, 30 * INCH)
    finding = off_centre_lift(*given_, 607 * POUND, True)
    assert finding.results["near"] / POUND == pytest.approx(606.94, abs=5e-3)
    assert finding.results["far"] / POUND == pytest.approx(434.03, abs=5e-3)
    assert finding.verdict is Verdict.ADVISORY
    assert off_centre_lift(*given_, 606 * POUND, True).holds
    assert off_centre_lift(*given_).verdict is Verdict.INCONCLUSIVE
    flat = off_centre_lift(900 * POUND, 1.0, 1.5, 0.5, 9000.0)
    assert flat.holds and "30°" in flat.text


def test_a_shackle_pulled_aside_keeps_less() -> None:
    assert shackle_capacity(700.0, 1000.0, math.radians(45)).verdict is Verdict.ADVISORY
    assert shackle_capacity(701.0, 1000.0, math.radians(45)).holds
    assert shackle_capacity(1000.0, 1000.0).verdict is Verdict.PASS


def test_weight_far_from_its_papers_is_doubted() -> None:
    assert lift_weight(660.0, 10.0, 600.0).verdict is Verdict.PASS
    doubted = lift_weight(661.0, 10.0, 600.0)
    assert doubted.verdict is Verdict.ADVISORY and doubted.ask
    assert doubted.results["gross"] == 671.0


def test_truck_at_its_load_centre() -> None:
    plate = (4000 * POUND, 24 * INCH)
    assert fork_capacity(3200 * POUND, *plate, 30 * INCH).verdict is Verdict.PASS
    assert fork_capacity(3201 * POUND, *plate, 30 * INCH).holds
    assert fork_capacity(4000 * POUND, *plate, 20 * INCH).verdict is Verdict.PASS
    assert fork_capacity(4001 * POUND, *plate, 20 * INCH).holds
    unknown = fork_capacity(500 * POUND, *plate)
    assert unknown.verdict is Verdict.INCONCLUSIVE and unknown.holds


def test_fork_length_and_tipping() -> None:
    assert fork_length(0.8, 1.2).verdict is Verdict.PASS
    assert fork_length(0.799, 1.2).blocks_handover
    worked = tip_angle((9 * INCH, 20 * INCH), 32 * INCH)
    assert math.degrees(worked.results["angle"]) == pytest.approx(15.709, abs=5e-4)
    assert worked.blocks_handover
    assert tip_angle((9 * INCH,), 32 * INCH, True).verdict is Verdict.ADVISORY
    just = math.tan(math.radians(20))
    assert tip_angle((just,), 1.0).verdict is Verdict.PASS
    with pytest.raises(InputError):
        tip_angle((), 1.0)


def test_route() -> None:
    assert route_clearance(0.90, 0.80).verdict is Verdict.PASS
    assert route_clearance(0.899, 0.80).verdict is Verdict.ADVISORY
    assert route_clearance(0.799, 0.80).blocks_handover


def test_the_unit_typed_makes_no_difference() -> None:
    pounds = to_si(1450.0, "mass", "lb")
    kilograms = to_si(657.7089365, "mass", "kg")
    one, other = (
        sling_capacity(w, 2, math.radians(50), 500.0).results["tension"]
        for w in (pounds, kilograms)
    )
    assert one == pytest.approx(other, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: sling_capacity(10.0, 2, 1.0, 500.0),
            "weight: given 22.05 lb (10 kg), accepted 50 lb to 20000 lb (22.68 kg to 9071 kg).",
        ),
        (
            lambda: sling_capacity(500.0, 5, 1.0, 500.0),
            "legs: given 5, accepted 1 to 4.",
        ),
        (
            lambda: sling_capacity(500.0, 2, 1.0, 0.0),
            "rating: given 0 lb (0 kg), accepted more than zero.",
        ),
        (
            lambda: lifting_angle(1.0, "guess"),
            "read_from: given “guess”, accepted from horizontal; from vertical; not sure.",
        ),
        (
            lambda: fork_capacity(500.0, 2000.0, 0.1, 0.6),
            "rated_centre: given 3.937 in (100 mm), "
            "accepted 11.82 in to 59.05 in (300 mm to 1500 mm).",
        ),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence
