"""What the practice screens say: top rows, rows of their lists, pages to read.

Invariant: the word PRACTICE is in the top row of everything that could pass for a job.
"""

from __future__ import annotations

from itertools import chain

from wizard.commands.deeds import clock, deeds, objects, standing
from wizard.commands.exercise import Exercise, Look
from wizard.job import Job
from wizard.practice.dangers import dangers
from wizard.practice.places import Place, places_of
from wizard.practice.record import TrainingRecord, summary
from wizard.practice.run import Run
from wizard.practice.scenario import ENDLESS, UNKNOWN, Scenario, scenario
from wizard.practice.scoring import debrief
from wizard.practice.story import story
from wizard.practice.tools import tools
from wizard.procedure.item import Item
from wizard.tui.list_pane import Row
from wizard.tui.spans import BLANK, Line, Lines, between, fitted, line, width_of, wrapped
from wizard.tui.views.masthead import masthead as of_job

ABOUT = 52
"""Cells of a row for what an instrument is."""
FIRST_TURN = 12
"""The phase in which the motor turns first."""
STANDS = 0


def masthead(exercise: Exercise, item: Item | None, where: str, pace: int, width: int) -> Lines:
    """Which run, which item, where the eyes are, how the machine stands, what time it is."""
    job, run = exercise.job, exercise.run
    name = line(" ", ("PRACTICE", "strong"), f"  {run.scenario.title}")
    shown = item or next(iter(job.procedure.items.values()))
    title = of_job(job, shown, width)[1] if item else line(f" {where}")
    return [
        between(name, _state(job), width),
        title,
        _rule(where if item else "", f"{standing(run)} ─ {clock(run)} {pace_words(pace)}", width),
    ]


def pace_words(pace: int) -> str:
    """How fast time goes.

    >>> pace_words(0), pace_words(1), pace_words(20)
    ('stands', 'runs', 'runs x20')
    """
    if pace == STANDS:
        return "stands"
    return "runs" if pace == 1 else f"runs x{pace}"


def _state(job: Job) -> Line:
    """Held or not, and how many items are open before the first turn, or at all."""
    left = job.open_items()
    early = [item for item in left if item.phase < FIRST_TURN]
    count = f"{len(early)} open before the start " if early else f"{len(left)} open "
    if holds := job.holds():
        return line((f" HELD in phase {holds[0].phase} ", "hold"), f"  {count}")
    return line(count)


def _rule(left: str, right: str, width: int) -> Line:
    """The line under the top rows, with words at both ends."""
    start = line(("─ ", "rule"), (left, "strong"), (" ", "rule")) if left else line(("──", "rule"))
    end = line((" ", "rule"), right, (" ─", "rule"))
    start = fitted(start, max(2, width - width_of(end) - 1))
    gap = width - width_of(start) - width_of(end)
    return (*start, *line(("─" * max(0, gap), "rule")), *end)


def where_words(run: Run, at: Look | None) -> str:
    """The place that is looked at and what is in the hand."""
    if at is None:
        return ""
    place = next((p for p in places_of(run.machine) if p.name == at.place), None)
    if place is None:
        return "Papers of the site"
    return place.title if at.tool == "eye" else f"{place.title}, {at.tool}"


# -- lists ------------------------------------------------------------------------


def site_rows(run: Run) -> list[Row]:
    """The places of the site by area; those that were looked at are marked."""
    seen = {entry.where for entry in run.log if entry.kind == "look"}
    rows: list[Row] = []
    area = ""
    for place in walk(run):
        if place.area != area:
            area = place.area
            rows.append(Row("", line(f" {area}", ""), ()))
        mark = "●" if place.name in seen else "·"
        rows.append(
            Row(
                place.name,
                line("   ", (mark, "dim"), f" {place.title}"),
                line((", ".join(place.tools), "dim"), " "),
            )
        )
    return rows


def walk(run: Run) -> list[Place]:
    """The places in the order that one walks: area by area."""
    there = places_of(run.machine)
    areas = dict.fromkeys(place.area for place in there)
    return [place for area in areas for place in there if place.area == area]


def deed_rows(run: Run) -> list[Row]:
    """What can be done, by heading; the pick is the place in `deeds`."""
    rows: list[Row] = []
    group = ""
    for number, deed in enumerate(deeds(run)):
        if deed.group != group:
            group = deed.group
            rows.append(Row("", line(f" {group}"), ()))
        rows.append(Row(str(number), line(f"   {deed.title}"), ()))
    return rows


def object_rows(run: Run, verb: str) -> list[Row]:
    """What a verb can be done to."""
    return [
        Row(name, line(f"   {title}"), line((state, "dim"), " "))
        for name, title, state in objects(run, verb)
    ]


def hand_rows(run: Run, at: Look) -> list[Row]:
    """The instruments that can be used at the place, and the knobs of the one in the hand."""
    place = next((p for p in places_of(run.machine) if p.name == at.place), None)
    if place is None:
        return []
    rows = [
        Row(
            f"tool {name}",
            line(f"   {'In the hand' if name == at.tool else 'Take'}: {name}"),
            line(*fitted(line((tools()[name].about, "dim")), ABOUT), " "),
        )
        for name in place.tools
    ]
    for knob, values in tools()[at.tool].knobs.items():
        now = run.knobs[f"{at.tool}.{knob}"]
        rows.append(Row("", line(f" {knob.capitalize()}"), ()))
        rows += [
            Row(
                f"set {at.tool}.{knob}={value}",
                line(f"   {value}"),
                line(("set so now" if value == now else "", "dim"), " "),
            )
            for value in values
        ]
    return rows


# -- pages ------------------------------------------------------------------------


def briefing_page(scenario: Scenario, width: int) -> Lines:
    """What is told before a run."""
    head = line((scenario.title, "strong"), f"   planned for {scenario.minutes:.0f} minutes")
    machine = wrapped(scenario.plant.title, width, "dim")
    told = _paragraphs(scenario.briefing, width)
    keys = (
        "You have your eyes, instruments and the procedure. F2 walks to a place, F3 does "
        "something, F4 looks at what the item in front is read from; type the reading where the "
        "item asks for it. What is wrong belongs on the defect list (F3). What nobody can see on "
        "this machine is filled in from the papers of the site."
    )
    return [head, *machine, BLANK, *told, BLANK, *wrapped(keys, width, "dim"), BLANK, GO_ON]


GO_ON = line(("Enter", "key"), " goes on")


def danger_page(run: Run, width: int) -> Lines:
    """How a dangerous act would have ended, soberly; empty where the run ended well."""
    danger = dangers().get(run.ended)
    if danger is None:
        return []
    return [
        line((" THE RUN HAS ENDED ", "hold"), f" {danger.title}"),
        BLANK,
        line(("What would have happened", "key")),
        *wrapped(danger.happened, width),
        BLANK,
        line(("What to do instead", "key")),
        *wrapped(danger.instead, width),
        BLANK,
        GO_ON,
    ]


def debrief_page(exercise: Exercise, width: int) -> Lines:
    """What a mentor says afterwards, and what to practise next."""
    lines: Lines = []
    for number, told in enumerate(debrief(exercise.run)):
        role = "strong" if number == 0 else "text"
        indent = len(told) - len(told.lstrip())
        pad = " " * indent
        lines += wrapped(told, width, role, pad, pad) if told else [BLANK]
    if exercise.record is not None:
        advice = exercise.advice()
        title = scenario(advice.scenario, 1).title if advice.scenario != ENDLESS else UNKNOWN
        lines += [BLANK, line(("Next", "key"), f"  {title}")]
        lines += wrapped(advice.said, width)
    return [*lines, BLANK, GO_ON]


def story_page(run: Run, width: int) -> Lines:
    """Everything that was noticed so far, with its time."""
    told = story(run)
    lines: Lines = [line(("What happened so far", "key")), BLANK]
    for sentence in told:
        time, _, words = sentence.partition("  ")
        lines += wrapped(words, width, "text", f"{time:>8}  ", " " * 10)
    return lines if told else [*lines, line("Nothing that anybody would have noticed.")]


def training_page(record: TrainingRecord, width: int) -> Lines:
    """The training record on one page."""
    return [*(line(told) if told else BLANK for told in summary(record)), BLANK, GO_ON]


def _paragraphs(text: str, width: int) -> Lines:
    return list(chain.from_iterable(wrapped(part, width) for part in text.splitlines() if part))
