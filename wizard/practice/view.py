"""What is true at each place, for the instruments to read: the hidden side of every reading.

Invariant: nothing here is shown to a learner; it is only read through an instrument or an eye.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import pi

from wizard.calc.belt import free_span
from wizard.calc.belt_tension import deflection_force, frequency_at_tension
from wizard.practice.design import Design
from wizard.practice.electricity import Lines, lines_at, resting_lines
from wizard.practice.faults import needed_belt_tension
from wizard.practice.machine import discharge_temperatures, shaft_of, stage_temperature
from wizard.practice.plates import Machine
from wizard.practice.rates import Shaft
from wizard.practice.seed import pick, share
from wizard.practice.state import At, Gauged, State, Turning

JOINTS, FEET = 6, 4
SKIN = 20.0
"""K by which a probe on a hot pipe reads less than the air in it, at 150 K over the room."""
PUSHES = {"light": 0.5, "needed force": 1.0, "hard": 1.5}


@dataclass(frozen=True)
class View:
    """A machine at a moment, with what people have set on it."""

    design: Design
    state: State
    seed: int
    feet: tuple[float, ...]
    knobs: Mapping[str, str]

    @property
    def machine(self) -> Machine:
        """The machine with its faults."""
        return self.design.machine

    @cached_property
    def gauged(self) -> Gauged:
        """Readings of the state."""
        return Gauged(self.machine, self.design.site)

    @cached_property
    def shaft(self) -> Shaft:
        """What turns now."""
        return shaft_of(self.design, self.state)

    @property
    def turning(self) -> bool:
        """Whether the motor turns."""
        return self.state.turning is not Turning.STILL

    @cached_property
    def lines(self) -> Lines:
        """Currents and voltages at the starter's line terminals."""
        supply = self.machine.supply
        if not self.turning:
            return resting_lines(supply)
        circuit = self.design.curve.circuit
        slip = min(1.0, max(1e-5, 1.0 - self.shaft.motor / circuit.field_speed))
        return lines_at(supply, circuit, slip)

    def knob(self, name: str) -> str:
        """How a knob stands."""
        return self.knobs[name]

    @property
    def leaking_joint(self) -> int:
        """The joint that leaks, if one does."""
        return pick(range(1, JOINTS + 1), self.seed, "joint")

    @property
    def high_foot(self) -> int:
        """The foot that stands clear, if one does."""
        return pick(range(1, FEET + 1), self.seed, "foot")


Truth = Callable[[View], float]


def _skin(view: View) -> float:
    return _strapped(view, discharge_temperatures(view.design, view.state)[-1])


def _strapped(view: View, air: float) -> float:
    room = view.design.site.temperature
    return air - SKIN * max(0.0, air - room) / 150.0


def _first_skin(view: View) -> float:
    return _strapped(view, discharge_temperatures(view.design, view.state)[0])


def _infrared(view: View) -> float:
    """Bright metal: mostly the room, mirrored."""
    return view.design.site.temperature + 0.25 * (_skin(view) - view.design.site.temperature)


def test_deflection(machine: Machine) -> float:
    """1/64 of the free span, m."""
    drive = machine.drive
    return free_span(drive.centre_distance, drive.pump_sheave, drive.motor_sheave) / 64


def belt_push_force(machine: Machine, tension: float) -> float:
    """Force that pushes one belt down by 1/64 of its span, N."""
    return deflection_force(tension, test_deflection(machine), 64 * test_deflection(machine))


def _rule(view: View) -> float:
    """How far the belt goes down under the chosen push."""
    needed = belt_push_force(view.machine, needed_belt_tension(view.machine))
    push = PUSHES[view.knob("rule.push")] * needed
    stiff = belt_push_force(view.machine, view.machine.drive.tension)
    return test_deflection(view.machine) * push / stiff


def _belt_pitch(view: View) -> float:
    drive = view.machine.drive
    span = 64 * test_deflection(view.machine)
    return frequency_at_tension(drive.tension, drive.belt_mass, span)


def _foot_gap(number: int) -> Truth:
    def gap(view: View) -> float:
        if view.feet[number - 1] > 0.5 * view.machine.mounting.snug:
            return 0.0
        if number == view.high_foot:
            return view.machine.mounting.foot_gap
        return 0.00005 + 0.0002 * share(view.seed, "gap", number)

    return gap


def _filter(view: View) -> float:
    machine = view.machine
    if not view.turning:
        return 0.0
    return machine.pump.filter_drop * (view.shaft.pump / (2 * pi * machine.pump.speed)) ** 2


def _current(index: int) -> Truth:
    return lambda v: v.lines.currents[index] if index < len(v.lines.currents) else 0.0


def _foot_torque(number: int) -> Truth:
    return lambda v: v.feet[number - 1]


TRUTHS: dict[str, Truth] = {
    "tank.test_port": lambda v: v.gauged.gauge(v.state),
    "tank.panel": lambda v: v.gauged.gauge(v.state) * (1 + v.machine.protection.panel_error),
    "pump.interstage": lambda v: v.gauged.interstage_gauge(v.state),
    "tank.skin": lambda v: v.state.y[At.SHELL],
    "pump.head": lambda v: v.state.y[At.HEAD],
    "pump.sump": lambda v: v.state.y[At.OIL],
    "pump.discharge": _skin,
    "pump.first_stage": _first_skin,
    "pump.intercooler": lambda v: stage_temperature(v.state),
    "intake.air": lambda v: v.design.site.temperature,
    "room.air": lambda v: v.design.site.temperature,
    "room.pressure": lambda v: v.design.site.pressure,
    "room.humidity": lambda v: v.design.site.humidity,
    "belt.middle": lambda v: belt_push_force(v.machine, v.machine.drive.tension),
    "flywheel": lambda v: v.shaft.pump / (2 * pi),
    "motor.shaft": lambda v: v.shaft.motor / (2 * pi),
    "filter.tap": _filter,
    "wall": lambda v: v.machine.mounting.wall_gap,
    "lead.L1": _current(0),
    "lead.L2": _current(1),
    "lead.L3": _current(2),
    **{f"foot.{n}": _foot_gap(n) for n in range(1, FEET + 1)},
    **{f"bolt.{n}": _foot_torque(n) for n in range(1, FEET + 1)},
}
OTHER_TRUTHS: dict[tuple[str, str], Truth] = {
    ("rule", "belt.middle"): _rule,
    ("belt frequency meter", "belt.middle"): _belt_pitch,
    ("infrared thermometer", "pump.discharge"): _infrared,
    ("frequency meter", "supply.L1-L2"): lambda v: v.machine.supply.frequency,
}
"""Truths that depend on the instrument used."""
