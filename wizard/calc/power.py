"""Power of compression, and power for the air that was made.

Invariant: flows are volumes at the inlet state, never at a reference; the ratio is the whole one.
"""

from __future__ import annotations

import math

from wizard.both_units import both
from wizard.calc.accepted import above_zero
from wizard.calc.gas import HEAT_RATIO
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, Number, Power, Ratio
from wizard.sources import COMMON_PRACTICE, Source

HANDBOOK = Source(
    "Machinery's Handbook, 31st ed., tables of power to compress air; thermodynamics textbooks",
    "confirmed",
)


def _compression(inlet: float, flow: float, ratio: float) -> None:
    above_zero("inlet", inlet, "absolute pressure")
    above_zero("flow", flow, "flow")
    if not 1 < ratio < math.inf:
        raise InputError("ratio", f"{ratio:g}", "more than 1, of absolute pressures")


@formula(
    "Isothermal power",
    equation="power = inlet × flow × ln(ratio)",
    results="power",
    source=HANDBOOK,
)
def isothermal_power(inlet: AbsolutePressure, flow: Flow, ratio: Number) -> float:
    """Power of compression without any rise of temperature: no machine needs less.

    P = p1 Q1 ln r

    Parameters
    ----------
    inlet : float
        Absolute pressure at the inlet, [Pa]
    flow : float
        Volume flow at the inlet state, [m3/s]
    ratio : float
        Absolute pressure ratio of the whole machine, [-]

    Returns
    -------
    float
        Power, [W]

    Examples
    --------
    1 cfm from 14.7 psia to 100 psig takes 0.132 hp (handbook):

    >>> psi, cfm, hp = 6894.757293168, 0.3048**3 / 60, 745.69987158227
    >>> round(isothermal_power(14.7 * psi, cfm, 114.7 / 14.7) / hp, 3)
    0.132
    """
    _compression(inlet, flow, ratio)
    return inlet * flow * math.log(ratio)


@formula(
    "Power of compression in stages",
    equation="power = stages × exponent / (exponent - 1) × inlet × flow × "
    "(ratio ^ ((exponent - 1) / (exponent × stages)) - 1)",
    results="power",
    source=HANDBOOK,
)
def compression_power(
    inlet: AbsolutePressure,
    flow: Flow,
    ratio: Number,
    stages: int = 1,
    exponent: Number = HEAT_RATIO,
) -> float:
    """Power of compression in stages that share the work, with full cooling between.

    P = N n / (n - 1) p1 Q1 (r^((n-1)/(n N)) - 1); n = 1.4 is the isentropic power

    Parameters
    ----------
    inlet : float
        Absolute pressure at the inlet, [Pa]
    flow : float
        Volume flow at the inlet state, [m3/s]
    ratio : float
        Absolute pressure ratio of the whole machine, [-]
    stages : int, optional
        Number of stages, 1 or 2, [-]
    exponent : float, optional
        Exponent of compression, above 1.0 to 1.45, [-]

    Returns
    -------
    float
        Power, [W]

    Examples
    --------
    1 cfm from 14.7 psia to 100 psig in two stages takes 0.153 hp (handbook):

    >>> psi, cfm, hp = 6894.757293168, 0.3048**3 / 60, 745.69987158227
    >>> round(compression_power(14.7 * psi, cfm, 114.7 / 14.7, 2) / hp, 3)
    0.153
    """
    _compression(inlet, flow, ratio)
    if stages not in (1, 2):
        raise InputError("stages", str(stages), "1 or 2")
    if not 1 < exponent <= 1.45:
        raise OutsideValidity("exponent", f"{exponent:g}", "above 1 to 1.45; at 1, isothermal")
    head: float = ratio ** ((exponent - 1) / (exponent * stages)) - 1
    return stages * exponent / (exponent - 1) * inlet * flow * head


@formula(
    "Shaft power from the motor input",
    equation="shaft = input_power × motor_efficiency × belt_efficiency",
    results="power",
    source=COMMON_PRACTICE,
)
def pump_shaft_power(
    input_power: Power, motor_efficiency: Ratio, belt_efficiency: Ratio = 0.96
) -> float:
    """Power at the pump shaft.

    P = P_in eta_motor eta_belt

    Parameters
    ----------
    input_power : float
        Electrical input, from a true-power meter, [W]
    motor_efficiency : float
        Efficiency of the motor at this load, [-]
    belt_efficiency : float, optional
        Efficiency of the V-belt, 0.95 to 0.97, [-]

    Returns
    -------
    float
        Shaft power, [W]

    Examples
    --------
    >>> round(pump_shaft_power(7000.0, 0.88, 0.96), 1)
    5913.6
    """
    above_zero("input_power", input_power, "power")
    for what, value in (
        ("motor_efficiency", motor_efficiency),
        ("belt_efficiency", belt_efficiency),
    ):
        if not 0 < value <= 1:
            raise InputError(what, both(value, "ratio"), "above 0 % and at most 100 %")
    return input_power * motor_efficiency * belt_efficiency


@formula(
    "Power for the air that is made",
    equation="specific power = input_power / flow",
    results="specific power",
    source=Source("definition; ISO 1217:2009 Annex C", "memory"),
)
def power_per_flow(input_power: Power, flow: Flow) -> float:
    """Electrical input for each volume of free air.

    SP = P_in / Q

    Parameters
    ----------
    input_power : float
        Electrical input, from a true-power meter, [W]
    flow : float
        Free air delivered, [m3/s]

    Returns
    -------
    float
        Specific power, [J/m3]

    Examples
    --------
    7.0 kW for 0.85 m3/min is 8.2353 kW per m3/min:

    >>> round(power_per_flow(7000.0, 0.85 / 60) / 60e3, 4)
    8.2353
    """
    above_zero("input_power", input_power, "power")
    above_zero("flow", flow, "flow")
    return input_power / flow


@formula(
    "Overall efficiency of compression",
    equation="efficiency = ideal_power / shaft",
    results="ratio",
    source=Source("definition", "computed"),
)
def compression_efficiency(ideal_power: Power, shaft: Power) -> float:
    """Isentropic power for the air made, over the power at the shaft.

    eta = P_isentropic / P_shaft

    Parameters
    ----------
    ideal_power : float
        Isentropic power for the same flow, ratio and stages, [W]
    shaft : float
        Power at the pump shaft, [W]

    Returns
    -------
    float
        Overall efficiency, [-]

    Examples
    --------
    >>> round(compression_efficiency(3656.7, 5913.6), 4)
    0.6184
    """
    above_zero("ideal_power", ideal_power, "power")
    above_zero("shaft", shaft, "power")
    return ideal_power / shaft
