"""Scenarios: a machine on an invented site, with what is wrong with it, as data or from a seed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Any

import tomli

from wizard.calc.air_state import standard_atmosphere
from wizard.errors import InputError
from wizard.practice.faults import COLD, badness, draw, faults
from wizard.practice.plates import Machine, machine, machine_names
from wizard.practice.seed import between, pick
from wizard.practice.state import Site
from wizard.quantities import parse_quantity

ENDLESS = "endless"
UNKNOWN = "An unknown machine"
"""What the lists call one that is drawn from a seed."""
COLD_ROOM = 273.15 - 2.0


@dataclass(frozen=True, slots=True)
class Scenario:
    """One exercise; `faults` by name, `drawn` more from the seed."""

    name: str
    title: str
    level: int
    machine: str
    site: Site
    delivered: bool
    tank_gauge: float
    faults: tuple[str, ...]
    drawn: int
    minutes: float
    briefing: str
    debrief: str

    @property
    def plant(self) -> Machine:
        """The sound machine of the scenario."""
        return machine(self.machine)

    def present(self, seed: int) -> dict[str, float]:
        """The faults of a run with their badness."""
        found = {name: badness(name, seed) for name in self.faults}
        if self.drawn:
            found |= draw(self.plant, self.drawn, seed, (*self.faults,))
        return found

    def site_with(self, present: Mapping[str, float]) -> Site:
        """The site; cold where a fault needs the cold to show."""
        if COLD in present and self.site.temperature > COLD_ROOM:
            return replace(self.site, temperature=COLD_ROOM)
        return self.site


def scenario_names() -> tuple[str, ...]:
    """The written scenarios in order of level, then name."""
    return tuple(sorted(_files(), key=lambda n: (_written(n).level, n)))


def _files() -> list[str]:
    found = (e.name for e in resources.files(__package__).joinpath("scenarios").iterdir())
    return [n.removesuffix(".toml") for n in found if n.endswith(".toml")]


def listing() -> tuple[str, ...]:
    """The scenarios, a line each: name, level of five, title."""
    written = (_written(n) for n in scenario_names())
    lines = tuple(f"{s.name:<18} {'*' * s.level:<5}  {s.title}" for s in written)
    return (*lines, f"{ENDLESS:<18} {'any':<5}  {UNKNOWN}")


def scenario(name: str, seed: int = 0) -> Scenario:
    """A written scenario, or "endless" from a seed; InputError lists the names."""
    check_name(name)
    return endless(seed) if name == ENDLESS else _written(name)


def check_name(name: str) -> None:
    """InputError, which lists the names, where there is no such scenario; none is read for it."""
    if name != ENDLESS and name not in _files():
        raise InputError("scenario", name, ", ".join((*scenario_names(), ENDLESS)))


@cache
def _written(name: str) -> Scenario:
    file = resources.files(__package__).joinpath("scenarios", f"{name}.toml")
    return _scenario(name, tomli.loads(file.read_text("utf-8")))


def _scenario(name: str, data: Mapping[str, Any]) -> Scenario:
    plant = machine(data["machine"])
    named = tuple(data.get("faults", ()))
    if wrong := [n for n in named if n not in faults() or not faults()[n].fits(plant)]:
        raise InputError(f"scenario {name}: fault", wrong[0], ", ".join(faults()))
    where = data["site"]
    return Scenario(
        name, data["title"], data["level"], data["machine"],
        site_at(
            parse_quantity(where["elevation"], "length").si,
            parse_quantity(where["temperature"], "temperature").si,
            parse_quantity(where["humidity"], "ratio").si,
        ),
        data.get("delivered", False),
        parse_quantity(data.get("tank", "0 bar"), "gauge pressure").si,
        named, data.get("drawn", 0), data["minutes"], data["briefing"].strip(),
        data["debrief"].strip(),
    )  # fmt: skip


def site_at(elevation: float, temperature: float, humidity: float) -> Site:
    """A site with the standard pressure of its elevation."""
    return Site(elevation, standard_atmosphere(elevation).pressure, temperature, humidity)


_TOWNS = (
    "a joinery in Larkhollow", "the bus garage of Quarrymouth", "a tyre shop in Fenmarket",
    "a dairy above Stonewater", "the boatyard at Pellham Reach", "a print shop in Alderby",
)  # fmt: skip


def endless(seed: int) -> Scenario:
    """An exercise that nobody wrote, from a seed."""
    name = pick(machine_names(), seed, "machine")
    elevation = pick((20.0, 150.0, 600.0, 1500.0), seed, "elevation")
    site = site_at(
        elevation, between(283.15, 305.15, seed, "room"), between(0.3, 0.8, seed, "damp")
    )
    count = pick((1, 2, 2, 3, 4), seed, "count")
    where = pick(_TOWNS, seed, "town")
    briefing = (
        f"{machine(name).title}, at {where}. It stands on its feet, bolts loose, locked off and "
        "empty. Nobody knows what is wrong with it, or whether anything is. Commission it."
    )
    return Scenario(
        ENDLESS, f"Unknown machine, seed {seed}", 3, name, site, False, 0.0, (), count,
        180.0, briefing, "What was in the machine is listed with what you found.",
    )  # fmt: skip
