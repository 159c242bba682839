"""Place of the machine: distance to walls, space in front of the panel, room temperature."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.calc.working_space import panel_depth, volts_to_ground
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Length, Temperature, Voltage
from wizard.quantities import Quantity, at_least, at_most, to_si
from wizard.sources import OUR_JUDGEMENT, Source

WALL = to_si(12.0, "length", "in")
SERVICE = to_si(24.0, "length", "in")
PANEL_WIDTH = to_si(30.0, "length", "in")
PANEL_HEIGHT = to_si(78.0, "length", "in")
HIGHEST_WYE = 347.0
FREEZE, COLD, HOT, TOO_HOT = (to_si(t, "temperature", "°C") for t in (0.0, 4.0, 40.0, 46.0))
AIRS = ("air", "hottest air", "coldest air")

PRACTICE = Source("common practice, builders' instruction books", "memory")
SPACE = Source("29 CFR 1910.303 Table S-1, as NEC 110.26(A)(1)", "confirmed")
WIDTH = Source("OSHA interpretation of 28 May 1999, NEC 110.26(A)(2)", "confirmed")
HEIGHT = Source("NEC 110.26(A)(3)", "memory")

TRAPPED = "Somebody who must jump back from an arc has nowhere to go."
MOVE = "Move the panel, the machine or what stands there; keep the space marked and empty."


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
    "Volts to ground of the supply",
    severity=Severity.ADVISORY,
    source=Source("phasor diagram of the supply", "computed"),
    results={"to_ground": "voltage"},
)
def supply_to_ground(line_voltage: Voltage, system: str) -> Finding:
    """The voltage that counts for working space: to ground, not between lines.

    Parameters
    ----------
    line_voltage : float
        Nominal voltage between lines, 100 to 600, [V]
    system : str
        How the supply is grounded
    """
    volts, step = work(volts_to_ground, line_voltage=line_voltage, system=system)
    return Finding(
        Verdict.PASS,
        "Voltage to ground for the working space.",
        Severity.ADVISORY,
        Quantity(volts, "voltage"),
        None,
        (step,),
        results={"to_ground": volts},
    )


@check(
    "Working space in front of the panel",
    severity=Severity.SAFETY,
    source=SPACE,
)
def panel_working_space(depth: Length, to_ground: Voltage, opposite: str) -> Finding:
    """Clear depth in front of parts that may be tested live.

    Parameters
    ----------
    depth : float
        From the front of the panel to what stands opposite, 0 to 30, [m]
    to_ground : float
        Voltage to ground, not between lines, above 0 to 600, [V]
    opposite : str
        nothing, grounded (concrete, brick or tile counts) or live
    """
    within("depth", depth, "length", "mm", 0, 30_000)
    needed, step = work(panel_depth, to_ground=to_ground, opposite=opposite)
    ask = ""
    if to_ground > HIGHEST_WYE:
        ask = "Only a delta without grounded neutral has that much to ground; volts between lines?"
    return replace(_space(depth, needed, "depth"), working=(step,), ask=ask)


def _space(depth: float, needed: float, name: str) -> Finding:
    enough = at_least(depth, needed)
    return Finding(
        Verdict.PASS if enough else Verdict.FAIL,
        f"The clear {name} in front of the panel is enough."
        if enough
        else f"The clear {name} in front of the panel is too small.",
        Severity.SAFETY,
        Quantity(depth, "length"),
        Limit(needed, None, "length"),
        danger=TRAPPED,
        clears="" if enough else MOVE,
    )


@check(
    "Width of the working space",
    severity=Severity.SAFETY,
    source=WIDTH,
)
def panel_width(width: Length, equipment_width: Length | None = None) -> Finding:
    """As wide as the panel, and at least 30 in (762 mm), doors to 90°.

    Parameters
    ----------
    width : float
        Clear width in front of the panel, 0 to 30, [m]
    equipment_width : float, optional
        Width of the panel, 0.05 to 5, [m]
    """
    within("width", width, "length", "mm", 0, 30_000)
    if equipment_width is not None:
        within("equipment_width", equipment_width, "length", "mm", 50, 5000)
    return _space(width, max(PANEL_WIDTH, equipment_width or 0.0), "width")


@check(
    "Headroom of the working space",
    severity=Severity.SAFETY,
    source=HEIGHT,
)
def panel_headroom(height: Length, equipment_height: Length | None = None) -> Finding:
    """As high as the panel's top, and at least 6 1/2 ft (1.98 m).

    Parameters
    ----------
    height : float
        Clear height in front of the panel, 0 to 30, [m]
    equipment_height : float, optional
        Top of the panel above the floor, 0.2 to 5, [m]
    """
    within("height", height, "length", "mm", 0, 30_000)
    if equipment_height is not None:
        within("equipment_height", equipment_height, "length", "mm", 200, 5000)
    return _space(height, max(PANEL_HEIGHT, equipment_height or 0.0), "height")


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
