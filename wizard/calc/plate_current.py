"""The current of a motor plate from what else stands on it, or from what such motors are like.

Invariant: rated values only; nothing here is a reading of the running machine.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from wizard.calc.accepted import above_zero, one_of
from wizard.calc.motor_circuit import PHASES
from wizard.calc.motor_load import AC_POWER, EFFICIENCY, POWER_FACTOR, assumed_efficiency, share
from wizard.calc.supply import plate_voltage
from wizard.formula import formula
from wizard.kinds import Current, Power, Ratio, Voltage
from wizard.sources import OUR_JUDGEMENT, Source
from wizard.tables import table

WORSE, BETTER = 0.12, 0.06
"""By which a motor's efficiency may lie below and above the one assumed for its size."""


class UsualCurrent(NamedTuple):
    """Between what the rated current of a motor usually lies."""

    low: float
    high: float


@formula(
    "Rated current from power, voltage, efficiency and power factor",
    equation="current = power / (√3 × voltage × efficiency × power_factor), "
    "without √3 on one phase",
    results="current",
    source=AC_POWER,
)
def rated_current(
    power: Power, voltage: Voltage, efficiency: Ratio, power_factor: Ratio, phases: str = "three"
) -> Current:
    """Current that a motor takes at its rated power.

    I = P / (sqrt(3) V efficiency PF); single-phase P / (V efficiency PF)

    Parameters
    ----------
    power : float
        Rated power at the shaft, [W]
    voltage : float
        Rated voltage, line to line, [V]
    efficiency : float
        Efficiency at full load, 0.5 to 0.97, [-]
    power_factor : float
        Power factor at full load, 0.3 to 1.0, [-]
    phases : str, optional
        single or three

    Returns
    -------
    float
        Line current, [A]

    Examples
    --------
    7.5 kW at 400 V with 89 % and 0.84, and 3.7 kW on one phase:

    >>> round(rated_current(7500.0, 400.0, 0.89, 0.84), 2)
    14.48
    >>> round(rated_current(3700.0, 230.0, 0.84, 0.95, "single"), 2)
    20.16
    """
    above_zero("power", power, "power", "kW")
    plate_voltage("voltage", voltage)
    share("efficiency", efficiency, EFFICIENCY)
    share("power factor", power_factor, POWER_FACTOR)
    one_of("phases", phases, PHASES)
    root = math.sqrt(3) if phases == "three" else 1.0
    return power / (root * voltage * efficiency * power_factor)


@formula(
    "Usual rated current of a motor of this power",
    equation="low, high = power / (√3 × voltage × efficiency × power factor), without √3 on one "
    "phase; efficiency 0.06 above to 0.12 below the one assumed for the power, power factor from "
    "the table",
    results={"low": "current", "high": "current"},
    source=(
        AC_POWER,
        Source("power factor of such motors: common practice, no source", "memory"),
        OUR_JUDGEMENT,
    ),
)
def usual_plate_current(power: Power, voltage: Voltage, phases: str = "three") -> UsualCurrent:
    """Between what the plate current lies where efficiency and power factor are not known.

    Parameters
    ----------
    power : float
        Rated power at the shaft, 1.4 to 30 hp, [W]
    voltage : float
        Rated voltage, line to line, [V]
    phases : str, optional
        single or three

    Returns
    -------
    UsualCurrent
        Least and most, [A]

    Examples
    --------
    A 7.5 kW motor for 400 V; the amperes of its other voltages, 8.4 and 25 A, lie outside:

    >>> low, high = usual_plate_current(7500.0, 400.0)
    >>> round(low, 1), round(high, 1)
    (12.0, 21.6)
    """
    one_of("phases", phases, PHASES)
    assumed, factor = assumed_efficiency(power), table("loaded_power_factor").row("phases", phases)
    best = min(assumed + BETTER, EFFICIENCY[1])
    return UsualCurrent(
        rated_current(power, voltage, best, factor["high"], phases),
        rated_current(power, voltage, assumed - WORSE, factor["low"], phases),
    )
