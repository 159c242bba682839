"""Place of the machine: distance to walls, room temperature."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.kinds import Length, Temperature
from wizard.quantities import Quantity, at_least, at_most, to_si
from wizard.sources import OUR_JUDGEMENT, Source

WALL = to_si(12.0, "length", "in")
SERVICE = to_si(24.0, "length", "in")
FREEZE, COLD, HOT, TOO_HOT = (to_si(t, "temperature", "°C") for t in (0.0, 4.0, 40.0, 46.0))
AIRS = ("air", "hottest air", "coldest air")

PRACTICE = Source("common practice, builders' instruction books", "memory")


@check(
    "Distance to the wall",
    severity=Severity.HANDOVER,
    source=(PRACTICE, OUR_JUDGEMENT),
)
def wall_clearance(clearance: Length) -> Finding:
    """At least 12 in (305 mm) of air beside flywheel, guard, fan and cylinders.

    Parameters
    ----------
    clearance : float
        From the part to the nearest wall or object, 0 to 30, [m]
    """
    within("clearance", clearance, "length", "mm", 0, 30_000)
    finding = Finding(
        Verdict.PASS,
        "Room enough to cool and to service.",
        Severity.HANDOVER,
        Quantity(clearance, "length"),
        Limit(WALL, None, "length"),
        danger="The pump breathes its own hot air and burns its oil; hands have no room at the "
        "belts.",
    )
    if not at_least(clearance, WALL):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="Closer than 12 in (305 mm).",
            clears="Move the machine away from the wall.",
        )
    if not at_least(clearance, SERVICE):
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="It can cool, but 24 in to 36 in (0.6 m to 0.9 m) are better for service.",
            clears="Leave more room on the side where belts and filter are changed.",
        )
    return finding


@check(
    "Temperature of the room",
    severity=Severity.SAFETY,
    source=OUR_JUDGEMENT,
)
def room_temperature(temperature: Temperature, air: str = "air") -> Finding:
    """Neither so hot that oil and windings age, nor so cold that water freezes.

    Parameters
    ----------
    temperature : float
        Air at the machine's intake, -20 °C to 60 °C, [K]
    air : str, optional
        Which air that is: air, hottest air, or coldest air
    """
    within("temperature", temperature, "temperature", "°C", -20, 60)
    one_of("air", air, AIRS)
    finding = Finding(
        Verdict.PASS,
        f"The {air} at the machine is neither too hot nor too cold.",
        Severity.SAFETY,
        Quantity(temperature, "temperature"),
        Limit(COLD, HOT, "temperature"),
        danger="Hot air burns oil to carbon that can ignite in the discharge; ice blocks drain "
        "and relief.",
    )
    if not at_most(temperature, TOO_HOT):
        text, severity = "above 46 °C (115 °F): the machine must not run.", Severity.SAFETY
    elif not at_most(temperature, HOT):
        text, severity = "above 40 °C (104 °F).", Severity.HANDOVER
    elif not at_least(temperature, FREEZE):
        text, severity = "below freezing: drain and control lines ice up.", Severity.HANDOVER
    elif not at_least(temperature, COLD):
        text, severity = "below 4 °C (40 °F): condensate and thick oil.", Severity.HANDOVER
    else:
        return finding
    warm = temperature > HOT
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text=f"The {air} at the machine is {text}",
        severity=severity,
        clears="Ventilate the room, or bring intake air from outdoors."
        if warm
        else "Heat the room, fit a sump heater and heat tracing on the drain.",
    )
