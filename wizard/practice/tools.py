"""Instruments of a practice run: how far off they may be, their steps and knobs.

Invariant: an instrument is off by the same amount throughout a run, and by a little more each time
it is read; both follow from the seed, and stay within its stated accuracy.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from typing import Any

import tomli

from wizard.errors import InputError
from wizard.instrument import Instrument
from wizard.practice.seed import spread
from wizard.quantities import Reading, from_si, parse_quantity

SET_ZERO = 0.05
"""Share of a gauge's scale in which its error grows from nothing: its zero was set before use."""


@dataclass(frozen=True, slots=True)
class Tool:
    """One instrument; accuracies are half widths, SI."""

    name: str
    about: str
    quantity: str
    step: Mapping[str, Reading]
    full: Mapping[str, Reading] = field(default_factory=dict)
    of_reading: float = 0.0
    of_scale: float = 0.0
    fixed: float = 0.0
    knobs: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def listed(self, units: str) -> Instrument:
        """The instrument as a job lists it."""
        full = self.full[units].si if units in self.full else 0.0
        return Instrument(
            self.name, self.name, self.quantity, self.of_reading, self.of_scale, full, self.fixed
        )

    def half_width(self, value: float, units: str) -> float:
        """How far a reading of `value` may be off, SI."""
        return self.listed(units).half_width(value)

    def shown(self, truth: float, units: str, seed: int, place: str, moment: float) -> float:
        """What the instrument indicates for `truth`, SI, before it is rounded to a step."""
        width = self.half_width(truth, units)
        if units in self.full:
            width *= min(1.0, abs(truth) / (SET_ZERO * self.full[units].si))
        own = 0.2 * spread(seed, "instrument", self.name)
        each = 0.02 * spread(seed, self.name, place, round(moment, 1))
        return truth + width * (own + each)

    @property
    def title(self) -> str:
        """The name as a heading."""
        return self.name[0].upper() + self.name[1:]

    def rounded(self, value: float, units: str) -> float:
        """`value` to the nearest step that can be read, SI."""
        step = self.step[units]
        steps = round(from_si(value, self.quantity, step.unit) / step.value)
        return parse_quantity(f"{steps * step.value:.9f}", self.quantity, step.unit).si


@cache
def tools() -> dict[str, Tool]:
    """Every instrument by name."""
    text = resources.files(__package__).joinpath("tools.toml").read_text("utf-8")
    return {name: _tool(name, data) for name, data in tomli.loads(text).items()}


def tool_named(name: str) -> Tool:
    """The instrument with this name; InputError lists the ones there are."""
    if name not in tools():
        raise InputError("instrument", name, ", ".join(tools()))
    return tools()[name]


def _tool(name: str, data: Mapping[str, Any]) -> Tool:
    kind = data["quantity"]
    parse = {u: parse_quantity(t, kind, what=name) for u, t in data["step"].items()}
    full = {u: parse_quantity(t, kind, what=name) for u, t in data.get("full", {}).items()}
    fixed_kind = "temperature difference" if kind == "temperature" else kind
    fixed = parse_quantity(data["fixed"], fixed_kind, what=name).si if "fixed" in data else 0.0
    knobs = {knob: tuple(values) for knob, values in data["knobs"].items()}
    return Tool(
        name, data["about"], kind, parse, full, data.get("of_reading", 0.0),
        data.get("of_scale", 0.0), fixed, knobs,
    )  # fmt: skip


def first_settings() -> dict[str, str]:
    """Every knob as it stands at the start, by "instrument.knob"."""
    return {
        f"{tool.name}.{knob}": values[0]
        for tool in tools().values()
        for knob, values in tool.knobs.items()
    }
