"""Marks and words for verdicts and states, the same on every screen.

Invariant: every mark has its word beside it or in the legend; colour only repeats it.
"""

from __future__ import annotations

from wizard.finding import Finding, Severity, Verdict
from wizard.job import Job
from wizard.procedure.item import Phase

DONE, PART, NONE, BAD, HOLD = "●", "○", "·", "!", "■"
LEGEND = f"{HOLD} held  {BAD} failed  {PART} begun  {DONE} done  {NONE} not begun"

ROLE_OF_VERDICT = {
    Verdict.PASS: "pass",
    Verdict.ADVISORY: "advise",
    Verdict.FAIL: "fail",
    Verdict.INCONCLUSIVE: "fail",
    Verdict.OPEN: "dim",
    Verdict.NOT_APPLICABLE: "dim",
}
TOLD = (Verdict.FAIL, Verdict.INCONCLUSIVE, Verdict.ADVISORY)
"""Verdicts that are named as soon as the answer is saved."""


def verdict_words(finding: Finding) -> str:
    """The verdict and what it does to the job.

    >>> verdict_words(Finding(Verdict.FAIL, "", Severity.SAFETY))
    'FAIL, holds the job'
    >>> verdict_words(Finding(Verdict.ADVISORY, ""))
    'ADVISORY, wants a note'
    """
    word = str(finding.verdict)
    if finding.holds:
        return f"{word}, holds the job"
    if finding.blocks_handover:
        return f"{word}, bars the handover"
    advises = finding.verdict is Verdict.ADVISORY or (
        finding.severity is Severity.ADVISORY
        and finding.verdict in (Verdict.FAIL, Verdict.INCONCLUSIVE)
    )
    return f"{word}, wants a note" if advises else word


def saved_words(finding: Finding | None) -> tuple[str, str]:
    """What to say of an answer that is on the disk, and its role.

    The reason follows where the screen goes on to another item; a hold stays in front and has it.

    >>> saved_words(Finding(Verdict.FAIL, "Above the limit.", Severity.HANDOVER))
    ('Saved: FAIL. Above the limit.', 'fail')
    >>> saved_words(Finding(Verdict.FAIL, "Above the limit.", Severity.SAFETY))
    ('Saved: FAIL, holds the job.', 'fail')
    >>> saved_words(Finding(Verdict.PASS, "In the band."))
    ('Saved.', 'dim')
    """
    if finding is None or finding.verdict not in TOLD:
        return "Saved.", "dim"
    role = ROLE_OF_VERDICT[finding.verdict]
    if finding.holds:
        return f"Saved: {verdict_words(finding)}.", role
    return f"Saved: {finding.verdict}. {finding.text}", role


def mark_of(finding: Finding | None) -> tuple[str, str]:
    """The mark of an item in a list, and its role."""
    if finding is None or finding.verdict is Verdict.OPEN:
        return NONE, "dim"
    if finding.holds:
        return HOLD, "fail"
    if finding.blocks_handover:
        return BAD, "fail"
    role = ROLE_OF_VERDICT[finding.verdict]
    return ("○" if finding.verdict is Verdict.ADVISORY else DONE), role


def phase_mark(job: Job, phase: Phase) -> tuple[str, str]:
    """The mark of a phase on the rail, and its role."""
    found = [f for i in phase.items if (f := job.finding(i.key)) is not None]
    if any(f.holds for f in found):
        return HOLD, "hold"
    if any(f.blocks_handover for f in found):
        return BAD, "fail"
    still = sum(1 for f in found if f.verdict is Verdict.OPEN)
    if not still:
        return DONE, "pass"
    return (PART, "text") if still < len(found) else (NONE, "dim")
