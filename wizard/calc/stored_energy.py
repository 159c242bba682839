"""Energy in a tank of compressed air, and pictures that make it understood.

Invariant: the tank's pressure is gauge, the formulas work on absolute pressure.
"""

from __future__ import annotations

from math import sqrt

from wizard.calc.accepted import above_zero
from wizard.calc.gas import HEAT_RATIO, STANDARD_PRESSURE
from wizard.errors import OutsideValidity
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    Energy,
    GaugePressure,
    Mass,
    Number,
    Volume,
)
from wizard.sources import Source

PCC_2 = Source("ASME PCC-2 Appendix 501-II", "confirmed")
TNT_ENERGY = 4_266_920.0
"""J per kg of TNT in ASME PCC-2; other conventions take up to 8 % more."""
_SMALL, _MEDIUM = 135.5e6, 271.0e6


def _absolute(pressure: float, volume: float, ambient: float) -> float:
    above_zero("pressure", pressure, "gauge pressure")
    above_zero("volume", volume, "volume")
    above_zero("ambient", ambient, "absolute pressure")
    return pressure + ambient


@formula(
    "Stored energy, isentropic expansion",
    equation="E = (pressure + ambient) × volume / (heat_ratio − 1) × "
    "(1 − (ambient / (pressure + ambient))^((heat_ratio − 1)/heat_ratio))",
    results="energy",
    source=Source("isentropic expansion of an ideal gas", "computed"),
)
def stored_energy_isentropic(
    pressure: GaugePressure,
    volume: Volume,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    heat_ratio: Number = HEAT_RATIO,
) -> float:
    """Work that the air of a tank can do while it expands to ambient without heat.

    E = p V/(k-1) (1 - (p_a/p)^((k-1)/k))

    Parameters
    ----------
    pressure : float
        Tank pressure, gauge, [Pa]
    volume : float
        Tank volume, [m3]
    ambient : float, optional
        Air pressure around the tank, [Pa]
    heat_ratio : float, optional
        Ratio of specific heats, [-]

    Returns
    -------
    float
        Energy, [J]

    Examples
    --------
    An 80 gal tank at 175 psig stores 513 kJ:

    >>> round(stored_energy_isentropic(175 * 6894.757293168, 80 * 0.003785411784) / 1e3, 1)
    513.4
    """
    p = _absolute(pressure, volume, ambient)
    if not 1.0 < heat_ratio <= 2.0:
        raise OutsideValidity("heat_ratio", f"{heat_ratio:g}", "above 1 to 2")
    exponent = (heat_ratio - 1.0) / heat_ratio
    return float(p * volume / (heat_ratio - 1.0) * (1.0 - (ambient / p) ** exponent))


@formula(
    "Stored energy, pressure-test form",
    equation="E = 2.5 × (pressure + ambient) × volume × "
    "(1 − (ambient / (pressure + ambient))^0.286)",
    results="energy",
    source=PCC_2,
)
def stored_energy_pcc2(
    pressure: GaugePressure, volume: Volume, ambient: AbsolutePressure = STANDARD_PRESSURE
) -> float:
    """Stored energy as the pressure-test rules write it.

    E = 2.5 p V (1 - (p_a/p)^0.286)

    Parameters
    ----------
    pressure : float
        Tank pressure, gauge, [Pa]
    volume : float
        Tank volume, [m3]
    ambient : float, optional
        Air pressure around the tank, [Pa]

    Returns
    -------
    float
        Energy, [J]

    Examples
    --------
    An 80 gal tank at 175 psig:

    >>> round(stored_energy_pcc2(175 * 6894.757293168, 80 * 0.003785411784) / 1e3, 1)
    513.7
    """
    p = _absolute(pressure, volume, ambient)
    return float(2.5 * p * volume * (1.0 - (ambient / p) ** 0.286))


@formula(
    "Stored energy, upper bound",
    equation="E = pressure × volume / (heat_ratio − 1)",
    results="energy",
    source=Source("H. L. Brode, 1959, energy of a bursting vessel", "memory"),
)
def stored_energy_brode(
    pressure: GaugePressure, volume: Volume, heat_ratio: Number = HEAT_RATIO
) -> float:
    """Rise of internal energy at constant volume from ambient to tank pressure.

    E = (p - p_a) V/(k-1)

    Parameters
    ----------
    pressure : float
        Tank pressure, gauge, [Pa]
    volume : float
        Tank volume, [m3]
    heat_ratio : float, optional
        Ratio of specific heats, [-]

    Returns
    -------
    float
        Energy, [J]

    Examples
    --------
    An 80 gal tank at 175 psig:

    >>> round(stored_energy_brode(175 * 6894.757293168, 80 * 0.003785411784) / 1e3, 1)
    913.5
    """
    above_zero("pressure", pressure, "gauge pressure")
    above_zero("volume", volume, "volume")
    if not 1.0 < heat_ratio <= 2.0:
        raise OutsideValidity("heat_ratio", f"{heat_ratio:g}", "above 1 to 2")
    return pressure * volume / (heat_ratio - 1.0)


@formula(
    "Stored energy as a mass of TNT",
    equation="TNT = energy / 4.26692 MJ/kg",
    results="mass",
    source=PCC_2,
)
def tnt_equivalent(energy: Energy) -> float:
    """Mass of TNT with the same energy.

    m = E / 4 266 920 J/kg

    Parameters
    ----------
    energy : float
        Stored energy, [J]

    Returns
    -------
    float
        Mass of TNT, [kg]

    Examples
    --------
    513.75 kJ is 120 g:

    >>> round(tnt_equivalent(513.75e3), 4)
    0.1204
    """
    above_zero("energy", energy, "energy")
    return energy / TNT_ENERGY


@formula(
    "Speed of a car with the same energy",
    equation="speed = √(2 × energy / mass)",
    results="speed",
    source=Source("kinetic energy", "computed"),
)
def car_speed(energy: Energy, mass: Mass = 1500.0) -> float:
    """Speed at which a car carries the same energy.

    v = sqrt(2 E/m)

    Parameters
    ----------
    energy : float
        Stored energy, [J]
    mass : float, optional
        Mass of the car, [kg]

    Returns
    -------
    float
        Speed, [m/s]

    Examples
    --------
    513.75 kJ is a car of 1500 kg at 94 km/h:

    >>> round(car_speed(513.75e3) * 3.6, 1)
    94.2
    """
    above_zero("energy", energy, "energy")
    above_zero("mass", mass, "mass")
    return sqrt(2.0 * energy / mass)


@formula(
    "Distance that a pneumatic proof test demands",
    equation="distance = larger of 30 m (60 m above 135.5 MJ) and "
    "20 m × (2 × energy / 4.26692 MJ)^(1/3)",
    results="length",
    source=Source("ASME PCC-2 Appendix 501-III", "confirmed"),
)
def proof_test_distance(energy: Energy) -> float:
    """Least distance of people from a pneumatic proof test of unproved pressure parts.

    R = 20 (2 TNT)^(1/3), at least 30 m up to 135.5 MJ and 60 m up to 271 MJ

    Parameters
    ----------
    energy : float
        Stored energy at test pressure, [J]

    Returns
    -------
    float
        Distance, [m]

    Notes
    -----
    It does not apply to a stamped receiver at or below its allowable pressure.

    Examples
    --------
    >>> proof_test_distance(513.75e3)
    30.0
    """
    above_zero("energy", energy, "energy")
    least = 30.0 if energy <= _SMALL else 60.0 if energy <= _MEDIUM else 0.0
    return float(max(least, 20.0 * (2.0 * energy / TNT_ENERGY) ** (1.0 / 3.0)))
