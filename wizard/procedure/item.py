"""Phases and items: what is asked, when, and which checks its answer feeds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from wizard.finding import Severity
from wizard.quantities import format_range, unit_of

KINDS_OF_ITEM = ("measure", "count", "confirm", "choose", "write", "date", "time", "series")


@dataclass(frozen=True, slots=True)
class Answered:
    """A parameter bound to the answer of an item."""

    key: str


@dataclass(frozen=True, slots=True)
class Result:
    """A parameter bound to a named result of a check of an item."""

    key: str
    name: str


@dataclass(frozen=True, slots=True)
class Setting:
    """A parameter bound to a setting."""

    name: str


@dataclass(frozen=True, slots=True)
class Literal:
    """A parameter bound to a fixed value (SI)."""

    value: Any


Reference = Answered | Result | Setting | Literal


@dataclass(frozen=True, slots=True)
class Binding:
    """A check and where its parameters come from."""

    rule: str
    inputs: Mapping[str, Reference]

    def uses(self) -> tuple[str, ...]:
        """The items this binding depends on."""
        return tuple(r.key for r in self.inputs.values() if isinstance(r, Answered | Result))


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to confirm, choose, write down, measure or time."""

    key: str
    ask: str
    kind: str
    severity: Severity
    why: str
    how: str
    mistake: str
    phase: int = 0
    place: int = 0
    quantity: str = ""
    unit: str = ""
    metric: str = ""
    labels: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    bad: tuple[str, ...] = ()
    advise: tuple[str, ...] = ()
    accept: tuple[float, float] | None = None
    likely: tuple[float, float] | None = None
    words: Mapping[str, str] = field(default_factory=dict)
    optional: bool = False
    when: Mapping[str, tuple[Any, ...]] = field(default_factory=dict)
    checks: tuple[Binding, ...] = ()
    instrument: str = ""
    same_instrument: tuple[str, ...] = ()
    caution: str = ""
    clears: str = ""
    danger: str = ""

    @property
    def measured(self) -> bool:
        """Whether the answer is a number with a unit."""
        return self.kind in ("measure", "time", "series")

    @property
    def numbered(self) -> bool:
        """Whether options go by their number too: not where one of them begins with a figure.

        Among 2, 4 and 6 poles the second would else be mistaken for the first, and 14 AWG for
        the fourteenth of a list of sizes.
        """
        return not any(option[0].isdecimal() for option in self.options)

    def listed(self, units: str) -> tuple[str, ...]:
        """The options as a "us" or "metric" job lists them: sizes of its own system first."""
        own = "mm²" if units == "metric" else "AWG"
        known = self.options
        return known if self.numbered else tuple(sorted(known, key=lambda o: not o.endswith(own)))

    def accepted_in(self, unit: str = "") -> str:
        """The range that is accepted, in `unit`; empty where there is none."""
        return format_range(*self.accept, self.quantity, unit) if self.accept else ""

    def usual_in(self, unit: str = "") -> str:
        """The range that is usual, in `unit`; empty where there is none."""
        return format_range(*self.likely, self.quantity, unit) if self.likely else ""

    def unit_in(self, units: str) -> str:
        """The unit taken when none is typed, in a "us" or "metric" job."""
        chosen = self.metric if units == "metric" and self.metric else self.unit
        return unit_of(self.quantity, chosen).symbol if self.quantity else ""


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of the work with one place and one risk."""

    number: int
    title: str
    place: str
    risk: str
    person: str = ""
    strict: bool = False
    items: tuple[Item, ...] = ()


@dataclass(frozen=True)
class Procedure:
    """All phases, in order, with their items by key and what depends on what."""

    name: str
    version: str
    sha256: str
    phases: tuple[Phase, ...]
    items: Mapping[str, Item]
    dependents: Mapping[str, tuple[str, ...]]

    def phase_of(self, key: str) -> Phase:
        """The phase that holds the item."""
        number = self.items[key].phase
        return next(p for p in self.phases if p.number == number)
