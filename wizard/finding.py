"""What a check says: verdict, limit, working and source, with no word about how it is shown.

Invariant: values are SI with their kind, so that any unit system can render the same finding.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from wizard.formula import Step
from wizard.quantities import Quantity
from wizard.sources import Source


class Verdict(StrEnum):
    """The answer of a check."""

    PASS = "PASS"
    ADVISORY = "ADVISORY"
    FAIL = "FAIL"
    INCONCLUSIVE = "INCONCLUSIVE"
    OPEN = "OPEN"
    NOT_APPLICABLE = "NOT APPLICABLE"


class Severity(StrEnum):
    """What a FAIL or INCONCLUSIVE does: hold the job, keep it from closing, ask for a note."""

    SAFETY = "safety"
    HANDOVER = "handover"
    ADVISORY = "advisory"


WEIGHT = {Severity.ADVISORY: 0, Severity.HANDOVER: 1, Severity.SAFETY: 2}


@dataclass(frozen=True, slots=True)
class Limit:
    """The band a value must lie in, SI; None is open-ended. Ends are included."""

    low: float | None
    high: float | None
    kind: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One check's judgement.

    `text` is one sentence with what was found; `danger` what can happen, `clears` what to do;
    `ask` is set when the value is possible but unlikely and wants a confirmation first; `refused`
    when the inputs cannot be judged together, so that an answer is not taken as it is; `wants` is
    the parameter that was left out and without which nothing can be judged.
    """

    verdict: Verdict
    text: str
    severity: Severity = Severity.ADVISORY
    value: Quantity | None = None
    limit: Limit | None = None
    working: tuple[Step, ...] = ()
    danger: str = ""
    clears: str = ""
    ask: str = ""
    refused: bool = False
    wants: str = ""
    results: Mapping[str, float] = field(default_factory=dict)
    check: str = ""
    sources: tuple[Source, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether this finding holds the job."""
        return self.severity is Severity.SAFETY and self.verdict in (
            Verdict.FAIL,
            Verdict.INCONCLUSIVE,
        )

    @property
    def blocks_handover(self) -> bool:
        """Whether the job cannot be closed with this finding."""
        return self.severity is not Severity.ADVISORY and self.verdict in (
            Verdict.FAIL,
            Verdict.INCONCLUSIVE,
        )


ORDER = (
    Verdict.FAIL,
    Verdict.INCONCLUSIVE,
    Verdict.OPEN,
    Verdict.ADVISORY,
    Verdict.PASS,
    Verdict.NOT_APPLICABLE,
)


def worst(findings: tuple[Finding, ...]) -> Finding | None:
    """The finding that decides: safety before handover before advisory, then by verdict."""
    if not findings:
        return None
    return min(
        findings,
        key=lambda f: (
            not f.holds,
            not f.blocks_handover,
            ORDER.index(f.verdict),
            -WEIGHT[f.severity],
        ),
    )
