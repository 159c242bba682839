"""Relief valve: how far pressure may rise, what the valve must pass, when it may be lifted.

Invariant: set pressures are gauge, capacities carry a reference condition.
"""

from __future__ import annotations

from typing import NamedTuple

from wizard.calc.accepted import above_zero
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.us_units import PSI
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    GaugePressure,
    MassFlow,
    Ratio,
    RotationalSpeed,
)
from wizard.sources import Source

UG_125 = Source(
    "ASME BPVC VIII-1 UG-125(c): 10 % or 3 psi over, whichever is greater; "
    "16 % or 4 psi with several valves",
    "confirmed",
)


@formula(
    "Highest pressure while the relief valve blows",
    equation="relieving = set_pressure + larger of (10 % of set_pressure; 3 psi) + ambient",
    results="absolute pressure",
    source=UG_125,
)
def relieving_pressure(
    set_pressure: GaugePressure,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    several_valves: bool = False,
) -> AbsolutePressure:
    """Absolute pressure that a receiver may reach while its relief valve blows.

    p = set + max(10 % of set, 3 psi) + ambient; with several valves 16 % or 4 psi.

    Parameters
    ----------
    set_pressure : float
        Set pressure of the valve, gauge, [Pa]
    ambient : float, optional
        Air pressure around the machine, [Pa]
    several_valves : bool, optional
        Whether more than one relief valve is fitted, [-]

    Returns
    -------
    float
        Relieving pressure, absolute, [Pa]

    Examples
    --------
    A valve set at 200 psig at 14.696 psia relieves at no more than 234.70 psia:

    >>> round(relieving_pressure(200 * 6894.757293168, 14.696 * 6894.757293168) / 6894.757293168, 2)
    234.7
    """
    above_zero("set_pressure", set_pressure, "gauge pressure")
    above_zero("ambient", ambient, "absolute pressure")
    share, least = (0.16, 4 * PSI) if several_valves else (0.10, 3 * PSI)
    return set_pressure + max(share * set_pressure, least) + ambient


@formula(
    "Compressor delivery at its highest speed",
    equation="delivery = rated_flow × highest_speed / rated_speed",
    results="flow",
    source=Source("a piston pump sweeps in proportion to its speed", "computed"),
)
def delivery_at_speed(
    rated_flow: Flow, rated_speed: RotationalSpeed, highest_speed: RotationalSpeed
) -> Flow:
    """Free air that the pump can deliver at the highest speed its plate allows.

    Q = Q_rated n_max / n_rated

    Parameters
    ----------
    rated_flow : float
        Free air delivered at rated speed, [m3/s]
    rated_speed : float
        Rated pump speed, [r/s]
    highest_speed : float
        Highest pump speed, [r/s]

    Returns
    -------
    float
        Delivery at the highest speed, [m3/s]

    Examples
    --------
    Ten per cent more speed, ten per cent more air:

    >>> round(delivery_at_speed(0.0200, 15.0, 16.5), 6)
    0.022
    """
    above_zero("rated_flow", rated_flow, "flow")
    above_zero("rated_speed", rated_speed, "rotational speed")
    above_zero("highest_speed", highest_speed, "rotational speed")
    return rated_flow * highest_speed / rated_speed


@formula(
    "Relief capacity against what is needed",
    equation="margin = certified / required",
    results="ratio",
    source=Source("definition; both flows at one reference condition", "computed"),
)
def relief_margin(certified: Flow, required: Flow) -> Ratio:
    """Certified capacity of the relief valves over the flow they must pass.

    margin = certified / required, both at the same reference condition.

    Parameters
    ----------
    certified : float
        Stamped capacity, the sum where several valves count, [m3/s]
    required : float
        Compressor output at the reference condition of the stamp, [m3/s]

    Returns
    -------
    float
        Margin, 1 is just enough, [-]

    Examples
    --------
    A stamp of 60 against 52.847 needed:

    >>> round(relief_margin(60.0, 52.847), 4)
    1.1354
    """
    above_zero("certified", certified, "flow")
    above_zero("required", required, "flow")
    return certified / required


@formula(
    "Volume flow of a capacity stamped as mass of air",
    equation="flow = mass_flow / 1.2250 kg/m3 (air at 15 °C, 101.325 kPa)",
    results="flow",
    source=Source("density of dry air at 15 °C and 101.325 kPa, ISO 2533", "computed"),
)
def flow_of_air_mass(mass_flow: MassFlow) -> Flow:
    """Volume flow at 15 °C and 101.325 kPa, dry, of a mass flow of air.

    Q = m / 1.2250

    Parameters
    ----------
    mass_flow : float
        Stamped capacity in mass of air, [kg/s]

    Returns
    -------
    float
        Flow at 15 °C, 101.325 kPa, dry, [m3/s]

    Examples
    --------
    73.5 kg/h is 1 m3/min:

    >>> round(flow_of_air_mass(73.5 / 3600) * 60, 6)
    1.0
    """
    above_zero("mass_flow", mass_flow, "mass flow")
    return mass_flow / 1.2250


class Margin(NamedTuple):
    """Distance of the cut-out below the relief setting: share of the setting, difference in Pa."""

    share: float
    difference: float


@formula(
    "Operating margin below the relief setting",
    equation="margin = (relief_set − cut_out) / relief_set",
    results={"share": "ratio", "difference": "pressure difference"},
    source=Source("API 520-1 and ASME BPVC VIII-1 Appendix M guidance", "memory"),
)
def margin_below_relief(relief_set: GaugePressure, cut_out: GaugePressure) -> Margin:
    """How far the working pressure stays below the relief setting.

    share = (set - cut-out) / set; difference = set - cut-out

    Parameters
    ----------
    relief_set : float
        Stamped set pressure, gauge, [Pa]
    cut_out : float
        Highest working pressure, gauge, [Pa]

    Returns
    -------
    Margin
        Share of the setting, [-], and difference, [Pa]; negative when cut-out is above

    Examples
    --------
    Cut-out 175 below a setting of 200:

    >>> margin_below_relief(200.0, 175.0)
    Margin(share=0.125, difference=25.0)
    """
    above_zero("relief_set", relief_set, "gauge pressure")
    return Margin((relief_set - cut_out) / relief_set, relief_set - cut_out)


@formula(
    "Lowest pressure for a lift test",
    equation="lift = 0.75 × relief_set",
    results="gauge pressure",
    source=Source("8 CCR 465(b)(3)(A)", "confirmed"),
)
def lift_pressure(relief_set: GaugePressure) -> GaugePressure:
    """Tank pressure at or above which the lifting lever may be pulled.

    p = 0.75 set

    Parameters
    ----------
    relief_set : float
        Stamped set pressure, gauge, [Pa]

    Returns
    -------
    float
        Lowest lift pressure, gauge, [Pa]

    Examples
    --------
    >>> lift_pressure(200.0), lift_pressure(11.0)
    (150.0, 8.25)
    """
    above_zero("relief_set", relief_set, "gauge pressure")
    return 0.75 * relief_set
