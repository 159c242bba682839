"""Plates, stamps and labels: what is written on the parts, in frames.

Invariant: a plate says what is stamped on this very part, which may be the wrong part.
"""

from __future__ import annotations

from wizard.practice.plates import Machine
from wizard.practice.view import View
from wizard.quantities import format_quantity


def unit_for(machine: Machine, kind: str) -> str:
    """The unit that plates and instruments of this machine carry."""
    return UNITS[machine.units][kind]


UNITS = {
    "us": {
        "gauge pressure": "psi", "flow": "cfm", "length": "in", "power": "hp",
        "rotational speed": "rpm", "volume": "gal", "temperature": "°F", "current": "A",
        "voltage": "V", "frequency": "Hz", "mass": "lb", "torque": "lbf·ft", "force": "lbf",
        "pressure difference": "inH2O", "absolute pressure": "psia", "ratio": "%", "time": "s",
    },
    "metric": {
        "gauge pressure": "bar", "flow": "m3/min", "length": "mm", "power": "kW",
        "rotational speed": "rpm", "volume": "L", "temperature": "°C", "current": "A",
        "voltage": "V", "frequency": "Hz", "mass": "kg", "torque": "N·m", "force": "N",
        "pressure difference": "mmH2O", "absolute pressure": "hPa", "ratio": "%", "time": "s",
    },
}  # fmt: skip
"""Units of plates and instruments, for kinds of quantity."""


def said(machine: Machine, value: float, kind: str, digits: int = 4) -> str:
    """A value in the units of the machine."""
    return format_quantity(value, kind, unit_for(machine, kind), digits)


def _framed(title: str, rows: list[tuple[str, str]]) -> tuple[str, ...]:
    """A plate: what is stamped, in a frame."""
    width = max(len(f"{name}  {value}") for name, value in rows) + 4
    width = max(width, len(title) + 4)
    body = [
        f"| {name}{' ' * (width - 4 - len(name) - len(value))}{value} |" for name, value in rows
    ]
    edge = "+" + "-" * (width - 2) + "+"
    return (edge, f"| {title:<{width - 4}} |", edge, *body, edge)


def motor(view: View, _: bool) -> tuple[str, ...]:
    machine = view.machine
    motor = machine.motor
    rows = [
        ("power", said(machine, motor.power, "power")),
        ("phases", "three" if motor.phases == 3 else "single"),
        ("voltage, as connected", said(machine, motor.voltage, "voltage")),
        ("can be linked for", f"{motor.other_voltage:g} V" if motor.other_voltage else "-"),
        ("frequency", said(machine, motor.frequency, "frequency")),
        ("full-load current", said(machine, motor.current, "current")),
        ("speed", said(machine, motor.speed, "rotational speed")),
        ("efficiency", said(machine, motor.efficiency, "ratio")),
        ("power factor", f"{motor.power_factor:g}"),
        ("temperature rise", f"{motor.rise:g} K"),
        ("poles", str(motor.poles)),
        ("service factor", f"{motor.service_factor:g}"),
        ("code letter", motor.code_letter),
    ]
    return _framed("MOTOR", rows)


def pump(view: View, _: bool) -> tuple[str, ...]:
    machine = view.machine
    pump = machine.pump
    rows = [
        ("stages", "two" if pump.stages == 2 else "one"),
        ("bore of low-pressure cylinders", said(machine, pump.bore, "length")),
        ("low-pressure cylinders", str(pump.lp_cylinders)),
        ("stroke", said(machine, pump.stroke, "length")),
        ("speed", said(machine, pump.speed, "rotational speed")),
        ("highest speed", said(machine, pump.max_speed, "rotational speed")),
        ("free air delivered", said(machine, pump.rated_flow, "flow")),
        ("  at", said(machine, pump.rated_pressure, "gauge pressure")),
        ("highest pressure", said(machine, pump.max_pressure, "gauge pressure")),
    ]
    if pump.stages == 2:
        rows += [
            ("bore of high-pressure cylinder", said(machine, pump.hp_bore, "length")),
            ("interstage, normal", said(machine, pump.interstage_normal, "gauge pressure")),
        ]
    return _framed("PUMP", [*rows, *_OILS])


def frame(view: View, _: bool) -> tuple[str, ...]:
    machine = view.machine
    mounting = machine.mounting
    return _framed(
        "COMPRESSOR",
        [
            ("mass with skid", said(machine, mounting.mass, "mass")),
            ("feet", str(mounting.feet)),
            ("feet, torque", said(machine, mounting.snug, "torque", 3)),
            ("then one foot", "a quarter turn back, nut locked"),
        ],
    )


def drive(view: View, _: bool) -> tuple[str, ...]:
    machine = view.machine
    drive = machine.drive
    mass = "lb/ft" if machine.units == "us" else "kg/m"
    return _framed(
        "BELT DRIVE",
        [
            ("motor sheave, pitch diameter", said(machine, drive.motor_sheave, "length")),
            ("pump sheave, pitch diameter", said(machine, drive.pump_sheave, "length")),
            ("shaft to shaft", said(machine, drive.centre_distance, "length")),
            ("belts", str(drive.belts)),
            ("mass of a belt", format_quantity(drive.belt_mass, "mass per length", mass, 3)),
        ],
    )


def panel(view: View, _: bool) -> tuple[str, ...]:
    supply = view.machine.supply
    phases = "three" if supply.phases == 3 else "single"
    rows = [("phases", phases), ("frequency", said(view.machine, supply.frequency, "frequency"))]
    return _framed("SUPPLY", rows)


_OILS = [("oil", "non-detergent, ISO VG 100"), ("below 5 °C", "ISO VG 46")]


def tank(view: View, _: bool) -> tuple[str, ...]:
    machine = view.machine
    tank = machine.tank
    mark = "U" if machine.units == "us" else "CE"
    return _framed(
        f"AIR RECEIVER   {mark}",
        [
            ("volume", said(machine, tank.volume, "volume")),
            ("maximum allowable working pressure", said(machine, tank.mawp, "gauge pressure")),
            ("lowest temperature", said(machine, tank.min_temperature, "temperature", 3)),
        ],
    )


def relief(view: View, _: bool) -> tuple[str, ...]:
    machine, guard = view.machine, view.machine.protection
    mark = "UV" if machine.units == "us" else "CE"
    return _framed(
        f"RELIEF VALVE   {mark}",
        [
            ("set", said(machine, guard.relief_set, "gauge pressure")),
            ("capacity, air 60 °F, 14.696 psia", said(machine, guard.relief_capacity, "flow", 3)),
        ],
    )


def hose(view: View, _: bool) -> tuple[str, ...]:
    pressure = said(view.machine, view.machine.protection.hose_pressure, "gauge pressure", 3)
    return (f"=== AIR HOSE === WORKING PRESSURE {pressure.upper()} === -40 TO 100 °C ===",)


def switch(view: View, _: bool) -> tuple[str, ...]:
    machine, guard = view.machine, view.machine.protection
    rows = [
        ("cut-in", said(machine, guard.cut_in, "gauge pressure")),
        ("cut-out", said(machine, guard.cut_out, "gauge pressure")),
    ]
    return _framed("PRESSURE SWITCH, INTENDED SETTINGS", rows)


def drum(view: View, _: bool) -> tuple[str, ...]:
    oil = view.machine.oil
    rows = [("grade", f"ISO VG {oil.grade}"), ("viscosity index", str(oil.index)), ("", oil.kind)]
    return _framed("COMPRESSOR OIL", rows)
