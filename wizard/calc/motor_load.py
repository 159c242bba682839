"""Load of the running motor: electrical input, shaft power, current limit.

Invariant: power from measured volts and amperes; a plate value only where none is measured.
"""

from __future__ import annotations

import math

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.motor_circuit import PHASES
from wizard.calc.supply import plate_voltage
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import Current, Number, Power, Ratio, Voltage
from wizard.quantities import from_si
from wizard.sources import OUR_JUDGEMENT, Source
from wizard.tables import table

POWER_FACTOR = (0.3, 1.0)
EFFICIENCY = (0.5, 0.97)
AMPERES = (0.1, 500)
AC_POWER = Source("alternating-current power", "computed")


def share(what: str, value: float, ends: tuple[float, float]) -> None:
    """Refuse a power factor or efficiency outside its range, with a hint where % is meant."""
    if ends[0] <= value <= ends[1]:
        return
    hint = f"; {value:g} is {value / 100:g}" if ends[0] <= value / 100 <= ends[1] else ""
    raise InputError(what, f"{value:g}", f"{ends[0]:g} to {ends[1]:g}{hint}")


@formula(
    "Electrical input power",
    equation="input = √3 × voltage × current × power_factor, without √3 on one phase",
    results="power",
    source=AC_POWER,
)
def electrical_input(
    voltage: Voltage, current: Current, power_factor: Ratio, phases: str = "three"
) -> Power:
    """Electrical power that the motor takes.

    P = sqrt(3) V I PF; single-phase V I PF

    Parameters
    ----------
    voltage : float
        Mean line-to-line voltage, [V]
    current : float
        Mean line current, 0.1 to 500, [A]
    power_factor : float
        Power factor, 0.3 to 1.0, [-]
    phases : str, optional
        single or three

    Returns
    -------
    float
        Input power, [W]

    Examples
    --------
    >>> round(electrical_input(460.0, 12.4, 0.85) / 1000, 4)
    8.3977
    """
    above_zero("voltage", voltage, "voltage", "V")
    within("voltage", voltage, "voltage", "V", 0, 1000)
    within("current", current, "current", "A", *AMPERES)
    share("power factor", power_factor, POWER_FACTOR)
    one_of("phases", phases, PHASES)
    return (math.sqrt(3) if phases == "three" else 1.0) * voltage * current * power_factor


@formula(
    "Power factor that power, volts and amperes come to",
    equation="power factor = input_power / (√3 × voltage × current), without √3 on one phase",
    results="number",
    source=AC_POWER,
)
def implied_power_factor(
    input_power: Power, voltage: Voltage, current: Current, phases: str = "three"
) -> Number:
    """Power factor at which a measured power goes with measured volts and amperes.

    PF = P / (sqrt(3) V I); single-phase P / (V I)

    Above 1 it cannot be: then one of the three was read wrong, or they were not read at one load.

    Parameters
    ----------
    input_power : float
        Measured electrical input, [W]
    voltage : float
        Mean line-to-line voltage, [V]
    current : float
        Mean line current, 0.1 to 500, [A]
    phases : str, optional
        single or three

    Returns
    -------
    float
        Power factor, [-]

    Examples
    --------
    >>> round(implied_power_factor(8397.7, 460.0, 12.4), 4)
    0.85
    """
    above_zero("input_power", input_power, "power", "kW")
    above_zero("voltage", voltage, "voltage", "V")
    within("voltage", voltage, "voltage", "V", 0, 1000)
    within("current", current, "current", "A", *AMPERES)
    one_of("phases", phases, PHASES)
    return input_power / ((math.sqrt(3) if phases == "three" else 1.0) * voltage * current)


@formula(
    "Shaft power",
    equation="shaft = input_power × efficiency",
    results="power",
    source=AC_POWER,
)
def shaft_output(input_power: Power, efficiency: Ratio) -> Power:
    """Mechanical power at the motor shaft.

    P_shaft = P_in efficiency

    Parameters
    ----------
    input_power : float
        Electrical input, [W]
    efficiency : float
        Motor efficiency, 0.5 to 0.97, [-]

    Returns
    -------
    float
        Shaft power, [W]

    Examples
    --------
    >>> round(shaft_output(8397.7, 0.895) / 745.69987158227, 2)
    10.08
    """
    above_zero("input_power", input_power, "power", "kW")
    share("efficiency", efficiency, EFFICIENCY)
    return input_power * efficiency


@formula(
    "Efficiency assumed where the plate gives none",
    equation="efficiency = table value for power",
    results="ratio",
    source=OUR_JUDGEMENT,
)
def assumed_efficiency(power: Power) -> Ratio:
    """Full-load efficiency of a usual motor of this power.

    Parameters
    ----------
    power : float
        Rated power, 1.4 to 30 hp, [W]

    Returns
    -------
    float
        Efficiency: 0.82 to 3 hp, 0.86 to 7.5 hp, 0.89 to 15 hp, 0.91 to 30 hp, [-]

    Examples
    --------
    >>> assumed_efficiency(10 * 745.69987158227)
    0.89
    """
    within("power", power, "power", "hp", 1.4, 30)
    row = table("motor_efficiency").at_or_above("hp", from_si(power, "power", "hp"))
    return float(row["efficiency"])


@formula(
    "Highest running current",
    equation="limit = full_load × service_factor",
    results="current",
    source=Source("nameplate current and service factor, NEMA MG 1", "memory"),
)
def current_limit(full_load: Current, service_factor: Number = 1.0) -> Current:
    """Current above which the motor is overloaded.

    limit = FLA SF

    Parameters
    ----------
    full_load : float
        Nameplate current for the connected voltage, [A]
    service_factor : float, optional
        Nameplate service factor, 1.0 to 1.4, [-]

    Returns
    -------
    float
        Limit, [A]

    Examples
    --------
    >>> round(current_limit(26.0, 1.15), 6)
    29.9
    """
    within("full_load", full_load, "current", "A", *AMPERES)
    within("service_factor", service_factor, "number", "", 1.0, 1.4)
    return full_load * service_factor


@formula(
    "Load of the motor from its current",
    equation="load = (current / full_load) × (voltage / nameplate)",
    results="ratio",
    source=Source("US government motor handbooks, amperage ratio method", "memory"),
)
def load_fraction(
    current: Current, full_load: Current, voltage: Voltage, nameplate: Voltage
) -> Ratio:
    """Estimate of the shaft load as a share of rated power, usable above half load.

    load = (I / FLA) (V / V_plate)

    Parameters
    ----------
    current : float
        Mean line current, [A]
    full_load : float
        Nameplate current for the connected voltage, [A]
    voltage : float
        Mean line-to-line voltage, [V]
    nameplate : float
        Rated voltage as connected, [V]

    Returns
    -------
    float
        Share of rated power, [-]

    Examples
    --------
    >>> round(load_fraction(11.2, 12.4, 455.0, 460.0), 4)
    0.8934
    """
    within("full_load", full_load, "current", "A", *AMPERES)
    plate_voltage("nameplate", nameplate)
    within("current", current, "current", "A", *AMPERES)
    within("voltage", voltage, "voltage", "V", 1, 1000)
    load = (current / full_load) * (voltage / nameplate)
    if load < 0.5:
        raise OutsideValidity("load", both(load, "ratio"), "50 % or more")
    return load
