"""Heat in the room and the air that carries it away."""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import (
    Density,
    Flow,
    Length,
    Power,
    Ratio,
    Temperature,
    TemperatureDifference,
)
from wizard.quantities import from_si, to_si
from wizard.sources import Source

HEAT_CAPACITY = 1006.0
"""Of air at constant pressure, J/(kg K)."""

BALANCE = Source("heat balance of the air that passes the room", "computed")


@formula(
    "Density of dry air at an elevation",
    equation="density = 101325 Pa × (1 - 2.25577e-5 × elevation / m) ^ 5.25588 "
    "/ (287.055 × temperature as K)",
    results="density",
    source=Source("standard atmosphere and ideal-gas law", "computed"),
)
def ventilation_air_density(elevation: Length, temperature: Temperature) -> float:
    """Density of the air that cools a room.

    rho = 101325 (1 - 2.25577e-5 z)^5.25588 / (287.055 T)

    Parameters
    ----------
    elevation : float
        Height above sea level, -100 to 4000, [m]
    temperature : float
        Air temperature, -20 °C to 60 °C, [K]

    Returns
    -------
    float
        Density, [kg/m3]

    Examples
    --------
    20 °C at sea level and at 1500 m:

    >>> [round(ventilation_air_density(z, 293.15), 4) for z in (0.0, 1500.0)]
    [1.2041, 1.0048]
    """
    within("elevation", elevation, "length", "m", -100, 4000)
    within("temperature", temperature, "temperature", "°C", -20, 60)
    return float(101325 * (1 - 2.25577e-5 * elevation) ** 5.25588 / (287.055 * temperature))


@formula(
    "Electrical input of a motor from its shaft power",
    equation="input power = shaft / efficiency",
    results="power",
    source=Source("definition of efficiency", "computed"),
)
def input_from_shaft(shaft: Power, efficiency: Ratio) -> float:
    """Power that the motor takes from the line; the loss in the motor heats the room too.

    Parameters
    ----------
    shaft : float
        Power at the shaft, [W]
    efficiency : float
        Motor efficiency, above 0 to 1, [-]

    Returns
    -------
    float
        Electrical input, [W]

    Examples
    --------
    10 hp at 90 % are 28271 Btu/h:

    >>> round(input_from_shaft(10 * 745.69987, 0.90) * 3.412141633)
    28271
    """
    above_zero("shaft", shaft, "power", "kW")
    above_zero("efficiency", efficiency, "ratio", "%")
    within("efficiency", efficiency, "ratio", "%", 0, 100)
    return shaft / efficiency


@formula(
    "Heat that stays in the room",
    equation="heat = input_power × share",
    results="power",
    source=Source(
        "our judgement: all of the input, as the air leaves at room temperature", "judgement"
    ),
)
def room_heat(input_power: Power, share: Ratio = 1.0) -> float:
    """Heat that the ventilation must carry away.

    Parameters
    ----------
    input_power : float
        Electrical input of the motor, [W]
    share : float, optional
        Part of it that stays: 1, or down to 0.85 where air leaves hot or is cooled outside, [-]

    Returns
    -------
    float
        Heat to the room, [W]

    Notes
    -----
    Compressed air that leaves at room temperature carries no extra enthalpy (ideal gas), so
    the whole input becomes heat where the machine cools.

    Examples
    --------
    >>> room_heat(11500.0, 0.9)
    10350.0
    """
    above_zero("input_power", input_power, "power", "kW")
    within("share", share, "ratio", "%", 85, 100)
    return input_power * share


def _warming(rise: float) -> None:
    """Refuse air that would have to cool what is colder than itself."""
    if not rise > 0:
        given = both(rise, "temperature difference")
        raise InputError("rise", given, "more than zero; the outdoor air is hotter")


@formula(
    "Air needed to carry the heat away",
    equation="flow = heat / (density × 1006 J/(kg K) × rise)",
    results="flow",
    source=BALANCE,
)
def cooling_air(heat: Power, density: Density, rise: TemperatureDifference) -> float:
    """Air that must pass the room so that it warms by no more than the rise.

    Q = H / (rho c_p dT)

    Parameters
    ----------
    heat : float
        Heat to carry away, [W]
    density : float
        Density of the air, [kg/m3]
    rise : float
        Warming of the air between inlet and outlet, [K]

    Returns
    -------
    float
        Air flow, [m3/s]

    Examples
    --------
    11.5 kW, 8 K, sea level at 20 °C:

    >>> round(cooling_air(11500.0, ventilation_air_density(0.0, 293.15), 8.0), 4)
    1.1867
    """
    above_zero("heat", heat, "power", "kW")
    above_zero("density", density, "density", "kg/m3")
    _warming(rise)
    return heat / (density * HEAT_CAPACITY * rise)


@formula(
    "Air needed to carry the heat away, trade form",
    equation="cfm = heat as Btu/h / (1.08 × rise as °F × density_ratio)",
    results="flow",
    source=Source("1.08 = 0.075 lb/ft3 × 0.24 Btu/(lb °F) × 60 min/h, HVAC handbooks", "confirmed"),
)
def cooling_air_trade(
    heat: Power, rise: TemperatureDifference, density_ratio: Ratio = 1.0
) -> float:
    """The same air in the form of US handbooks.

    cfm = Btu/h / (1.08 dT_F rho/0.075)

    Parameters
    ----------
    heat : float
        Heat to carry away, [W]
    rise : float
        Warming of the air, [K]
    density_ratio : float, optional
        Density over 0.075 lb/ft3, [-]

    Returns
    -------
    float
        Air flow, [m3/s]

    Examples
    --------
    567 432 Btu/h at 37 °F need 14 200 cfm (published):

    >>> flow = cooling_air_trade(567432 / 3.412141633, 37 / 1.8)
    >>> round(flow / 0.0004719474432)
    14200
    """
    above_zero("heat", heat, "power", "kW")
    above_zero("density_ratio", density_ratio, "ratio", "")
    _warming(rise)
    btu = from_si(heat, "power", "Btu/h")
    fahrenheit = from_si(rise, "temperature difference", "°F (diff)")
    return to_si(btu / (1.08 * fahrenheit * density_ratio), "flow", "cfm")


@formula(
    "All the air the room must get",
    equation="total = cooling + intake",
    results="flow",
    source=BALANCE,
)
def room_air(cooling: Flow, intake: Flow = 0.0) -> float:
    """Cooling air, and the air that the pump itself breathes from the room.

    Parameters
    ----------
    cooling : float
        Air that carries the heat away, [m3/s]
    intake : float, optional
        Air that the pump draws from the room, [m3/s]

    Returns
    -------
    float
        Air to bring in, [m3/s]

    Examples
    --------
    >>> room_air(1.0, 0.02)
    1.02
    """
    zero_or_above("cooling", cooling, "flow", "cfm")
    zero_or_above("intake", intake, "flow", "cfm")
    return cooling + intake


@formula(
    "Warming of the room over outdoors",
    equation="rise = room - outdoor",
    results="temperature difference",
    source=Source("definition", "computed"),
    absolute=False,
)
def room_rise(room: Temperature, outdoor: Temperature) -> float:
    """How much hotter the machine's air is than the air outdoors.

    Parameters
    ----------
    room : float
        Air at the machine, [K]
    outdoor : float
        Air outdoors in the shade, [K]

    Returns
    -------
    float
        Difference, [K]

    Examples
    --------
    >>> round(room_rise(308.15, 300.15), 9)
    8.0
    """
    within("room", room, "temperature", "°C", -20, 60)
    within("outdoor", outdoor, "temperature", "°C", -50, 60)
    return room - outdoor
