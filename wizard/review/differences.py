"""What a job is judged now against what the record says was seen.

Invariant: everything is judged anew from the raw readings; a difference is shown, never settled.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wizard.finding import Finding, worst
from wizard.job import Job
from wizard.record import Loaded, Seen, told
from wizard.render import limit_text, units_for
from wizard.settings import Settings, as_mapping


@dataclass(frozen=True, slots=True)
class Difference:
    """One item judged differently; `rules` says by which rules it is judged now."""

    key: str
    seen: str
    now: str
    rules: str

    def __str__(self) -> str:
        return f"{self.key}: seen as {self.seen}; {self.rules}: {self.now}"


TODAY = "with today's rules"


def differences(loaded: Loaded, settings: Settings | None = None) -> tuple[Difference, ...]:
    """Items judged differently from what was seen, then what other `settings` would change."""
    return (*_from_seen(loaded), *(_from_settings(loaded.job, settings) if settings else ()))


def _from_seen(loaded: Loaded) -> Iterator[Difference]:
    job = loaded.job
    items, findings, answers = job.procedure.items, job.findings, job.answers
    for key, seen in loaded.seen.items():
        item = items.get(key)
        if item is None:
            if seen.verdict:
                yield Difference(key, _seen(seen), "not asked any more", TODAY)
            continue
        found = findings.get(key, ())
        finding = found[0] if len(found) == 1 else worst(found)
        if finding is None:
            if seen.verdict:
                yield Difference(key, _seen(seen), "not judged: it does not apply", TODAY)
            continue
        limit = ""
        if finding.limit is not None:
            limit = limit_text(finding.limit, units_for(item, answers.get(key), job.header.units))
        if (seen.verdict, seen.finding, seen.limit) != (finding.verdict, told(finding.text), limit):
            yield Difference(key, _seen(seen), _said(finding, limit), TODAY)


def _from_settings(job: Job, wanted: Settings) -> Iterator[Difference]:
    """What other choices would change; the electrical practice stays that of the job."""
    settings = replace(wanted, practice=job.header.settings.practice)
    if settings == job.header.settings:
        return
    again = replace(job, header=replace(job.header, settings=settings))
    again = again.judged(tuple(job.procedure.items))
    own, theirs = as_mapping(job.header.settings), as_mapping(settings)
    changed = ", ".join(f"{n} {theirs[n]}" for n in theirs if theirs[n] != own[n])
    for key in job.procedure.items:
        before, after = job.finding(key), again.finding(key)
        if _judged(before) != _judged(after):
            yield Difference(key, _judged(before), _judged(after), f"with {changed}")


def _judged(finding: Finding | None) -> str:
    return _said(finding, "") if finding else "not judged: it does not apply"


def _seen(seen: Seen) -> str:
    return _words(seen.verdict or "not judged", seen.finding, seen.limit)


def _said(finding: Finding, limit: str) -> str:
    return _words(finding.verdict.value, finding.text, limit)


def _words(verdict: str, text: str, limit: str) -> str:
    return " ".join(filter(None, (verdict + ",", text, f"limit {limit}" if limit else ""))).rstrip(
        ","
    )
