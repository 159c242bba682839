"""The current of the motor plate against the rest of the plate.

Invariant: this doubts what was read off a plate; what may flow is judged by the running current.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, one_of
from wizard.calc.motor_circuit import PHASES
from wizard.calc.motor_load import AC_POWER
from wizard.calc.plate_current import rated_current
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Current, Power, Ratio, Voltage
from wizard.quantities import Quantity, format_quantity, is_within
from wizard.sources import Source

APART = 0.10
"""Share by which a plate current may differ from the one that follows from its plate.

The rounding of four figures explains about 3 %, a plate that rates a range of volts or prints a
nominal efficiency the rest.
"""
SO_FAR = Source("10 % for rounded plates: common practice, no source", "memory")
OVERLOAD_FOLLOWS = "The overload is set to this current: it would trip late, and the motor burns."


@check(
    "Plate current against power, efficiency and power factor of the plate",
    severity=Severity.ADVISORY,
    source=(AC_POWER, SO_FAR),
    results={"follows": "current"},
)
def plate_current(
    full_load: Current,
    power: Power,
    voltage: Voltage,
    phases: str,
    efficiency: Ratio | None = None,
    power_factor: Ratio | None = None,
) -> Finding:
    """The amperes of the plate go with its kilowatts, volts, efficiency and power factor.

    Parameters
    ----------
    full_load : float
        Nameplate current for the connected voltage, [A]
    power : float
        Rated power, [W]
    voltage : float
        Rated voltage as connected, [V]
    phases : str
        single or three
    efficiency : float, optional
        Nameplate efficiency, 0.5 to 0.97, [-]
    power_factor : float, optional
        Nameplate power factor, 0.3 to 1.0, [-]
    """
    above_zero("full_load", full_load, "current", "A")
    one_of("phases", phases, PHASES)
    if efficiency is None or power_factor is None:
        return Finding(
            Verdict.NOT_APPLICABLE,
            "Without efficiency and power factor the plate current cannot be worked out.",
            Severity.ADVISORY,
        )
    follows, step = work(
        rated_current,
        power=power,
        voltage=voltage,
        efficiency=efficiency,
        power_factor=power_factor,
        phases=phases,
    )
    limit = Limit((1 - APART) * follows, (1 + APART) * follows, "current")
    agrees = is_within(full_load, (1 - APART) * follows, (1 + APART) * follows)
    ask = (
        "Power, volts, efficiency and power factor of the plate come to "
        f"{format_quantity(follows, 'current', 'A', 3)}, its current says "
        f"{format_quantity(full_load, 'current', 'A', 3)}; is one of the five a slip, or from the "
        "line of another voltage?"
    )
    return Finding(
        Verdict.PASS if agrees else Verdict.ADVISORY,
        "The plate current goes with the rest of the plate."
        if agrees
        else "The plate current does not go with power, volts, efficiency and power factor.",
        Severity.ADVISORY,
        Quantity(full_load, "current"),
        limit,
        (step,),
        danger=OVERLOAD_FOLLOWS,
        clears="" if agrees else "Read all five on the plate again and correct the wrong one.",
        ask="" if agrees else ask,
        results={"follows": follows},
    )
