"""Space in front of a panel: volts to ground, the printed depth, approach to live parts."""

from __future__ import annotations

import math

from wizard.calc.accepted import one_of, within
from wizard.formula import formula
from wizard.kinds import Length, Voltage
from wizard.quantities import to_si
from wizard.sources import Source
from wizard.tables import table

SYSTEMS = {
    "wye with grounded neutral": 1 / math.sqrt(3),
    "delta, ungrounded or one corner grounded": 1.0,
    "delta, one winding grounded in the middle (high leg)": math.sqrt(3) / 2,
    "single phase, grounded in the middle": 0.5,
    "single phase, one line grounded": 1.0,
}
"""Share of the voltage between lines that can stand against ground."""

OPPOSITES = ("nothing", "grounded", "live")
VICINITY = Source("EN 50110-1 Table A.1, guidance for distances in air, below 1 kV", "confirmed")
KEPT_BACK = Source(
    "the barrier at 1.07 m (42 in) is wider than the zone of EN 50110-1, on purpose; national "
    "rules may ask for more",
    "judgement",
)
BYSTANDERS = to_si(42.0, "length", "in")


@formula(
    "Volts to ground of a supply",
    equation="to ground = line_voltage × factor of system",
    results="voltage",
    source=Source("phasor diagram of the supply", "computed"),
)
def volts_to_ground(line_voltage: Voltage, system: str) -> float:
    """Highest voltage to ground of any conductor.

    wye 1/sqrt(3), delta 1, high-leg delta sqrt(3)/2, single phase 1/2 or 1

    Parameters
    ----------
    line_voltage : float
        Nominal voltage between lines, 100 to 600, [V]
    system : str
        How the supply is grounded

    Returns
    -------
    float
        Voltage to ground, [V]

    Examples
    --------
    208Y is 120 V, 480Y is 277 V, a 240 V delta counts 240 V, its high leg 208 V:

    >>> wye, delta, high_leg = tuple(SYSTEMS)[:3]
    >>> [round(volts_to_ground(v, s)) for v, s in
    ...  ((208.0, wye), (480.0, wye), (240.0, delta), (240.0, high_leg))]
    [120, 277, 240, 208]
    """
    one_of("system", system, tuple(SYSTEMS))
    within("line_voltage", line_voltage, "voltage", "V", 100, 600)
    return line_voltage * SYSTEMS[system]


@formula(
    "Clear depth in front of a panel",
    equation="depth = Table S-1 for to_ground and opposite",
    results="length",
    source=Source("29 CFR 1910.303 Table S-1, as NEC 110.26(A)(1)", "confirmed"),
)
def panel_depth(to_ground: Voltage, opposite: str) -> float:
    """Least clear depth in front of parts that may be worked on live.

    Parameters
    ----------
    to_ground : float
        Voltage to ground, above 0 to 600, [V]
    opposite : str
        nothing, grounded (a concrete, brick or tile wall counts) or live

    Returns
    -------
    float
        Clear depth, [m]

    Examples
    --------
    277 V to ground facing a concrete wall needs 3 1/2 ft:

    >>> round(panel_depth(277.0, "grounded") / 0.3048, 6)
    3.5
    """
    within("to_ground", to_ground, "voltage", "V", 1, 600)
    one_of("opposite", opposite, OPPOSITES)
    rows = table("working_space")
    top = rows.at_or_above("to_ground", to_ground)["to_ground"]
    inches = next(
        r["depth"] for r in rows.rows if (r["to_ground"], r["opposite"]) == (top, opposite)
    )
    return to_si(float(inches), "length", "in")


@formula(
    "Limited approach to live parts",
    equation="distance = limited approach boundary for voltage",
    results="length",
    source=Source("NFPA 70E Table 130.4, shock protection approach boundaries", "memory"),
)
def limited_approach(voltage: Voltage) -> float:
    """Distance from live parts inside which only a qualified person may be.

    Parameters
    ----------
    voltage : float
        Voltage between phases, 50 to 750, [V]

    Returns
    -------
    float
        Limited approach boundary for fixed parts, [m]

    Examples
    --------
    >>> round(limited_approach(480.0) / 0.0254, 6)
    42.0
    """
    within("voltage", voltage, "voltage", "V", 50, 750)
    row = table("approach_boundaries").at_or_above("voltage", voltage)
    return to_si(float(row["limited"]), "length", "in")


@formula(
    "Vicinity zone of live parts",
    equation="distance = outer limit of the vicinity zone for voltage",
    results="length",
    source=VICINITY,
)
def vicinity_zone(voltage: Voltage) -> float:
    """Distance from live parts inside which work is work in the vicinity of live parts.

    Parameters
    ----------
    voltage : float
        Nominal voltage, 50 to 1000, [V]

    Returns
    -------
    float
        Outer limit of the vicinity zone, [m]

    Examples
    --------
    >>> vicinity_zone(400.0)
    0.3
    """
    within("voltage", voltage, "voltage", "V", 50, 1000)
    row = table("vicinity_zone").at_or_above("voltage", voltage)
    return to_si(float(row["vicinity"]), "length", "mm")


@formula(
    "Distance of everybody else from live parts",
    equation="distance = the greater of vicinity and 1.07 m",
    results="length",
    source=KEPT_BACK,
)
def barrier_distance(vicinity: Length) -> float:
    """Where the barrier stands for those who are no electricians; never inside the zone.

    Parameters
    ----------
    vicinity : float
        Outer limit of the vicinity zone, up to 10, [m]

    Returns
    -------
    float
        Distance of the barrier, [m]

    Examples
    --------
    The 42 in of US practice are wider than a zone of 300 mm:

    >>> round(barrier_distance(0.3) / 0.0254, 6)
    42.0
    """
    within("vicinity", vicinity, "length", "m", 0, 10)
    return max(vicinity, BYSTANDERS)
