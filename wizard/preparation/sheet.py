"""The rows of a preparation sheet, and the plate data that they are made from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from wizard.answer import si_value
from wizard.errors import InputError
from wizard.finding import Finding
from wizard.formula import FORMULAS, Step, work
from wizard.job import Job
from wizard.quantities import Quantity, at_most, format_quantity, kind_of
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
class Doubt:
    """What was found against the answer `key` of the plates, to be settled before setting out."""

    key: str
    what: str
    finding: Finding


@dataclass(frozen=True, slots=True)
class Sheet:
    """The preparation sheet of one job."""

    doubts: tuple[Doubt, ...]
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

    @property
    def highest_relief(self) -> float:
        """What the relief valve that is fitted may be set at: its stamp, or the receiver's limit.

        A valve stamped above that limit is not fitted, and what is brought need not stand it.
        """
        limit = self.get("receiver.mawp")
        return min(float(self["relief.plate_set"]), math.inf if limit is None else limit)

    @property
    def relief_setting(self) -> float:
        """What the relief valve is stamped; InputError where such a valve is not to be fitted."""
        setting, most = float(self["relief.plate_set"]), self.highest_relief
        if not at_most(setting, most):
            raise InputError(
                "the relief valve stamp",
                format_quantity(setting, "gauge pressure", self.unit),
                f"at most {format_quantity(most, 'gauge pressure', self.unit)}, "
                "the limit of the receiver",
            )
        return setting

    @property
    def unit(self) -> str:
        """The unit of gauge pressure that the job is shown in."""
        kind = kind_of("gauge pressure")
        return kind.metric if self.metric else kind.us

    def get(self, key: str) -> Any:
        answer = self.job.answers.get(key)
        return None if answer is None else si_value(self.job.procedure.items[key], answer)


def worked(name: str, /, **inputs: Any) -> tuple[Any, Step, tuple[Source, ...]]:
    spec = FORMULAS[name]
    value, step = work(spec.function, **inputs)
    return value, step, spec.sources
