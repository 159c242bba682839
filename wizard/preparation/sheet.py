"""The rows of a preparation sheet, and the plate data that they are made from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from wizard.answer import si_value
from wizard.formula import FORMULAS, Step, work
from wizard.job import Job
from wizard.quantities import Quantity
from wizard.sources import COMMON_PRACTICE, Source


@dataclass(frozen=True, slots=True)
class Bring:
    """One thing to bring; `least` is the size or rating it must have."""

    group: str
    what: str
    least: Quantity | None = None
    text: str = ""
    step: Step | None = None
    sources: tuple[Source, ...] = (COMMON_PRACTICE,)


@dataclass(frozen=True, slots=True)
class Expect:
    """One number to expect on site, as a value or a band."""

    what: str
    low: Quantity | None
    high: Quantity | None
    step: Step | None
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The preparation sheet of one job."""

    bring: tuple[Bring, ...]
    expect: tuple[Expect, ...]
    missing: tuple[str, ...]


class Plates:
    """The plate answers of a job as SI, with a list of what was wanted and is missing."""

    def __init__(self, job: Job) -> None:
        self.job, self.missing = job, dict[str, str]()

    def __getitem__(self, key: str) -> Any:
        value = self.get(key)
        if value is None:
            self.missing[key] = self.job.procedure.items[key].ask
            raise KeyError(key)
        return value

    @property
    def metric(self) -> bool:
        """Whether the job is in metric units."""
        return self.job.header.units == "metric"

    @property
    def american(self) -> bool:
        """Whether the job goes by US electrical practice."""
        return self.job.header.settings.practice == "US"

    def get(self, key: str) -> Any:
        answer = self.job.answers.get(key)
        return None if answer is None else si_value(self.job.procedure.items[key], answer)


def worked(name: str, /, **inputs: Any) -> tuple[Any, Step, tuple[Source, ...]]:
    spec = FORMULAS[name]
    value, step = work(spec.function, **inputs)
    return value, step, spec.sources
