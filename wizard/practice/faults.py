"""Faults: what each does to a machine, how bad it may be, and which exclude each other.

Invariant: a fault changes the hidden truth only; how it shows is up to physics and instruments.
The texts (title, how it shows, what it does, how it is put right) are in faults.toml.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from math import pi
from typing import Any

import tomli

from wizard.calc.belt import wrap_angle
from wizard.calc.belt_tension import needed_tension
from wizard.practice.plates import Machine
from wizard.practice.seed import between, pick, share

Change = Callable[[Machine, float], Machine]
Fits = Callable[[Machine], bool]


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: its range of badness, what it does, and its texts."""

    name: str
    low: float
    high: float
    change: Change
    fits: Fits
    title: str
    shows: str
    does: str
    repair: str
    hands: str
    skill: str
    severity: str
    needs_dead: bool


def needed_belt_tension(machine: Machine, service: float = 1.0) -> float:
    """Static tension per belt that the rated power needs, with a service factor, N."""
    drive, motor = machine.drive, machine.motor
    wrap = wrap_angle(drive.centre_distance, drive.pump_sheave, drive.motor_sheave)
    speed = pi * drive.motor_sheave * motor.speed
    return needed_tension(motor.power, speed, drive.belts, drive.belt_mass, wrap, service)


def _part(machine: Machine, part: str, **values: Any) -> Machine:
    """The machine with some values of one part changed."""
    changed: dict[str, Any] = {part: replace(getattr(machine, part), **values)}
    return replace(machine, **changed)


def _to(part: str, field: str) -> Change:
    """The badness itself is the new value."""
    return lambda m, x: _part(m, part, **{field: x})


def _on(part: str, field: str) -> Change:
    """Something that is so or not."""
    return lambda m, x: _part(m, part, **{field: True})


def _low_supply(m: Machine, x: float) -> Machine:
    return _part(m, "supply", voltage=m.motor.voltage * x)


def _wrong_tap(m: Machine, x: float) -> Machine:
    return _part(m, "motor", connection=m.motor.other_voltage / m.motor.voltage)


def _scaled(field: str, base: str) -> Change:
    """The badness is a share of something that the machine should have been measured by."""
    return lambda m, x: _part(m, "protection", **{field: x * _BASES[base](m)})


_BASES: dict[str, Callable[[Machine], float]] = {
    "motor current": lambda m: m.motor.current,
    "relief set": lambda m: m.protection.relief_set,
    "receiver limit": lambda m: m.tank.mawp,
    "rated flow": lambda m: m.pump.rated_flow * m.pump.max_speed / m.pump.speed,
}


def _thick_oil(m: Machine, x: float) -> Machine:
    return _part(m, "oil", grade=150 if x < 0.5 else 220)


def _loose_belt(m: Machine, x: float) -> Machine:
    return _part(m, "drive", tension=x * needed_belt_tension(m))


def _nothing(m: Machine, x: float) -> Machine:
    return m


def _always(m: Machine) -> bool:
    return True


def _three_phase(m: Machine) -> bool:
    return m.motor.phases == 3


def _two_voltages(m: Machine) -> bool:
    return m.motor.other_voltage > m.motor.voltage


def _two_stage(m: Machine) -> bool:
    return m.pump.stages == 2


_KNOWN: dict[str, tuple[float, float, Change, Fits]] = {
    "low_supply": (0.855, 0.885, _low_supply, _always),
    "unbalanced_supply": (0.020, 0.036, _to("supply", "unbalance"), _three_phase),
    "wrong_tap": (1.0, 1.0, _wrong_tap, _two_voltages),
    "swapped_rotation": (1.0, 1.0, _on("supply", "swapped"), _three_phase),
    "overload_high": (1.5, 1.9, _scaled("overload", "motor current"), _always),
    "weak_hose": (0.70, 0.92, _scaled("hose_pressure", "relief set"), _always),
    "relief_high": (1.08, 1.25, _scaled("relief_set", "receiver limit"), _always),
    "relief_small": (0.55, 0.85, _scaled("relief_capacity", "rated flow"), _always),
    "relief_shut": (1.0, 1.0, _on("protection", "relief_shut"), _always),
    "switch_stuck": (1.0, 1.0, _on("protection", "switch_stuck"), _always),
    "oil_low": (0.08, 0.17, _to("oil", "level"), _always),
    "oil_over": (0.93, 1.0, _to("oil", "level"), _always),
    "oil_thick": (0.0, 1.0, _thick_oil, _always),
    "belt_loose": (0.45, 0.62, _loose_belt, _always),
    "foot_stressed": (0.0010, 0.0022, _to("mounting", "foot_gap"), _always),
    "filter_blocked": (6500.0, 9500.0, _to("pump", "filter_drop"), _always),
    "check_leaks": (0.0007, 0.0011, _to("tank", "check_leak_bore"), _always),
    "joint_leaks": (0.0006, 0.0011, _to("tank", "leak_bore"), _always),
    "lp_valve_worn": (0.28, 0.38, _to("pump", "lp_leak"), _two_stage),
    "hp_valve_worn": (0.28, 0.38, _to("pump", "hp_leak"), _two_stage),
    "tank_warm": (18.0, 28.0, _nothing, _always),
    "panel_gauge_off": (0.065, 0.105, _to("protection", "panel_error"), _always),
    "blocks_in": (1.0, 1.0, _on("mounting", "blocks_in"), _always),
}
EXCLUSIVE = (
    {"oil_low", "oil_over"},
    {"lp_valve_worn", "hp_valve_worn"},
    {"low_supply", "wrong_tap"},
    {"relief_high", "weak_hose"},
)
"""Pairs of which one hides or makes the other."""
COLD = "oil_thick"
"""The fault that only shows on a cold site."""


@cache
def faults() -> dict[str, Fault]:
    """Every fault by name."""
    text = resources.files(__package__).joinpath("faults.toml").read_text("utf-8")
    told = tomli.loads(text)
    return {name: Fault(name, *known, **told[name]) for name, known in _KNOWN.items()}


def fitting(machine: Machine) -> tuple[str, ...]:
    """The faults that this machine can have."""
    return tuple(name for name, fault in faults().items() if fault.fits(machine))


def draw(machine: Machine, count: int, seed: int, beside: Sequence[str] = ()) -> dict[str, float]:
    """`count` faults that go together and with those `beside`, with their badness, from a seed."""
    chosen: list[str] = []
    for name in sample_order(fitting(machine), seed):
        taken = (*beside, *chosen)
        if len(chosen) < count and name not in taken and not _clash(name, taken):
            chosen.append(name)
    return {name: badness(name, seed) for name in chosen}


def _clash(name: str, others: Sequence[str]) -> bool:
    return any({name, other} in EXCLUSIVE for other in others)


def sample_order(names: Sequence[str], seed: int) -> list[str]:
    """The names shuffled by the seed."""
    return sorted(names, key=lambda name: share(seed, "order", name))


def badness(name: str, seed: int) -> float:
    """How bad the fault is in this run; a gauge may be off either way."""
    fault = faults()[name]
    value = between(fault.low, fault.high, seed, "badness", name)
    return value * pick((-1.0, 1.0), seed, "sign") if name == "panel_gauge_off" else value


def with_faults(machine: Machine, present: Mapping[str, float]) -> Machine:
    """The machine with its faults."""
    for name, value in present.items():
        machine = faults()[name].change(machine, value)
    return machine
