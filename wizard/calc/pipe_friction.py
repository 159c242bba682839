"""Friction of air in a round pipe: viscosity, Reynolds number, friction factor."""

from __future__ import annotations

from math import log10, pi

from wizard.calc.accepted import above_zero, within
from wizard.errors import OutsideValidity
from wizard.formula import formula
from wizard.kinds import Length, MassFlow, Number, Temperature
from wizard.sources import Source

_TURBULENT = 2300.0


@formula(
    "Viscosity of air",
    equation="viscosity = 1.716e-5 × (temperature / 273.15)^1.5 × 383.55 / (temperature + 110.4)",
    results="number",
    source=Source("Sutherland's law", "memory"),
)
def air_viscosity(temperature: Temperature) -> float:
    """Dynamic viscosity of air.

    mu = 1.716e-5 (T/273.15)^1.5 383.55/(T + 110.4)

    Parameters
    ----------
    temperature : float
        Air temperature, 220 to 475, [K]

    Returns
    -------
    float
        Viscosity, [Pa s]

    Notes
    -----
    Within 1.5 % of measured air over that range.

    Examples
    --------
    >>> round(air_viscosity(293.15) * 1e6, 2)
    18.13
    """
    within("air temperature", temperature, "temperature", "°C", -53.15, 201.85)
    return float(1.716e-5 * (temperature / 273.15) ** 1.5 * 383.55 / (temperature + 110.4))


@formula(
    "Reynolds number in a pipe",
    equation="Re = 4 × mass_flow / (π × bore × viscosity of air at temperature)",
    results="number",
    source=Source("definition", "computed"),
)
def pipe_reynolds(mass_flow: MassFlow, bore: Length, temperature: Temperature) -> float:
    """Reynolds number of air in a round pipe.

    Re = 4 m / (pi D mu)

    Parameters
    ----------
    mass_flow : float
        Mass flow of air, [kg/s]
    bore : float
        Inside diameter, [m]
    temperature : float
        Air temperature, [K]

    Returns
    -------
    float
        Reynolds number, [-]

    Examples
    --------
    >>> round(pipe_reynolds(0.0289, 0.026645, 288.71) / 1e3)
    77
    """
    above_zero("mass_flow", mass_flow, "mass flow")
    above_zero("bore", bore, "length")
    return 4.0 * mass_flow / (pi * bore * air_viscosity(temperature))


@formula(
    "Friction factor of a pipe",
    equation="1/√f = −2 log10(relative_roughness / 3.7 + 2.51 / (reynolds √f)); "
    "64 / reynolds below 2300",
    results="number",
    source=Source("Colebrook, 1939", "computed"),
)
def pipe_friction_factor(reynolds: Number, relative_roughness: Number) -> float:
    """Darcy friction factor, Colebrook for turbulent and 64/Re for laminar flow.

    Parameters
    ----------
    reynolds : float
        Reynolds number, [-]
    relative_roughness : float
        Roughness over inside diameter, 0 to 0.05, [-]

    Returns
    -------
    float
        Darcy friction factor, [-]

    Examples
    --------
    >>> round(pipe_friction_factor(1e5, 1e-4), 5)
    0.01851
    """
    above_zero("reynolds", reynolds, "number")
    if not 0.0 <= relative_roughness <= 0.05:
        raise OutsideValidity("roughness over bore", f"{relative_roughness:g}", "0 to 0.05")
    if reynolds < _TURBULENT:
        return 64.0 / reynolds
    root = 8.0
    for _ in range(60):
        root = -2.0 * log10(relative_roughness / 3.7 + 2.51 * root / reynolds)
    return 1.0 / root**2


@formula(
    "Friction factor of a pipe, quick form",
    equation="f = (−1.8 log10((relative_roughness / 3.7)^1.11 + 6.9 / reynolds))^−2",
    results="number",
    source=Source("Haaland, 1983", "computed"),
)
def pipe_friction_factor_quick(reynolds: Number, relative_roughness: Number) -> float:
    """Explicit friction factor, within about 1.5 % of Colebrook for turbulent flow.

    Parameters
    ----------
    reynolds : float
        Reynolds number, at least 4000, [-]
    relative_roughness : float
        Roughness over inside diameter, 0 to 0.05, [-]

    Returns
    -------
    float
        Darcy friction factor, [-]

    Examples
    --------
    >>> round(pipe_friction_factor_quick(1e5, 1e-4), 5)
    0.01827
    """
    if not reynolds >= 4000.0:
        raise OutsideValidity("Reynolds number", f"{reynolds:g}", "4000 or more")
    if not 0.0 <= relative_roughness <= 0.05:
        raise OutsideValidity("roughness over bore", f"{relative_roughness:g}", "0 to 0.05")
    inside = (relative_roughness / 3.7) ** 1.11 + 6.9 / reynolds
    return float((-1.8 * log10(inside)) ** -2)
