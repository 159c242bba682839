"""Floor: what it carries on average and under a foot, and whether the machine is level."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.calc.floor import (
    ACI,
    allowed_bearing,
    average_floor_load,
    floor_class,
    foot_pressure,
    machine_slope,
)
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Area, Length, Mass, Stress
from wizard.quantities import Quantity, at_most, to_si
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

FLOORS = Source("International Building Code, live loads of manufacturing floors", "memory")
HEAVIEST = to_si(float(table("floor_live_loads").rows[-1]["load"]), "stress", "psf")
FEET = {"three": 3, "four": 4}
WEAKEST = to_si(2500.0, "stress", "psi")
LEVEL, OUT_OF_LEVEL = (1 / 96, 1 / 48)
DIRECTIONS = ("toward the drain", "away from the drain", "no slope to see")

COLLAPSE = "The floor cracks or gives way under the machine and the people beside it."


@check(
    "Average load on the floor",
    severity=Severity.SAFETY,
    source=(FLOORS, Source("rating of the floor by its owner or engineer", "judgement")),
    results={"load": "stress"},
)
def floor_load(
    weight: Mass, length: Length, width: Length, rating: Stress | None = None
) -> Finding:
    """Weight over footprint against the rated live load of the floor.

    Parameters
    ----------
    weight : float
        Weight of the machine as it stands, 23 to 9000, [kg]
    length : float
        Length of the footprint, 0.2 to 6, [m]
    width : float
        Width of the footprint, 0.2 to 6, [m]
    rating : float, optional
        Rated live load of the floor, [Pa]
    """
    within("weight", weight, "mass", "lb", 50, 20000)
    within("length", length, "length", "mm", 200, 6000)
    within("width", width, "length", "mm", 200, 6000)
    load, step = work(average_floor_load, weight=weight, length=length, width=width)
    steps = [step]
    if at_most(load, HEAVIEST):
        steps.append(work(floor_class, load=load)[1])
    finding = Finding(
        Verdict.INCONCLUSIVE,
        "The rated live load of the floor is not known.",
        Severity.SAFETY,
        Quantity(load, "stress"),
        None,
        tuple(steps),
        danger=COLLAPSE,
        clears="Ask the owner or a structural engineer for the rating before it is set down.",
        results={"load": load},
    )
    if rating is None:
        return finding
    within("rating", rating, "stress", "psf", 20, 5000)
    holds = at_most(load, rating)
    return replace(
        finding,
        verdict=Verdict.PASS if holds else Verdict.FAIL,
        text="The floor is rated for the machine."
        if holds
        else "The machine is heavier per area than the floor is rated for.",
        limit=Limit(None, rating, "stress"),
        clears="" if holds else "Spread the weight on beams by an engineer's drawing, or move it.",
    )


@check(
    "Pressure under a foot",
    severity=Severity.SAFETY,
    source=(ACI, OUR_JUDGEMENT),
    results={"pressure": "stress"},
)
def floor_bearing(
    weight: Mass, feet: str, contact: Area, strength: Stress | None = None
) -> Finding:
    """Pressure of the worst foot against what the concrete takes.

    Parameters
    ----------
    weight : float
        Weight of the machine as it stands, 23 to 9000, [kg]
    feet : str
        Feet of the machine, three or four
    contact : float
        Area of one foot or pad on the floor, [m2]
    strength : float, optional
        Compressive strength of the concrete, 10 MPa to 70 MPa, [Pa]
    """
    within("weight", weight, "mass", "lb", 50, 20000)
    one_of("feet", feet, tuple(FEET))
    pressure, first = work(foot_pressure, weight=weight, feet=FEET[feet], contact=contact)
    allowed, second = work(allowed_bearing, strength=strength or WEAKEST)
    finding = Finding(
        Verdict.PASS,
        "The concrete takes the pressure of the feet.",
        Severity.SAFETY,
        Quantity(pressure, "stress"),
        Limit(None, allowed, "stress"),
        (first, second),
        danger="The slab crushes under a foot, the machine leans and shakes itself loose.",
        results={"pressure": pressure},
    )
    if not at_most(pressure, allowed):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="The feet press harder than the concrete takes.",
            clears="Put steel plates under the feet to spread the load.",
        )
    if strength is None:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Strength of the concrete not known; it would do at 2500 psi (17 MPa).",
            clears="Ask the owner for the strength of the slab.",
        )
    return finding


@check(
    "Level of the machine",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"slope": "ratio", "angle": "angle"},
)
def machine_level(rise: Length, run: Length, direction: str = "no slope to see") -> Finding:
    """Level within 1/8 in per foot, and never sloping away from the drain.

    Parameters
    ----------
    rise : float
        Height difference over the length of the level, 0 to 0.5, [m]
    run : float
        Length of the level, 0.1 to 3, [m]
    direction : str, optional
        toward the drain, away from the drain or no slope to see
    """
    one_of("direction", direction, DIRECTIONS)
    within("rise", rise, "length", "mm", 0, 500)
    within("run", run, "length", "mm", 100, 3000)
    slope, step = work(machine_slope, rise=rise, run=run)
    finding = Finding(
        Verdict.PASS,
        "The machine is level.",
        Severity.HANDOVER,
        Quantity(slope.slope, "ratio"),
        Limit(None, OUT_OF_LEVEL, "ratio"),
        (step,),
        danger="Oil runs away from the dipper and water from the drain: the pump seizes, the "
        "tank rusts through.",
        results={"slope": slope.slope, "angle": slope.angle},
    )
    if rise > 0 and direction == "away from the drain":
        wrong = "It slopes away from the drain, so water stays in the tank."
    elif not at_most(slope.slope, OUT_OF_LEVEL):
        wrong = "It is out of level by more than 1/4 in per foot (21 mm per metre)."
    elif not at_most(slope.slope, LEVEL):
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="It is out of level by more than 1/8 in per foot (10 mm per metre).",
            clears="Shim it level while it is easy.",
        )
    else:
        return finding
    clears = "Shim the feet until it is level, or falls slightly toward the drain."
    return replace(finding, verdict=Verdict.FAIL, text=wrong, clears=clears)
