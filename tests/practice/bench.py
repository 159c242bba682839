"""Machines on a site for the tests, running or at rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from wizard.practice.design import Design, design_of
from wizard.practice.faults import with_faults
from wizard.practice.machine import run_on
from wizard.practice.plates import machine
from wizard.practice.state import Gauged, Site, State, resting

SEA = Site(0.0, 101325.0, 293.15, 0.5)


def made(
    name: str, site: Site = SEA, present: Mapping[str, float] | None = None, **more: float
) -> Design:
    """A machine with faults, on a site."""
    return design_of(with_faults(machine(name), {**(present or {}), **more}), site)


def on(design: Design, gauge: float = 0.0, **changes: Any) -> State:
    """A machine that has stood, released and switched on."""
    state = resting(design.machine, design.site, gauge)
    return replace(state, locked=False, switched_on=True, **changes)


def run(design: Design, state: State, seconds: float) -> State:
    """The state after some seconds."""
    return run_on(design, state, seconds)[0]


def names(design: Design, state: State, seconds: float) -> list[str]:
    """What happens in some seconds."""
    return [h.name for h in run_on(design, state, seconds)[1]]


def gauge(design: Design, state: State) -> float:
    """Tank pressure over the room, Pa."""
    return Gauged(design.machine, design.site).gauge(state)


def pumped_up(design: Design, limit: float = 3000.0) -> State:
    """The machine at its first cut-out."""
    told = run_on(design, on(design), limit)[1]
    at = next(h.time for h in told if h.name == "motor stops")
    return run_on(design, on(design), at + 0.01)[0]
