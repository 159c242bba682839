"""The top rows and the rail: which job, where in it, in which state.

Invariant: the state is in words; a held job cannot be mistaken for any other.
"""

from __future__ import annotations

from wizard.job import Job
from wizard.procedure.item import Item, Phase
from wizard.render import value_text
from wizard.tui.spans import Line, Lines, Span, between, fitted, line, width_of
from wizard.tui.views.marks import phase_mark

RAIL = 5
LEAST_PERSON, WIDE = 10, 100


def masthead(job: Job, item: Item, width: int, read_only: str = "") -> Lines:
    """Two rows and a rule; the electrical practice stands there while plates are read."""
    phases = job.procedure.phases
    phase = job.procedure.phase_of(item.key)
    label = job.answers.get("machine.label")
    machine = value_text(job.procedure.items["machine.label"], label) if label else ""
    run = "practice run  " if job.header.practice_run else ""
    rules = f"{job.header.settings.practice} practice  " if phase.number == 1 else ""
    name = line(" ", (job.header.id, "strong"), f"  {run}", (f"{rules}{machine}", "dim"))
    here = [i.key for i in job.applicable if i.phase == phase.number]
    number = here.index(item.key) + 1 if item.key in here else 0
    nth = f"item {number}/{len(here)} " if number else "not in this job "
    title = line(f" Phase {phase.number}/{phases[-1].number}  ", (phase.title, "strong"))
    place = line((f"  {phase.place}" if width >= WIDE else "", "dim"))
    person = _person(phase, width - width_of(title) - len(nth) - 4)
    return [
        between(name, _state(job, read_only), width),
        between((*title, *place), (*person, *line((nth, "dim"))), width),
        line(("─" * width, "rule")),
    ]


def _person(phase: Phase, room: int) -> Line:
    """Who must do the phase, as far as there is room beside its title."""
    if not phase.person or room < LEAST_PERSON:
        return ()
    return (*fitted(line((phase.person, "caution")), room), Span("  "))


def _state(job: Job, read_only: str) -> Line:
    left = len(job.open_items())
    pieces: list[tuple[str, str]] = []
    if read_only:
        pieces += [("READ ONLY", "strong"), ("  ", "text")]
    holds = job.holds()
    if holds:
        pieces += [(f" HELD in phase {holds[0].phase} ", "hold")]
    elif job.state == "finished":
        pieces += [("FINISHED", "pass")]
    else:
        pieces += [("in progress", "text")]
    pieces += [(f"  {left} open ", "text")]
    return line(*pieces)


def rail(job: Job, item: Item, height: int, width: int) -> Lines:
    """The phases from top to bottom, with a mark each and the one we are in."""
    phases = job.procedure.phases
    first = 0
    if height < len(phases):
        place = next(n for n, p in enumerate(phases) if p.number == item.phase)
        first = max(0, min(place - height // 2, len(phases) - height))
    lines: Lines = []
    for phase in phases[first : first + height]:
        mark, role = phase_mark(job, phase)
        here = phase.number == item.phase
        lead = Span("►" if here else " ", "mark")
        number = Span(f"{phase.number:>2}", "strong" if here else "dim")
        title = f" {phase.title}" if width > RAIL else ""
        left = line(lead, number, (mark, role), (title, "strong" if here else "dim"))
        lines.append(_railed(left, width))
    lines += [_railed((), width)] * (height - len(lines))
    return lines


def _railed(left: Line, width: int) -> Line:
    """A row of the rail with its line at the right."""
    left = fitted(left, width - 1)
    return line(*left, " " * (width - 1 - width_of(left)), ("│", "rule"))
