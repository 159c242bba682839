"""Readings as a customer reads them: in the reader's units, with how far they can be trusted.

Invariant: a reading that is shown in another unit than it was taken in shows both.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from wizard.answer import Answer, si_value
from wizard.finding import Finding
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.quantities import Quantity, format_number, from_si
from wizard.render import Units, limit_text, units_for, value_text
from wizard.sources import Source

IN_UNIT = {"grounding_conductor": "cmil"}
"""The unit of checks that judge a plain number by a table which has one."""


@dataclass
class Numbered:
    """The sources that a sheet names, in the order in which it does."""

    known: dict[Source, int] = field(default_factory=dict)

    def mark(self, sources: tuple[Source, ...]) -> str:
        """The numbers of some sources, as "1, 4"."""
        for source in sources:
            self.known.setdefault(source, len(self.known) + 1)
        return ", ".join(str(self.known[s]) for s in sources)


@dataclass(frozen=True)
class Reader:
    """One job for one reader; `system` is "us" or "metric", empty for the units of the job."""

    job: Job
    system: str = ""
    numbered: Numbered = field(default_factory=Numbered)

    def units(self, item: Item) -> Units:
        """The units around an item."""
        if self.system:
            return Units(self.system)
        return units_for(item, self.job.answers.get(item.key), self.job.header.units)

    def general(self) -> Units:
        """The units of what belongs to no item."""
        return Units(self.system or self.job.header.units)

    def has(self, key: str) -> bool:
        """Whether the item is answered with something and belongs to the job."""
        answer = self.job.answers.get(key)
        return (
            answer is not None
            and answer.value is not None
            and key in self.job.procedure.items
            and self.job.applies(key)
        )

    def text(self, key: str) -> str:
        """The answer of an item; empty where there is none."""
        return self.value(self.job.procedure.items[key]) if self.has(key) else ""

    def value(self, item: Item) -> str:
        """The answer, as typed, and in the reader's unit where that is another."""
        return self.said(item, self.job.answers[item.key])

    def said(self, item: Item, answer: Answer) -> str:
        """An answer of any time, an option by its words."""
        typed = value_text(item, answer)
        unit = Units(self.system).of(item.quantity) if self.system and item.quantity else ""
        si = si_value(item, answer)
        if not unit or unit == answer.unit or item.kind == "series" or si is None:
            return typed
        values = si if isinstance(si, tuple) else (si,)
        shown = "  ".join(format_number(from_si(v, item.quantity, unit), 4) for v in values)
        return f"{shown} {unit} ({typed})"

    def error(self, item: Item) -> str:
        """The uncertainty of a reading from its instrument, as "± 2 V, meter 7"; may be empty."""
        answer = self.job.answers.get(item.key)
        if answer is None or not item.measured:
            return ""
        instrument = self.job.instruments.get(answer.instrument)
        if instrument is None:
            return answer.instrument
        si = si_value(item, answer)
        if not instrument.accuracy_known or not isinstance(si, float | tuple):
            return instrument.name
        most = _largest(si)
        half = instrument.half_width(most)
        unit = self.units(item).of(item.quantity)
        size = from_si(most + half, item.quantity, unit) - from_si(most, item.quantity, unit)
        return f"± {format_number(size, 2)} {unit}".rstrip() + f", {instrument.name}"

    def judged(self, item: Item, finding: Finding) -> str:
        """The value that was held against the limit, where it is not the reading itself."""
        if finding.value is None or finding.value.kind == "count":
            return ""
        text = self._in_unit(self.units(item).text(finding.value), finding)
        return "" if text == self.text(item.key) else text

    def limit(self, item: Item, finding: Finding) -> str:
        """The limit in words."""
        if finding.limit is not None and finding.limit.kind == "count":
            return ""
        return self._in_unit(limit_text(finding.limit, self.units(item)), finding)

    def has_unit(self, finding: Finding) -> bool:
        """Whether what was judged is a plain number by a table that has a unit."""
        plain = finding.limit is not None and finding.limit.kind == "number"
        return plain and finding.check in IN_UNIT

    def _in_unit(self, text: str, finding: Finding) -> str:
        return f"{text} {IN_UNIT[finding.check]}" if self.has_unit(finding) else text

    def uncertainty(self, finding: Finding) -> str:
        """The uncertainty that a check worked out, where it did."""
        share = finding.results.get("uncertainty")
        return f"± {format_number(100 * share, 2)} %" if share is not None else ""

    def quantity(self, value: float, kind: str) -> str:
        """An SI value for this reader."""
        return self.general().text(Quantity(value, kind))


def _largest(si: float | tuple[object, ...]) -> float:
    values = si if isinstance(si, tuple) else (si,)
    flat = [v[1] if isinstance(v, tuple) else v for v in values]
    return max((v for v in flat if isinstance(v, float)), key=abs, default=0.0)


def answered(job: Job, key: str) -> Answer | None:
    """The answer of an item of this job."""
    return job.answers.get(key) if job.applies(key) else None
