"""What a picture is drawn from: a job, the item in front and the answer being typed for it.

Invariant: a picture shows values of this job only; what is not known is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from wizard.answer import Answer, Parsed, si_value
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.quantities import Quantity
from wizard.render import Units


@dataclass(frozen=True, slots=True)
class Scene:
    """The job with `trial` in the place of the item's own answer."""

    job: Job
    item: Item
    trial: Parsed | Answer | None = None

    def answer(self, key: str) -> Parsed | Answer | None:
        """The answer of an item, as typed now or as recorded."""
        if key == self.item.key and self.trial is not None:
            return self.trial
        return self.job.answers.get(key)

    def value(self, key: str) -> Any:
        """The value of an answer, SI for readings; None where there is none."""
        answer, item = self.answer(key), self.job.procedure.items.get(key)
        return si_value(item, answer) if answer is not None and item is not None else None

    def number(self, key: str) -> float | None:
        """The value as one number, the worst (highest) of a set."""
        value = self.value(key)
        if isinstance(value, tuple):
            value = max((v for v in value if isinstance(v, float)), default=None)
        return value if isinstance(value, float) else None

    def text(self, key: str, digits: int = 4) -> str:
        """The number with its unit as typed."""
        value, item, answer = self.number(key), self.job.procedure.items.get(key), self.answer(key)
        if value is None or item is None or answer is None:
            return ""
        units = Units(self.job.header.units, {item.quantity: answer.unit} if answer.unit else {})
        return units.text(Quantity(value, item.quantity), digits)

    def each(self, key: str) -> list[str]:
        """Every reading of a set with its unit, or the one there is; empty where none is known."""
        value, item, answer = self.value(key), self.job.procedure.items.get(key), self.answer(key)
        if value is None or item is None or answer is None:
            return []
        units = Units(self.job.header.units, {item.quantity: answer.unit} if answer.unit else {})
        values = value if isinstance(value, tuple) else (value,)
        return [units.text(Quantity(v, item.quantity)) for v in values if isinstance(v, float)]

    def shown(self, value: float, kind: str, digits: int = 4) -> str:
        """An SI value in the units of the job."""
        return Units(self.job.header.units).text(Quantity(value, kind), digits)

    def result(self, key: str, name: str) -> float | None:
        """A named result of the checks of an item."""
        for finding in self.job.findings.get(key, ()):
            if name in finding.results:
                return float(finding.results[name])
        return None
