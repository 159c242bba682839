"""The air at the site: its pressure and where that figure comes from, and what it costs in mass.

Invariant: a figure from a weather report is never taken as the pressure at the machine.
"""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.accepted import above_zero, fraction, inside, one_of
from wizard.calc.air_state import (
    ATMOSPHERE,
    absolute_pressure,
    air_mass_ratio,
    flow_state,
    reference_flow,
    standard_atmosphere,
    station_pressure,
)
from wizard.calc.displacement import clearance_efficiency
from wizard.calc.gas import GAS_LAW, STANDARD_PRESSURE, STANDARD_TEMPERATURE
from wizard.calc.pumpup_time import CLEARANCE, EXPONENT
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import AbsolutePressure, Flow, GaugePressure, Length, Ratio, Temperature
from wizard.quantities import Quantity, at_least, at_most, format_quantity
from wizard.sources import OUR_JUDGEMENT, Source

BAROMETER = "barometer at the machine"
WEATHER = "weather report"
STANDARD = "standard atmosphere for the elevation"
PRESSURE_SOURCES = (BAROMETER, WEATHER, STANDARD)
WEATHER_SPREAD = 0.04
SAME = 0.005
LEAST_MASS = 0.90
STAGES = {"one": 1, "two": 2}


def percent(share: float, digits: int = 3) -> str:
    """A share as a person reads it.

    >>> percent(0.0823), percent(1.30)
    ('8.23 %', '130 %')
    """
    return format_quantity(share, "ratio", "%", digits)


@check(
    "Weather report corrected to the site",
    severity=Severity.HANDOVER,
    source=Source("definition of the altimeter setting", "memory"),
    results={"station": "absolute pressure"},
)
def weather_report_pressure(reported: AbsolutePressure, elevation: Length) -> Finding:
    """The pressure at the machine behind a figure that is reduced to sea level.

    Parameters
    ----------
    reported : float
        Pressure as the weather service gives it, reduced to sea level, [Pa]
    elevation : float
        Height of the site above sea level, [m]
    """
    inside("reported pressure", reported, "absolute pressure", "hPa", 870, 1090)
    station, step = work(station_pressure, reduced=reported, elevation=elevation)
    return Finding(
        Verdict.PASS,
        f"At the machine that is {both(station, 'absolute pressure')}.",
        Severity.HANDOVER,
        Quantity(station, "absolute pressure"),
        working=(step,),
        results={"station": station},
    )


@check(
    "Air pressure at the machine",
    severity=Severity.HANDOVER,
    source=(ATMOSPHERE, Source("band of 4 %: weather moves the pressure by 3 %", "judgement")),
)
def ambient_pressure(
    measured: AbsolutePressure,
    elevation: Length,
    source: str,
    reported: AbsolutePressure | None = None,
) -> Finding:
    """Whether a pressure fits the elevation, and a weather figure was corrected.

    Parameters
    ----------
    measured : float
        Air pressure at the machine, [Pa]
    elevation : float
        Height of the site above sea level, [m]
    source : str
        barometer at the machine, weather report or standard atmosphere for the elevation
    reported : float, optional
        The figure of the weather report, reduced to sea level, [Pa]
    """
    one_of("source", source, PRESSURE_SOURCES)
    above_zero("measured", measured, "absolute pressure")
    standard, step = work(standard_atmosphere, elevation=elevation)
    value = Quantity(measured, "absolute pressure")
    low, high = (standard.pressure * (1 + s * WEATHER_SPREAD) for s in (-1, 1))
    limit = Limit(low, high, "absolute pressure")
    if source == WEATHER and (uncorrected := _uncorrected(measured, elevation, reported)):
        return Finding(
            Verdict.INCONCLUSIVE,
            uncorrected,
            Severity.HANDOVER,
            value,
            limit,
            (step,),
            danger="The delivery would be judged with 10 to 30 % too much air pressure.",
            clears="Enter the corrected figure, or stand a barometer beside the machine.",
        )
    if at_least(measured, low) and at_most(measured, high):
        return Finding(
            Verdict.PASS, "It fits the elevation.", Severity.HANDOVER, value, limit, (step,)
        )
    return Finding(
        Verdict.ADVISORY,
        "It is more than 4 % away from what the elevation gives.",
        Severity.ADVISORY,
        value,
        limit,
        (step,),
        danger="Every flow, temperature and leak figure rests on this pressure.",
        clears="Find out which is wrong, the pressure or the elevation.",
        ask="Is it the pressure at the machine? Feet typed as metres, or a weather figure that "
        "is reduced to sea level, looks like this.",
    )


def _uncorrected(measured: float, elevation: float, reported: float | None) -> str:
    """Why a weather figure cannot be used as it stands, or nothing."""
    if reported is None:
        return "A weather report is reduced to sea level, and its figure was not given."
    station = station_pressure(reported, elevation)
    if abs(measured / station - 1) <= SAME:
        return ""
    return (
        f"The report corrected to the site is {both(station, 'absolute pressure')}; "
        "the figure entered is not that."
    )


@check(
    "Air by mass at this site against the rating",
    severity=Severity.ADVISORY,
    source=(GAS_LAW, OUR_JUDGEMENT),
    results={"ratio": "ratio"},
)
def mass_flow_ratio(
    pressure: AbsolutePressure,
    temperature: Temperature,
    rated_pressure: GaugePressure | None = None,
    stages: str = "one",
    reference_pressure: AbsolutePressure = STANDARD_PRESSURE,
    reference_temperature: Temperature = STANDARD_TEMPERATURE,
) -> Finding:
    """How much air by mass the pump catches here, thin and warm as it is.

    Parameters
    ----------
    pressure : float
        Air pressure at the machine, [Pa]
    temperature : float
        Air temperature at the intake, [K]
    rated_pressure : float, optional
        Gauge pressure of the rating; with it the loss to the clearance counts as well, [Pa]
    stages : str, optional
        one or two
    reference_pressure : float, optional
        Air pressure of the rated condition, [Pa]
    reference_temperature : float, optional
        Intake temperature of the rated condition, [K]
    """
    one_of("stages", stages, tuple(STAGES))
    above_zero("pressure", pressure, "absolute pressure")
    inside("temperature", temperature, "temperature", "°C", -60, 80)
    above_zero("rated pressure", rated_pressure, "gauge pressure")
    mass, step = work(
        air_mass_ratio,
        pressure=pressure,
        temperature=temperature,
        reference_pressure=reference_pressure,
        reference_temperature=reference_temperature,
    )
    steps = [step]
    if rated_pressure is not None:
        here, first = _clearance(rated_pressure, pressure, STAGES[stages])
        rated, second = _clearance(rated_pressure, reference_pressure, STAGES[stages])
        mass *= here / rated
        steps += [first, second]
    finding = Finding(
        Verdict.PASS,
        "The pump catches nearly the air of its rating.",
        Severity.ADVISORY,
        Quantity(mass, "ratio"),
        Limit(LEAST_MASS, None, "ratio"),
        tuple(steps),
        results={"ratio": mass},
    )
    if at_least(mass, LEAST_MASS):
        return finding
    return Finding(
        Verdict.ADVISORY,
        f"The customer gets {percent(mass)} of the air by mass that the rating suggests.",
        Severity.ADVISORY,
        finding.value,
        finding.limit,
        finding.working,
        danger="Tools run on mass of air; they will be weaker than the plate promises.",
        clears="Tell the customer now, and write it on the handover sheet.",
        results={"ratio": mass},
    )


def _clearance(rated_pressure: float, ambient: float, stages: int) -> tuple[float, Step]:
    """Volumetric efficiency that the clearance leaves at a gauge pressure on this site."""
    whole = absolute_pressure(rated_pressure, ambient) / ambient
    return work(
        clearance_efficiency,
        clearance=CLEARANCE,
        ratio=whole ** (1 / stages),
        exponent=EXPONENT,
    )


@check(
    "Delivery at the customer's reference",
    severity=Severity.ADVISORY,
    source=Source("ISO 1217:2009, free air; ideal-gas law for dry air", "computed"),
    results={"flow": "flow"},
)
def flow_at_reference(
    reference: str,
    pressure: AbsolutePressure,
    temperature: Temperature,
    humidity: Ratio,
    flow: Flow | None = None,
) -> Finding:
    """The measured free air stated at another condition, which is always named with it.

    Parameters
    ----------
    reference : str
        Name of a flow reference
    pressure : float
        Air pressure at the intake, [Pa]
    temperature : float
        Air temperature at the intake, [K]
    humidity : float
        Relative humidity at the intake, 0 to 1, [-]
    flow : float, optional
        Free air measured, [m3/s]
    """
    fraction("humidity", humidity)
    state = flow_state(reference)
    if flow is None:
        return Finding(Verdict.NOT_APPLICABLE, "There is no measured delivery to convert.")
    above_zero("flow", flow, "flow")
    stated, step = work(
        reference_flow,
        actual_flow=flow,
        pressure=pressure,
        temperature=temperature,
        humidity=humidity,
        reference_pressure=state.pressure,
        reference_temperature=state.temperature,
        reference_humidity=state.humidity,
    )
    return Finding(
        Verdict.PASS,
        f"{both(flow, 'flow')} of free air is {both(stated, 'flow')} at {reference}.",
        Severity.ADVISORY,
        Quantity(stated, "flow"),
        working=(step,),
        results={"flow": stated},
    )
