"""What is noticed beside the machine, the pages a learner and a lead read, and a blind hand."""

from __future__ import annotations

import random
from datetime import UTC, date, datetime

import pytest

from tests.practice.expert import work
from wizard.errors import InputError, Refused
from wizard.practice.acts import VERBS, Act, act
from wizard.practice.keep import kept, resumed
from wizard.practice.places import places_of
from wizard.practice.record import new_record, summary, with_run
from wizard.practice.run import Run
from wizard.practice.scenario import ENDLESS, listing, scenario_names
from wizard.practice.scoring import debrief, score
from wizard.practice.story import story
from wizard.practice.tools import tools

KNOBS = [f"{t.name}.{k}={v}" for t in tools().values() for k, vs in t.knobs.items() for v in vs]


def test_a_pump_up_is_told_in_its_order() -> None:
    run = Run.new("nothing_wrong", 1)
    for deed in (Act("unlock"), Act("switch", "on"), Act("wait", value=400.0)):
        run = act(run, deed)
    told = [line.split("  ", 1)[1] for line in story(run)]
    first = [t.split()[1] for t in told]
    assert first[:2] == ["contactor", "motor"]
    assert any("snaps over" in t for t in told) and any("hiss" in t and "ends" in t for t in told)
    assert story(run, len(run.log)) == ()


def test_a_shut_relief_or_a_worn_valve_is_not_told() -> None:
    run = Run.new("the_second_gauge", 1)
    for deed in (Act("unlock"), Act("switch", "on"), Act("wait", value=300.0)):
        run = act(run, deed)
    assert not any("valve" in line for line in story(run))


def test_listing_has_a_line_for_each_scenario() -> None:
    lines = listing()
    assert [line.split()[0] for line in lines] == [*scenario_names(), ENDLESS]
    assert all(len(line) <= 80 for line in lines)


def test_summary_shows_skills_and_what_comes_next() -> None:
    record = new_record("Ada Prentice", date(2026, 3, 1))
    at = datetime(2026, 3, 2, tzinfo=UTC)
    record = with_run(record, act(Run.new("first_day", 1), Act("open panel")), at)
    record = with_run(record, work(Run.new("the_stamp", 1)), at)
    lines = summary(record)
    text = "\n".join(lines)
    assert "Practice only" in lines[0]
    assert "ended: Live panel opened by hand" in text and "100 of 100" in text
    assert "Next: " in lines[-1]
    assert all(len(line) <= 100 for line in lines)


def _random_act(chance: random.Random) -> Act:
    verb = chance.choice([v for v in VERBS if v not in ("open panel", "finish")])
    whats = VERBS[verb].whats
    what = chance.choice(whats) if whats else chance.choice(KNOBS) if verb == "set" else "x at y"
    return Act(verb, what, chance.choice([0.5, 20.0, 300.0]))


@pytest.mark.parametrize("seed", range(12))
def test_a_blind_hand_breaks_the_machine_but_never_the_program(seed: int) -> None:
    chance = random.Random(seed)
    run = Run.new(ENDLESS, seed)
    for _ in range(60):
        try:
            run = act(run, _random_act(chance))
        except (Refused, InputError) as problem:
            assert str(problem).endswith((".", "?"))
        place = chance.choice(places_of(run.machine))
        sight = run.see(chance.choice(place.tools), place.name)
        assert all(len(line) <= 80 for line in sight.lines)
        if run.ended:
            break
    assert resumed(kept(run)) == run
    assert 0 <= score(run).total <= 100
    assert debrief(run)
