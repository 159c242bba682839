"""Starts per hour: how often the motor starts and how often it may.

Invariant: the table is for starts without load; a start against pressure is outside it.
"""

from __future__ import annotations

from typing import NamedTuple

from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.motor_circuit import power_row
from wizard.formula import formula
from wizard.kinds import MomentOfInertia, Power, Rate, Time
from wizard.quantities import from_si, to_si
from wizard.sources import Source

POLES = ("2", "4", "6")


class AllowedStarts(NamedTuple):
    """Most starts, 1/s, and least rest between them, s."""

    starts: float
    rest: float


@formula(
    "Starts per hour of a cycle",
    equation="starts = 1 / (run + off)",
    results="rate",
    source=Source("definition", "computed"),
)
def cycle_starts(run: Time, off: Time) -> Rate:
    """How often a machine starts that runs and rests in turn.

    n = 1 / (run + off)

    Parameters
    ----------
    run : float
        Time running in one cycle, 1 to 3600, [s]
    off : float
        Time at rest in one cycle, 1 s to 24 h, [s]

    Returns
    -------
    float
        Starts, [1/s]

    Examples
    --------
    >>> round(3600 * cycle_starts(150.0, 240.0), 4)
    9.2308
    """
    within("run", run, "time", "s", 1, 3600)
    above_zero("off", off, "time", "s")
    within("off", off, "time", "h", 0, 24)
    return 1 / (run + off)


@formula(
    "Starts per hour that the motor may make",
    equation="starts = smaller of A and B / inertia for power and poles; rest = C",
    results={"starts": "rate", "rest": "time"},
    source=Source("NEMA MG 10 Table 2-3", "confirmed"),
)
def starts_allowed(
    power: Power, poles: str, inertia: MomentOfInertia | None = None
) -> AllowedStarts:
    """Most starts per hour and least rest of a design A or B motor.

    starts = min(A, B / Wk²), rest = C

    Parameters
    ----------
    power : float
        Rated power, 1.5 to 30 hp; between two rows the larger row, [W]
    poles : str
        2, 4 or 6
    inertia : float, optional
        Inertia of the load at the motor shaft, [kg·m2]

    Returns
    -------
    AllowedStarts
        Starts, [1/s], and rest, [s]

    Notes
    -----
    The table is written for three-phase motors that start unloaded. A single-phase motor
    starts harder, so for it the table is an upper bound.

    Examples
    --------
    25 hp, 4 poles, 50 lb·ft²: 2.44 starts an hour (MG 10 Table 2-3 example):

    >>> hp, lbft2 = 745.69987158227, 0.45359237 * 0.3048**2
    >>> round(3600 * starts_allowed(25 * hp, "4", 50 * lbft2).starts, 6)
    2.44
    """
    one_of("poles", poles, POLES)
    row, _ = power_row("motor_starts", power)
    most = float(row[f"starts{poles}"])
    if inertia is not None:
        above_zero("inertia", inertia, "moment of inertia", "lb·ft2")
        most = min(most, row[f"inertia{poles}"] / from_si(inertia, "moment of inertia", "lb·ft2"))
    return AllowedStarts(to_si(most, "rate", "/h"), float(row[f"rest{poles}"]))
