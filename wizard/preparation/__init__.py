"""What to bring and what to expect, from plate and site data alone, before leaving the shop.

Invariant: pure; every number comes from a registered formula and keeps its working; a number
whose data is missing is left out and the missing data is named, never guessed in silence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from wizard import calc
from wizard.errors import InputError
from wizard.finding import Verdict
from wizard.job import Job
from wizard.preparation.bring import BRING
from wizard.preparation.expect import EXPECT
from wizard.preparation.sheet import Bring, Doubt, Expect, Plates, Sheet

__all__ = ["Bring", "Doubt", "Expect", "Sheet", "prepare"]

PLATES = 1
"""The phase that reads the plates."""
FIRST = "relief_plate"
"""The check whose doubt is told first: no other one of the plates ends with a burst tank."""


def prepare(job: Job) -> Sheet:
    """The sheet for a job whose plates and site have been written down."""
    calc.load()
    plates = Plates(job)
    bring = tuple(_each(plates, BRING))
    expect = tuple(_each(plates, EXPECT))
    return Sheet(_doubts(job), bring, expect, tuple(plates.missing.values()))


def _doubts(job: Job) -> tuple[Doubt, ...]:
    """What was found against the plates, which is settled before anybody sets out."""
    found = [
        Doubt(item.key, item.ask, finding)
        for item in job.procedure.items.values()
        if item.phase == PLATES
        for finding in job.findings.get(item.key, ())
        if finding.verdict in (Verdict.FAIL, Verdict.INCONCLUSIVE, Verdict.ADVISORY)
    ]
    found.sort(key=lambda d: (d.finding.check != FIRST, not d.finding.blocks_handover))
    return tuple(found)


def _each(plates: Plates, makers: tuple[Callable[[Plates], Iterator[Any]], ...]) -> Iterator[Any]:
    for make in makers:
        try:
            yield from make(plates)
        except KeyError:
            continue
        except InputError as problem:
            words = make.__name__.strip("_").replace("_", " ")
            plates.missing[make.__name__] = (
                f"Left out, {words}: {problem.what} is {problem.given}; "
                f"it can be worked out for {problem.accepted}."
            )
