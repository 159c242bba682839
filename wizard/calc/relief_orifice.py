"""Relief orifice: what a hole of known size can pass, to see whether a stamp can be true.

Invariant: only choked flow is answered; a sum here never stands in for a missing stamp.
"""

from __future__ import annotations

from math import sqrt

from wizard.calc.accepted import above_zero
from wizard.calc.gas import GAS_CONSTANT, HEAT_RATIO, STANDARD_PRESSURE
from wizard.calc.us_units import CFM, INCH, PSI
from wizard.errors import OutsideValidity
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Area, Flow, MassFlow, Number, Ratio, Temperature
from wizard.sources import Source

API_520 = Source("API 520-1, critical gas flow", "memory")
GAS_DYNAMICS = Source("isentropic choked flow of an ideal gas", "computed")
MOLAR_MASS = 28.9647
"""Of dry air, g/mol."""


@formula(
    "Critical flow constant of a gas",
    equation="C = 520 √(heat_ratio (2/(heat_ratio + 1))^((heat_ratio + 1)/(heat_ratio − 1)))",
    results="number",
    source=API_520,
)
def critical_flow_constant(heat_ratio: Number = HEAT_RATIO) -> Number:
    """The constant C of API 520 in US units.

    C = 520 sqrt(k (2/(k+1))^((k+1)/(k-1)))

    Parameters
    ----------
    heat_ratio : float, optional
        Ratio of specific heats, [-]

    Returns
    -------
    float
        C, [lb^0.5 lbmol^0.5 °R^0.5/(lbf h)]

    Examples
    --------
    >>> round(critical_flow_constant(1.4), 2), round(critical_flow_constant(1.3), 2)
    (356.06, 346.98)
    """
    if not 1.0 < heat_ratio <= 2.0:
        raise OutsideValidity("ratio of specific heats", f"{heat_ratio:g}", "above 1 to 2")
    k = heat_ratio
    return 520.0 * sqrt(k * (2.0 / (k + 1.0)) ** ((k + 1.0) / (k - 1.0)))


@formula(
    "Back-pressure ratio below which flow is choked",
    equation="ratio = (2/(heat_ratio + 1))^(heat_ratio/(heat_ratio − 1))",
    results="ratio",
    source=GAS_DYNAMICS,
)
def critical_pressure_ratio(heat_ratio: Number = HEAT_RATIO) -> Ratio:
    """Pressure ratio across a nozzle at which the flow reaches the speed of sound.

    r = (2/(k+1))^(k/(k-1))

    Parameters
    ----------
    heat_ratio : float, optional
        Ratio of specific heats, [-]

    Returns
    -------
    float
        Critical ratio of downstream to upstream absolute pressure, [-]

    Examples
    --------
    >>> round(critical_pressure_ratio(), 5)
    0.52828
    """
    if not 1.0 < heat_ratio <= 2.0:
        raise OutsideValidity("ratio of specific heats", f"{heat_ratio:g}", "above 1 to 2")
    return float((2.0 / (heat_ratio + 1.0)) ** (heat_ratio / (heat_ratio - 1.0)))


def _all_positive(area: float, pressure: float, temperature: float, coefficient: float) -> None:
    above_zero("area", area, "area")
    above_zero("pressure", pressure, "absolute pressure")
    above_zero("temperature", temperature, "temperature")
    above_zero("coefficient", coefficient, "ratio", "")


def _choked(pressure: float, back_pressure: float) -> None:
    limit = critical_pressure_ratio()
    if back_pressure / pressure >= limit:
        raise OutsideValidity(
            "back pressure over relieving pressure",
            f"{back_pressure / pressure:.4g}",
            f"below {limit:.4f}, where flow is choked; sub-critical flow is not judged",
        )


@formula(
    "Mass flow of air through a choked orifice",
    equation="m = coefficient × area × pressure × √(1.4 / (287.05 × temperature)) × 0.5787",
    results="mass flow",
    source=GAS_DYNAMICS,
)
def orifice_mass_flow(
    area: Area,
    pressure: AbsolutePressure,
    temperature: Temperature,
    coefficient: Ratio = 1.0,
    back_pressure: AbsolutePressure = STANDARD_PRESSURE,
) -> MassFlow:
    """Mass flow of air through an orifice at the speed of sound.

    m = C_d A p sqrt(k/(R T)) (2/(k+1))^((k+1)/(2(k-1))), k = 1.4; the last factor is 0.5787.

    Parameters
    ----------
    area : float
        Smallest area of the flow path, [m2]
    pressure : float
        Pressure upstream, absolute, [Pa]
    temperature : float
        Temperature upstream, [K]
    coefficient : float, optional
        Discharge coefficient, [-]
    back_pressure : float, optional
        Pressure downstream, absolute, [Pa]

    Returns
    -------
    float
        Mass flow, [kg/s]

    Notes
    -----
    Valid while back pressure over pressure is below 0.5283.

    Examples
    --------
    One square centimetre at 8 bar absolute and 20 °C passes 0.1888 kg/s:

    >>> round(orifice_mass_flow(1e-4, 8e5, 293.15), 4)
    0.1888
    """
    _all_positive(area, pressure, temperature, coefficient)
    _choked(pressure, back_pressure)
    k = HEAT_RATIO
    shape = float((2.0 / (k + 1.0)) ** ((k + 1.0) / (2.0 * (k - 1.0))))
    return coefficient * area * pressure * sqrt(k / (GAS_CONSTANT * temperature)) * shape


@formula(
    "Capacity that a relief orifice can pass",
    equation="V = 6.32 × 356.06 × coefficient × pressure × area / √(temperature × 28.96) "
    "(scfm, psia, in2, °R)",
    results="flow",
    source=API_520,
)
def orifice_capacity(
    area: Area,
    pressure: AbsolutePressure,
    temperature: Temperature,
    coefficient: Ratio = 0.975,
    back_pressure: AbsolutePressure = STANDARD_PRESSURE,
) -> Flow:
    """Air capacity of an orifice in volumes at 60 °F and 14.7 psia.

    V = 6.32 C K P1 A / sqrt(T Z M) in scfm, in2, psia, °R, with C for k = 1.4, Z = 1, M = 28.96.

    Parameters
    ----------
    area : float
        Orifice area, [m2]
    pressure : float
        Relieving pressure, absolute, [Pa]
    temperature : float
        Relieving temperature, [K]
    coefficient : float, optional
        Product of all coefficients; 0.975 is the effective value of the standard,
        times 0.90 for a stamped capacity, [-]
    back_pressure : float, optional
        Pressure at the outlet, absolute, [Pa]

    Returns
    -------
    float
        Capacity at 60 °F, 14.7 psia, [m3/s]

    Notes
    -----
    Valid for choked flow, back pressure over relieving pressure below 0.5283.

    Examples
    --------
    0.110 in2 set at 200 psig, no derating, at sea level passes 461.7 scfm:

    >>> area, p1 = 0.110 * 0.0254**2, 220 * 6894.757293168 + 101325
    >>> round(orifice_capacity(area, p1, 519.67 / 1.8) / (0.3048**3 / 60), 1)
    461.7
    """
    _all_positive(area, pressure, temperature, coefficient)
    _choked(pressure, back_pressure)
    scfm = 6.32 * critical_flow_constant() * coefficient * (pressure / PSI) * (area / INCH**2)
    return scfm / sqrt(temperature * 1.8 * MOLAR_MASS) * CFM
