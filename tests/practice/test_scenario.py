"""Scenarios and draws: enough of them, sound, varied, and the same for the same seed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.errors import InputError
from wizard.practice import seed as chance
from wizard.practice.dangers import dangers
from wizard.practice.faults import EXCLUSIVE, draw, faults, fitting, with_faults
from wizard.practice.plates import machine, machine_names
from wizard.practice.run import Run
from wizard.practice.scenario import ENDLESS, endless, scenario, scenario_names


def test_there_are_at_least_ten_from_first_day_to_nasty() -> None:
    names = scenario_names()
    assert len(names) >= 10
    assert names[0] == "first_day"
    levels = [scenario(n).level for n in names]
    assert levels == sorted(levels) and {1, 5} <= set(levels)


def test_together_the_scenarios_show_every_fault() -> None:
    shown = {f for n in scenario_names() for f in scenario(n).faults}
    assert set(faults()) - shown <= {"relief_high", "weak_hose"} - shown | {"weak_hose"}


@pytest.mark.parametrize("name", scenario_names())
def test_a_scenario_tells_its_story_and_gives_nothing_away(name: str) -> None:
    found = scenario(name)
    assert len(found.briefing) > 150 and len(found.debrief) > 100
    for fault in found.faults:
        assert faults()[fault].title.lower() not in found.briefing.lower()
    assert "!" not in found.briefing + found.debrief


def test_texts_of_faults_and_dangers_are_sober_sentences() -> None:
    for fault in faults().values():
        for text in (fault.shows, fault.does, fault.repair):
            assert text.endswith(".") and "!" not in text
        assert fault.severity in ("safety", "handover", "advisory")
        assert fault.hands in ("you", "electrician")
    for danger in dangers().values():
        assert danger.happened.endswith(".") and danger.instead.endswith(".")


@given(st.integers(0, 10**9))
def test_the_same_seed_gives_the_same_machine(seed: int) -> None:
    assert endless(seed) == endless(seed)
    assert Run.new(ENDLESS, seed).present == Run.new(ENDLESS, seed).present


@given(st.integers(0, 10**6), st.integers(0, 6), st.sampled_from(machine_names()))
def test_a_draw_goes_together_and_is_real(seed: int, count: int, name: str) -> None:
    drawn = draw(machine(name), count, seed)
    assert len(drawn) == count
    assert set(drawn) <= set(fitting(machine(name)))
    assert not any(pair <= set(drawn) for pair in EXCLUSIVE)
    for fault, value in drawn.items():
        low, high = faults()[fault].low, faults()[fault].high
        assert low <= abs(value) <= high


def test_every_fault_changes_its_machine() -> None:
    for name in machine_names():
        for fault in fitting(machine(name)):
            changed = with_faults(machine(name), {fault: faults()[fault].high})
            assert (changed == machine(name)) == (fault == "tank_warm"), fault


def test_endless_seeds_meet_every_fault_and_machine() -> None:
    met = [Run.new(ENDLESS, n) for n in range(120)]
    assert {r.scenario.machine for r in met} == set(machine_names())
    assert {f for r in met for f in r.present} == set(faults())


@given(st.integers(), st.text(max_size=8))
def test_shares_are_shares(seed: int, word: str) -> None:
    assert 0.0 <= chance.share(seed, word) < 1.0
    assert -3.0 <= chance.spread(seed, word) <= 3.0


def test_spread_is_a_normal_distribution() -> None:
    drawn = [chance.spread(7, n) for n in range(4000)]
    mean = sum(drawn) / len(drawn)
    deviation = (sum((d - mean) ** 2 for d in drawn) / len(drawn)) ** 0.5
    assert abs(mean) < 0.05 and abs(deviation - 1.0) < 0.05


def test_a_wrong_name_lists_the_right_ones() -> None:
    with pytest.raises(InputError, match="first_day"):
        scenario("atlantis")
    with pytest.raises(InputError, match="us_five_one"):
        machine("atlantis")
