"""Looking: an instrument or an eye at a place, as lines to show and what a careful reader reads.

Invariant: every number passes through an instrument with its error and its smallest step; a wrong
range, wrong jacks or a wrong hold give what they would give in life.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wizard.errors import InputError
from wizard.practice.draw.dial import EYES, Scale, close_look, dial
from wizard.practice.draw.meter import clamp, display, multimeter, small_display
from wizard.practice.draw.shapes import belt_and_rule, torque_scale
from wizard.practice.looks import LOOKS, dial_ends
from wizard.practice.places import Place, place_named
from wizard.practice.tools import Tool, tool_named
from wizard.practice.view import OTHER_TRUTHS, TRUTHS, View
from wizard.quantities import Reading, from_si, parse_quantity

SAFE_VOLTS = 30.0
"""Volts below which a short circuit through the meter does no harm."""
LIVE_OHMS = "A crack in the meter: on ohms, and the lines are live. Its input is burnt."
BELTS_RUN = "The belts run. Nothing is measured on running belts."
GUARDED = "The belt guard is on: no hand reaches the belts. It comes off locked out."
GHOST = 0.4
"""Volts that a meter shows on an open line."""
AJAR = 0.82
"""What a clamp that is not quite closed shows, of the current."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A number that an instrument shows: SI value at its nearest step, and the step."""

    kind: str
    value: float
    step: float
    unit: str


@dataclass(frozen=True, slots=True)
class Sight:
    """What was seen; `danger` and `remark` name what the looking itself did."""

    lines: tuple[str, ...]
    shown: Shown | None = None
    danger: str = ""
    remark: str = ""


def see(view: View, tool_name: str, place_name: str, ascii_only: bool = False) -> Sight:
    """The instrument at the place, now."""
    tool, place = tool_named(tool_name), place_named(place_name, view.machine)
    if tool.name not in place.tools:
        raise InputError(f"instrument at {place.title}", tool.name, ", ".join(place.tools))
    if look := LOOKS.get((tool.name, place.name)):
        return Sight(look(view, ascii_only), _by_eye(view, place))
    if tool.name == "soap":
        return _soap(view, place)
    truth = OTHER_TRUTHS.get((tool.name, place.name)) or TRUTHS.get(place.name)
    value = truth(view) if truth else 0.0
    reader = _READERS.get(tool.name, _figures)
    return reader(view, tool, place, value, ascii_only)


def _by_eye(view: View, place: Place) -> Shown | None:
    """The number in what an eye sees, where there is one."""
    if place.name == "overload.dial":
        low, span = dial_ends(view)
        step = span / 60
        value = low + round((view.machine.protection.overload - low) / step) * step
        return Shown("current", value, step, "A")
    if place.name == "oil.glass" and not view.turning:
        return Shown("ratio", round(view.machine.oil.level * 20) / 20, 0.05, "%")
    return None


Reader = Callable[[View, Tool, Place, float, bool], Sight]


def _shown(view: View, tool: Tool, place: Place, truth: float) -> Shown:
    """The number that a careful reader takes."""
    units = view.machine.units
    value = tool.shown(truth, units, view.seed, place.name, view.state.time)
    step = tool.step[units]
    return Shown(tool.quantity, tool.rounded(value, units), _step_si(step), step.unit)


def _step_si(step: Reading) -> float:
    """A step as an SI difference, for temperatures too."""
    return (
        step.si
        if step.kind != "temperature"
        else (1.0 if step.unit == "°C" else 1 / 1.8) * (step.value)
    )


def _gauge(view: View, tool: Tool, place: Place, truth: float, ascii_only: bool) -> Sight:
    units = view.machine.units
    shown = _shown(view, tool, place, max(truth, 0.0))
    exact = tool.shown(max(truth, 0.0), units, view.seed, place.name, view.state.time)
    full, step = tool.full[units], tool.step[units]
    scale = Scale(full.value, 5 * step.value, 5, _plain(step.unit),
                  tool.name == "test gauge")  # fmt: skip
    value = from_si(exact, tool.quantity, step.unit)
    eye = view.knob(f"{tool.name}.eye")
    lines = dial(scale, value + EYES[eye] * scale.division, place.title, ascii_only)
    near = close_look(scale, value, eye, ascii_only)
    return Sight((*lines, f"Looked at closely, {eye}:", *near), shown)


def _plain(unit: str) -> str:
    return {"psig": "psi", "bar(g)": "bar"}.get(unit, unit)


def _multimeter(view: View, tool: Tool, place: Place, truth: float, _: bool) -> Sight:
    side, pair = place.name.split(".")
    wires = pair.split("-")
    function, scale = view.knob("multimeter.function"), view.knob("multimeter.range")
    red = view.knob("multimeter.red")
    volts = _between(view, wires, side == "load")
    if red == "10A" and volts > SAFE_VOLTS:
        face = multimeter("----", "", function, scale, red, wires)
        return Sight((*face, "A flash and a bang."), None, "amps_jack")
    if function == "ohm" and volts > SAFE_VOLTS:
        face = multimeter("----", "", function, scale, red, wires)
        return Sight((*face, LIVE_OHMS), None, remark="meter on ohms across live lines")
    shown: Shown | None = None
    text, unit = "OL", {"ohm": "Ω", "A~": "A"}.get(function, "V")
    full = float(scale.split(maxsplit=1)[0])
    decimals = {600.0: 1, 60.0: 2, 6.0: 3}[full]
    if red == "10A":
        text = display(0.0, 2, full)
    elif function == "V~":
        shown = _shown(view, tool, place, volts)
        text = display(from_si(shown.value, "voltage", "V"), decimals, full * 1.1)
        shown = None if text == "OL" else shown
    elif function in ("V=", "A~"):
        text = display(0.0, decimals, full)
    return Sight(multimeter(text, unit, function, scale, red, wires), shown)


def _between(view: View, wires: list[str], loaded: bool) -> float:
    """True volts between two terminals, on the line or the load side of the disconnect."""
    if loaded and view.state.locked:
        return GHOST
    first, second = wires
    pairs = {("L1", "L2"): 0, ("L2", "L3"): 1, ("L3", "L1"): 2}
    if second == "ground":
        return view.lines.to_ground[int(first[1]) - 1]
    return view.lines.voltages[pairs[first, second]]


def _clamp(view: View, tool: Tool, place: Place, truth: float, _: bool) -> Sight:
    scale, around = view.knob("clamp meter.range"), view.knob("clamp meter.around")
    jaws = view.knob("clamp meter.jaws")
    full = float(scale.split()[0])
    seen = truth * (1.0 if jaws == "closed" else AJAR)
    if around == "all wires":
        seen = 0.004 * truth
    taken = _shown(view, tool, place, seen) if seen else Shown("current", 0.0, 0.01, "A")
    text = display(taken.value, 2 if full < 400 else 1, full)
    if full >= 400:
        taken = Shown("current", round(taken.value, 1), 0.1, "A")
    return Sight(clamp(text, scale, around, jaws), None if text == "OL" else taken)


def _rule(view: View, tool: Tool, place: Place, truth: float, ascii_only: bool) -> Sight:
    if view.turning:
        return Sight((BELTS_RUN,))
    if view.state.guard_on:
        return Sight((GUARDED,))
    shown = _shown(view, tool, place, truth)
    step = tool.step[view.machine.units]
    value = from_si(shown.value, "length", step.unit)
    push = view.knob("rule.push")
    drawn = belt_and_rule(value, step.unit, 5 * step.value, 5, ascii_only)
    return Sight((f"Push: {push}", *drawn), shown)


def _figures(view: View, tool: Tool, place: Place, truth: float, _: bool) -> Sight:
    shown = _shown(view, tool, place, truth)
    step = tool.step[view.machine.units].value
    decimals = next(d for d in range(6) if round(step * 10**d) == round(step * 10**d, 6))
    text = f"{from_si(shown.value, shown.kind, shown.unit):.{decimals}f}"
    return Sight(small_display(f"{tool.title}: {place.title}", text, _plain(shown.unit)), shown)


def _wrench(view: View, tool: Tool, place: Place, truth: float, _: bool) -> Sight:
    if view.turning:
        return Sight(("It runs. Hands stay away from the feet.",))
    step = tool.step[view.machine.units]
    setting = parse_quantity(view.knob("torque wrench.set"), "torque").si
    drawn = torque_scale(from_si(setting, "torque", step.unit), step.unit, step.value)
    felt = tool.shown(truth, view.machine.units, view.seed, place.name, view.state.time)
    if felt < 0.05 * setting:
        return Sight((*drawn, f"{place.title}: loose, it spins under the wrench."))
    if felt < 0.97 * setting:
        return Sight((*drawn, f"{place.title}: the bolt turns before the click."))
    shown = Shown("torque", setting, _step_si(tool.step[view.machine.units]), step.unit)
    return Sight((*drawn, f"{place.title}: it clicks and the bolt has not moved."), shown)


def _still_only(what: str, guarded: str = "") -> Reader:
    def read(view: View, tool: Tool, place: Place, truth: float, ascii_only: bool) -> Sight:
        if view.turning:
            return Sight((what,))
        if guarded and view.state.guard_on:
            return Sight((guarded,))
        return _figures(view, tool, place, truth, ascii_only)

    return read


def _soap(view: View, place: Place) -> Sight:
    number = int(place.name.rsplit(".", 1)[1])
    pressed = view.gauged.gauge(view.state) > 30e3
    leaks = view.machine.tank.leak_bore > 0 and number == view.leaking_joint
    if leaks and pressed:
        return Sight((place.title, "Bubbles grow and burst, one after the other."))
    end = "" if pressed else " There is no pressure behind it to blow any."
    return Sight((place.title, f"The soap lies still, no bubbles.{end}"))


_READERS: dict[str, Reader] = {
    "test gauge": _gauge,
    "panel gauge": _gauge,
    "interstage gauge": _gauge,
    "multimeter": _multimeter,
    "clamp meter": _clamp,
    "rule": _rule,
    "force gauge": _still_only(BELTS_RUN, GUARDED),
    "belt frequency meter": _still_only(BELTS_RUN, GUARDED),
    "torque wrench": _wrench,
    "feeler gauge": _still_only("It runs. Hands stay away from the feet."),
}
