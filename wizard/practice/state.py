"""The hidden true state of a machine: what is stored where, and which way the switches stand.

Invariant: a state never changes. Everything that is conserved is a component of `y` beside the
ledger of what crossed the boundary, so that balances close by construction of the integrator.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from enum import IntEnum, StrEnum
from math import exp
from typing import Any

from wizard.calc.gas import GAS_CONSTANT, HEAT_RATIO
from wizard.practice.compression import CV
from wizard.practice.plates import Machine


class At(IntEnum):
    """Places in the vector of a state; SI."""

    TANK_MASS = 0
    TANK_ENERGY = 1
    LINE_MASS = 2
    LINE_ENERGY = 3
    STAGE_MASS = 4
    STAGE_ENERGY = 5
    SHELL = 6
    HEAD = 7
    OIL = 8
    WINDING = 9
    IMAGE = 10
    SPIN = 11
    """Kinetic energy of all that turns, J."""
    WATER = 12
    DRY = 13
    """Seconds of running without an oil film."""
    MASS_IN = 14
    MASS_OUT = 15
    WATER_IN = 16
    WATER_OUT = 17
    ENERGY_IN = 18
    """Electric energy at the motor terminals, J."""
    HEAT_OUT = 19
    FLOW_IN = 20
    """Enthalpy of the air drawn in, J."""
    FLOW_OUT = 21


SIZE = len(At)


class Turning(StrEnum):
    """What the motor does."""

    STILL = "still"
    STARTING = "starting"
    RUNNING = "running"


class Line(StrEnum):
    """The pipe between pump and check valve."""

    JOINED = "joined"
    PARTED = "parted"
    VENTED = "vented"


@dataclass(frozen=True, slots=True)
class Site:
    """The room: what the machine breathes and stands in."""

    elevation: float
    pressure: float
    temperature: float
    humidity: float


@dataclass(frozen=True, slots=True)
class State:
    """One moment of a machine."""

    time: float
    y: tuple[float, ...]
    turning: Turning = Turning.STILL
    line: Line = Line.VENTED
    locked: bool = True
    switched_on: bool = False
    switch_made: bool = True
    tripped: bool = False
    relief_open: bool = False
    ring_pulled: bool = False
    outlet_open: bool = False
    bleeding: bool = False
    """Outlet valve cracked, so that it lets about the rated flow out near cut-out."""
    drain_open: bool = False
    guard_on: bool = True
    cycles: int = 0
    started: float = 0.0
    """When the motor was last switched in, s."""
    stopped: float = -1e6

    @property
    def contactor(self) -> bool:
        """Whether the motor is on the line."""
        return self.switched_on and self.switch_made and not self.tripped and not self.locked


def to_plain(state: State) -> dict[str, Any]:
    """The state as plain values."""
    plain = asdict(state)
    plain["y"] = list(state.y)
    return plain | {"turning": state.turning.value, "line": state.line.value}


def from_plain(plain: Mapping[str, Any]) -> State:
    """The state that `to_plain` gave."""
    known = {f.name for f in fields(State)}
    values = {name: value for name, value in plain.items() if name in known}
    values["y"] = tuple(float(v) for v in values["y"])
    values["turning"] = Turning(values["turning"])
    values["line"] = Line(values["line"])
    return State(**values)


def humidity_ratio(temperature: float, pressure: float, humidity: float) -> float:
    """Water in air, kg per kg of dry air, by the Magnus form (within 0.4 % from 0 to 60 °C)."""
    celsius = temperature - 273.15
    vapour = humidity * 611.2 * exp(17.62 * celsius / (243.12 + celsius))
    return 0.621945 * vapour / max(pressure - vapour, 1.0)


@dataclass(frozen=True, slots=True)
class Gauged:
    """A machine with its site: readings of the state that need both."""

    machine: Machine
    site: Site

    def vapour(self, state: State) -> float:
        """Water that the tank air holds as vapour, kg."""
        y = state.y
        full = humidity_ratio(self.tank_temperature(state), self._rough_pressure(state), 1.0)
        return min(y[At.WATER], full * y[At.TANK_MASS])

    def liquid(self, state: State) -> float:
        """Water lying in the tank, kg."""
        return state.y[At.WATER] - self.vapour(state)

    def gas_volume(self, state: State) -> float:
        """Room for air in the tank, with the pump line while the check valve is open, m3."""
        tank = self.machine.tank
        room = tank.volume - self.liquid(state) / 998.0
        return room + tank.line_volume if state.line is Line.JOINED else room

    def _rough_pressure(self, state: State) -> float:
        return (HEAT_RATIO - 1.0) * state.y[At.TANK_ENERGY] / self.machine.tank.volume

    def pressure(self, state: State) -> float:
        """Absolute pressure in the tank, Pa."""
        return (HEAT_RATIO - 1.0) * state.y[At.TANK_ENERGY] / self.gas_volume(state)

    def gauge(self, state: State) -> float:
        """Pressure in the tank above the room, Pa."""
        return self.pressure(state) - self.site.pressure

    def tank_temperature(self, state: State) -> float:
        """Temperature of the tank air, K."""
        return state.y[At.TANK_ENERGY] / (state.y[At.TANK_MASS] * CV)

    def line_gauge(self, state: State) -> float:
        """Pressure in the pump line above the room, Pa."""
        if state.line is Line.JOINED:
            return self.gauge(state)
        volume = self.machine.tank.line_volume
        return (HEAT_RATIO - 1.0) * state.y[At.LINE_ENERGY] / volume - self.site.pressure

    def interstage_gauge(self, state: State) -> float:
        """Pressure between the stages above the room, Pa."""
        volume = self.machine.pump.interstage_volume
        return (HEAT_RATIO - 1.0) * state.y[At.STAGE_ENERGY] / volume - self.site.pressure

    def stored_energy(self, state: State) -> float:
        """All the energy that the balance counts, J; heats from 0 K."""
        y = state.y
        gas = y[At.TANK_ENERGY] + y[At.LINE_ENERGY] + y[At.STAGE_ENERGY] + y[At.SPIN]
        return gas + sum(
            capacity * y[place] for place, capacity in capacities(self.machine).items()
        )

    def stored_air(self, state: State) -> float:
        """All the air inside, kg."""
        return state.y[At.TANK_MASS] + state.y[At.LINE_MASS] + state.y[At.STAGE_MASS]


def capacities(machine: Machine) -> dict[At, float]:
    """Heat capacities of the solid parts, J/K."""
    motor = machine.motor
    lost = motor.power / motor.efficiency - motor.power
    return {
        At.SHELL: machine.tank.steel * 490.0,
        At.HEAD: machine.pump.steel * 0.35 * 500.0,
        At.OIL: machine.pump.oil_volume * 880.0 * 1900.0 + machine.pump.steel * 0.25 * 500.0,
        At.WINDING: motor.time_constant * lost / motor.rise,
    }


def resting(machine: Machine, site: Site, gauge: float = 0.0, warmer: float = 0.0) -> State:
    """A machine that has stood in the room, with `gauge` in the tank; the tank `warmer` by K."""
    room, tank = site.temperature, machine.tank
    y = [0.0] * SIZE
    air = (site.pressure + gauge) * tank.volume / GAS_CONSTANT / (room + warmer)
    y[At.TANK_MASS], y[At.TANK_ENERGY] = air, air * CV * (room + warmer)
    for mass, energy, volume in (
        (At.LINE_MASS, At.LINE_ENERGY, tank.line_volume),
        (At.STAGE_MASS, At.STAGE_ENERGY, machine.pump.interstage_volume),
    ):
        y[mass] = site.pressure * volume / GAS_CONSTANT / room
        y[energy] = y[mass] * CV * room
    for place in (At.SHELL, At.HEAD, At.OIL, At.WINDING):
        y[place] = room
    y[At.SHELL] += warmer
    y[At.WATER] = air * humidity_ratio(room, site.pressure, site.humidity)
    return State(0.0, tuple(y))
