"""What can happen to a machine by itself, as events for the integrator."""

from __future__ import annotations

from dataclasses import dataclass

from wizard.practice.design import Design
from wizard.practice.integrate import Event
from wizard.practice.rates import G1, TRIP, Rates
from wizard.practice.seed import spread
from wizard.practice.state import At, Line, State, Turning

RESEAT = 0.93
"""Of its set pressure, where a relief valve closes again."""
OVER_LIMIT = 1.10
"""Of the receiver limit: beyond it a code relief valve would have kept the pressure."""
BURNT = 120.0
"""K above the rated rise at which the windings are lost."""
SEIZED = 100.0
"""Seconds without an oil film until the pump seizes."""
CRACK = 2000.0
"""Pa that lift the check valve."""
VENTED = 2500.0
"""Pa in the line that no ear hears leave."""
REPEAT = 0.004
"""Standard deviation of a pressure switch between cycles, of its setting."""


@dataclass(frozen=True, slots=True)
class Watch:
    """An event with the name of what happens."""

    name: str
    event: Event


def watches(design: Design, state: State, rates: Rates, seed: int) -> list[Watch]:
    """Everything that can happen from this state, gravest first."""
    found = list(_tank_watches(design, state, rates, seed))
    if state.turning is Turning.STILL:
        if state.line is Line.PARTED:
            limit = (design.site.pressure + VENTED) * design.machine.tank.line_volume / G1
            found.append(Watch("line vented", lambda y: limit - y[At.LINE_ENERGY]))
        return found
    return found + _turning_watches(design, state, rates)


def _tank_watches(design: Design, state: State, rates: Rates, seed: int) -> list[Watch]:
    machine = design.machine
    guard = machine.protection
    found = [
        Watch("over the receiver limit", _above(design, rates, OVER_LIMIT * machine.tank.mawp))
    ]
    if state.switch_made and not guard.switch_stuck:
        out = guard.cut_out * (1 + REPEAT * spread(seed, "cut-out", state.cycles))
        found.append(Watch("switch opens", _above(design, rates, out)))
    if not state.switch_made:
        into = guard.cut_in * (1 + REPEAT * spread(seed, "cut-in", state.cycles))
        found.append(Watch("switch closes", _below(design, rates, into)))
    if state.relief_open:
        closes = RESEAT * guard.relief_set
        found.append(Watch("relief closes", _below(design, rates, closes)))
    elif not guard.relief_shut:
        found.append(Watch("relief opens", _above(design, rates, guard.relief_set)))
    return found


def _above(design: Design, rates: Rates, gauge: float) -> Event:
    energy = (gauge + design.site.pressure) * rates.volume / G1
    return lambda y: y[At.TANK_ENERGY] - energy


def _below(design: Design, rates: Rates, gauge: float) -> Event:
    rising = _above(design, rates, gauge)
    return lambda y: -rising(y)


def _turning_watches(design: Design, state: State, rates: Rates) -> list[Watch]:
    motor = design.machine.motor
    hot = design.site.temperature + motor.rise + BURNT
    found = [
        Watch("motor burnt", lambda y: y[At.WINDING] - hot),
        Watch("pump seized", lambda y: y[At.DRY] - SEIZED),
        Watch("overload trips", lambda y: y[At.IMAGE] - TRIP),
    ]
    if state.line is not Line.JOINED:
        found.append(Watch("check valve opens", _line_full(design, rates)))
    if state.turning is Turning.STARTING:
        found.append(Watch("up to speed", _up_to_speed(design, rates)))
    else:
        found.append(Watch("motor stalls", lambda y: rates.now.load - design.curve.pull_out))
    return found


def _line_full(design: Design, rates: Rates) -> Event:
    volume = design.machine.tank.line_volume
    return lambda y: y[At.LINE_ENERGY] / volume - y[At.TANK_ENERGY] / rates.volume - CRACK / G1


def _up_to_speed(design: Design, rates: Rates) -> Event:
    curve = design.curve

    def event(_: object) -> float:
        shaft = rates.now
        if shaft.load >= curve.pull_out:
            return -1.0
        settled = curve.circuit.field_speed * (1.0 - curve.at_torque(shaft.load)[0])
        return shaft.motor - 0.999 * settled

    return event
