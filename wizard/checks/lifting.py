"""Slings: angle, capacity of each leg, centre of gravity off the middle, shackles, weight.

Invariant: an angle below 30° from the horizontal and a leg above its capacity are never lifted.
"""

from __future__ import annotations

import math
from dataclasses import replace

from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.lifting import (
    STATICS,
    credited_legs,
    hitch_capacity,
    hook_height,
    leg_tension,
    shackle_side_capacity,
    sling_angle,
    two_leg_tensions,
)
from wizard.calc.loads import hook_load, sling_utilisation, weight_difference
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Angle, Length, Mass
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

MIN_ANGLE, GOOD_ANGLE, BEST_ANGLE = (math.radians(a) for a in (30, 45, 60))
CRITICAL = 0.75
WEIGHT_DOUBT = 0.10

ANGLES = Source("ASME B30.9, horizontal sling angle of at least 30°", "memory")
RATED = Source("29 CFR 1926.251 and 1910.184, rated capacity of slings", "confirmed")
HARDWARE = Source("ASME B30.26, rigging hardware", "memory")

CRUSH = "A leg breaks or slips, the machine falls or rolls, and crushes whoever is near."
LONGER = "Use longer slings or a spreader; a qualified rigger decides."


def _angle_finding(angle: float, working: tuple[Step, ...] = ()) -> Finding:
    """What an angle from the horizontal is worth."""
    finding = Finding(
        Verdict.PASS,
        "The slings stand at 60° from the horizontal or steeper.",
        Severity.SAFETY,
        Quantity(angle, "angle"),
        Limit(GOOD_ANGLE, math.pi / 2, "angle"),
        working,
        danger=CRUSH,
    )
    if not at_least(angle, MIN_ANGLE):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="Flatter than 30° from the horizontal: each leg pulls more than the machine "
            "weighs.",
            clears=LONGER,
            ask="Was the angle read from the vertical? It must be from the horizontal.",
        )
    if not at_least(angle, GOOD_ANGLE):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            severity=Severity.HANDOVER,
            text="Flatter than 45° from the horizontal.",
            clears=LONGER,
            ask="Was the angle read from the vertical? It must be from the horizontal.",
        )
    if not at_least(angle, BEST_ANGLE):
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Between 45° and 60° from the horizontal; 60° is better.",
            clears="Take longer slings if there is headroom.",
        )
    return finding


@check(
    "Angle of the slings",
    severity=Severity.SAFETY,
    source=(ANGLES, OUR_JUDGEMENT),
    results={"angle": "angle"},
)
def lifting_angle(angle: Angle, read_from: str = "from horizontal") -> Finding:
    """The angle of a sling leg, read on the rigged sling.

    Parameters
    ----------
    angle : float
        Angle of the flattest leg, above 0 to 90°, [rad]
    read_from : str, optional
        from horizontal, from vertical or not sure
    """
    one_of("read_from", read_from, ("from horizontal", "from vertical", "not sure"))
    above_zero("angle", angle, "angle", "°")
    within("angle", angle, "angle", "°", 0, 90)
    if read_from == "not sure":
        return Finding(
            Verdict.INCONCLUSIVE,
            "Not known from where the angle was read.",
            Severity.SAFETY,
            danger=CRUSH,
            clears="Read it again from the horizontal, or give sling length and span.",
        )
    flat = math.pi / 2 - angle if read_from == "from vertical" else angle
    return replace(_angle_finding(flat), results={"angle": flat})


@check(
    "Angle of the slings from length and span",
    severity=Severity.SAFETY,
    source=(ANGLES, OUR_JUDGEMENT),
    results={"angle": "angle", "height": "length"},
)
def sling_geometry(length: Length, span: Length) -> Finding:
    """The angle that slings of a length make over pick points a span apart.

    Parameters
    ----------
    length : float
        Length of one sling leg, bearing to bearing, [m]
    span : float
        Distance between opposite pick points; 0 for one vertical sling, [m]
    """
    within("length", length, "length", "m", 0.1, 20)
    height, first = work(hook_height, length=length, span=span)
    angle, second = work(sling_angle, height=height, distance=span / 2)
    results = {"angle": angle, "height": height}
    return replace(_angle_finding(angle, (first, second)), results=results)


def _use_finding(use: float, person_in_charge: bool | None, working: tuple[Step, ...]) -> Finding:
    """What a share of the capacity is worth."""
    finding = Finding(
        Verdict.PASS,
        "Each leg stays within three quarters of its capacity.",
        Severity.SAFETY,
        Quantity(use, "ratio"),
        Limit(None, 1.0, "ratio"),
        working,
        danger=CRUSH,
        results={"utilisation": use},
    )
    if not at_most(use, 1.0):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="A leg would carry more than its rated capacity.",
            clears="Take stronger slings or a steeper angle; a qualified rigger decides.",
        )
    if at_most(use, CRITICAL):
        return finding
    if person_in_charge:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Above three quarters of the capacity, as a planned lift with a person in charge.",
            clears="Lift as the plan says; stop if anything differs from it.",
        )
    return replace(
        finding,
        verdict=Verdict.FAIL,
        severity=Severity.HANDOVER,
        text="Above three quarters of the capacity: a critical lift.",
        clears="Take a stronger sling, or plan it as a critical lift with a person in charge.",
    )


@check(
    "Share of the slings' rating",
    severity=Severity.SAFETY,
    source=(STATICS, RATED, OUR_JUDGEMENT),
    results={"tension": "mass", "utilisation": "ratio"},
)
def sling_capacity(
    weight: Mass,
    legs: int,
    angle: Angle,
    wll: Mass,
    hitch: str = "straight",
    credited: int = 2,
    person_in_charge: bool | None = None,
) -> Finding:
    """Tension of the credited legs against the working load on the tag.

    Parameters
    ----------
    weight : float
        Weight on the hook, with rigging, 23 to 9000, [kg]
    legs : int
        Legs of the sling, 1 to 4
    angle : float
        Angle of the legs from the horizontal, above 0 to 90°; one leg hangs vertical, [rad]
    wll : float
        Working load of one leg: vertical rating, or the choker rating with hitch straight, [kg]
    hitch : str, optional
        straight, choker or basket
    credited : int, optional
        Legs that are taken to carry, 2 or 3; never 4
    person_in_charge : bool, optional
        Whether a written lift plan names a person in charge
    """
    count, count_step = work(credited_legs, legs=legs, limit=credited)
    basket = hitch == "basket"
    pull_angle = math.pi / 2 if basket or legs == 1 else angle
    tension, pull = work(leg_tension, weight=weight, credited=count, angle=pull_angle)
    capacity, held = work(
        hitch_capacity, rating=wll, hitch=hitch, angle=angle if basket else math.pi / 2
    )
    use, share = work(sling_utilisation, load=tension, capacity=capacity)
    steps = (count_step, pull, held, share)
    results = {"tension": tension, "utilisation": use}
    if not at_least(angle, MIN_ANGLE) and (basket or legs > 1):
        return replace(_angle_finding(angle, steps), results=results)
    return replace(_use_finding(use, person_in_charge, steps), results=results)


@check(
    "Two legs, centre of gravity off the middle",
    severity=Severity.SAFETY,
    source=(STATICS, ANGLES, OUR_JUDGEMENT),
    results={"near": "mass", "far": "mass", "utilisation": "ratio"},
)
def off_centre_lift(
    weight: Mass,
    near_distance: Length,
    far_distance: Length,
    height: Length,
    wll: Mass | None = None,
    person_in_charge: bool | None = None,
) -> Finding:
    """Each leg by itself when hook and centre of gravity are not over the middle.

    Parameters
    ----------
    weight : float
        Weight on the hook, with rigging, 23 to 9000, [kg]
    near_distance : float
        Level distance from the centre of gravity to the nearer pick point, [m]
    far_distance : float
        Level distance from the centre of gravity to the farther pick point, [m]
    height : float
        Height of the hook above the pick points, [m]
    wll : float, optional
        Working load of one leg in the hitch used, [kg]
    person_in_charge : bool, optional
        Whether a written lift plan names a person in charge
    """
    tensions, pull = work(
        two_leg_tensions,
        weight=weight,
        near_distance=near_distance,
        far_distance=far_distance,
        height=height,
    )
    flattest = max(near_distance, far_distance)
    angle, slope = work(sling_angle, height=height, distance=flattest)
    results = {"near": tensions.near, "far": tensions.far}
    flat = _angle_finding(angle, (pull, slope))
    if flat.verdict is Verdict.FAIL and flat.severity is Severity.SAFETY:
        return replace(flat, results=results)
    if wll is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "The working load of a leg is not known.",
            Severity.SAFETY,
            working=(pull, slope),
            danger=CRUSH,
            clears="Read the sling tag; a sling without a readable tag is not used.",
            results=results,
        )
    use, share = work(sling_utilisation, load=max(tensions), capacity=wll)
    used = _use_finding(use, person_in_charge, (pull, share, slope))
    results["utilisation"] = use
    if used.verdict is Verdict.FAIL or flat.verdict is Verdict.PASS:
        return replace(used, results=results)
    return replace(flat, working=used.working, results=results)


@check(
    "Share of the shackle's rating",
    severity=Severity.SAFETY,
    source=HARDWARE,
    results={"utilisation": "ratio"},
)
def shackle_capacity(tension: Mass, wll: Mass, side_angle: Angle = 0.0) -> Finding:
    """A shackle carries the pull of its leg, less when pulled from the side.

    Parameters
    ----------
    tension : float
        Pull of the leg on this shackle, [kg]
    wll : float
        Working load stamped on the shackle, [kg]
    side_angle : float, optional
        Angle of the pull from the line of the shackle, 0 to 90°, [rad]
    """
    capacity, held = work(shackle_side_capacity, rating=wll, side_angle=side_angle)
    use, share = work(sling_utilisation, load=tension, capacity=capacity)
    finding = Finding(
        Verdict.PASS,
        "The shackle carries the pull of its leg.",
        Severity.SAFETY,
        Quantity(use, "ratio"),
        Limit(None, 1.0, "ratio"),
        (held, share),
        danger=CRUSH,
        results={"utilisation": use},
    )
    if not at_most(use, 1.0):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="The shackle would carry more than it may at that angle.",
            clears="Fit a larger shackle and line it up with the pull.",
        )
    if side_angle > 0:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The shackle is pulled from the side; it holds, with less in hand.",
            clears="Turn the shackle into the line of the pull.",
        )
    return finding


@check(
    "Weight on the hook",
    severity=Severity.ADVISORY,
    source=(STATICS, OUR_JUDGEMENT),
    results={"gross": "mass"},
)
def lift_weight(weight: Mass, rigging: Mass = 0.0, stated: Mass | None = None) -> Finding:
    """Weight of machine, skid and rigging together, compared with the papers.

    Parameters
    ----------
    weight : float
        Weight by the scale or the crate label, 23 to 9000, [kg]
    rigging : float, optional
        Weight of slings, shackles and spreader, [kg]
    stated : float, optional
        Weight in the machine's papers, [kg]
    """
    gross, step = work(hook_load, load=weight, rigging=rigging)
    finding = Finding(
        Verdict.PASS,
        "Weight with rigging, as the hook carries it.",
        Severity.ADVISORY,
        Quantity(gross, "mass"),
        None,
        (step,),
        results={"gross": gross},
    )
    if stated is None:
        return finding
    difference, compared = work(weight_difference, weighed=weight, stated=stated)
    finding = replace(finding, working=(step, compared))
    if at_most(abs(difference), WEIGHT_DOUBT):
        return finding
    return replace(
        finding,
        verdict=Verdict.ADVISORY,
        text="More than 10 % away from the weight in the papers.",
        ask="The weight differs from the papers by more than 10 %; lb typed as kg?",
        clears="Weigh it, or lift with the larger of the two weights.",
    )
