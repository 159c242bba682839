"""Fork trucks, tipping and the way to the place."""

from __future__ import annotations

import math
from dataclasses import replace

from wizard.calc.accepted import within
from wizard.calc.moving import fork_capacity_at, fork_reach, route_room, tipping_angle
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Length, Mass
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

TRUCK = Source("29 CFR 1910.178(o)(2), loads within the rated capacity", "confirmed")
FORK_SHARE = 2 / 3
TIP = math.radians(20)
ELBOW_ROOM = 0.1


@check(
    "Fork truck capacity at the load centre",
    severity=Severity.SAFETY,
    source=TRUCK,
    results={"capacity": "mass"},
)
def fork_capacity(
    weight: Mass, rated: Mass, rated_centre: Length, load_centre: Length | None = None
) -> Finding:
    """The load against what the truck may carry that far out.

    Parameters
    ----------
    weight : float
        Weight on the forks, 23 to 9000, [kg]
    rated : float
        Capacity on the truck's plate, [kg]
    rated_centre : float
        Load centre on the truck's plate, 0.3 to 1.5, [m]
    load_centre : float, optional
        From the face of the forks to the machine's centre of gravity, [m]
    """
    within("weight", weight, "mass", "lb", 50, 20000)
    within("rated_centre", rated_centre, "length", "mm", 300, 1500)
    danger = "The truck tips forward and the machine falls on whoever stands near."
    if load_centre is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "The load centre is not known, so the truck's capacity is not known.",
            Severity.SAFETY,
            danger=danger,
            clears="Measure from the face of the forks to the machine's centre of gravity.",
        )
    within("load_centre", load_centre, "length", "mm", 50, 3000)
    capacity, step = work(
        fork_capacity_at, rated=rated, rated_centre=rated_centre, load_centre=load_centre
    )
    holds = at_most(weight, capacity)
    return Finding(
        Verdict.PASS if holds else Verdict.FAIL,
        "The truck may carry the machine at this load centre."
        if holds
        else "The machine is too heavy for the truck at this load centre.",
        Severity.SAFETY,
        Quantity(weight, "mass"),
        Limit(None, capacity, "mass"),
        (step,),
        danger=danger,
        clears="" if holds else "Take a larger truck, or bring the load closer to the forks' face.",
        results={"capacity": capacity},
    )


@check(
    "Length of the forks",
    severity=Severity.HANDOVER,
    source=COMMON_PRACTICE,
)
def fork_length(fork: Length, depth: Length) -> Finding:
    """Fork blades reach at least two thirds under the load.

    Parameters
    ----------
    fork : float
        Length of the blades, 0.3 to 3, [m]
    depth : float
        Depth of machine and skid in the direction of the forks, 0.2 to 4, [m]
    """
    within("fork", fork, "length", "mm", 300, 3000)
    within("depth", depth, "length", "mm", 200, 4000)
    share, step = work(fork_reach, fork=fork, depth=depth)
    enough = at_least(share, FORK_SHARE)
    return Finding(
        Verdict.PASS if enough else Verdict.FAIL,
        "The forks reach at least two thirds under the load."
        if enough
        else "The forks are shorter than two thirds of the load.",
        Severity.HANDOVER,
        Quantity(share, "ratio"),
        Limit(FORK_SHARE, None, "ratio"),
        (step,),
        danger="A load that overhangs the forks tips off their ends.",
        clears="" if enough else "Pick the machine up from its longer side, or take longer forks.",
    )


@check(
    "Tilt at which the machine tips",
    severity=Severity.HANDOVER,
    source=OUR_JUDGEMENT,
    results={"angle": "angle"},
)
def tip_angle(
    half_widths: tuple[Length, ...], height: Length, strapped: bool | None = None
) -> Finding:
    """The slope at which the machine falls over, in its narrowest direction.

    Parameters
    ----------
    half_widths : tuple
        Level distances from the centre of gravity to the edges of the base, [m]
    height : float
        Height of the centre of gravity above the floor, 0.1 to 3, [m]
    strapped : bool, optional
        Whether it is strapped to the truck or moved by a method that cannot tip it
    """
    if not half_widths:
        raise InputError("half_widths", "nothing", "one for each direction")
    within("height", height, "length", "mm", 100, 3000)
    for half in half_widths:
        within("half_widths", half, "length", "mm", 20, 3000)
    angle, step = work(tipping_angle, half_width=min(half_widths), height=height)
    finding = Finding(
        Verdict.PASS,
        "The machine stands firm enough to be moved upright.",
        Severity.HANDOVER,
        Quantity(angle, "angle"),
        Limit(TIP, None, "angle"),
        (step,),
        danger="The machine is top-heavy; on a ramp or a door sill it falls on somebody's legs.",
        results={"angle": angle},
    )
    if at_least(angle, TIP):
        return finding
    if strapped:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="It tips below 20°, and is strapped for the move.",
            clears="Keep the straps on until it stands in its place.",
        )
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text="It tips below 20°.",
        clears="Strap it to the truck, or move it by a way that cannot tip it.",
    )


@check(
    "Room on the way",
    severity=Severity.HANDOVER,
    source=OUR_JUDGEMENT,
    results={"room": "length"},
)
def route_clearance(opening: Length, load: Length) -> Finding:
    """Whether the machine fits through the narrowest place, with room for hands.

    Parameters
    ----------
    opening : float
        Clear width of the narrowest place, 0.3 to 20, [m]
    load : float
        Width of the machine as it travels, 0.2 to 5, [m]
    """
    within("opening", opening, "length", "mm", 300, 20_000)
    within("load", load, "length", "mm", 200, 5000)
    room, step = work(route_room, opening=opening, load=load)
    finding = Finding(
        Verdict.PASS,
        "The machine fits through with room on both sides.",
        Severity.HANDOVER,
        Quantity(load, "length"),
        Limit(None, opening, "length"),
        (step,),
        danger="Fingers are crushed between machine and door frame.",
        results={"room": room},
    )
    if room < 0:
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="The machine does not fit through the narrowest place.",
            clears="Find another way, or take the skid or the door frame off first.",
        )
    if not at_least(room, ELBOW_ROOM):
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="It fits, with less than 100 mm (4 in) for both sides together.",
            clears="Keep hands off the sides; one person watches each side.",
        )
    return finding
