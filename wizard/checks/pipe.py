"""Air pipe before it is laid: velocity and predicted pressure drop.

Invariant: the flow's reference condition decides the mass; the lowest line pressure the velocity.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.air_state import AirState, absolute_pressure, flow_state
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.pipe import (
    air_mass_flow,
    air_velocity,
    fitting_length,
    isothermal_pressure_drop,
)
from wizard.checks.relief_flow import FREE_AIR
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import AbsolutePressure, Flow, GaugePressure, Length, Temperature
from wizard.quantities import Quantity, at_most
from wizard.sources import Source
from wizard.tables import table

VELOCITY_PRACTICE = Source(
    "handbook practice: header 6 m/s (20 ft/s), distribution 9 m/s (30 ft/s)", "memory"
)
BUDGET_PRACTICE = Source(
    "compressed-air energy guides: at most 10 % from receiver to user, 2 to 5 % by design",
    "memory",
)
PLACES = ("compressor room", "distribution")
_NOTE = {"compressor room": 6.0, "distribution": 9.0}
LONG_RUN = 15.0
WATER = "Fast air carries water past the drain legs into tools, and wastes pressure."
LOSS = "The farthest tool runs weak, and somebody turns the pressure switch up."


def _free_air(reference: str, temperature: float, ambient: float) -> AirState:
    if reference == FREE_AIR:
        return AirState(ambient, temperature, 0.0)
    return flow_state(reference)


def _mass(flow: float, reference: str, temperature: float, ambient: float) -> tuple[float, Step]:
    state = _free_air(reference, temperature, ambient)
    return work(air_mass_flow, flow=flow, pressure=state.pressure, temperature=state.temperature)


@check(
    "Air velocity in the pipe",
    severity=Severity.HANDOVER,
    source=VELOCITY_PRACTICE,
    results={"velocity": "speed"},
)
def pipe_velocity(
    flow: Flow,
    bore: Length,
    lowest_pressure: GaugePressure,
    temperature: Temperature,
    place: str,
    flow_reference: str = FREE_AIR,
    length: Length | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> Finding:
    """Slow enough that water falls out: 6 m/s in the room, 9 m/s beyond, never 15 m/s for long.

    Parameters
    ----------
    flow : float
        Free air, [m3/s]
    bore : float
        Inside diameter, [m]
    lowest_pressure : float
        Lowest pressure in the line, gauge, [Pa]
    temperature : float
        Air temperature in the line, [K]
    place : str
        compressor room or distribution
    flow_reference : str, optional
        Condition of the free air
    length : float, optional
        Length of the run, [m]
    ambient : float, optional
        Air pressure around the site, [Pa]
    """
    one_of("place", place, PLACES)
    above_zero("flow", flow, "flow")
    inside("inside bore", bore, "length", "mm", 3, 500)
    above_zero("lowest line pressure", lowest_pressure, "gauge pressure")
    inside("air temperature", temperature, "temperature", "°C", -50, 200)
    above_zero("length", length, "length", "m")
    mass, mass_step = _mass(flow, flow_reference, temperature, ambient)
    line, line_step = work(absolute_pressure, gauge=lowest_pressure, ambient=ambient)
    velocity, step = work(
        air_velocity, mass_flow=mass, bore=bore, pressure=line, temperature=temperature
    )
    passed = Finding(
        Verdict.PASS,
        "The air is slow enough for water to drop out.",
        Severity.HANDOVER,
        Quantity(velocity, "speed"),
        Limit(None, _NOTE[place], "speed"),
        (mass_step, line_step, step),
        danger=WATER,
        results={"velocity": velocity},
    )
    if not at_most(velocity, 15.0) and (length is None or not at_most(length, LONG_RUN)):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The air is faster than 15 m/s (49 ft/s) over a long run.",
            limit=Limit(None, 15.0, "speed"),
            clears="Lay the next larger pipe.",
        )
    if not at_most(velocity, _NOTE[place]):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The air is faster than is good for this part of the pipe.",
            clears="Prefer the next larger pipe.",
        )
    return passed


@check(
    "Predicted pressure drop of the pipe",
    severity=Severity.HANDOVER,
    source=(Source("isothermal compressible pipe flow", "computed"), BUDGET_PRACTICE),
    results={"drop": "pressure difference", "share": "ratio"},
)
def pipe_pressure_drop(
    flow: Flow,
    bore: Length,
    length: Length,
    pressure: GaugePressure,
    temperature: Temperature,
    material: str = "black steel",
    elbows: int = 0,
    tees: int = 0,
    ball_valves: int = 0,
    flow_reference: str = FREE_AIR,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> Finding:
    """What friction takes from the pressure, with the fittings, before the pipe is bought.

    Parameters
    ----------
    flow : float
        Free air, [m3/s]
    bore : float
        Inside diameter, [m]
    length : float
        Developed length of the pipe, [m]
    pressure : float
        Pressure at the receiver, gauge, [Pa]
    temperature : float
        Air temperature, [K]
    material : str, optional
        black steel; galvanised steel; copper, aluminium or stainless tube
    elbows : int, optional
        90° elbows
    tees : int, optional
        Tees entered by the branch
    ball_valves : int, optional
        Full-bore ball valves
    flow_reference : str, optional
        Condition of the free air
    ambient : float, optional
        Air pressure around the site, [Pa]
    """
    above_zero("flow", flow, "flow")
    inside("inside bore", bore, "length", "mm", 3, 500)
    above_zero("pressure", pressure, "gauge pressure")
    above_zero("length", length, "length", "m")
    roughness = table("pipe_roughness").row("material", material)["roughness"]
    mass, mass_step = _mass(flow, flow_reference, temperature, ambient)
    inlet, inlet_step = work(absolute_pressure, gauge=pressure, ambient=ambient)
    total, steps = _developed(
        length,
        bore,
        (("90° elbow", elbows), ("tee, branch", tees), ("full-bore ball valve", ball_valves)),
    )
    drop, step = work(
        isothermal_pressure_drop,
        mass_flow=mass,
        bore=bore,
        length=total,
        pressure=inlet,
        temperature=temperature,
        roughness=roughness,
    )
    finding = budget_finding(drop / pressure, drop, (mass_step, inlet_step, *steps, step))
    return replace(finding, results={"drop": drop, "share": drop / pressure})


def _developed(
    length: float, bore: float, fittings: tuple[tuple[str, int], ...]
) -> tuple[float, tuple[Step, ...]]:
    total, steps = length, []
    for fitting, count in fittings:
        if count:
            extra, step = work(fitting_length, fitting=fitting, count=count, bore=bore)
            total += extra
            steps.append(step)
    return total, tuple(steps)


def budget_finding(share: float, drop: float, working: tuple[Step, ...]) -> Finding:
    """The pressure lost against 5 % by design and 10 % at most."""
    passed = Finding(
        Verdict.PASS,
        "The pressure lost is within 5 %.",
        Severity.HANDOVER,
        Quantity(share, "ratio"),
        Limit(None, 0.05, "ratio"),
        working,
        danger=LOSS,
        results={"drop": drop, "share": share},
    )
    if not at_most(share, 0.10):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="More than 10 % of the pressure is lost.",
            limit=Limit(None, 0.10, "ratio"),
            clears="Larger pipe, fewer fittings, a ring main, or a larger filter.",
        )
    if not at_most(share, 0.05):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Between 5 % and 10 % of the pressure is lost.",
        )
    return passed
