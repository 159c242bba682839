"""What a leak looks like and what it costs: the hole to look for and the bill."""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.accepted import above_zero, inside
from wizard.calc.air_state import absolute_pressure
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.leak import CHOKED_RATIO, energy_cost, leak_energy
from wizard.calc.leak_hole import leak_hole
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    GaugePressure,
    Number,
    SpecificPower,
    Temperature,
    Time,
)
from wizard.quantities import Quantity, format_quantity
from wizard.sources import Source

WEEKS = 52.0
ASSUMED_POWER = 8.5 * 60e3
"""J/m3 where the specific power was not measured."""


@check(
    "Hole and cost of a leak",
    severity=Severity.ADVISORY,
    source=(
        Source(
            "choked flow through a hole of coefficient 0.65; real leaks differ by half", "memory"
        ),
        Source("arithmetic", "computed"),
    ),
    results={"hole": "length", "energy": "energy", "cost": "number"},
)
def leak_price(
    pressure: GaugePressure,
    hours_per_day: Time,
    days_per_week: int,
    leak: Flow | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    temperature: Temperature = 293.15,
    specific_power: SpecificPower | None = None,
    price_per_kwh: Number | None = None,
) -> Finding:
    """The one hole that would leak as much, the energy in a year and its price.

    Parameters
    ----------
    pressure : float
        Tank gauge, [Pa]
    hours_per_day : float
        Time under pressure in a day, [s]
    days_per_week : int
        Days under pressure in a week, [-]
    leak : float, optional
        Leak as free air, [m3/s]
    ambient : float, optional
        Air pressure around, [Pa]
    temperature : float, optional
        Temperature of tank and room, [K]
    specific_power : float, optional
        Measured input for each volume of free air, [J/m3]
    price_per_kwh : float, optional
        Price of one kWh, [-]
    """
    above_zero("pressure", pressure, "gauge pressure")
    inside("hours per day", hours_per_day, "time", "h", 0, 24)
    above_zero("specific power", specific_power, "specific power")
    above_zero("price", price_per_kwh, "number")
    if not 1 <= days_per_week <= 7:
        raise InputError("days per week", str(days_per_week), "1 to 7")
    if not leak:
        return Finding(Verdict.PASS, "There is no leak to price.", Severity.ADVISORY)
    running = hours_per_day * days_per_week * WEEKS
    energy, step = work(
        leak_energy,
        leak=leak,
        specific_power=specific_power or ASSUMED_POWER,
        running_time=running,
    )
    results, steps = {"energy": energy}, [step]
    text = f"In a year it takes {format_quantity(energy, 'energy', 'kWh', 3)}"
    if specific_power is None:
        text = f"{text} with an assumed {both(ASSUMED_POWER, 'specific power')}"
    if price_per_kwh is not None:
        cost, step = work(energy_cost, energy=energy, price_per_kwh=price_per_kwh)
        results["cost"] = cost
        steps.append(step)
        text = f"{text}, at a cost of {cost:.0f}"
    hole = _hole(leak, pressure, ambient, temperature)
    if hole is not None:
        results["hole"] = hole[0]
        steps.append(hole[1])
        text = f"{text}; look for a hole of {both(hole[0], 'length')}"
    return Finding(
        Verdict.PASS,
        f"{text}.",
        Severity.ADVISORY,
        Quantity(energy, "energy"),
        working=tuple(steps),
        results=results,
    )


def _hole(
    leak: float, pressure: float, ambient: float, temperature: float
) -> tuple[float, Step] | None:
    """The hole and its working, where the pressure is high enough to choke it."""
    tank = absolute_pressure(pressure, ambient)
    if not tank > CHOKED_RATIO * ambient:
        return None
    return work(
        leak_hole,
        leak=leak,
        pressure=tank,
        temperature=temperature,
        ambient=ambient,
        room_temperature=temperature,
    )
