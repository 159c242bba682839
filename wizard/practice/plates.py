"""What a machine is made of: the data of its plates and the hidden data behind them, in SI.

Invariant: a plant never changes; faults and repairs make another one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from importlib import resources
from typing import Any, TypeVar, get_args, get_type_hints

import tomli

from wizard.errors import InputError
from wizard.kinds import (
    Area,
    Current,
    Flow,
    Force,
    Frequency,
    GaugePressure,
    Length,
    Mass,
    MassPerLength,
    MomentOfInertia,
    Number,
    Power,
    PressureDifference,
    Ratio,
    Resistance,
    RotationalSpeed,
    Temperature,
    TemperatureDifference,
    Time,
    Torque,
    Voltage,
    Volume,
)
from wizard.quantities import parse_quantity


@dataclass(frozen=True, slots=True)
class Supply:
    """The supply at the starter: voltage without load and what lies upstream of it."""

    phases: int
    voltage: Voltage
    frequency: Frequency
    resistance: Resistance
    reactance: Resistance
    unbalance: Ratio = 0.0
    swapped: bool = False


@dataclass(frozen=True, slots=True)
class Motor:
    """Motor plate, and how it heats; `connection` is winding volts over plate volts."""

    power: Power
    phases: int
    voltage: Voltage
    frequency: Frequency
    current: Current
    efficiency: Ratio
    power_factor: Ratio
    speed: RotationalSpeed
    poles: int
    service_factor: Number
    rise: TemperatureDifference
    locked_current: Current
    code_letter: str
    inertia: MomentOfInertia
    time_constant: Time
    dual: str = "single rated voltage"
    other_voltage: Voltage = 0.0
    """For which the windings can be linked too; 0 where there is none."""
    connection: Number = 1.0


@dataclass(frozen=True, slots=True)
class Drive:
    """Sheaves and belts; the pump sheave is the flywheel, tension is per belt and static."""

    motor_sheave: Length
    pump_sheave: Length
    centre_distance: Length
    belts: int
    belt_mass: MassPerLength
    tension: Force
    inertia: MomentOfInertia


@dataclass(frozen=True, slots=True)
class Pump:
    """Pump plate, and what happens inside."""

    stages: int
    bore: Length
    stroke: Length
    lp_cylinders: int
    hp_bore: Length
    hp_cylinders: int
    speed: RotationalSpeed
    max_speed: RotationalSpeed
    rated_flow: Flow
    rated_pressure: GaugePressure
    max_pressure: GaugePressure
    interstage_normal: GaugePressure
    clearance: Ratio
    exponent: Number
    suction_drop: PressureDifference
    discharge_drop: PressureDifference
    friction: PressureDifference
    filter_drop: PressureDifference
    interstage_volume: Volume
    intercooler: Ratio
    aftercooler: Ratio
    steel: Mass
    oil_volume: Volume
    lp_leak: Ratio = 0.0
    hp_leak: Ratio = 0.0
    backwards: bool = False


@dataclass(frozen=True, slots=True)
class Tank:
    """Receiver plate, its steel, and the holes in it."""

    volume: Volume
    mawp: GaugePressure
    min_temperature: Temperature
    steel: Mass
    surface: Area
    line_volume: Volume
    vent_bore: Length
    drain_bore: Length
    outlet_bore: Length
    leak_bore: Length = 0.0
    check_leak_bore: Length = 0.0


@dataclass(frozen=True, slots=True)
class Protection:
    """Relief valve, pressure switch, gauge, hose and overload as they really are."""

    relief_set: GaugePressure
    relief_capacity: Flow
    cut_in: GaugePressure
    cut_out: GaugePressure
    overload: Current
    hose_pressure: GaugePressure
    panel_error: Ratio = 0.0
    relief_shut: bool = False
    switch_stuck: bool = False


@dataclass(frozen=True, slots=True)
class Oil:
    """Oil in the crankcase: ISO grade (cSt at 40 °C), index, level in the glass."""

    grade: int
    index: int
    level: Ratio
    kind: str = "non-detergent compressor oil"
    indicator: str = "sight glass"


@dataclass(frozen=True, slots=True)
class Mounting:
    """The frame on the floor; `foot_gap` is under one foot before it is clamped."""

    mass: Mass
    feet: int
    snug: Torque
    foot_gap: Length = 0.0002
    blocks_in: bool = False
    wall_gap: Length = 0.75


@dataclass(frozen=True, slots=True)
class Machine:
    """One machine with its supply; `facts` holds plate values that nothing is computed from."""

    name: str
    title: str
    units: str
    supply: Supply
    motor: Motor
    drive: Drive
    pump: Pump
    tank: Tank
    protection: Protection
    oil: Oil
    mounting: Mounting
    facts: Mapping[str, str] = field(hash=False, default_factory=dict)


_SECTIONS = {
    "supply": Supply,
    "motor": Motor,
    "drive": Drive,
    "pump": Pump,
    "tank": Tank,
    "protection": Protection,
    "oil": Oil,
    "mounting": Mounting,
}
T = TypeVar("T")


def section(made: type[T], values: Mapping[str, Any]) -> T:
    """A dataclass from plain values; text is read as a quantity of the field's kind.

    >>> section(Oil, {"grade": 100, "index": 95, "level": "65 %"}).level
    0.65
    """
    hints = get_type_hints(made, include_extras=True)
    known = {f.name for f in fields(made)}  # type: ignore[arg-type]
    if unknown := sorted(set(values) - known):
        raise InputError(made.__name__.lower(), unknown[0], ", ".join(sorted(known)))
    return made(**{name: _value(name, hints[name], value) for name, value in values.items()})


def _value(name: str, hint: Any, value: Any) -> Any:
    kinds = get_args(hint)
    if isinstance(value, str) and len(kinds) == 2 and isinstance(kinds[1], str):
        return parse_quantity(value, kinds[1], what=name).si
    return value


def machine_names() -> tuple[str, ...]:
    """The machines that ship, in order."""
    found = resources.files(__package__).joinpath("machines").iterdir()
    return tuple(sorted(e.name.removesuffix(".toml") for e in found if e.name.endswith(".toml")))


@cache
def machine(name: str) -> Machine:
    """The machine in machines/`name`.toml."""
    if name not in machine_names():
        raise InputError("practice machine", name, ", ".join(machine_names()))
    file = resources.files(__package__).joinpath("machines", f"{name}.toml")
    data = tomli.loads(file.read_text("utf-8"))
    made: dict[str, Any] = {key: section(kind, data[key]) for key, kind in _SECTIONS.items()}
    return Machine(name, data["title"], data["units"], facts=data.get("facts", {}), **made)
