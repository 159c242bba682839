"""Where each item of the procedure is read in the simulated machine, and what stands there.

Invariant: an item is read by an instrument, from a plate, or from the papers of the site; what a
plate or a paper says is shown as it stands, what an instrument says passes through the instrument.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import resources
from math import sqrt
from typing import Any

import tomli

from wizard.calc.belt import belt_pitch_length, free_span
from wizard.checks.belt_tension import SERVICE_FACTOR
from wizard.errors import InputError
from wizard.practice.draw.meter import card
from wizard.practice.faults import needed_belt_tension
from wizard.practice.plates import Machine, machine, machine_names
from wizard.practice.run import Run
from wizard.practice.see import Sight
from wizard.practice.view import belt_push_force, test_deflection
from wizard.procedure.item import Item
from wizard.quantities import format_quantity, from_si, parse_set, unit_of

PAPERS = "papers"


@dataclass(frozen=True, slots=True)
class Spot:
    """An instrument at a place; or "papers" where it is written down."""

    tool: str
    place: str


@cache
def _tables() -> dict[str, dict[str, Any]]:
    text = resources.files(__package__).joinpath("spots.toml").read_text("utf-8")
    return tomli.loads(text)


def spots_of(key: str) -> tuple[Spot, ...]:
    """Where the item is read: one spot for all its readings, or one for each."""
    tables = _tables()
    if key in tables["instruments"]:
        pairs = (text.split(" at ", 1) for text in tables["instruments"][key])
        return tuple(Spot(tool, place) for tool, place in pairs)
    if key in tables["plates"]:
        return (Spot("eye", tables["plates"][key][0]),)
    if key in tables["papers"] or key in COMPUTED or key in _machine_facts():
        return (Spot(PAPERS, key),)
    return ()


def keys() -> frozenset[str]:
    """Every item that can be read in practice."""
    tables = _tables()
    written_down = {*tables["papers"], *COMPUTED, *_machine_facts()}
    return frozenset({*tables["instruments"], *tables["plates"], *written_down})


@cache
def _machine_facts() -> frozenset[str]:
    """Items whose paper depends on the machine."""
    return frozenset(key for name in machine_names() for key in machine(name).facts)


def _belt_length(run: Run) -> float:
    drive = run.machine.drive
    return belt_pitch_length(drive.centre_distance, drive.pump_sheave, drive.motor_sheave)


def _span(run: Run) -> float:
    drive = run.machine.drive
    return free_span(drive.centre_distance, drive.pump_sheave, drive.motor_sheave)


def _builder_force(run: Run) -> tuple[float, float]:
    """The least force that the power needs, and half as much again."""
    least = belt_push_force(run.machine, needed_belt_tension(run.machine, SERVICE_FACTOR))
    return least, 1.5 * least


COMPUTED: dict[str, Callable[[Run], float | tuple[float, ...]]] = {
    "site.elevation": lambda r: r.site.elevation,
    "site.ambient_min": lambda r: r.site.temperature - 6.0,
    "site.ambient_max": lambda r: min(r.site.temperature + 12.0, 311.0),
    "site.humidity": lambda r: r.site.humidity,
    "belt.span": _span,
    "belt.length": _belt_length,
    "belt.builder_force": _builder_force,
    "belt.deflection": lambda r: test_deflection(r.machine),
    "flywheel.diameter": lambda r: r.machine.drive.pump_sheave + 0.012,
    "supply.nominal": lambda r: _nominal(r.machine),
    "start.locked_rotor": lambda r: r.machine.motor.locked_current,
    "control.coil_rating": lambda r: _nominal(r.machine),
    "running.start_voltage": lambda r: 0.95 * r.machine.motor.voltage,
    "running.coil_voltage": lambda r: 0.95 * _nominal(r.machine),
    "supply.plate_high": lambda r: r.machine.motor.voltage,
    "supply.plate_usable": lambda r: r.machine.motor.voltage,
}
"""Papers whose figures follow from the machine or the site, SI."""
_NOMINAL = (208.0, 230.0, 240.0, 400.0, 480.0, 600.0)


def _nominal(machine: Machine) -> float:
    """The nominal supply that belongs to the sound machine's voltage."""
    plate = machine.motor.voltage
    return 400.0 if plate == 400.0 else min(_NOMINAL, key=lambda v: abs(v - plate * sqrt(1.08)))


def paper(run: Run, item: Item) -> str:
    """What plate or papers say for the item, as a person would write it down; empty if nothing."""
    key, tables = item.key, _tables()
    if key in tables["plates"]:
        return _stamped(run.machine, item, tables["plates"][key][1])
    if key in COMPUTED:
        unit = item.unit_in(run.units)
        found = COMPUTED[key](run)
        values = found if isinstance(found, tuple) else (found,)
        figures = (f"{from_si(v, item.quantity, unit):.5g}" for v in values)
        return f"{' '.join(figures)} {unit}".rstrip()
    text = run.machine.facts.get(key, tables["papers"].get(key))
    if text is None:
        raise InputError("item", key, "an item that the papers of this site speak of")
    return _in_units(item, str(text), run.units)


_WORDS = {
    "motor.phases": {1: "single", 3: "three"},
    "pump.stages": {1: "one", 2: "two"},
    "mounting.feet": {3: "three", 4: "four"},
}


def _stamped(machine: Machine, item: Item, path: str) -> str:
    part, name = path.split(".")
    value = getattr(getattr(machine, part), name)
    if path == "oil.grade":
        return f"ISO VG {value}"
    if path in _WORDS:
        return _WORDS[path][value]
    if not item.quantity:
        return str(value)
    return format_quantity(value, item.quantity, item.unit_in(machine.units), 5)


def _in_units(item: Item, text: str, units: str) -> str:
    """A figure of the papers in the unit that the item takes here."""
    if not text or not item.measured or item.kind == "series":
        return text
    unit = item.unit_in(units)
    labels = item.labels or ("",)
    found = parse_set(text, item.quantity, unit, labels, item.ask)
    digits = (f"{from_si(r.si, item.quantity, unit):.4g}" for r in found)
    return f"{' '.join(digits)} {unit_of(item.quantity, unit).symbol}".rstrip()


def look_up(run: Run, item: Item) -> Sight:
    """The plate or the paper with the figure of the item."""
    return Sight(card(item.ask, paper(run, item) or "not stated: leave it blank"))


def written(run: Run, item: Item) -> str:
    """What a careful reader would write down for the item now, by its spots; empty if nothing."""
    found = spots_of(item.key)
    if not found:
        return ""
    if found[0].tool == PAPERS or item.key in _tables()["plates"]:
        return paper(run, item)
    unit = item.unit_in(run.units)
    wanted = found if len(found) > 1 else found * max(1, len(item.labels))
    figures = []
    for spot in wanted:
        shown = run.see(spot.tool, spot.place).shown
        if shown is None:
            return ""
        figures.append(f"{from_si(shown.value, item.quantity, unit):.6g}")
    return f"{' '.join(figures)} {unit}".rstrip()
