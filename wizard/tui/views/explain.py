"""The explanation of an item: caution, why, how, usual mistake, working, sources.

Invariant: every limit shown names its source and how far that can be trusted.
"""

from __future__ import annotations

from wizard import checks
from wizard.finding import Finding
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.render import Units, limit_text, working_lines
from wizard.tui.judged import Judged
from wizard.tui.spans import BLANK, Lines, line, wrapped
from wizard.tui.views.hold import hold_words
from wizard.tui.views.marks import ROLE_OF_VERDICT, verdict_words


def explain(job: Job, item: Item, state: Judged, width: int) -> Lines:
    """The whole explanation, to be scrolled."""
    phase = job.procedure.phase_of(item.key)
    lines: Lines = []
    lines += _part("Caution", item.caution, width, "caution")
    lines += _held_elsewhere(job, item, width)
    lines += _part("Why", item.why, width)
    lines += _part("How", item.how, width)
    lines += _part("Usual mistake", item.mistake, width)
    if item.danger and item.danger != item.why:
        lines += _part("Danger", item.danger, width)
    for finding in sorted(state.findings, key=lambda f: f is not state.decisive):
        lines += _finding(finding, state.units, width)
    if not state.findings:
        lines += _sources(item, width)
    lines += _part("Phase", f"{phase.place}. {phase.risk}", width)
    if phase.person:
        lines += _part("Who", f"This phase is for the {phase.person}.", width)
    lines.append(line((item.key, "dim")))
    return lines


def _held_elsewhere(job: Job, item: Item, width: int) -> Lines:
    """What the band of a hold has no room for, where another item than this one holds."""
    held = next(iter(job.holds()), None)
    if held is None or held.key == item.key:
        return []
    lines = wrapped(f"Held by: {job.procedure.items[held.key].ask}", width, "hold")
    for text, role in hold_words(job, held):
        lines += wrapped(text, width, role)
    return [*lines, BLANK]


def _part(name: str, text: str, width: int, role: str = "text") -> Lines:
    if not text:
        return []
    return [line((name, "key")), *wrapped(text, width, role), BLANK]


def _finding(finding: Finding, units: Units, width: int) -> Lines:
    if not finding.check:
        return []
    title = checks.named(finding.check).title
    lines: Lines = [*wrapped(f"Check: {title}", width, "key")]
    lines += wrapped(verdict_words(finding), width, ROLE_OF_VERDICT[finding.verdict])
    lines += wrapped(finding.text, width)
    if finding.value is not None:
        lines += wrapped(f"value {units.text(finding.value, 5)}", width)
    if limit := limit_text(finding.limit, units):
        lines += wrapped(f"limit {limit}", width)
    for step in finding.working:
        lines += wrapped(step.formula, width, "dim")
        for row in working_lines(step, units):
            indent = len(row) - len(row.lstrip())
            lines += wrapped(row, width, "text", "  ", " " * min(indent + 2, 8))
    if finding.danger:
        lines += wrapped(f"Danger: {finding.danger}", width)
    if finding.clears:
        lines += wrapped(f"Clears: {finding.clears}", width)
    for source in finding.sources:
        lines += wrapped(f"Source: {source}", width, "dim")
    return [*lines, BLANK]


def _sources(item: Item, width: int) -> Lines:
    lines: Lines = []
    for binding in item.checks:
        spec = checks.named(binding.rule)
        lines += wrapped(f"Check: {spec.title}", width, "key")
        for source in spec.sources:
            lines += wrapped(f"Source: {source}", width, "dim")
    return [*lines, BLANK] if lines else []
