"""The learner's training record: runs, lessons, progress, what to practise next; as TOML.

Invariant: the file says "practice = true" in its first line and names no machine; it can never be
taken for a machine's record, and no machine's record is read here.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal, NamedTuple

import tomli
import tomli_w
from pydantic_core import ValidationError
from pydantic_core import core_schema as cs

from wizard.errors import InputError, RecordDamaged, RecordNewer
from wizard.practice.dangers import dangers
from wizard.practice.faults import faults
from wizard.practice.run import Run
from wizard.practice.scenario import ENDLESS, UNKNOWN, scenario, scenario_names
from wizard.practice.scoring import score
from wizard.record.columns import Shape, column, rows

FORMAT = "practice training record"
VERSION = 1
LATEST = 8
"""Chances of a skill that its standing is taken from."""
PASSED = 60
"""Points from which a scenario is passed; a failed one is taken again before the next."""
SURE = 3
"""Chances below which nothing can be said of a skill."""
SKILLS = tuple(
    dict.fromkeys(
        ["safe working", *(f.skill for f in faults().values()), "reading instruments",
         "order of work"]
    )
)  # fmt: skip


_SCORE = cs.int_schema(ge=0, le=100)
_NAMES = cs.list_schema(cs.str_schema())


def _text(most: int, least: int = 0) -> cs.StringSchema:
    return cs.str_schema(min_length=least, max_length=most)


class Chance(Shape, closed=True):
    """What one run gave of a skill: chances taken out of chances had."""

    skill: str = column(_text(40))
    won: float = column(cs.float_schema(ge=0, le=100))
    had: float = column(cs.float_schema(gt=0, le=100))


class Done(Shape, closed=True):
    """One run as the training record keeps it."""

    at: datetime = column(cs.datetime_schema())
    scenario: str = column(_text(60))
    seed: int = column(cs.int_schema())
    machine: str = column(_text(60))
    total: int = column(_SCORE)
    ended: str = column(_text(80))
    minutes: float = column(cs.float_schema(ge=0))
    found: list[str] = column(_NAMES, default=[])
    missed: list[str] = column(_NAMES, default=[])
    false_alarms: list[str] = column(_NAMES, default=[])
    chances: list[Chance] = column(rows(Chance, 100), default=[])


class Lesson(Shape, closed=True):
    """One thing learned on the job: a limit predicted before it was shown, or a countersign."""

    at: datetime = column(cs.datetime_schema())
    item: str = column(_text(80))
    skill: str = column(_text(40), default="")
    right: bool = column(cs.bool_schema())
    predicted: str = column(_text(200), default="")
    mentor: str = column(_text(80), default="")


class TrainingRecord(Shape, closed=True):
    """Everything a learner has practised."""

    practice: Literal[True] = column(cs.literal_schema([True]), default=True)
    format: str = column(cs.literal_schema([FORMAT]), default=FORMAT)
    version: int = column(cs.literal_schema([VERSION]), default=VERSION)
    learner: str = column(_text(80, least=1))
    begun: date = column(cs.date_schema())
    runs: list[Done] = column(rows(Done, 100_000), default=[])
    lessons: list[Lesson] = column(rows(Lesson, 100_000), default=[])


class Standing(NamedTuple):
    """How a learner stands in one skill: share of the latest chances, and of those before."""

    skill: str
    share: float | None
    before: float | None
    chances: int


def new_record(learner: str, begun: date) -> TrainingRecord:
    """A record with nothing in it."""
    name = " ".join(learner.split())
    if not 1 <= len(name) <= 80:
        raise InputError("name of the learner", f"{len(name)} characters", "1 to 80 characters")
    return TrainingRecord(learner=name, begun=begun)


def with_run(record: TrainingRecord, run: Run, at: datetime) -> TrainingRecord:
    """The record with a run added; the run has to have ended."""
    if not run.ended:
        raise InputError("practice run", "one that still goes on", "one that has ended")
    result = score(run)
    done = Done(
        at=at, scenario=run.scenario.name, seed=run.seed, machine=run.scenario.machine,
        total=result.total, ended=run.ended, minutes=round(run.minutes, 1),
        found=list(result.found), missed=list(result.missed),
        false_alarms=list(result.false_alarms),
        chances=[
            Chance(skill=skill, won=won, had=had) for skill, (won, had) in result.skills.items()
        ],
    )  # fmt: skip
    return record.changed(runs=[*record.runs, done])


def with_lesson(record: TrainingRecord, lesson: Lesson) -> TrainingRecord:
    """The record with a lesson of guided work added."""
    return record.changed(lessons=[*record.lessons, lesson])


def standings(record: TrainingRecord) -> tuple[Standing, ...]:
    """Every skill, in the order that they are taught."""
    return tuple(_standing(record, skill) for skill in SKILLS)


def _standing(record: TrainingRecord, skill: str) -> Standing:
    had = [c for run in record.runs for c in run.chances if c.skill == skill]
    latest, earlier = had[-LATEST:], had[:-LATEST]
    return Standing(skill=skill, share=_share(latest), before=_share(earlier), chances=len(had))


def _share(chances: list[Chance]) -> float | None:
    could = sum(c.had for c in chances)
    return sum(c.won for c in chances) / could if could else None


class Advice(NamedTuple):
    """What to practise next, in which scenario, and why in a sentence."""

    skill: str
    scenario: str
    said: str


def advice(record: TrainingRecord) -> Advice:
    """The weakest skill, or the first one that was never tried, and where to practise it."""
    best: dict[str, int] = {}
    for run in record.runs:
        best[run.scenario] = max(run.total, best.get(run.scenario, 0))
    fresh = [n for n in scenario_names() if n not in best]
    if not record.runs:
        return Advice(skill="safe working", scenario=fresh[0], said="Begin at the beginning.")
    last = record.runs[-1]
    if best[last.scenario] < PASSED and last.scenario in scenario_names():
        said = f"{best[last.scenario]} of 100 is not passed; {PASSED} is. Take it once more."
        return Advice(skill="safe working", scenario=last.scenario, said=said)
    known = [s for s in standings(record) if s.share is not None]
    worst = min(known, key=lambda s: s.share if s.share is not None else 1.0)
    if worst.share is not None and worst.share < 0.75:
        said = f"Of the last chances in “{worst.skill}”, {worst.share:.0%} were taken."
        return Advice(skill=worst.skill, scenario=_with_skill(worst.skill, fresh), said=said)
    for standing in standings(record):
        if standing.chances < SURE and (where := _with_skill(standing.skill, fresh)) != ENDLESS:
            said = f"“{standing.skill}” has hardly come up yet."
            return Advice(skill=standing.skill, scenario=where, said=said)
    where = fresh[0] if fresh else ENDLESS
    said = "All skills stand well; take the next one." if fresh else "Take unknown machines now."
    return Advice(skill="safe working", scenario=where, said=said)


def _with_skill(skill: str, names: list[str]) -> str:
    """The easiest fresh scenario in which the skill comes up; endless where there is none."""
    for name in names:
        if any(faults()[f].skill == skill for f in scenario(name).faults):
            return name
    if names and skill in ("safe working", "reading instruments", "order of work"):
        return names[0]
    return ENDLESS


def summary(record: TrainingRecord) -> tuple[str, ...]:
    """The record on one page: runs, skills with a bar each, what to practise next."""
    lines = [f"Training record of {record.learner}, begun {record.begun}. Practice only.", ""]
    for done in record.runs[-LATEST:]:
        title = titled(done.scenario, done.seed)
        lines.append(f"{done.at:%Y-%m-%d}  {title:<34} {done.total:>3} of 100")
        if done.ended != "handed over":
            danger = dangers().get(done.ended)
            lines.append(f"{'':<12}ended: {danger.title if danger else 'before the handover'}")
    lines += ["", *(_bar(s) for s in standings(record)), ""]
    if record.lessons:
        right = sum(lesson.right for lesson in record.lessons)
        signed = sum(bool(lesson.mentor) for lesson in record.lessons)
        lines.append(f"Lessons on the job: {right} of {len(record.lessons)} right, "
                     f"{signed} countersigned by a mentor.")  # fmt: skip
    next_up = advice(record)
    return (*lines, f"Next: {titled(next_up.scenario)}. {next_up.said}")


def titled(name: str, seed: int | None = None) -> str:
    """A scenario by its title; an unknown machine without a seed is any."""
    if name == ENDLESS and seed is None:
        return UNKNOWN
    if name == ENDLESS or name in scenario_names():
        return scenario(name, seed or 0).title
    return "A scenario that is no longer there"


def _bar(standing: Standing) -> str:
    if standing.share is None:
        return f"{standing.skill:<20} {'-' * 10}   not yet"
    filled = round(10 * standing.share)
    trend = ""
    if standing.before is not None:
        change = standing.share - standing.before
        trend = "  better" if change > 0.1 else "  worse" if change < -0.1 else "  steady"
    return f"{standing.skill:<20} {'#' * filled:.<10} {standing.share:>5.0%}{trend}"


def dumped(record: TrainingRecord) -> str:
    """The record as TOML, practice in its first line."""
    return tomli_w.dumps(record.plain())


def loaded(text: str) -> TrainingRecord:
    """The record in a TOML text; RecordDamaged or RecordNewer where it cannot be used."""
    try:
        data = tomli.loads(text)
    except tomli.TOMLDecodeError as problem:
        raise RecordDamaged(f"This training record cannot be read: {problem}.") from problem
    if data.get("practice") is not True or data.get("format") != FORMAT:
        raise RecordDamaged("This is not a training record.")
    if isinstance(version := data.get("version"), int) and version > VERSION:
        raise RecordNewer(f"This training record was written by a newer version ({version}).")
    try:
        record = TrainingRecord.of(data)
    except ValidationError as problem:
        first = problem.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise _damaged(f" at {where}: {first['msg']}") from None
    for number, done in enumerate(record.runs):
        if any(chance.won > chance.had for chance in done.chances):
            # A bar is drawn as long as the share of chances taken says.
            raise _damaged(f" at runs.{number}.chances: more were taken than there were")
    if record.runs and all(standing.share is None for standing in standings(record)):
        raise _damaged(": its runs tell of no known skill")
    return record


def _damaged(how: str) -> RecordDamaged:
    return RecordDamaged(f"This training record is damaged{how}.")
