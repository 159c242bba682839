"""A careful technician finds everything; a careless one does not; sound machines stay sound."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.practice.expert import work
from wizard.practice.acts import reported
from wizard.practice.faults import badness, fitting
from wizard.practice.plates import machine, machine_names
from wizard.practice.run import WARM, Run
from wizard.practice.scenario import scenario, scenario_names
from wizard.practice.scoring import score
from wizard.practice.state import State, resting

SEEDS, BLOCK, QUICK = 200, 20, 60
BLOCKS = [
    pytest.param(
        range(first, first + BLOCK),
        id=f"seeds from {first}",
        marks=[] if first < QUICK else [pytest.mark.slow],
    )
    for first in range(0, SEEDS, BLOCK)
]


@pytest.mark.parametrize("seeds", BLOCKS)
def test_the_expert_finds_every_fault_of_a_seed_and_nothing_else(seeds: range) -> None:
    for seed in seeds:
        run = work(Run.new("endless", seed))
        assert run.ended == "handed over", seed
        assert set(reported(run)) == set(run.scenario.present(seed)), seed


def test_the_seeds_draw_every_fault() -> None:
    drawn = {f for seed in range(QUICK) for f in Run.new("endless", seed).scenario.present(seed)}
    assert drawn == {f for name in machine_names() for f in fitting(machine(name))}


def test_a_careless_hand_misses_some_and_is_marked_for_it() -> None:
    there = missed = 0
    scores = []
    for seed in range(30):
        result = score(work(Run.new("endless", seed), skips=0.4))
        there += len(result.found) + len(result.missed)
        missed += len(result.missed)
        scores.append(result.total)
    assert 0.2 * there < missed < 0.8 * there
    assert sum(scores) / len(scores) < 85


@pytest.mark.parametrize("name", machine_names())
def test_each_fault_alone_is_found_on_each_machine(name: str) -> None:
    plain = replace(scenario("nothing_wrong"), machine=name)
    for fault in fitting(machine(name)):
        for seed in (1, 2):
            run = replace(Run.new("nothing_wrong", seed), scenario=replace(plain, faults=(fault,)))
            run = replace(run, present={fault: badness(fault, seed)})
            run = replace(run, state=_started(run))
            assert reported(work(run)) == (fault,), (name, fault, seed)


def _started(run: Run) -> State:
    return resting(run.scenario.plant, run.site, 0.0, run.present.get(WARM, 0.0))


@pytest.mark.parametrize("name", scenario_names())
def test_every_written_scenario_can_be_done_to_full_marks(name: str) -> None:
    run = work(Run.new(name, 11))
    result = score(run)
    assert run.ended == "handed over"
    assert result.total == 100, result.marks
    assert run.minutes < run.scenario.minutes
