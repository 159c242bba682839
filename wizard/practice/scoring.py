"""What a mentor says after a run: safety first, then faults, false alarms, readings, order, time.

Invariant: a score follows from the log and the faults alone; a run ended by a dangerous act never
scores above `CEILING`, however good the rest was; nor does one with a false safety reading, or one
handed over with safety items open or failed, above `BARRED`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wizard.finding import Severity
from wizard.practice.acts import reported
from wizard.practice.dangers import dangers
from wizard.practice.faults import faults
from wizard.practice.order import RULES
from wizard.practice.places import places
from wizard.practice.run import Entry, Run
from wizard.practice.spots import Spot, spots_of
from wizard.practice.tools import tools
from wizard.procedure import procedure

CEILING = 40
OPEN_ENDED = 70
"""The most where items that bar the handover were open at it."""
BARRED = 50
"""The most that a run can have whose machine nobody may hand over."""
WEIGHTS = {
    "Safety": 35, "Faults found": 30, "False alarms": 10, "Readings": 10, "Order of work": 10,
    "Time": 5,
}  # fmt: skip
REMARK_COSTS, ALARM_COSTS = 0.34, 0.5
PASSING = ("start.highest", "handover.cut_in", "handover.cut_out")
"""Items whose reading the needle has left again when it is written down."""
NAMED = 6
"""Items of a kind that are named at the handover; the others are counted."""
GOOD, FAIR = 1.05, 2.6
"""Steps of an instrument by which a reading may be off."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One heading of the debrief: a share of what could be had, and why."""

    heading: str
    share: float | None
    lines: tuple[str, ...]

    @property
    def points(self) -> float:
        """Points out of the weight of the heading; 0 where it does not apply."""
        return WEIGHTS[self.heading] * (self.share or 0.0)


@dataclass(frozen=True, slots=True)
class Score:
    """The debrief in numbers and words; `skills` are chances taken out of chances had."""

    total: int
    marks: tuple[Mark, ...]
    found: tuple[str, ...]
    missed: tuple[str, ...]
    false_alarms: tuple[str, ...]
    skills: Mapping[str, tuple[float, float]]


def score(run: Run) -> Score:
    """The score of a run, ended or not."""
    there = run.scenario.present(run.seed)
    listed = reported(run)
    found = tuple(name for name in there if name in listed)
    missed = tuple(name for name in there if name not in listed)
    alarms = tuple(name for name in listed if name not in there)
    marks = (
        _safety(run),
        _found(found, missed),
        _alarms(alarms),
        _readings(run),
        _order(run),
        _time(run),
    )
    counted = [m for m in marks if m.share is not None]
    could = sum(WEIGHTS[m.heading] for m in counted)
    total = round(100 * sum(m.points for m in counted) / could)
    if run.ended in dangers():
        total = min(total, CEILING)
    elif false_readings(run) or _unsafe(run) or _left(run, "failed"):
        total = min(total, BARRED)
    elif _left(run, "open"):
        total = min(total, OPEN_ENDED)
    return Score(total, marks, found, missed, alarms, _skills(run, found, missed, marks))


def _safety(run: Run) -> Mark:
    if danger := dangers().get(run.ended):
        return Mark("Safety", 0.0, (danger.title, danger.happened, danger.instead))
    remarks = [e.what for e in run.log if e.kind == "remark"]
    told = list(dict.fromkeys(f"{what[0].upper()}{what[1:]}." for what in remarks))
    share = max(0.0, 1.0 - REMARK_COSTS * len(remarks))
    if false := false_readings(run):
        share = 0.0
        told += [f"A false reading on a safety item: {taken.said}" for taken in false]
    if _unsafe(run):
        share = 0.0
        told.append("Handed over to people with safety items open or failed.")
    return Mark("Safety", share, tuple(told) or ("Nobody was put at risk.",))


def _left(run: Run, how: str, severity: str = "") -> list[str]:
    """What was left at the handover: the items that had failed, or that were open."""
    ends = [e for e in run.log if e.kind == "left" and e.where.startswith(f"{how}, {severity}")]
    return [e.what for e in ends]


def _unsafe(run: Run) -> bool:
    return bool(_left(run, "open", "safety") or _left(run, "failed", "safety"))


def left_over(run: Run) -> tuple[str, ...]:
    """What the record still lacked when the machine was handed over, the gravest first."""
    lines = []
    for how in ("failed", "open"):
        for severity, said in (("safety", "safety items"), ("handover", "items")):
            keys = _left(run, how, severity)
            if not keys:
                continue
            one = len(keys) == 1
            lines.append(f"{len(keys)} {said.removesuffix('s') if one else said} {how}:")
            lines += [f"  {_titled(key)}" for key in keys[:NAMED]]
            if len(keys) > NAMED:
                lines.append(f"  and {len(keys) - NAMED} more")
    return tuple(lines)


def _titled(key: str) -> str:
    """An item by its question."""
    items = procedure().items
    return items[key].ask if key in items else key


def _found(found: tuple[str, ...], missed: tuple[str, ...]) -> Mark:
    lines = [f"Found: {faults()[n].title}." for n in found]
    lines += [f"Missed: {faults()[n].title}. {faults()[n].shows}" for n in missed]
    could = len(found) + len(missed)
    share = len(found) / could if could else 1.0
    return Mark("Faults found", share, tuple(lines) or ("There was nothing wrong to find.",))


def _alarms(alarms: tuple[str, ...]) -> Mark:
    lines = tuple(f"Not so: {faults()[n].title}. {faults()[n].shows}" for n in alarms)
    share = max(0.0, 1.0 - ALARM_COSTS * len(alarms))
    return Mark("False alarms", share, lines or ("None.",))


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading as written down against what the instrument showed, in steps of the instrument."""

    what: str
    steps: float
    key: str = ""
    beyond: bool = False
    """Whether no reading of this instrument could have given it."""

    @property
    def title(self) -> str:
        """The question of the item, with the place where it is read in several."""
        tool, _, name = self.what.partition(" at ")
        place = places()[name].title if name in places() else ""
        asked = _titled(self.key or self.what)
        if not self.key:
            return f"{place}, {tool}" if place else asked
        return f"{asked} ({place})" if place else asked

    @property
    def said(self) -> str:
        """What was off, as one sentence."""
        return f"{self.title}: off by {self.steps:.1f} steps of the instrument."

    @property
    def share(self) -> float:
        """1 for a reading to its step, a half for a near one."""
        return 1.0 if self.steps <= GOOD else 0.5 if self.steps <= FAIR else 0.0


def readings(run: Run) -> tuple[Taken, ...]:
    """Every written reading that an instrument was looked at for."""
    out = []
    for number, entry in enumerate(run.log):
        looks = _looks(entry.what, run.log[:number]) if entry.kind == "note" else []
        value = entry.value
        if value is None or not looks:
            continue
        steps = [abs(value - (look.value or 0.0)) / look.step for look in looks]
        passing = _at_its_own_moment(entry.where or entry.what)
        beyond = all(_beyond(run, value, look) for look in looks)
        out.append(Taken(entry.what, min(steps) if passing else steps[-1], entry.where, beyond))
    return tuple(out)


def _at_its_own_moment(key: str) -> bool:
    """Whether an item is read at a moment that has passed when it is written down."""
    item = procedure().items.get(key)
    return item is not None and (key in PASSING or (len(item.labels) > len(spots_of(key))))


def _looks(what: str, log: tuple[Entry, ...]) -> list[Entry]:
    """The looks that a note may belong to: by the key of the procedure, or as "tool at place".

    A stopwatch belongs to what was written down next after it ran; another time was taken by
    another clock.
    """
    spots = spots_of(what) or _spot(what)
    wanted = {f"{s.tool} at {s.place}" for s in spots}
    if any(s.tool == "stopwatch" for s in spots):
        last = max((n for n, e in enumerate(log) if e.kind == "note"), default=-1)
        log = tuple(e for e in log[last + 1 :] if e.value)
    seen = (e for e in log if e.kind == "look" and f"{e.what} at {e.where}" in wanted)
    return [e for e in seen if e.value is not None and e.step > 0]


def _spot(what: str) -> tuple[Spot, ...]:
    tool, _, place = what.partition(" at ")
    return (Spot(tool, place),)


def _beyond(run: Run, value: float, look: Entry) -> bool:
    """Whether the value is further from a look than a misread step or the instrument's error."""
    tool = tools().get(look.what)
    if look.value is None or tool is None:
        return True
    error = tool.half_width(look.value, run.units) if tool.step else 0.0
    return abs(value - look.value) > max(FAIR * look.step, error)


def false_readings(run: Run) -> tuple[Taken, ...]:
    """What stands written for a safety item and no instrument showed."""
    items = procedure().items
    last = {(taken.key or taken.what, taken.what): taken for taken in readings(run)}
    return tuple(
        taken
        for taken in last.values()
        if taken.beyond
        and (item := items.get(taken.key or taken.what)) is not None
        and item.severity is Severity.SAFETY
    )


def _readings(run: Run) -> Mark:
    taken = readings(run)
    if not taken:
        return Mark("Readings", None, ("No reading was written down.",))
    share = sum(t.share for t in taken) / len(taken)
    off = tuple(t.said for t in taken if t.share < 1.0)
    return Mark("Readings", share, off or (f"All {len(taken)} read to the step.",))


def _order(run: Run) -> Mark:
    concerned = [r for r in RULES if r.concerns(run)]
    if not concerned:
        return Mark("Order of work", None, ("The motor never turned.",))
    broken = tuple(r.said + ": not kept." for r in concerned if not r.kept(run))
    share = 1.0 - len(broken) / len(concerned)
    return Mark("Order of work", share, broken or ("First looked, then started.",))


def _time(run: Run) -> Mark:
    if run.ended != "handed over":
        return Mark("Time", None, ("The run was not handed over.",))
    allowed = run.scenario.minutes
    over = max(0.0, run.minutes / allowed - 1.0)
    said = f"{run.minutes:.0f} minutes; {allowed:.0f} were planned."
    return Mark("Time", max(0.0, 1.0 - over), (said,))


def _skills(
    run: Run, found: tuple[str, ...], missed: tuple[str, ...], marks: tuple[Mark, ...]
) -> dict[str, tuple[float, float]]:
    """Chances taken out of chances had, by skill."""
    skills: dict[str, tuple[float, float]] = {}
    for names, won in ((found, 1.0), (missed, 0.0)):
        for name in names:
            before = skills.get(faults()[name].skill, (0.0, 0.0))
            skills[faults()[name].skill] = (before[0] + won, before[1] + 1.0)
    for mark in marks:
        skill = {"Safety": "safe working", "Readings": "reading instruments",
                "Order of work": "order of work"}.get(mark.heading)  # fmt: skip
        if skill and mark.share is not None:
            skills[skill] = (mark.share, 1.0)
    return skills


def debrief(run: Run) -> tuple[str, ...]:
    """The debrief as lines of text: how it ended, the marks, the scenario's own words."""
    result = score(run)
    lines = [f"{run.scenario.title}: {result.total} of 100", ""]
    for mark in result.marks:
        weight = WEIGHTS[mark.heading]
        points = "not counted" if mark.share is None else f"{mark.points:.0f} of {weight}"
        lines += [f"{mark.heading}: {points}", *(f"  {line}" for line in mark.lines)]
    if left := left_over(run):
        lines += ["", "What the record still lacked at the handover", *(f"  {one}" for one in left)]
    return (*lines, "", *run.scenario.debrief.splitlines())
