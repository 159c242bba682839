"""Overload protection: the highest trip current that still saves the motor.

Invariant: overloads follow the nameplate current, thermal protectors the table current.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from wizard.calc.accepted import above_zero, within
from wizard.formula import formula
from wizard.kinds import Current, Number, Ratio, TemperatureDifference
from wizard.quantities import at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

FULL_LOAD = (1, 200)
SERVICE_FACTOR = (1.0, 1.4)


class TripLimits(NamedTuple):
    """Highest trip current before and after a failed start, A."""

    basic: float
    ceiling: float


@formula(
    "Highest trip current of a motor overload",
    equation="basic = 1.25 × full_load, ceiling = 1.40 × full_load, from service factor 1.15 or "
    "with a marked 40 °C; else 1.15 and 1.30; a relay inside the delta sees full_load / √3",
    results={"basic": "current", "ceiling": "current"},
    source=Source("NEC 430.32(A)(1) and 430.32(C)", "confirmed"),
)
def overload_trip(
    full_load: Current,
    service_factor: Number = 1.0,
    rise: TemperatureDifference | None = None,
    in_delta: bool = False,
) -> TripLimits:
    """Highest trip current of a separate overload device, basic and after a failed start.

    basic = 1.25 FLA where service factor >= 1.15 or marked rise <= 40 °C, else 1.15 FLA;
    ceiling = 1.40 or 1.30 FLA. A relay in the leg of a delta sees FLA / sqrt(3).

    Parameters
    ----------
    full_load : float
        Nameplate current for the connected voltage, 1 to 200, [A]
    service_factor : float, optional
        Nameplate service factor, 1.0 to 1.4; 1.0 where none is marked, [-]
    rise : float, optional
        Marked temperature rise, [K]
    in_delta : bool, optional
        Whether the relay sits inside the delta of a star-delta starter, [-]

    Returns
    -------
    TripLimits
        Basic limit and ceiling, [A]

    Examples
    --------
    32 A with service factor 1.15 gives 40 A (NEC Annex D Example D8):

    >>> [round(a, 6) for a in overload_trip(32.0, 1.15)]
    [40.0, 44.8]
    """
    within("full_load", full_load, "current", "A", *FULL_LOAD)
    within("service_factor", service_factor, "number", "", *SERVICE_FACTOR)
    if rise is not None:
        above_zero("rise", rise, "temperature difference", "K")
    robust = at_least(service_factor, 1.15) or (rise is not None and at_most(rise, 40.0))
    seen = full_load / math.sqrt(3) if in_delta else full_load
    return TripLimits(seen * (1.25 if robust else 1.15), seen * (1.40 if robust else 1.30))


class DialWindow(NamedTuple):
    """Lowest and highest setting of a dial in motor current, A."""

    least: float
    most: float


@formula(
    "Setting of an overload dial in motor current",
    equation="least = full_load × (1 − mark), most = full_load × (1 + over); "
    "a relay inside the delta sees full_load / √3",
    results={"least": "current", "most": "current"},
    source=(Source("IEC 60947-4-1: set to the rated motor current", "memory"), OUR_JUDGEMENT),
)
def overload_dial(
    full_load: Current, mark: Ratio, over: Ratio, in_delta: bool = False
) -> DialWindow:
    """Where a dial that reads motor current may stand, because it stands on a mark.

    least = FLA (1 - mark), most = FLA (1 + over); FLA / sqrt(3) in the leg of a delta.

    Parameters
    ----------
    full_load : float
        Nameplate current for the connected voltage, 1 to 200, [A]
    mark : float
        Distance of two marks of the dial, as a share of the current, 0 to 0.1, [-]
    over : float
        Share by which it may stand above the current, 0 to 0.15, [-]
    in_delta : bool, optional
        Whether the relay sits inside the delta of a star-delta starter, [-]

    Returns
    -------
    DialWindow
        Lowest and highest setting, [A]

    Examples
    --------
    14.3 A and marks 5 % apart (computed):

    >>> [round(a, 3) for a in overload_dial(14.3, 0.05, 0.05)]
    [13.585, 15.015]
    """
    within("full_load", full_load, "current", "A", *FULL_LOAD)
    within("mark", mark, "ratio", "%", 0, 10)
    within("over", over, "ratio", "%", 0, 15)
    seen = full_load / math.sqrt(3) if in_delta else full_load
    return DialWindow(seen * (1 - mark), seen * (1 + over))


@formula(
    "Highest ultimate trip current of a thermal protector",
    equation="limit = current × 1.70 to 9 A, × 1.56 to 20 A, × 1.40 above",
    results="current",
    source=Source("NEC 430.32(A)(2)", "confirmed"),
)
def thermal_protector_limit(current: Current) -> Current:
    """Highest ultimate trip current of a thermal protector built into the motor.

    Parameters
    ----------
    current : float
        Table current of the motor, [A]

    Returns
    -------
    float
        Limit, [A]

    Examples
    --------
    >>> round(thermal_protector_limit(8.0), 6), round(thermal_protector_limit(28.0), 6)
    (13.6, 39.2)
    """
    above_zero("current", current, "current", "A")
    return current * (1.70 if at_most(current, 9.0) else 1.56 if at_most(current, 20.0) else 1.40)
