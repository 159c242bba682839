"""The interstage gauge as a detective of the valves, and the intercooler after it."""

from __future__ import annotations

from dataclasses import replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.air_state import absolute_pressure
from wizard.calc.compression import (
    interstage_equal_work,
    interstage_from_cylinders,
    interstage_warm,
)
from wizard.calc.displacement import piston_displacement
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.checks.air_state import percent
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import AbsolutePressure, GaugePressure, Length, Temperature
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, Source
from wizard.tables import table

MO_206 = Source(
    "NAVFAC MO-206, Maintenance and Operation of Air Compressor Plants (1989), section 6(b)",
    "confirmed",
)
BANDS = Source("15 % of the builder's normal, 25 % of a calculated value", "judgement")
GAUGE = "gauge pressure"
BUILDER_BAND, CALCULATED_BAND = 0.15, 0.25
FULL_SHARE = 0.80
STEADY = "steady"
CLIMBING = "climbing until the relief valve lifts"
NO_TAPPING = "no tapping, so not checked"
NEEDLES = (STEADY, "swinging above normal", "swinging below normal", CLIMBING)
OVERWORK = "One cylinder does the work of the other: it overheats and breaks its reeds."
ASSUMED_REVOLUTION = 10.0
"""r/s; any speed gives the same ratio of displacements."""


@check(
    "Interstage pressure",
    severity=Severity.SAFETY,
    source=(MO_206, BANDS),
    results={"ratio": "ratio", "expected": "gauge pressure"},
)
def interstage_pressure(
    measured: GaugePressure,
    final: GaugePressure,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    normal: GaugePressure | None = None,
    needle: str = STEADY,
    cut_out: tuple[GaugePressure, ...] | None = None,
    first_inlet: Temperature | None = None,
    second_inlet: Temperature | None = None,
    low_bore: Length | None = None,
    low_cylinders: int | None = None,
    high_bore: Length | None = None,
    high_cylinders: int | None = None,
    stroke: Length | None = None,
) -> Finding:
    """Interstage gauge against the builder's normal, or against what can be calculated.

    Parameters
    ----------
    measured : float
        Interstage gauge, [Pa]
    final : float
        Tank gauge at the same moment, [Pa]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    normal : float, optional
        Interstage pressure that the builder calls normal, [Pa]
    needle : str, optional
        steady, swinging above normal, swinging below normal, climbing until the relief valve lifts
    cut_out : tuple of float, optional
        Cut-out pressures; the reading counts from 80 % of them, [Pa]
    first_inlet : float, optional
        Air temperature at the intake, [K]
    second_inlet : float, optional
        Air temperature after the intercooler, [K]
    low_bore : float, optional
        Bore of the low-pressure cylinders, [m]
    low_cylinders : int, optional
        Low-pressure cylinders, [-]
    high_bore : float, optional
        Bore of the high-pressure cylinders, [m]
    high_cylinders : int, optional
        High-pressure cylinders, [-]
    stroke : float, optional
        Stroke of both, [m]
    """
    one_of("needle", needle, NEEDLES)
    above_zero("builder's normal", normal, GAUGE)
    _between_stages(measured, final, ambient)
    geometry = (low_bore, low_cylinders, high_bore, high_cylinders, stroke)
    expected, steps = _expected(ambient, final, normal, (first_inlet, second_inlet), geometry)
    ratio = absolute_pressure(measured, ambient) / expected
    band = CALCULATED_BAND if normal is None else BUILDER_BAND
    limit = Limit((1 - band) * expected - ambient, (1 + band) * expected - ambient, GAUGE)
    found = Finding(
        Verdict.PASS,
        f"At {percent(ratio)} of what is expected, in absolute pressure.",
        Severity.HANDOVER,
        Quantity(measured, GAUGE),
        limit,
        steps,
        danger=OVERWORK,
        results={"ratio": ratio, "expected": expected - ambient},
    )
    if needle == CLIMBING:
        return replace(
            found,
            verdict=Verdict.FAIL,
            severity=Severity.SAFETY,
            text=f"Climbing until its relief valve lifts: {_cause(CLIMBING)}.",
            danger="The interstage relief valve blows beside whoever stands there.",
            clears="Stop the machine, lock out, repair the valve, and take the reading again.",
        )
    if cut_out and not at_least(final, FULL_SHARE * sum(cut_out) / len(cut_out)):
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text="The tank was below 80 % of cut-out; the normal is for full pressure.",
            clears="Read it near cut-out, the tank held steady by bleeding.",
        )
    return _diagnosed(found, ratio, band, needle)


Geometry = tuple[float | None, int | None, float | None, int | None, float | None]


def _expected(
    ambient: float,
    final: float,
    normal: float | None,
    inlets: tuple[float | None, float | None],
    geometry: Geometry,
) -> tuple[float, tuple[Step, ...]]:
    """Expected absolute pressure: the builder's, else from the cylinders, else for equal work."""
    outlet = absolute_pressure(final, ambient)
    if normal is not None:
        pressure, step = work(absolute_pressure, gauge=normal, ambient=ambient)
        return pressure, (step,)
    first, second = inlets
    low_bore, low_count, high_bore, high_count, stroke = geometry
    if first and second and low_bore and low_count and high_bore and high_count and stroke:
        low = piston_displacement(low_bore, stroke, low_count, ASSUMED_REVOLUTION)
        high = piston_displacement(high_bore, stroke, high_count, ASSUMED_REVOLUTION)
        pressure, step = work(
            interstage_from_cylinders,
            suction=ambient,
            low_displacement=low,
            high_displacement=high,
            first_inlet=first,
            second_inlet=second,
        )
        return pressure, (step,)
    if first and second:
        pressure, step = work(
            interstage_warm, suction=ambient, final=outlet, first_inlet=first, second_inlet=second
        )
        return pressure, (step,)
    pressure, step = work(interstage_equal_work, suction=ambient, final=outlet)
    return pressure, (step,)


def _between_stages(measured: float, final: float, ambient: float) -> None:
    above_zero("final pressure", final, GAUGE)
    if not -ambient < measured < final:
        accepted = f"less than the final pressure, {both(final, GAUGE)}"
        raise InputError("interstage pressure", both(measured, GAUGE), accepted)


def _cause(sign: str) -> str:
    return str(table("interstage_causes").row("sign", sign)["cause"])


def _diagnosed(found: Finding, ratio: float, band: float, needle: str) -> Finding:
    cure = "Find the hottest valve cover with a thermometer, never a hand; that valve is sick."
    if not (at_least(ratio, 1 - band) and at_most(ratio, 1 + band)):
        sign = "low" if ratio < 1 else "high"
        likely = _cause(sign if needle == STEADY else needle)
        return replace(
            found,
            verdict=Verdict.FAIL,
            text=f"Too {sign}, {percent(ratio)} of what is expected. Likely: {likely}.",
            clears=cure,
        )
    if needle != STEADY:
        return replace(
            found,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text=f"In the band, but {needle}: {_cause(needle)}.",
            clears=cure,
        )
    return found


@check(
    "Intercooler outlet above the room",
    severity=Severity.HANDOVER,
    source=COMMON_PRACTICE,
)
def intercooler_approach(outlet: Temperature, room: Temperature) -> Finding:
    """How far the intercooler brings the air down to the room.

    Parameters
    ----------
    outlet : float
        Air temperature after the intercooler, [K]
    room : float
        Air temperature of the room at the cooler, [K]
    """
    inside("room temperature", room, "temperature", "°C", -60, 80)
    inside("intercooler outlet", outlet, "temperature", "°C", -60, 200)
    approach = outlet - room
    value, limit = (
        Quantity(approach, "temperature difference"),
        Limit(None, 20.0, "temperature difference"),
    )
    if at_most(approach, 20.0):
        ask = "Colder than the room cannot be; was the same thermometer used?"
        return Finding(
            Verdict.PASS,
            "The intercooler cools well.",
            Severity.HANDOVER,
            value,
            limit,
            ask=ask if approach < -2 else "",
        )
    bad = not at_most(approach, 35.0)
    return Finding(
        Verdict.FAIL if bad else Verdict.ADVISORY,
        "The second stage is fed with hot air."
        if bad
        else "The intercooler leaves the air warmer than usual.",
        Severity.HANDOVER if bad else Severity.ADVISORY,
        value,
        Limit(None, 35.0, "temperature difference") if bad else limit,
        danger="The second stage runs hot and cokes its valves.",
        clears="Clean the fins, check fan, rotation and the space around the machine.",
    )
