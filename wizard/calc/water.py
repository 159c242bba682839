"""Water in compressed air: how much comes in, how much drops out, at which dew point.

Invariant: saturation follows the curve over water; below 0 °C a dew point says its basis.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from wizard.calc.accepted import within, zero_or_above
from wizard.calc.air_state import absolute_pressure
from wizard.calc.gas import GAS_CONSTANT, STANDARD_PRESSURE, ZERO_CELSIUS
from wizard.calc.vapour import (
    dry_pressure,
    frost_pressure,
    over_water,
    saturation_pressure,
)
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, GaugePressure, Ratio, Temperature
from wizard.sources import Source

MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air."""
DALTON = Source("Dalton's law of partial pressures", "computed")
_STEPS = 80
_COLDEST, _HOTTEST, _MELTING = 173.15, 373.15, 273.16


class WaterLoad(NamedTuple):
    """Water into the machine and liquid left in the tank, kg/s."""

    taken_in: float
    dropped: float


class DewPoint(NamedTuple):
    """Dew point over water and frost point over ice, K; the same where no ice forms."""

    dew: float
    frost: float


@formula(
    "Humidity ratio",
    equation="water per dry air = 0.621945 × e / (pressure - e), "
    "e = humidity × (saturation pressure at temperature)",
    results="ratio",
    source=DALTON,
)
def humidity_ratio(temperature: Temperature, humidity: Ratio, pressure: AbsolutePressure) -> float:
    """Mass of water vapour for each mass of dry air.

    w = 0.621945 e / (p - e), e = RH p_sat(T)

    Parameters
    ----------
    temperature : float
        Air temperature, [K]
    humidity : float
        Relative humidity, 0 to 1, [-]
    pressure : float
        Absolute pressure of the moist air, [Pa]

    Returns
    -------
    float
        Water for each kg of dry air, [-]

    Examples
    --------
    30 °C, 70 % humidity at sea level: 18.8 g of water in each kg of dry air.

    >>> round(1000 * humidity_ratio(303.15, 0.70, 101325.0), 1)
    18.8
    """
    dry = dry_pressure(pressure, temperature, humidity)
    return MASS_RATIO * (pressure - dry) / dry


@formula(
    "Water that comes in and water that drops out",
    equation="taken in = m × w1, dropped = m × (w1 - smaller of (w1; w2)); "
    "m = flow × dry pressure / (287.05 × temperature), w1 at temperature, humidity and ambient, "
    "w2 saturated at tank_temperature and tank_pressure",
    results={"taken_in": "mass flow", "dropped": "mass flow"},
    source=DALTON,
)
def water_balance(
    flow: Flow,
    ambient: AbsolutePressure,
    temperature: Temperature,
    humidity: Ratio,
    tank_pressure: GaugePressure,
    tank_temperature: Temperature,
) -> WaterLoad:
    """Water drawn in with the air, and the part that turns liquid in the tank.

    m_dry = Q (p_a - RH p_sat) / (R T); in m_dry w1; liquid m_dry (w1 - min(w1, w_sat(tank)))

    Parameters
    ----------
    flow : float
        Free air delivered, [m3/s]
    ambient : float
        Air pressure at the intake, [Pa]
    temperature : float
        Air temperature at the intake, [K]
    humidity : float
        Relative humidity at the intake, 0 to 1, [-]
    tank_pressure : float
        Gauge pressure in the tank, [Pa]
    tank_temperature : float
        Air temperature in the tank, 0 to 90 °C, [K]

    Returns
    -------
    WaterLoad
        Water taken in, liquid dropped in the tank, [kg/s]

    Notes
    -----
    Real saturated air at 8 bar holds about 2 % more vapour, so the liquid is a little too high.

    Examples
    --------
    1 m3/min at 30 °C and 70 %, tank at 8 bar(g) and 35 °C: 1.27 kg/h in, 1.01 kg/h to drain.

    >>> w = water_balance(1 / 60, 101325.0, 303.15, 0.70, 8e5, 308.15)
    >>> round(3600 * w.taken_in, 4), round(3600 * w.dropped, 4)
    (1.2748, 1.0098)
    """
    zero_or_above("flow", flow, "flow")
    within("tank_temperature", tank_temperature, "temperature", "°C", 0, 90)
    tank = absolute_pressure(tank_pressure, ambient)
    dry = flow * dry_pressure(ambient, temperature, humidity) / (GAS_CONSTANT * temperature)
    carried = humidity_ratio(temperature, humidity, ambient)
    if saturation_pressure(tank_temperature) >= tank:
        return WaterLoad(dry * carried, 0.0)
    held = humidity_ratio(tank_temperature, 1.0, tank)
    return WaterLoad(dry * carried, dry * (carried - min(carried, held)))


@formula(
    "Atmospheric dew point of a pressure dew point",
    equation="p sat(dew point) = p sat(pressure_dew_point) × ambient / (pressure + ambient)",
    results={"dew": "temperature", "frost": "temperature"},
    source=DALTON,
)
def atmospheric_dew_point(
    pressure_dew_point: Temperature,
    pressure: GaugePressure,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> DewPoint:
    """Dew point that the same air shows after it has expanded to the atmosphere.

    p_sat(T_adp) = p_sat(T_pdp) p_a / p, over liquid water; the frost point is over ice

    Parameters
    ----------
    pressure_dew_point : float
        Dew point under pressure, over water, -60 to 80 °C, [K]
    pressure : float
        Gauge pressure at which it was read, zero or more, [Pa]
    ambient : float, optional
        Air pressure around, [Pa]

    Returns
    -------
    DewPoint
        Dew point over water and frost point over ice at ambient pressure, [K]

    Examples
    --------
    3 °C at 7 bar(g) is -23 °C at the atmosphere, and frost forms from -21 °C:

    >>> point = atmospheric_dew_point(276.15, 7e5)
    >>> round(point.dew - 273.15, 1), round(point.frost - 273.15, 1)
    (-23.1, -20.8)
    """
    within("pressure_dew_point", pressure_dew_point, "temperature", "°C", -60, 80)
    zero_or_above("pressure", pressure, "gauge pressure")
    vapour = over_water(pressure_dew_point) * ambient / absolute_pressure(pressure, ambient)
    dew = _temperature_at(vapour, over_water, _HOTTEST)
    if dew >= ZERO_CELSIUS:
        return DewPoint(dew, dew)
    return DewPoint(dew, _temperature_at(vapour, frost_pressure, _MELTING))


def _temperature_at(vapour: float, curve: Callable[[float], float], highest: float) -> float:
    """The temperature at which a rising saturation curve reaches `vapour`, by halving."""
    low, high = _COLDEST, highest
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if curve(middle) < vapour else (low, middle)
    return (low + high) / 2
