"""What an eye or an ear takes in at each place, as lines of text and drawings.

Invariant: a look tells what is there, never what it means.
"""

from __future__ import annotations

from collections.abc import Callable

from wizard.practice import stamps
from wizard.practice.draw.shapes import dipstick, overload_dial, sight_glass
from wizard.practice.state import At, Line
from wizard.practice.view import View

Look = Callable[[View, bool], tuple[str, ...]]
COAST = 4.0
"""Seconds for which the flywheel is still seen to turn after the motor stops."""
VENT_HEARD = 8000.0
"""Pa in the line whose escape an ear hears."""
SQUEAL = 0.03
"""Belt slip that squeals."""


def _relief_path(view: View, _: bool) -> tuple[str, ...]:
    if view.machine.protection.relief_shut:
        return (
            "tank ==[ boss ]==( -|- )==[ relief valve ]==> outlet, open",
            "                   |",
            "                  lever, across the pipe",
        )
    return ("tank ==[ boss ]==[ short full-bore nipple ]==[ relief valve ]==> outlet, open",)


def _mounts(view: View, _: bool) -> tuple[str, ...]:
    if view.machine.mounting.blocks_in:
        return (
            "      [ p u m p ]",
            "   ~~##~~~~~~~~~##~~     two red wooden blocks between feet and base plate",
            "  ======================",
        )
    return ("      [ p u m p ]", "   ~~  ~~~~~~~~~  ~~     rubber mounts, free all round",
            "  ======================")  # fmt: skip


def _glass(view: View, ascii_only: bool) -> tuple[str, ...]:
    if view.turning:
        return ("The oil is whipped to froth; no level can be read running.",)
    drawn = dipstick if view.machine.oil.indicator == "dipstick" else sight_glass
    return drawn(view.machine.oil.level, ascii_only)


def _filter(view: View, _: bool) -> tuple[str, ...]:
    if view.machine.pump.filter_drop > 3000.0:
        return ("The paper is grey all over, the folds are packed with dust.",)
    return ("The paper is white, the folds stand open, the gasket is in its groove.",)


def _flywheel(view: View, _: bool) -> tuple[str, ...]:
    with_arrow = not view.machine.supply.swapped
    way, arrow = ("the same way as", "-->") if with_arrow else ("against", "<--")
    if view.turning:
        return (f"Spokes a blur; speeding up it went {way} the arrow on the guard.", f"  {arrow}")
    if view.state.time - view.state.stopped < COAST:
        return (f"The spokes can be followed as it coasts: {way} the arrow on the guard.",
                f"  arrow -->   spokes {arrow}")  # fmt: skip
    return ("The flywheel stands still. An arrow is on the guard:  -->",)


def _guard(view: View, _: bool) -> tuple[str, ...]:
    if view.state.guard_on:
        return ("The belt guard is on, all bolts in.",)
    return ("The belt guard leans against the wall; belts and flywheel are open to the hand.",)


def _overload(view: View, ascii_only: bool) -> tuple[str, ...]:
    low, span = dial_ends(view)
    return overload_dial(view.machine.protection.overload, low, low + span, ascii_only)


def dial_ends(view: View) -> tuple[float, float]:
    """Lowest setting and span of the overload dial, A; it has thirty marks."""
    current = view.machine.motor.current
    return max(1.0, round(current * 0.6)), _span(current * 1.5)


def _span(amperes: float) -> float:
    """A dial range that divides into six round steps."""
    for step in (0.5, 1.0, 2.0, 2.5, 4.0, 6.0, 10.0, 20.0):
        if 6 * step >= amperes:
            return 6 * step
    return 6 * 50.0


def _links(view: View, _: bool) -> tuple[str, ...]:
    motor = view.machine.motor
    if not view.state.locked:
        return ("The box is closed. The electrician opens it only with the power locked off.",)
    now = _ACROSS if motor.connection > 1.1 else _UPRIGHT
    heading = f"{'for ' + format(motor.voltage, 'g') + ' V':<16}"
    heading += f"{'for ' + format(motor.other_voltage, 'g') + ' V':<22}as it is linked"
    rows = (f"{u:<16}{a:<22}{n}" for u, a, n in zip(_UPRIGHT, _ACROSS, now, strict=True))
    return ("Printed in the lid of the terminal box:", heading, *rows)


_UPRIGHT = ("o   o   o", "|   |   |", "o   o   o")
_ACROSS = ("o---o---o", "         ", "o   o   o")


def _disconnect(view: View, _: bool) -> tuple[str, ...]:
    if view.state.locked:
        return ("Disconnect open, your lock and tag on it.",)
    return ("Disconnect closed, no lock on it.",)


def _drain(view: View, _: bool) -> tuple[str, ...]:
    if not view.state.drain_open:
        return ("Drain shut.",)
    gauge = view.gauged.gauge(view.state)
    if gauge < 1500.0:
        return ("Drain open; nothing comes out.",)
    wet = "water, then air" if view.gauged.liquid(view.state) > 0.02 else "air"
    return (f"Drain open; {wet} comes out under pressure.",)


def _seen(view: View, _: bool) -> tuple[str, ...]:
    lines = [*_disconnect(view, False), *_guard(view, False)]
    outlet = "open" if view.state.outlet_open else "cracked" if view.state.bleeding else "shut"
    lines.append(f"Outlet valve {outlet}. " + _drain(view, False)[0])
    if view.state.tripped:
        lines.append("The overload relay stands on TRIPPED.")
    lines.append("The machine runs." if view.turning else "The machine stands still.")
    if view.turning and view.machine.mounting.blocks_in:
        lines.append("Pump, pipes and tank shake together.")
    return tuple(lines)


def _heard(view: View, _: bool) -> tuple[str, ...]:
    sounds = []
    if view.turning:
        stalled = view.shaft.motor < 0.5 * view.design.curve.circuit.field_speed
        sounds.append(
            "The motor growls and hardly turns." if stalled else "Motor and pump run evenly."
        )
        if view.shaft.slip > SQUEAL:
            sounds.append("The belts squeal, and go on squealing.")
        if view.machine.oil.level < 0.2 and view.state.y[At.DRY] > 30:
            sounds.append("A knock at every turn.")
        if view.machine.mounting.blocks_in:
            sounds.append("A hard hammering in the base plate.")
    if view.state.relief_open:
        sounds.append("The relief valve roars.")
    sounds += [line for line in _unloader(view, False) if "hiss" in line]
    return tuple(sounds) or ("Nothing.",)


def _unloader(view: View, _: bool) -> tuple[str, ...]:
    if view.turning:
        return ("Only the pump is heard.",)
    leak = view.machine.tank.check_leak_bore > 0 and view.gauged.gauge(view.state) > 20e3
    venting = view.state.line is Line.PARTED and view.gauged.line_gauge(view.state) > VENT_HEARD
    if venting or leak:
        since = view.state.time - view.state.stopped
        return (f"A hiss at the unloader, {since:.0f} s after the stop." if since < 3600
                else "A steady hiss at the unloader.",)  # fmt: skip
    return ("Silence at the unloader.",)


LOOKS: dict[tuple[str, str], Look] = {
    ("eye", "plate.motor"): stamps.motor,
    ("eye", "plate.machine"): stamps.frame,
    ("eye", "plate.drive"): stamps.drive,
    ("eye", "plate.panel"): stamps.panel,
    ("eye", "plate.pump"): stamps.pump,
    ("eye", "plate.tank"): stamps.tank,
    ("eye", "relief.stamp"): stamps.relief,
    ("eye", "relief.path"): _relief_path,
    ("eye", "hose.print"): stamps.hose,
    ("eye", "switch.label"): stamps.switch,
    ("eye", "oil.drum"): stamps.drum,
    ("eye", "oil.glass"): _glass,
    ("eye", "pump.mounts"): _mounts,
    ("eye", "filter.element"): _filter,
    ("eye", "flywheel"): _flywheel,
    ("eye", "guard"): _guard,
    ("eye", "overload.dial"): _overload,
    ("eye", "motor.links"): _links,
    ("eye", "disconnect"): _disconnect,
    ("eye", "tank.drain"): _drain,
    ("eye", "machine"): _seen,
    ("ear", "machine"): _heard,
    ("ear", "unloader"): _unloader,
}
