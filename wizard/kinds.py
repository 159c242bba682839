"""Kinds of quantity: what is measured, the units a technician may type for it, the SI base.

Gauge and absolute pressure are different kinds, and so are temperatures and temperature
differences; a check that wants one can never be given the other. The type aliases at the end
annotate the parameters of formulas and checks: ``Voltage`` is a float in volts.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple


class Unit(NamedTuple):
    """A unit as shown, the pint expression behind it and what else may be typed for it."""

    symbol: str
    pint: str
    aliases: tuple[str, ...] = ()


class Kind(NamedTuple):
    """A kind of quantity; `base` is its SI unit, `us` and `metric` are the ones shown."""

    name: str
    base: str
    us: str
    metric: str
    units: tuple[Unit, ...]


def _kind(name: str, base: str, us: str, metric: str, *units: tuple[str, str, str]) -> Kind:
    made = tuple(Unit(symbol, pint, tuple(also.split())) for symbol, pint, also in units)
    return Kind(name, base, us, metric, made)


_STRESS = (
    ("psi", "psi", "lbf/in2 lb/in2"),
    ("bar", "bar", ""),
    ("kPa", "kilopascal", ""),
    ("MPa", "megapascal", "N/mm2"),
    ("Pa", "pascal", "N/m2"),
)
_SPEED = (
    ("m/s", "meter/second", ""),
    ("mm/s", "millimeter/second", ""),
    ("in/s", "inch/second", "ips"),
    ("ft/s", "foot/second", "fps"),
    ("ft/min", "foot/minute", "fpm"),
    ("km/h", "kilometer/hour", "kph"),
)

# fmt: off
_ALL = (
    _kind("voltage", "V", "V", "V", ("V", "volt", "volt volts vac vdc v~"), ("mV", "millivolt", ""),
          ("kV", "kilovolt", "")),
    _kind("current", "A", "A", "A", ("A", "ampere", "amp amps ampere amperes"),
          ("mA", "milliampere", ""), ("kA", "kiloampere", "")),
    _kind("resistance", "ohm", "ohm", "ohm", ("ohm", "ohm", "Ω Ω ohms"),
          ("mohm", "milliohm", "mΩ mΩ milliohm milliohms"), ("kohm", "kiloohm", "kΩ kΩ"),
          ("Mohm", "megohm", "MΩ MΩ megohm megohms meg megs"), ("Gohm", "gigohm", "GΩ GΩ")),
    _kind("apparent power", "VA", "kVA", "kVA", ("kVA", "kilovolt_ampere", ""),
          ("VA", "volt_ampere", "")),
    _kind("power", "W", "hp", "kW", ("kW", "kilowatt", ""), ("hp", "horsepower", "bhp"),
          ("W", "watt", "watt watts"), ("Btu/h", "btu/hour", "btuh btu/hr")),
    _kind("frequency", "Hz", "Hz", "Hz", ("Hz", "hertz", "cps"), ("kHz", "kilohertz", "")),
    _kind("gauge pressure", "Pa(g)", "psig", "bar(g)",
          ("psig", "psi", "psi psi(g) lb lbs lbf/in2"), ("bar(g)", "bar", "bar barg bars"),
          ("kPa(g)", "kilopascal", "kpa kpag"), ("MPa(g)", "megapascal", "mpa mpag"),
          ("Pa(g)", "pascal", "pa pag")),
    _kind("absolute pressure", "Pa(a)", "psia", "kPa(a)",
          ("psia", "psi", "psi psi(a)"), ("kPa(a)", "kilopascal", "kpa kpaa"),
          ("bar(a)", "bar", "bar bara"), ("hPa", "hectopascal", ""), ("mbar", "millibar", ""),
          ("inHg", "inch_mercury", "in.hg in_hg"), ("mmHg", "millimeter_mercury", "torr"),
          ("atm", "atmosphere", ""), ("MPa(a)", "megapascal", "mpa mpaa"),
          ("Pa(a)", "pascal", "pa paa")),
    _kind("pressure difference", "Pa", "psi", "bar", *_STRESS, ("mbar", "millibar", ""),
          ("inH2O", "inch_water", "inwg inwc in.h2o"), ("mmH2O", "millimeter_water", "mmwg")),
    _kind("stress", "Pa", "psi", "MPa", *_STRESS, ("ksi", "ksi", ""),
          ("psf", "psf", "lbf/ft2 lb/ft2")),
    _kind("temperature", "K", "°F", "°C", ("°C", "degree_Celsius", "C degC ºC"),
          ("°F", "degree_Fahrenheit", "F degF ºF"), ("K", "kelvin", "")),
    _kind("temperature difference", "K", "°F (diff)", "K", ("K", "kelvin", "C °C degC"),
          ("°F (diff)", "fahrenheit_step", "F °F degF")),
    _kind("length", "m", "in", "mm", ("in", "inch", "inch inches \" ″ ”"), ("mm", "millimeter", ""),
          ("ft", "foot", "foot feet ' ′ ’"), ("m", "meter", "metre meter metres meters"),
          ("cm", "centimeter", ""), ("mil", "mil", "mils thou"), ("µm", "micrometer", "um μm"),
          ("km", "kilometer", "")),
    _kind("area", "m2", "in2", "mm2", ("in2", "inch**2", "in² sqin"),
          ("mm2", "millimeter**2", "mm² sqmm"), ("ft2", "foot**2", "ft² sqft"),
          ("m2", "meter**2", "m² sqm"), ("cm2", "centimeter**2", "cm²"),
          ("cmil", "circular_mil", "")),
    _kind("volume", "m3", "gal", "L", ("L", "liter", "litre liter litres liters dm3 dm³"),
          ("gal", "gallon", "usgal gallon gallons"), ("m3", "meter**3", "m³"),
          ("ft3", "foot**3", "ft³ cuft"), ("mL", "milliliter", "cc cm3 cm³"),
          ("qt", "quart", "quarts")),
    _kind("mass", "kg", "lb", "kg", ("kg", "kilogram", "kgs"), ("lb", "pound", "lbs pound pounds"),
          ("g", "gram", ""), ("t", "tonne", "tonne tonnes"), ("oz", "ounce", "")),
    _kind("force", "N", "lbf", "N", ("N", "newton", ""), ("lbf", "pound_force", "lb lbs"),
          ("kN", "kilonewton", ""), ("kgf", "kilogram_force", "kg")),
    _kind("torque", "N·m", "lbf·ft", "N·m", ("N·m", "newton*meter", "Nm N-m N.m"),
          ("lbf·ft", "pound_force*foot", "lbf-ft lbfft lb-ft lbft ft-lb ftlb ft-lbf ft·lbf ft·lb "
           "ft-lbs ftlbs ft.lb lb.ft lb·ft ft.lbs"),
          ("lbf·in", "pound_force*inch", "lbf-in lbfin lb-in lbin in-lb inlb in-lbf in·lbf in·lb "
           "in-lbs inlbs in.lb lb.in lb·in"),
          ("kgf·m", "kilogram_force*meter", "kgf-m kgfm kgm kg-m")),
    _kind("angle", "rad", "°", "°", ("°", "degree", "deg º degree degrees"), ("rad", "radian", ""),
          ("turn", "turn", "turns")),
    _kind("speed", "m/s", "ft/min", "m/s", *_SPEED),
    _kind("vibration velocity", "m/s", "in/s", "mm/s", *_SPEED),
    _kind("rotational speed", "r/s", "rpm", "rpm",
          ("rpm", "rpm", "r/min 1/min min-1 min⁻¹ /min U/min tr/min"),
          ("r/s", "revolution/second", "rps hz")),
    _kind("time", "s", "s", "s", ("s", "second", "sec secs second seconds"),
          ("min", "minute", "mins minute minutes"), ("h", "hour", "hr hrs hour hours"),
          ("d", "day", "day days")),
    _kind("flow", "m3/s", "cfm", "m3/min", ("cfm", "foot**3/minute", "ft3/min ft³/min scfm acfm"),
          ("m3/min", "meter**3/minute", "m³/min"), ("L/s", "liter/second", "lps"),
          ("L/min", "liter/minute", "lpm"), ("m3/h", "meter**3/hour", "m³/h m3/hr cmh"),
          ("m3/s", "meter**3/second", "m³/s"), ("mL/s", "milliliter/second", "")),
    _kind("mass flow", "kg/s", "lb/h", "kg/h", ("kg/h", "kilogram/hour", "kg/hr"),
          ("kg/s", "kilogram/second", ""), ("lb/h", "pound/hour", "lb/hr pph"),
          ("kg/d", "kilogram/day", "kg/day"), ("lb/d", "pound/day", "lb/day")),
    _kind("energy", "J", "kJ", "kJ", ("kJ", "kilojoule", ""), ("J", "joule", ""),
          ("MJ", "megajoule", ""), ("ft·lbf", "foot*pound_force", "ft-lbf ft-lb ftlbf"),
          ("kWh", "kilowatt_hour", ""), ("Btu", "btu", ""), ("bar·L", "bar*liter", "bar-l barl")),
    _kind("kinematic viscosity", "m2/s", "cSt", "cSt", ("cSt", "centistokes", "mm2/s"),
          ("m2/s", "meter**2/second", "m²/s")),
    _kind("sound level", "dBA", "dBA", "dBA", ("dBA", "decibel_a", "db(a)"),
          ("dB", "decibel_a", ""), ("dB(C)", "decibel_a", "dbc")),
    _kind("ratio", "", "%", "%", ("%", "percent", "percent pct"), ("", "", "x :1")),
    _kind("number", "", "", "", ("", "", "")),
    _kind("rate", "1/s", "/h", "/h", ("/h", "1/hour", "1/h per-hour starts/h cycles/h"),
          ("/min", "1/minute", "1/min"), ("1/s", "1/second", "/s")),
    _kind("mass per length", "kg/m", "lb/ft", "kg/m", ("kg/m", "kilogram/meter", ""),
          ("g/m", "gram/meter", ""), ("lb/ft", "pound/foot", "")),
    _kind("stiffness", "N/m", "lbf/in", "N/mm", ("N/mm", "newton/millimeter", ""),
          ("lbf/in", "pound_force/inch", "lb/in"), ("N/m", "newton/meter", "")),
    _kind("density", "kg/m3", "lb/ft3", "kg/m3", ("kg/m3", "kilogram/meter**3", "kg/m³"),
          ("lb/ft3", "pound/foot**3", "lb/ft³"), ("kg/L", "kilogram/liter", "")),
    _kind("concentration", "kg/m3", "mg/m3", "mg/m3", ("mg/m3", "1e-6*kilogram/meter**3", "mg/m³"),
          ("kg/m3", "kilogram/meter**3", "")),
    _kind("specific power", "J/m3", "kW/100cfm", "kW/(m3/min)",
          ("kW/(m3/min)", "kilowatt*minute/meter**3", "kw/m3/min"),
          ("kW/100cfm", "kilowatt*minute/(100*foot**3)", ""), ("J/m3", "joule/meter**3", "")),
    _kind("resistance per length", "ohm/m", "ohm/kft", "ohm/km", ("ohm/kft", "ohm/kilofoot", ""),
          ("ohm/km", "ohm/kilometer", ""), ("ohm/m", "ohm/meter", "")),
    _kind("moment of inertia", "kg·m2", "lb·ft2", "kg·m2", ("kg·m2", "kilogram*meter**2", "kgm2"),
          ("lb·ft2", "pound*foot**2", "lb-ft2 lbft2")),
)
# fmt: on

KINDS: dict[str, Kind] = {kind.name: kind for kind in _ALL}

Voltage = Annotated[float, "voltage"]
Current = Annotated[float, "current"]
Resistance = Annotated[float, "resistance"]
ApparentPower = Annotated[float, "apparent power"]
Power = Annotated[float, "power"]
Frequency = Annotated[float, "frequency"]
GaugePressure = Annotated[float, "gauge pressure"]
AbsolutePressure = Annotated[float, "absolute pressure"]
PressureDifference = Annotated[float, "pressure difference"]
Stress = Annotated[float, "stress"]
Temperature = Annotated[float, "temperature"]
TemperatureDifference = Annotated[float, "temperature difference"]
Length = Annotated[float, "length"]
Area = Annotated[float, "area"]
Volume = Annotated[float, "volume"]
Mass = Annotated[float, "mass"]
Force = Annotated[float, "force"]
Torque = Annotated[float, "torque"]
Angle = Annotated[float, "angle"]
Speed = Annotated[float, "speed"]
VibrationVelocity = Annotated[float, "vibration velocity"]
RotationalSpeed = Annotated[float, "rotational speed"]
Time = Annotated[float, "time"]
Flow = Annotated[float, "flow"]
MassFlow = Annotated[float, "mass flow"]
Energy = Annotated[float, "energy"]
KinematicViscosity = Annotated[float, "kinematic viscosity"]
SoundLevel = Annotated[float, "sound level"]
Ratio = Annotated[float, "ratio"]
Number = Annotated[float, "number"]
Rate = Annotated[float, "rate"]
MassPerLength = Annotated[float, "mass per length"]
Stiffness = Annotated[float, "stiffness"]
Density = Annotated[float, "density"]
Concentration = Annotated[float, "concentration"]
SpecificPower = Annotated[float, "specific power"]
ResistancePerLength = Annotated[float, "resistance per length"]
MomentOfInertia = Annotated[float, "moment of inertia"]
