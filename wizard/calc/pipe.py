"""Air pipe: velocity, friction and pressure drop with the air as it is compressed.

Invariant: the bore is the inside diameter; line pressures are absolute.
"""

from __future__ import annotations

from math import log, pi, sqrt

from wizard.calc.accepted import above_zero, zero_or_above
from wizard.calc.gas import GAS_CONSTANT
from wizard.calc.pipe_friction import pipe_friction_factor, pipe_reynolds
from wizard.calc.us_units import INCH
from wizard.errors import OutsideValidity
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    Length,
    MassFlow,
    PressureDifference,
    Temperature,
)
from wizard.sources import Source
from wizard.tables import table

IDEAL_GAS = Source("ideal-gas law and continuity", "computed")
_SOUND_SHARE = 0.3


@formula(
    "Mass flow of a volume flow of air",
    equation="mass flow = flow × pressure / (287.05 × temperature)",
    results="mass flow",
    source=IDEAL_GAS,
)
def air_mass_flow(flow: Flow, pressure: AbsolutePressure, temperature: Temperature) -> float:
    """Mass flow of air from a volume flow at a stated condition.

    m = Q p / (R T)

    Parameters
    ----------
    flow : float
        Volume flow, [m3/s]
    pressure : float
        Absolute pressure it is stated at, [Pa]
    temperature : float
        Temperature it is stated at, [K]

    Returns
    -------
    float
        Mass flow, [kg/s]

    Examples
    --------
    >>> round(air_mass_flow(1.0, 101325.0, 288.15), 4)
    1.225
    """
    above_zero("flow", flow, "flow")
    above_zero("pressure", pressure, "absolute pressure")
    above_zero("temperature", temperature, "temperature")
    return flow * pressure / (GAS_CONSTANT * temperature)


@formula(
    "Velocity of air in a pipe",
    equation="velocity = mass_flow × 287.05 × temperature / (pressure × π/4 × bore²)",
    results="speed",
    source=IDEAL_GAS,
)
def air_velocity(
    mass_flow: MassFlow, bore: Length, pressure: AbsolutePressure, temperature: Temperature
) -> float:
    """Mean velocity of compressed air in a round pipe.

    v = m R T / (p A)

    Parameters
    ----------
    mass_flow : float
        Mass flow of air, [kg/s]
    bore : float
        Inside diameter, [m]
    pressure : float
        Line pressure, absolute, the lowest expected, [Pa]
    temperature : float
        Air temperature in the line, [K]

    Returns
    -------
    float
        Velocity, [m/s]

    Examples
    --------
    50 scfm at 100 psig and 60 °F in 1 in Schedule 40 pipe: 17.79 ft/s

    >>> m = air_mass_flow(50 * 0.3048**3 / 60, 101325.353, 519.67 / 1.8)
    >>> round(air_velocity(m, 1.049 * 0.0254, 114.696 * 6894.757293168, 519.67 / 1.8) / 0.3048, 3)
    17.791
    """
    above_zero("mass_flow", mass_flow, "mass flow")
    above_zero("bore", bore, "length")
    above_zero("pressure", pressure, "absolute pressure")
    above_zero("temperature", temperature, "temperature")
    return mass_flow * GAS_CONSTANT * temperature / (pressure * pi / 4.0 * bore**2)


@formula(
    "Inside bore of Schedule 40 pipe",
    equation="bore = table of Schedule 40 bores at size",
    results="length",
    source=Source("ASME B36.10", "memory"),
)
def schedule_40_bore(size: str) -> float:
    """Inside diameter of Schedule 40 steel pipe.

    Parameters
    ----------
    size : str
        Nominal size, 1/2 to 4, in inches

    Returns
    -------
    float
        Inside diameter, [m]

    Examples
    --------
    >>> round(schedule_40_bore("1") * 1000, 2)
    26.64
    """
    return float(table("schedule_40_bores").row("size", size)["bore"] * INCH)


@formula(
    "Length of straight pipe that a fitting counts for",
    equation="length = count × bores of fitting × bore",
    results="length",
    source=Source("equivalent length in bores, handbooks of fluid flow", "memory"),
)
def fitting_length(fitting: str, count: int, bore: Length) -> float:
    """Equivalent length of fittings of one sort.

    L_eq = n (L/D) D

    Parameters
    ----------
    fitting : str
        90° elbow, 45° elbow, tee run or branch, gate, ball, globe or swing check valve
    count : int
        How many
    bore : float
        Inside diameter, [m]

    Returns
    -------
    float
        Equivalent length, [m]

    Examples
    --------
    Six elbows in a 26.6 mm pipe count as 4.8 m:

    >>> round(fitting_length("90° elbow", 6, 0.0266), 2)
    4.79
    """
    zero_or_above("count", count, "number")
    above_zero("bore", bore, "length")
    return float(count * table("pipe_fittings").row("fitting", fitting)["bores"] * bore)


@formula(
    "Pressure drop of compressed air in a pipe",
    equation="pressure² − p2² = (mass_flow / area)² × 287.05 × temperature × "
    "(f × length / bore + 2 ln(pressure / p2)); drop = pressure − p2",
    results="pressure difference",
    source=Source("isothermal compressible flow in a pipe", "computed"),
)
def isothermal_pressure_drop(
    mass_flow: MassFlow,
    bore: Length,
    length: Length,
    pressure: AbsolutePressure,
    temperature: Temperature,
    roughness: Length = 4.57e-5,
) -> float:
    """Pressure lost to friction in a pipe with air that stays at one temperature.

    p1^2 - p2^2 = (m/A)^2 R T (f L/D + 2 ln(p1/p2))

    Parameters
    ----------
    mass_flow : float
        Mass flow of air, [kg/s]
    bore : float
        Inside diameter, [m]
    length : float
        Developed length with the equivalent length of fittings, [m]
    pressure : float
        Inlet pressure, absolute, [Pa]
    temperature : float
        Air temperature, [K]
    roughness : float, optional
        Roughness of the inside, [m]

    Returns
    -------
    float
        Pressure drop, [Pa]

    Notes
    -----
    Valid while the drop is below 30 % of the inlet pressure and the Mach number below 0.3.

    Examples
    --------
    100 scfm through 100 ft of 1 in Schedule 40 pipe at 100 psig: 2.24 psi, published 2.21

    >>> t = 519.67 / 1.8
    >>> m = air_mass_flow(100 * 0.3048**3 / 60, 101325.353, t)
    >>> p = 114.696 * 6894.757293168
    >>> round(isothermal_pressure_drop(m, 1.049 * 0.0254, 30.48, p, t) / 6894.757293168, 4)
    2.2361
    """
    above_zero("length", length, "length")
    above_zero("pressure", pressure, "absolute pressure")
    zero_or_above("roughness", roughness, "length")
    factor = pipe_friction_factor(pipe_reynolds(mass_flow, bore, temperature), roughness / bore)
    flux = (mass_flow / (pi / 4.0 * bore**2)) ** 2 * GAS_CONSTANT * temperature
    after = pressure
    for _ in range(200):
        square = pressure**2 - flux * (factor * length / bore + 2.0 * log(pressure / after))
        if square <= 0:
            raise _too_small()
        after = sqrt(square)
    sound = sqrt(1.4 * GAS_CONSTANT * temperature)
    if pressure - after >= 0.3 * pressure or (
        air_velocity(mass_flow, bore, after, temperature) >= _SOUND_SHARE * sound
    ):
        raise _too_small()
    return pressure - after


def _too_small() -> OutsideValidity:
    return OutsideValidity(
        "pipe bore", "a pipe far too small for this flow", "a drop below 30 % and Mach below 0.3"
    )


@formula(
    "Pressure drop in a pipe of another bore",
    equation="drop = known_drop × (known_bore / bore)^5",
    results="pressure difference",
    source=Source("Chemical Engineering Fluid Mechanics, 3rd edition, Appendix G", "confirmed"),
)
def drop_at_other_bore(known_drop: PressureDifference, known_bore: Length, bore: Length) -> float:
    """Turns a table value for one bore into another bore.

    dp = dp_known (d_known/d)^5

    Parameters
    ----------
    known_drop : float
        Pressure drop with the known bore, [Pa]
    known_bore : float
        Bore that it holds for, [m]
    bore : float
        Bore wanted, [m]

    Returns
    -------
    float
        Pressure drop, [Pa]

    Examples
    --------
    Half the bore, 32 times the drop:

    >>> drop_at_other_bore(1.0, 2.0, 1.0)
    32.0
    """
    above_zero("known_drop", known_drop, "pressure difference")
    above_zero("known_bore", known_bore, "length")
    above_zero("bore", bore, "length")
    return float(known_drop * (known_bore / bore) ** 5)
