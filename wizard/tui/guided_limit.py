"""The limit that a learner is asked for before it is shown, and how near the answer came.

Invariant: the limit, its working and its source are the check's own; nothing is computed here but
the difference.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wizard import checks
from wizard.answer import Parsed, si_value
from wizard.finding import Finding, Limit
from wizard.formula import Step
from wizard.job import Job
from wizard.procedure.item import Answered, Item, Result
from wizard.quantities import Quantity, from_si, parse_quantity, parse_set
from wizard.render import Units, limit_text, units_for, value_text, working_lines
from wizard.tui.judged import band_finding, expected_limit, probes
from wizard.tui.spans import BLANK, Lines, line, wrapped

RIGHT, NEAR = 0.02, 0.10
"""Shares of a limit by which an answer may be off to be called right, and to be called near."""
DEGREE, DEGREES = 1.0, 5.0
"""K for the same, where the limit is a temperature."""
_SKILLS = (
    ("overload", "protection"),
    ("hose", "pressure safety"),
    ("relief", "pressure safety"),
    ("receiver", "pressure safety"),
    ("switch", "pressure safety"),
    ("intake", "air"),
    ("oil", "oil"),
)
_SKILL_OF_PHASE = {
    3: "safe working",
    4: "mounting",
    5: "mounting",
    6: "mounting",
    7: "pressure safety",
    8: "supply",
    9: "belts",
    10: "oil",
    11: "air",
    12: "start",
    13: "measuring",
    14: "air",
}


def skill_of(item: Item) -> str:
    """The skill of the training record that an item practises."""
    stem = item.key.partition(".")[0]
    own = next((skill for name, skill in _SKILLS if name == stem), "")
    return own or _SKILL_OF_PHASE.get(item.phase, "order of work")


@dataclass(frozen=True, slots=True)
class Asked:
    """A limit to be worked out: of which check, from which answers, by which steps."""

    item: Item
    limit: Limit
    finding: Finding
    steps: tuple[Step, ...]
    known: tuple[tuple[str, str], ...]
    units: Units

    @property
    def unit(self) -> str:
        """The unit of the answer."""
        return self.units.of(self.limit.kind)

    @property
    def title(self) -> str:
        """What the limit is for."""
        return checks.named(self.finding.check).title if self.finding.check else self.item.ask

    @property
    def other(self) -> str:
        """What the limit is of, where it is no limit of the reading itself; empty else."""
        if self.limit.kind == self.item.quantity:
            return ""
        reading = self.units.of(self.item.quantity) or "as a number"
        unit = self.unit or "as a number"
        return (
            f"It is a limit of the {self.limit.kind} ({unit}) that follows from the reading, "
            f"not of the reading ({reading})."
        )

    @property
    def single(self) -> bool:
        """Whether one number alone passes."""
        return self.limit.low == self.limit.high

    @property
    def shape(self) -> str:
        """What to type."""
        unit = self.unit or "as a number"
        if self.single:
            return f"one number, {unit}: the only one that passes"
        if self.limit.low is not None and self.limit.high is not None:
            return f"two numbers, {unit}: the lowest and the highest that pass"
        end = "least" if self.limit.high is None else "most"
        return f"one number, {unit}: the {end} that passes"


def asked(job: Job, item: Item) -> Asked | None:
    """The limit of an open item, where it can be known before the reading.

    A limit of nothing is not asked for, nor one that the reading has no part in.
    """
    if item.key in job.answers or not job.applies(item.key) or job.refusal(item.key):
        return None
    limit = expected_limit(job, item)
    if limit is None or not (limit.low or limit.high):
        return None
    found = [_shown(job, item, probe) for probe in probes(item, job.header.units)]
    kept = [finding for finding in found if finding is not None]
    if len({f.value.value for f in kept if f.value is not None}) < 2:
        return None
    common = tuple(s for s in kept[0].working if all(s in f.working for f in kept))
    finding = _at_limit(job, item, limit) or kept[0]
    known = tuple(_known(job, item, finding))
    steps = common or (finding.working if known else ())
    units = units_for(item, None, job.header.units)
    return Asked(item, limit, finding, steps, known, units)


def _shown(job: Job, item: Item, probe: Parsed) -> Finding | None:
    found = tuple(f for f in job.preview(item.key, probe) if not f.refused)
    return band_finding(found, item.quantity)


def _at_limit(job: Job, item: Item, limit: Limit) -> Finding | None:
    """The finding of a reading that lies just on the limit."""
    if limit.kind != item.quantity:
        return None
    end = limit.low if limit.low is not None else limit.high
    assert end is not None
    unit = item.unit_in(job.header.units)
    value = from_si(end, item.quantity, unit)
    return _shown(
        job, item, Parsed("", (value,) * len(item.labels) if item.labels else value, unit)
    )


def _known(job: Job, item: Item, finding: Finding) -> Iterator[tuple[str, str]]:
    """What the check works with: earlier answers, and what tables gave for them."""
    binding = next((b for b in item.checks if b.rule == finding.check), None)
    references = dict.fromkeys(binding.inputs.values() if binding else ())
    for reference in references:
        if isinstance(reference, Result):
            yield from _worked_out(job, reference, finding)
        elif isinstance(reference, Answered) and reference.key != item.key:
            answer, other = job.answers.get(reference.key), job.procedure.items[reference.key]
            if answer is not None and si_value(other, answer) is not None:
                yield other.ask, value_text(other, answer)


def _worked_out(job: Job, reference: Result, finding: Finding) -> Iterator[tuple[str, str]]:
    """A figure that an earlier check worked out or took from a table, with where it is from."""
    source = next(
        (f for f in job.findings.get(reference.key, ()) if reference.name in f.results), None
    )
    given = [value for step in finding.working for _, value in step.inputs]
    if source is None or not source.check:
        return
    found = source.results[reference.name]
    value = next((v for v in given if isinstance(v, Quantity) and _same(v.value, found)), None)
    if value is None:
        return
    units = units_for(job.procedure.items[reference.key], None, job.header.units)
    step = next((s for s in source.working if value in dict(s.results).values()), None)
    title = step.formula if step else checks.named(source.check).title
    origin = f", {source.sources[0].text}" if source.sources else ""
    yield f"{title}{origin}", units.text(value, 5)


@dataclass(frozen=True, slots=True)
class Compared:
    """A limit as it was guessed, beside the one that holds."""

    asked: Asked
    typed: str
    low: float | None
    high: float | None

    @property
    def right(self) -> bool:
        """Whether every end is as good as met."""
        return all(off <= 1.0 for off in self._off(RIGHT, DEGREE))

    @property
    def near(self) -> bool:
        """Whether every end is nearly met."""
        return all(off <= 1.0 for off in self._off(NEAR, DEGREES))

    def _off(self, share: float, degrees: float) -> Iterator[float]:
        for mine, true in self.ends():
            if self.asked.limit.kind == "temperature":
                allowed = degrees
            else:
                allowed = share * abs(true) or 1e-9
            yield abs(mine - true) / allowed

    def ends(self) -> Iterator[tuple[float, float]]:
        """Each end as guessed and as it is."""
        for mine, true in ((self.low, self.asked.limit.low), (self.high, self.asked.limit.high)):
            if mine is not None and true is not None:
                yield mine, true


def compared(one: Asked, text: str) -> Compared:
    """What was typed, understood; InputError says what is accepted."""
    limit, kind = one.limit, one.limit.kind
    if limit.low is not None and limit.high is not None and not one.single:
        low, high = parse_set(text, kind, one.unit, ("lowest", "highest"), one.title)
        return Compared(one, text, low.si, high.si)
    value = parse_quantity(text, kind, one.unit, one.title).si
    ends = (None if end is None else value for end in (limit.low, limit.high))
    return Compared(one, text, *ends)


# -- in words ---------------------------------------------------------------------


def question(one: Asked, width: int) -> Lines:
    """What is asked before the limit is shown."""
    lines = wrapped(f"First: what is the limit? {one.title}", width, "strong")
    if one.other:
        lines += wrapped(one.other, width)
    lines += wrapped(f"Type {one.shape}. Enter alone shows it.", width)
    told = "; ".join(f"{ask}: {value}" for ask, value in one.known)
    return [*lines, *(wrapped(f"You know: {told}", width, "dim") if told else [])]


def answer(one: Asked, result: Compared | None, width: int) -> Lines:
    """The limit, what was guessed, how they differ, and the working step by step."""
    lines: Lines = [line(("The limit", "key"))]
    lines += wrapped(f"{one.title}: {limit_text(one.limit, one.units)}", width, "strong")
    if result is not None:
        lines += _difference(result, width)
    for step in one.steps:
        lines += wrapped(step.formula, width, "dim")
        for row in working_lines(step, one.units):
            indent = len(row) - len(row.lstrip())
            lines += wrapped(row, width, "text", "  ", " " * min(indent + 2, 8))
    for source in one.finding.sources:
        lines += wrapped(f"Source: {source}", width, "dim")
    return [*lines, BLANK]


def verdict(result: Compared) -> tuple[str, str]:
    """One word for the guess, and its role."""
    if result.right:
        return "Right.", "pass"
    return ("Near.", "advise") if result.near else ("Not so.", "fail")


def _difference(result: Compared, width: int) -> Lines:
    one = result.asked
    guessed = limit_text(Limit(result.low, result.high, one.limit.kind), one.units)
    word, role = verdict(result)
    lines: Lines = [line(("You said ", "dim"), f"{guessed}. ", (word, role))]
    if not result.right:
        for text in _ends_in_words(result):
            lines += wrapped(text, width)
        if hint := _taken_from(result):
            lines += wrapped(hint, width)
    return lines


def _ends_in_words(result: Compared) -> Iterator[str]:
    """For each end how far off it is, and what that would have let through."""
    one, limit = result.asked, result.asked.limit
    if one.single and result.low is not None and limit.low is not None:
        side = "low" if result.low < limit.low else "high"
        yield f"That is {_distance(one, result.low, limit.low)} too {side}: one number passes."
        return
    for name, mine, true in (
        ("lowest", result.low, limit.low),
        ("highest", result.high, limit.high),
    ):
        if mine is None or true is None or mine == true:
            continue
        below = mine < true
        by = _distance(one, mine, true)
        stricter = below == (name == "highest")
        what = (
            "you would have refused what the rule lets pass"
            if stricter
            else "you would have let pass what the rule refuses"
        )
        yield f"Your {name} is {by} too {'low' if below else 'high'}: {what}."


def _distance(one: Asked, mine: float, true: float) -> str:
    kind = "temperature difference" if one.limit.kind == "temperature" else one.limit.kind
    if kind in ("gauge pressure", "absolute pressure"):
        unit = one.units.of(one.limit.kind)
        apart = abs(from_si(mine, one.limit.kind, unit) - from_si(true, one.limit.kind, unit))
        return f"{apart:.4g} {unit.removesuffix('g').removesuffix('(g)')}"
    return one.units.text(Quantity(abs(mine - true), kind), 3)


def _taken_from(result: Compared) -> str:
    """Where a wrong number seems to come from: an input of the working taken as its result."""
    guesses = [mine for mine, _ in result.ends()]
    for step in result.asked.steps:
        for name, given in step.inputs:
            if isinstance(given, Quantity) and any(_same(given.value, g) for g in guesses):
                words = name.replace("_", " ")
                return f"That is the {words} itself, with which the working only begins."
    return ""


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-3 * max(abs(one), abs(other), 1e-12)
