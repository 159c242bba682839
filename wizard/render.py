"""Findings, limits and working as text and as JSON values, in the reader's units.

Invariant: one rendering for the screen, the commands and the report; JSON numbers are unrounded.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from wizard.finding import Finding, Limit
from wizard.formula import Step
from wizard.kinds import KINDS
from wizard.quantities import Quantity, format_number, format_quantity, from_si

if TYPE_CHECKING:
    from wizard.answer import Answer, Parsed
    from wizard.procedure.item import Item

_DURATIONS = (("s", 600.0), ("min", 7200.0), ("h", 360_000.0))


@dataclass(frozen=True)
class Units:
    """The units a reader sees: a system, and units chosen for single kinds."""

    system: str = "us"
    chosen: Mapping[str, str] = field(default_factory=dict)

    def of(self, kind: str) -> str:
        """The unit shown for a kind of quantity."""
        if kind in self.chosen:
            return self.chosen[kind]
        return KINDS[kind].metric if self.system == "metric" else KINDS[kind].us

    def text(self, quantity: Quantity, digits: int = 4) -> str:
        """A quantity with its unit; a duration in the unit that suits its length."""
        unit = self.of(quantity.kind)
        if quantity.kind == "time" and "time" not in self.chosen:
            unit = next((u for u, most in _DURATIONS if abs(quantity.value) < most), "d")
        return format_quantity(quantity.value, quantity.kind, unit, digits)

    def number(self, value: float, kind: str) -> float:
        """An SI value as an unrounded number in the unit shown."""
        return from_si(value, kind, self.of(kind))


def units_for(item: Item, answer: Answer | Parsed | None, system: str) -> Units:
    """The units around one item: its own kind in the unit as typed, or its default."""
    if not item.quantity:
        return Units(system)
    typed = answer.unit if answer and answer.unit else item.unit_in(system)
    return Units(system, {item.quantity: typed})


def limit_ends(limit: Limit, units: Units) -> tuple[str, str]:
    """The two ends as numbers, empty where open; with the figures that it takes to part them."""
    shown = ("", "")
    for digits in (4, 6):
        low, high = (
            "" if end is None else units.text(Quantity(end, limit.kind), digits)
            for end in (limit.low, limit.high)
        )
        if low != high:
            return low, high
        shown = (low, high)
    return shown


def limit_text(limit: Limit | None, units: Units) -> str:
    """A band as numbers: "207 V to 253 V", "at most 10 %", "at least 200 psig".

    >>> limit_text(Limit(21.5, 21.5, "current"), Units())
    'exactly 21.5 A'
    >>> limit_text(Limit(21.501, 21.504, "current"), Units())
    '21.501 A to 21.504 A'
    """
    if limit is None or (limit.low is None and limit.high is None):
        return ""
    low, high = limit_ends(limit, units)
    if low == high:
        return f"exactly {low}"
    if not low:
        return f"at most {high}"
    return f"at least {low}" if not high else f"{low} to {high}"


def value_text(item: Item, answer: Answer | Parsed) -> str:
    """The answer as a person reads it."""
    value = answer.value
    if value is None:
        return "not given"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if item.kind == "series" and isinstance(value, tuple):
        return f"{len(value)} readings"
    if isinstance(value, tuple):
        shown = "  ".join(format_number(float(v), 8) for v in value)  # type: ignore[arg-type]
        return f"{shown} {answer.unit}".rstrip()
    if isinstance(value, float):
        return f"{format_number(value, 8)} {answer.unit}".rstrip()
    return str(value)


def working_lines(step: Step, units: Units) -> list[str]:
    """The formula, the formula with the numbers in it, the result.

    >>> from wizard.calc.supply import voltage_band
    >>> from wizard.formula import work
    >>> _, step = work(voltage_band, nameplate=230.0)
    >>> for line in working_lines(step, Units()): print(line)
    band = nameplate × (1 ± tolerance)
         = 230 V × (1 ± 10 %)
         low = 207 V, high = 253 V
    """
    left, _, right = step.equation.partition(" = ")
    inside = replace(units, chosen={**units.chosen, "temperature": "K"}) if step.absolute else units
    shown = {name: _input_text(value, inside) for name, value in step.inputs}
    names = sorted(shown, key=len, reverse=True)
    if right and names:
        pattern = re.compile(r"(?<![A-Za-z0-9_])(" + "|".join(names) + r")(?![A-Za-z0-9_])")
        numbers = pattern.sub(lambda m: shown[m[1]], right)
    else:
        numbers = ", ".join(f"{name} {text}" for name, text in shown.items())
    indent = " " * len(left)
    lines = [step.equation.replace("_", " "), f"{indent} = {numbers.replace('_', ' ')}"]
    if len(step.results) == 1:
        result = step.results[0][1]
        if result.kind == "temperature" and step.absolute:
            lines.append(f"{indent} = {inside.text(result, 5)}")
        lines.append(f"{indent} = {units.text(result, 5)}")
    else:
        named = (f"{n.replace('_', ' ')} = {units.text(q, 5)}" for n, q in step.results)
        lines.append(f"{indent} {', '.join(named)}")
    return lines


def _input_text(value: Quantity | str | bool | tuple[Quantity, ...], units: Units) -> str:
    if isinstance(value, tuple):
        if len(value) > 6:
            return f"{len(value)} readings"
        return "(" + ", ".join(units.text(q, 6) for q in value) + ")"
    return units.text(value, 6) if isinstance(value, Quantity) else str(value)


def finding_lines(finding: Finding, units: Units) -> Iterator[str]:
    """A finding in full, for a terminal or a plain report."""
    yield f"{finding.verdict}: {finding.text}"
    if finding.ask:
        yield f"unlikely  {finding.ask}"
    if finding.value is not None:
        yield f"value   {units.text(finding.value, 5)}"
    if limit := limit_text(finding.limit, units):
        yield f"limit   {limit}"
    for step in finding.working:
        yield from working_lines(step, units)
    if finding.danger and (finding.holds or finding.blocks_handover):
        yield f"danger  {finding.danger}"
    if finding.clears:
        yield f"clears  {finding.clears}"
    for source in finding.sources:
        yield f"source  {source}"


def quantity_json(quantity: Quantity | None, units: Units) -> dict[str, Any] | None:
    """A value with its unit."""
    if quantity is None:
        return None
    unit = units.of(quantity.kind)
    return {"value": units.number(quantity.value, quantity.kind), "unit": unit}


def limit_json(limit: Limit | None, units: Units) -> dict[str, Any] | None:
    """A band with its unit; an open end is null."""
    if limit is None:
        return None
    low, high = (
        None if end is None else units.number(end, limit.kind) for end in (limit.low, limit.high)
    )
    return {"low": low, "high": high, "unit": units.of(limit.kind)}


def source_json(finding: Finding) -> dict[str, str] | None:
    """The first source with its mark; several are joined in the text."""
    if not finding.sources:
        return None
    return {"text": "; ".join(s.text for s in finding.sources), "mark": finding.sources[0].mark}


def finding_json(key: str, finding: Finding, units: Units) -> dict[str, Any]:
    """A finding as `check --json` gives it."""
    value = quantity_json(finding.value, units) or {"value": None, "unit": None}
    return {
        "key": key,
        "check": finding.check or None,
        "verdict": finding.verdict.value,
        "severity": finding.severity.value,
        **value,
        "limit": limit_json(finding.limit, units),
        "text": finding.text,
        "danger": finding.danger,
        "clears": finding.clears,
        "results": dict(finding.results),
        "working": [line for s in finding.working for line in working_lines(s, units)],
        "source": source_json(finding),
    }
