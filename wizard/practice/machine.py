"""The machine in time: what switches by itself, and what goes on between two switchings.

Invariant: whatever happens by itself is told, in the order of time, so that a watcher misses
nothing however long the wait.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wizard.practice.compression import CV
from wizard.practice.design import Design
from wizard.practice.integrate import advance
from wizard.practice.rates import G1, STANDING, Rates, Shaft
from wizard.practice.state import SIZE, At, Gauged, Line, State, Turning
from wizard.practice.watches import watches

CHUNK = 120.0
"""Seconds after which slow constants (the water in the tank) are worked out anew."""
NUDGE = 2.0
"""rad/s that a motor is given at switching in; its energy is booked as electric."""
RUIN = ("over the receiver limit", "motor burnt", "pump seized")
"""Happenings after which there is nothing left to practise on."""
_ALLOWED = {
    At.TANK_MASS: 2e-6, At.TANK_ENERGY: 1.0, At.LINE_MASS: 2e-6, At.LINE_ENERGY: 0.5,
    At.STAGE_MASS: 5e-6, At.STAGE_ENERGY: 2.0, At.SHELL: 5e-3, At.HEAD: 5e-3, At.OIL: 5e-3,
    At.WINDING: 1e-2, At.IMAGE: 1e-3, At.SPIN: 2.0, At.WATER: 1e-5,
}  # fmt: skip
SCALE = tuple(_ALLOWED.get(place, 1e9) for place in map(At, range(SIZE)))
"""Error allowed in a step; what is only counted follows what it counts."""


@dataclass(frozen=True, slots=True)
class Happening:
    """Something that took place, by a name that texts are found under."""

    time: float
    name: str


def run_on(
    design: Design, state: State, seconds: float, seed: int = 0
) -> tuple[State, list[Happening]]:
    """The machine `seconds` later, and what happened meanwhile; it stops at ruin."""
    told: list[Happening] = []
    end = state.time + seconds
    state = settle(design, state, told)
    while state.time < end - 1e-6:
        rates = Rates(design, state)
        watched = watches(design, state, rates, seed)
        longest = 0.05 if state.turning is Turning.STARTING else 60.0
        span = min(CHUNK, end - state.time)
        events = [w.event for w in watched]
        y, taken, hit = advance(rates, state.y, span, SCALE, events, longest=longest)
        state = replace(state, y=tuple(y), time=state.time + taken)
        if hit >= 0:
            name = watched[hit].name
            told.append(Happening(state.time, name))
            if name in RUIN:
                break
            state = switched(design, state, name)
        state = settle(design, state, told)
    return state, told


def switched(design: Design, state: State, name: str) -> State:
    """The state after something happened by itself."""
    match name:
        case "switch opens":
            return replace(state, switch_made=False)
        case "switch closes":
            return replace(state, switch_made=True, cycles=state.cycles + 1)
        case "relief opens" | "relief closes":
            return replace(state, relief_open=name == "relief opens")
        case "overload trips":
            return replace(state, tripped=True)
        case "up to speed":
            return replace(state, turning=Turning.RUNNING)
        case "motor stalls":
            return replace(state, turning=Turning.STARTING)
        case "line vented":
            return replace(state, line=Line.VENTED)
        case "check valve opens":
            return _joined(state)
    return state


def settle(design: Design, state: State, told: list[Happening]) -> State:
    """The motor switched in or out as its contacts stand."""
    if state.contactor and state.turning is Turning.STILL:
        told.append(Happening(state.time, "motor starts"))
        y = list(state.y)
        given = 0.5 * design.inertia * NUDGE**2
        y[At.SPIN] += given
        y[At.ENERGY_IN] += given
        line = Line.PARTED
        return replace(state, y=tuple(y), turning=Turning.STARTING, line=line, started=state.time)
    if not state.contactor and state.turning is not Turning.STILL:
        told.append(Happening(state.time, "motor stops"))
        return _coasted(design, state)
    return state


def _coasted(design: Design, state: State) -> State:
    """At rest: what turned is heat in the head, and the check valve parts the line."""
    y = list(state.y)
    y[At.HEAD] += y[At.SPIN] / design.capacity[At.HEAD]
    y[At.SPIN] = 0.0
    if state.line is Line.JOINED:
        volume = Gauged(design.machine, design.site).gas_volume(state)
        part = design.machine.tank.line_volume / volume
        for tank, line in ((At.TANK_MASS, At.LINE_MASS), (At.TANK_ENERGY, At.LINE_ENERGY)):
            y[line] = part * y[tank]
            y[tank] -= y[line]
    return replace(state, y=tuple(y), turning=Turning.STILL, line=Line.PARTED, stopped=state.time)


def _joined(state: State) -> State:
    y = list(state.y)
    for tank, line in ((At.TANK_MASS, At.LINE_MASS), (At.TANK_ENERGY, At.LINE_ENERGY)):
        y[tank] += y[line]
        y[line] = 0.0
    return replace(state, y=tuple(y), line=Line.JOINED)


def shaft_of(design: Design, state: State) -> Shaft:
    """What turns at this moment."""
    if state.turning is Turning.STILL:
        return STANDING
    rates = Rates(design, state)
    rates(state.y)
    return rates.now


def discharge_temperatures(design: Design, state: State) -> tuple[float, float]:
    """Air at the first and at the last discharge valve; the head when still, K."""
    if state.turning is Turning.STILL:
        return state.y[At.HEAD], state.y[At.HEAD]
    rates = Rates(design, state)
    tank = G1 * state.y[At.TANK_ENERGY] / rates.volume
    line = (
        tank
        if state.line is Line.JOINED
        else G1 * state.y[At.LINE_ENERGY] / (design.machine.tank.line_volume)
    )
    first, second, _ = rates.strokes(state.y, line)
    return first.discharge, (second or first).discharge


def stage_temperature(state: State) -> float:
    """Temperature of the air between the stages, K."""
    return state.y[At.STAGE_ENERGY] / (state.y[At.STAGE_MASS] * CV)
