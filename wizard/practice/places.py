"""Places that a person can go to and look at, with the instruments that can be used there."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import resources

import tomli

from wizard.errors import InputError
from wizard.practice.plates import Machine


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the site."""

    name: str
    area: str
    title: str
    tools: tuple[str, ...]

    def there(self, machine: Machine) -> bool:
        """Whether this machine has such a place."""
        if "L3" in self.name or self.name in ("supply.L2-L3", "motor.links"):
            return machine.motor.phases == 3
        if self.name == "lead.L2":
            return machine.motor.phases == 3
        if self.name in ("pump.interstage", "pump.intercooler", "pump.first_stage"):
            return machine.pump.stages == 2
        return True


@cache
def places() -> dict[str, Place]:
    """Every place by name."""
    data = tomli.loads(_text())
    return {
        name: Place(name, data["areas"][p["area"]], p["title"], tuple(p["tools"]))
        for name, p in data["places"].items()
    }


def _text() -> str:
    return resources.files(__package__).joinpath("places.toml").read_text("utf-8")


def place_named(name: str, machine: Machine) -> Place:
    """The place with this name on this machine; InputError lists the ones there are."""
    place = places().get(name)
    if place is None or not place.there(machine):
        listed = ", ".join(p.name for p in places().values() if p.there(machine))
        raise InputError("place", name, listed)
    return place


def places_of(machine: Machine) -> tuple[Place, ...]:
    """The places of this machine, in order."""
    return tuple(p for p in places().values() if p.there(machine))
