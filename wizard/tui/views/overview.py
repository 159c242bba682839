"""All items by phase, with their marks and verdicts.

Invariant: a row is a phase or an item; an item's row says its state in words.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from wizard.finding import Finding, Verdict
from wizard.job import Job
from wizard.procedure.item import Item, Phase
from wizard.render import value_text
from wizard.tui.list_pane import Row
from wizard.tui.spans import fitted, line
from wizard.tui.views.marks import mark_of, phase_mark
from wizard.tui.views.synonyms import meant

VALUE = 24
"""Cells of a row for its answer."""
Filter = Callable[[Finding | None], bool]

FILTERS: dict[str, Filter] = {
    "all": lambda found: True,
    "open": lambda found: found is not None and found.verdict is Verdict.OPEN,
    "held": lambda found: found is not None and found.blocks_handover,
    "advisory": lambda found: found is not None and found.verdict is Verdict.ADVISORY,
    "left": lambda found: (
        found is not None and (found.verdict is Verdict.OPEN or found.blocks_handover)
    ),
}
TITLES = {
    "all": "All items",
    "open": "Open items",
    "held": "Items that hold or fail",
    "advisory": "Items with an advisory",
    "left": "What is left",
}


def rows(job: Job, chosen: str, word: str) -> list[Row]:
    """The rows of a filter, those only that contain `word` or another word of the trade for it."""
    out: list[Row] = []
    words = meant(word)
    gate = _Gate.of(job)
    remarked = {remark.key for remark in job.open_remarks()}
    for phase in job.procedure.phases:
        items = [
            i
            for i in phase.items
            if job.applies(i.key)
            and (FILTERS[chosen](job.finding(i.key)) or (chosen == "left" and i.key in remarked))
            and _has(job, i, words)
        ]
        if not items:
            continue
        mark, role = phase_mark(job, phase)
        title = line((f"{phase.number:>2} ", "dim"), (phase.title, "strong"))
        out.append(Row("", title, line((mark, role), " ")))
        out.extend(_row(job, i, gate.shuts(phase, i), i.key in remarked) for i in items)
    return out


def _has(job: Job, item: Item, words: tuple[str, ...]) -> bool:
    """Whether the item has the word that was typed, or its question another word for it."""
    ask, typed = item.ask.casefold(), words[0]
    own = typed in item.key or typed in _value(job, item).casefold()
    return own or any(word in ask or word in item.key for word in words)


@dataclass(frozen=True, slots=True)
class _Gate:
    """The first hold's phase, and the place of the first safety item not yet passed."""

    phase: int
    place: int

    @classmethod
    def of(cls, job: Job) -> _Gate:
        far = len(job.procedure.items)
        holds = job.holds()
        unproved = job.unproved_safety(replace(next(reversed(job.applicable)), place=far))
        return cls(holds[0].phase if holds else far, unproved[0].place if unproved else far)

    def shuts(self, phase: Phase, item: Item) -> bool:
        """Whether the item cannot be answered yet."""
        return phase.number > self.phase or (phase.strict and item.place > self.place)


def _row(job: Job, item: Item, shut: bool, remarked: bool) -> Row:
    found = job.finding(item.key)
    mark, role = mark_of(found)
    word = str(found.verdict) if found and found.verdict is not Verdict.OPEN else "open"
    word = "later" if shut and word == "open" else word
    if remarked:
        word, role = "REMARK", "caution"
    right = line(*fitted(line(_value(job, item)), VALUE), "  ", (word, role), " ")
    return Row(item.key, line(("   ", "text"), (mark, role), f" {item.ask}"), right)


def _value(job: Job, item: Item) -> str:
    answer = job.answers.get(item.key)
    return value_text(item, answer) if answer else ""
