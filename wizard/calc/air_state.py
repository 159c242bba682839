"""The state of the air: pressure at the site and flow at a reference condition.

Invariant: every pressure in a formula is absolute unless its kind says gauge.
"""

from __future__ import annotations

from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero, within, zero_or_above
from wizard.calc.gas import GAS_CONSTANT, GAS_LAW, STANDARD_PRESSURE, STANDARD_TEMPERATURE
from wizard.calc.vapour import dry_pressure, saturation_pressure
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, GaugePressure, Length, Ratio, Temperature
from wizard.sources import Source
from wizard.tables import table

_LAPSE = 0.0065
_EARTH_RADIUS = 6356766.0
_EXPONENT = 9.80665 / (GAS_CONSTANT * _LAPSE)

ATMOSPHERE = Source("ISO 2533:1975 / US Standard Atmosphere 1976", "memory")


__all__ = [
    "AirState",
    "Atmosphere",
    "absolute_pressure",
    "air_mass_ratio",
    "flow_state",
    "free_air_from_inlet",
    "reference_flow",
    "saturation_pressure",
    "standard_atmosphere",
    "station_pressure",
]


class Atmosphere(NamedTuple):
    """Pressure and temperature of the standard atmosphere, Pa and K."""

    pressure: float
    temperature: float


class AirState(NamedTuple):
    """Pressure, temperature and relative humidity of a reference condition, Pa, K, -."""

    pressure: float
    temperature: float
    humidity: float


@formula(
    "Absolute pressure from a gauge reading",
    equation="absolute = gauge + ambient",
    results="absolute pressure",
    source=Source("definition", "computed"),
)
def absolute_pressure(gauge: GaugePressure, ambient: AbsolutePressure) -> float:
    """Absolute pressure behind a gauge that reads against the room.

    p_abs = p_g + p_amb

    Parameters
    ----------
    gauge : float
        Gauge reading, [Pa]
    ambient : float
        Air pressure around the gauge, [Pa]

    Returns
    -------
    float
        Absolute pressure, [Pa]

    Notes
    -----
    A fixed 14.7 psi is wrong above about 150 m (500 ft).

    Examples
    --------
    125 psig at 14.696 psia is 139.696 psia:

    >>> round(absolute_pressure(125 * 6894.757293168, 14.696 * 6894.757293168), 0)
    963170.0
    """
    above_zero("ambient", ambient, "absolute pressure")
    if not gauge > -ambient:
        vacuum = f"more than {both(-ambient, 'gauge pressure')}, which is vacuum"
        raise InputError("gauge", both(gauge, "gauge pressure"), vacuum)
    return gauge + ambient


@formula(
    "Standard atmosphere at an elevation",
    equation="pressure = 101325 Pa × (T / 288.15 K) ^ 5.25588, "
    "T = 288.15 K - 0.0065 K/m × 6356766 m × elevation / (6356766 m + elevation)",
    results={"pressure": "absolute pressure", "temperature": "temperature"},
    source=ATMOSPHERE,
)
def standard_atmosphere(elevation: Length) -> Atmosphere:
    """Air pressure and temperature that the standard atmosphere gives a site.

    H = r z / (r + z), T = 288.15 - 0.0065 H, p = 101325 (T / 288.15)^5.25588

    Parameters
    ----------
    elevation : float
        Height of the site above sea level, -500 to 5000, [m]

    Returns
    -------
    Atmosphere
        Pressure and temperature, [Pa], [K]

    Examples
    --------
    5000 ft is 84.311 kPa and 278.25 K:

    >>> [round(v, 2) for v in standard_atmosphere(1524.0)]
    [84311.05, 278.25]
    """
    within("elevation", elevation, "length", "m", -500, 5000)
    height = _EARTH_RADIUS * elevation / (_EARTH_RADIUS + elevation)
    temperature = STANDARD_TEMPERATURE - _LAPSE * height
    pressure = STANDARD_PRESSURE * (temperature / STANDARD_TEMPERATURE) ** _EXPONENT
    return Atmosphere(pressure, temperature)


@formula(
    "Air pressure at the site from a weather report",
    equation="station = reduced × (standard pressure at elevation) / 101325 Pa",
    results="absolute pressure",
    source=Source("definition of the altimeter setting", "memory"),
)
def station_pressure(reduced: AbsolutePressure, elevation: Length) -> float:
    """Air pressure at the machine from a figure that is reduced to sea level.

    p_station = p_reduced p_std(z) / 101325

    Parameters
    ----------
    reduced : float
        Pressure as the weather service reports it, [Pa]
    elevation : float
        Height of the site above sea level, -500 to 5000, [m]

    Returns
    -------
    float
        Air pressure at the site, [Pa]

    Examples
    --------
    1020 hPa reported at 650 m is 943.82 hPa at the machine:

    >>> round(station_pressure(102000.0, 650.0) / 100, 2)
    943.82
    """
    above_zero("reduced", reduced, "absolute pressure")
    return reduced * standard_atmosphere(elevation).pressure / STANDARD_PRESSURE


@formula(
    "Mass of air caught at the site against the rated condition",
    equation="ratio = (pressure / reference_pressure) × (reference_temperature / temperature)"
    ", temperatures absolute",
    results="ratio",
    source=GAS_LAW,
)
def air_mass_ratio(
    pressure: AbsolutePressure,
    temperature: Temperature,
    reference_pressure: AbsolutePressure = STANDARD_PRESSURE,
    reference_temperature: Temperature = STANDARD_TEMPERATURE,
) -> float:
    """Mass flow at the site over mass flow at the reference, for the same swept volume.

    ratio = (p / p_ref) (T_ref / T)

    Parameters
    ----------
    pressure : float
        Air pressure at the site, [Pa]
    temperature : float
        Air temperature at the intake, [K]
    reference_pressure : float, optional
        Pressure of the rated condition, [Pa]
    reference_temperature : float, optional
        Temperature of the rated condition, [K]

    Returns
    -------
    float
        Mass flow over rated mass flow, [-]

    Notes
    -----
    The higher pressure ratio at altitude lowers the volumetric efficiency as well; that is a
    second factor.

    Examples
    --------
    At 1500 m and 35 °C the pump catches 78 % of the air it catches at sea level and 15 °C:

    >>> round(air_mass_ratio(standard_atmosphere(1500.0).pressure, 308.15), 5)
    0.78037
    """
    each_above_zero("absolute pressure", pressure=pressure, reference_pressure=reference_pressure)
    each_above_zero(
        "temperature", temperature=temperature, reference_temperature=reference_temperature
    )
    return (pressure / reference_pressure) * (reference_temperature / temperature)


@formula(
    "Flow expressed at a reference condition",
    equation="flow = actual_flow × (pressure - humidity × e) / "
    "(reference_pressure - reference_humidity × e_ref) × (reference_temperature / temperature), "
    "e and e_ref saturation pressures of water"
    ", temperatures absolute",
    results="flow",
    source=Source("ISO 1217:2009, definition of free air; ideal-gas law for dry air", "computed"),
)
def reference_flow(
    actual_flow: Flow,
    pressure: AbsolutePressure,
    temperature: Temperature,
    humidity: Ratio,
    reference_pressure: AbsolutePressure,
    reference_temperature: Temperature,
    reference_humidity: Ratio,
) -> float:
    """The same dry air, stated at another pressure, temperature and humidity.

    Q_ref = Q (p - RH p_sat(T)) / (p_ref - RH_ref p_sat(T_ref)) (T_ref / T)

    Parameters
    ----------
    actual_flow : float
        Flow at the first condition, [m3/s]
    pressure : float
        Pressure of the first condition, [Pa]
    temperature : float
        Temperature of the first condition, [K]
    humidity : float
        Relative humidity of the first condition, 0 to 1, [-]
    reference_pressure : float
        Pressure of the reference, [Pa]
    reference_temperature : float
        Temperature of the reference, [K]
    reference_humidity : float
        Relative humidity of the reference, 0 to 1, [-]

    Returns
    -------
    float
        Flow at the reference, [m3/s]

    Examples
    --------
    1 m3/min at 98.0 kPa, 30 °C and 60 % humidity, at 1 bar, 20 °C, dry:

    >>> round(60 * reference_flow(1 / 60, 98000.0, 303.15, 0.60, 100000.0, 293.15, 0.0), 5)
    0.92303
    """
    zero_or_above("actual_flow", actual_flow, "flow")
    above_zero("temperature", temperature, "temperature")
    above_zero("reference_temperature", reference_temperature, "temperature")
    dry = dry_pressure(pressure, temperature, humidity)
    reference = dry_pressure(reference_pressure, reference_temperature, reference_humidity)
    return actual_flow * (dry / reference) * (reference_temperature / temperature)


@formula(
    "Free air from the flow at the cylinder flange",
    equation="free air = inlet_flow × flange_pressure / ambient",
    results="flow",
    source=GAS_LAW,
)
def free_air_from_inlet(
    inlet_flow: Flow, flange_pressure: AbsolutePressure, ambient: AbsolutePressure
) -> float:
    """Free air at the intake from the volume after the filter, at the same temperature.

    ACFM = ICFM p_flange / p_amb

    Parameters
    ----------
    inlet_flow : float
        Flow at the cylinder flange, after the filter, [m3/s]
    flange_pressure : float
        Absolute pressure at the flange, [Pa]
    ambient : float
        Air pressure before the filter, [Pa]

    Returns
    -------
    float
        Flow at the state of the room, [m3/s]

    Examples
    --------
    A filter that takes 2 % of the pressure takes 2 % of the flow:

    >>> round(free_air_from_inlet(1.0, 98000.0, 100000.0), 6)
    0.98
    """
    above_zero("inlet_flow", inlet_flow, "flow")
    each_above_zero("absolute pressure", flange_pressure=flange_pressure, ambient=ambient)
    if flange_pressure > ambient:
        raise InputError(
            "flange_pressure", both(flange_pressure, "absolute pressure"), "at most the ambient"
        )
    return inlet_flow * flange_pressure / ambient


def flow_state(reference: str) -> AirState:
    """The state behind the name of a flow reference.

    >>> flow_state("ISO 1217: 1 bar, 20 °C, dry")
    AirState(pressure=100000.0, temperature=293.15, humidity=0.0)
    """
    row = table("flow_references").row("name", reference)
    return AirState(row["pressure"], row["temperature"], row["humidity"])
