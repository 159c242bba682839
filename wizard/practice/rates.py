"""How fast everything in a machine changes, for one setting of its switches and valves.

Invariant: every flow leaves one place and enters another (or the ledger), so mass and energy
balances hold for any state and any time step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, log, pi, sqrt

from wizard.calc.gas import GAS_CONSTANT, HEAT_RATIO
from wizard.practice.compression import CP, CV, Stroke, hole_flow, water_flow
from wizard.practice.design import Design, area_of, belt_slip, centistokes
from wizard.practice.electricity import lines_at
from wizard.practice.state import SIZE, At, Gauged, Line, State, Turning, humidity_ratio

OVERLOAD_TIME = 380.0
"""Time constant of the overload image: trips from cold in 10 s at 7.2 times its setting."""
TRIP = 1.32
"""Image at which the overload trips: 1.15 times its setting, held for ever."""
TANK_FILM, ROOM_FILM = 30.0, 8.0
"""Heat transfer inside (stirred by the jet) and outside the tank, W/(m2 K)."""
HEAD_COOLING = 0.24
"""Share of the rated power that the fins carry off at 100 K above the room, fan blowing right."""
SUMP_COUPLING, SUMP_COOLING = 0.15, 0.45
"""Of the fins: between head and sump, and between sump and room."""
SUMP_FRICTION = 0.25
"""Share of the friction that heats the oil."""
STILL_AIR = 0.12
"""Cooling of the fins when the flywheel stands."""
BLEED = 0.5e-3
"""Bore of all the small leaks between the stages, m."""
LOW_OIL, THICK_OIL = 0.2, 2000.0
"""Level in the glass, and cSt, beyond which the dipper throws nothing."""
SUCTION_HEATING = 0.12
"""How far the charge comes towards the temperature of the head before it is shut in."""
PASSAGE_HEATING = 0.8
"""How far discharged air that is colder than the head comes towards it on its way out."""
G1 = HEAT_RATIO - 1.0


@dataclass(frozen=True, slots=True)
class Shaft:
    """What turns: rad/s of motor and pump, motor torque and load in N·m, power in, current."""

    motor: float = 0.0
    pump: float = 0.0
    torque: float = 0.0
    load: float = 0.0
    belt_used: float = 0.0
    slip: float = 0.0
    power: float = 0.0
    current: float = 0.0


STANDING = Shaft()


class Rates:
    """The right-hand side of the balances while nothing is switched."""

    def __init__(self, design: Design, state: State) -> None:
        """Fix what does not change until the next switching."""
        gauged = Gauged(design.machine, design.site)
        self.design, self.turning, self.line = design, state.turning, state.line
        self.volume = gauged.gas_volume(state)
        self.liquid = gauged.liquid(state)
        self.powered = state.contactor
        self.now = STANDING
        temperature, pressure = gauged.tank_temperature(state), gauged.pressure(state)
        dry = max(state.y[At.TANK_MASS], 1e-9)
        self.damp = min(state.y[At.WATER] / dry, humidity_ratio(temperature, pressure, 1.0))
        tank, guard = design.machine.tank, design.machine.protection
        relieving = state.relief_open or state.ring_pulled
        self.out = (
            area_of(tank.leak_bore)
            + (area_of(tank.outlet_bore) if state.outlet_open else 0.0)
            + (design.bleed_area if state.bleeding else 0.0)
            + (design.relief_area if relieving and not guard.relief_shut else 0.0)
        )
        self.drain = area_of(tank.drain_bore) if state.drain_open else 0.0
        self.check = area_of(tank.check_leak_bore)
        pump = design.machine.pump
        self.dry_oil = design.machine.oil.level < LOW_OIL
        self.fan = 0.3 if pump.backwards != design.machine.supply.swapped else 1.0

    def __call__(self, y: Sequence[float]) -> list[float]:
        """Rates of change of every component."""
        d = [0.0] * SIZE
        temperature = y[At.TANK_ENERGY] / (y[At.TANK_MASS] * CV)
        pressure = G1 * y[At.TANK_ENERGY] / self.volume
        self._tank(y, d, temperature, pressure)
        line = pressure if self.line is Line.JOINED else self._line(y, d, temperature, pressure)
        if self.turning is Turning.STILL:
            self._still(y, d)
        else:
            self._pump(y, d, line)
        self._solids(y, d, temperature)
        return d

    def _tank(self, y: Sequence[float], d: list[float], temperature: float, p: float) -> None:
        """What leaves the tank to the room, and its heat."""
        room = self.design.site
        out = hole_flow(self.out, p, temperature, room.pressure) if self.out else 0.0
        if self.drain:
            wet = self.liquid / (self.liquid + 0.02) if self.liquid > 0 else 0.0
            lost = wet * water_flow(self.drain, p - room.pressure)
            d[At.WATER] -= lost
            d[At.WATER_OUT] += lost
            out += (1.0 - wet) * hole_flow(self.drain, p, temperature, room.pressure)
        d[At.TANK_MASS] -= out
        d[At.TANK_ENERGY] -= out * CP * temperature
        d[At.MASS_OUT] += out
        d[At.FLOW_OUT] += out * CP * temperature
        d[At.WATER] -= out * self.damp
        d[At.WATER_OUT] += out * self.damp

    def _line(
        self, y: Sequence[float], d: list[float], temperature: float, pressure: float
    ) -> float:
        """The pump line apart from the tank: check-valve leak in, unloader vent out."""
        tank, room = self.design.machine.tank, self.design.site
        p = G1 * y[At.LINE_ENERGY] / tank.line_volume
        back = hole_flow(self.check, pressure, temperature, p) if self.check else 0.0
        d[At.TANK_MASS] -= back
        d[At.TANK_ENERGY] -= back * CP * temperature
        d[At.WATER] -= back * self.damp
        d[At.WATER_OUT] += back * self.damp
        if self.line is Line.VENTED and self.turning is Turning.STILL:
            d[At.MASS_OUT] += back
            d[At.FLOW_OUT] += back * CP * temperature
            return p
        warm = y[At.LINE_ENERGY] / (y[At.LINE_MASS] * CV)
        out = 0.0
        if self.turning is Turning.STILL:
            out = hole_flow(area_of(tank.vent_bore), p, warm, room.pressure)
        d[At.LINE_MASS] += back - out
        d[At.LINE_ENERGY] += CP * (back * temperature - out * warm)
        d[At.MASS_OUT] += out
        d[At.FLOW_OUT] += out * CP * warm
        return p

    def strokes(self, y: Sequence[float], line: float) -> tuple[Stroke, Stroke | None, float]:
        """The turn of each stage, and the temperature between them."""
        design = self.design
        pump = design.machine.pump
        heat = SUCTION_HEATING * (y[At.HEAD] - design.site.temperature)
        charge = design.site.temperature + heat
        end = line + pump.discharge_drop
        if design.hp is None:
            return self._past_head(y, design.lp.turn(design.suction, charge, end)), None, charge
        between = G1 * y[At.STAGE_ENERGY] / pump.interstage_volume
        cooled = y[At.STAGE_ENERGY] / (y[At.STAGE_MASS] * CV)
        first = design.lp.turn(design.suction, charge, between + pump.discharge_drop / 3)
        second = design.hp.turn(between - pump.suction_drop, cooled, end)
        return self._past_head(y, first), self._past_head(y, second), cooled

    def _past_head(self, y: Sequence[float], stroke: Stroke) -> Stroke:
        """The stroke with the heat that its air takes from the hotter passages of the head."""
        colder = max(0.0, y[At.HEAD] - stroke.discharge)
        return replace(stroke, discharge=stroke.discharge + PASSAGE_HEATING * colder)

    def shaft(self, y: Sequence[float], work: float) -> Shaft:
        """Speeds and torques with the pump asking for `work` a turn."""
        design = self.design
        load = work / (2 * pi) * design.ratio
        used = load / (design.machine.drive.motor_sheave / 2) / max(design.pull_limit, 1e-9)
        slip = belt_slip(used)
        field = design.curve.circuit.field_speed
        if self.turning is Turning.RUNNING:
            lag, power, current = design.curve.at_torque(min(load, design.curve.pull_out))
            motor, torque = field * (1.0 - lag), load
        else:
            motor = min(sqrt(2 * max(y[At.SPIN], 0.0) / design.inertia), field * 0.9999)
            torque = power = current = 0.0
            if self.powered:
                lines = lines_at(design.machine.supply, design.curve.circuit, 1.0 - motor / field)
                torque, power, current = lines.torque, lines.power, max(lines.currents)
        pump = motor * design.ratio * (1.0 - slip)
        return Shaft(motor, pump, torque, load, used, slip, power, current)

    def friction(self, y: Sequence[float]) -> float:
        """Work of friction in one turn: part of it goes with the root of the viscosity."""
        thick = centistokes(self.design.machine.oil, y[At.OIL])
        return self.design.friction_work * (0.75 + 0.25 * sqrt(thick / 40.0))

    def _pump(self, y: Sequence[float], d: list[float], line: float) -> None:
        first, second, between = self.strokes(y, line)
        last = second or first
        rubbed = self.friction(y)
        work = first.work + (second.work if second else 0.0) + rubbed
        shaft = self.now = self.shaft(y, work)
        turns = shaft.pump / (2 * pi)
        drawn, moved = first.mass * turns, last.mass * turns
        room = self.design.site.temperature
        d[At.MASS_IN] += drawn
        d[At.FLOW_IN] += drawn * CP * room
        d[At.WATER] += drawn * self.design.humid
        d[At.WATER_IN] += drawn * self.design.humid
        oil = SUMP_FRICTION * rubbed * turns
        d[At.OIL] += oil
        head = work * turns - oil - drawn * CP * (first.discharge - room)
        if second is not None:
            d[At.STAGE_MASS] += drawn - moved
            cooling = self._intercooling(turns) * (between - room)
            d[At.STAGE_ENERGY] += CP * (drawn * first.discharge - moved * between) - cooling
            d[At.HEAT_OUT] += cooling
            head -= moved * CP * (second.discharge - between)
        d[At.HEAD] += head
        self._deliver(d, moved, last.discharge)
        self._motor(d, shaft, work * turns)
        d[At.DRY] += 1.0 if self._no_film(y) else 0.0

    def _no_film(self, y: Sequence[float]) -> bool:
        return self.dry_oil or centistokes(self.design.machine.oil, y[At.OIL]) > THICK_OIL

    def _intercooling(self, turns: float) -> float:
        """Conductance of the intercooler, W/K, from its effectiveness at rated flow."""
        pump = self.design.machine.pump
        rated = pump.rated_flow * self.design.site.pressure
        rated /= GAS_CONSTANT * self.design.site.temperature
        breeze = self.fan * min(1.0, turns / pump.speed)
        return rated * CP * pump.intercooler / (1.0 - pump.intercooler) * breeze

    def _deliver(self, d: list[float], moved: float, discharge: float) -> None:
        """Air through the aftercooling pipe into the line or the tank."""
        room = self.design.site.temperature
        passes = -log(1.0 - self.design.machine.pump.aftercooler) * self.fan
        arriving = room + (discharge - room) * exp(-passes)
        d[At.HEAT_OUT] += moved * CP * (discharge - arriving)
        into = (At.TANK_MASS, At.TANK_ENERGY)
        if self.line is not Line.JOINED:
            into = (At.LINE_MASS, At.LINE_ENERGY)
        d[into[0]] += moved
        d[into[1]] += moved * CP * arriving

    def _motor(self, d: list[float], shaft: Shaft, pumped: float) -> None:
        """Electric power to shaft, winding and belts."""
        turned = shaft.torque * shaft.motor
        given = shaft.load * shaft.motor
        d[At.ENERGY_IN] += shaft.power
        d[At.WINDING] += shaft.power - turned
        d[At.SPIN] += turned - given
        d[At.HEAT_OUT] += given - pumped
        d[At.IMAGE] += (shaft.current / self.design.machine.protection.overload) ** 2

    def _still(self, y: Sequence[float], d: list[float]) -> None:
        """The air between the stages cools and bleeds away."""
        pump, site = self.design.machine.pump, self.design.site
        if pump.stages == 2:
            cooled = y[At.STAGE_ENERGY] / (y[At.STAGE_MASS] * CV)
            between = G1 * y[At.STAGE_ENERGY] / pump.interstage_volume
            gone = hole_flow(area_of(BLEED), between, cooled, site.pressure)
            lost = 0.5 * (cooled - site.temperature)
            d[At.STAGE_MASS] -= gone
            d[At.STAGE_ENERGY] -= lost + gone * CP * cooled
            d[At.HEAT_OUT] += lost
            d[At.MASS_OUT] += gone
            d[At.FLOW_OUT] += gone * CP * cooled

    def _solids(self, y: Sequence[float], d: list[float], temperature: float) -> None:
        """Conduction and cooling of everything solid; powers become temperatures."""
        design = self.design
        machine, room = design.machine, design.site.temperature
        turning = self.turning is not Turning.STILL
        inside = TANK_FILM * machine.tank.surface * (temperature - y[At.SHELL])
        fins = HEAD_COOLING * machine.motor.power / 100.0
        breeze = self.fan if turning else STILL_AIR
        shed = {
            At.SHELL: ROOM_FILM * machine.tank.surface * (y[At.SHELL] - room),
            At.HEAD: fins * breeze * (y[At.HEAD] - room),
            At.OIL: SUMP_COOLING * fins * (y[At.OIL] - room),
            At.WINDING: design.winding_cooling * (y[At.WINDING] - room),
        }
        sump = SUMP_COUPLING * fins * (y[At.HEAD] - y[At.OIL])
        d[At.TANK_ENERGY] -= inside
        d[At.SHELL] += inside
        d[At.HEAD] -= sump
        d[At.OIL] += sump
        for place, lost in shed.items():
            d[place] = (d[place] - lost) / design.capacity[place]
            d[At.HEAT_OUT] += lost
        d[At.IMAGE] = (d[At.IMAGE] - y[At.IMAGE]) / OVERLOAD_TIME
