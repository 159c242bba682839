"""What a mentor says: safety first, then faults, false alarms, readings, order and time."""

from __future__ import annotations

import pytest

from tests.practice.expert import work
from wizard.practice.acts import Act, act
from wizard.practice.faults import faults
from wizard.practice.record import PASSED
from wizard.practice.run import Run
from wizard.practice.scoring import (
    BARRED,
    CEILING,
    OPEN_ENDED,
    WEIGHTS,
    Score,
    debrief,
    false_readings,
    readings,
    score,
)
from wizard.procedure import procedure

PSI = 6894.757293168


def _mark(result: Score, heading: str) -> float | None:
    return next(m.share for m in result.marks if m.heading == heading)


def test_headings_weigh_a_hundred_together() -> None:
    assert sum(WEIGHTS.values()) == 100


def test_a_danger_caps_the_score_however_good_the_rest() -> None:
    done = Run.new("first_day", 1)
    for name in ("oil_low", "blocks_in"):
        done = act(done, Act("report", name))
    result = score(act(done, Act("open panel")))
    assert result.total <= CEILING
    assert _mark(result, "Safety") == 0.0
    assert not result.missed
    assert any("Live panel" in line for line in debrief(act(done, Act("open panel"))))


def test_found_missed_and_false_alarms_are_told_by_their_titles() -> None:
    run = Run.new("first_day", 1)
    for name in ("oil_low", "weak_hose"):
        run = act(run, Act("report", name))
    run = act(run, Act("finish"))
    result = score(run)
    assert (result.found, result.missed, result.false_alarms) == (
        ("oil_low",), ("blocks_in",), ("weak_hose",),
    )  # fmt: skip
    text = "\n".join(debrief(run))
    for name, word in (("oil_low", "Found"), ("blocks_in", "Missed"), ("weak_hose", "Not so")):
        assert f"{word}: {faults()[name].title}" in text
    assert faults()["blocks_in"].shows in text


def test_a_false_alarm_costs_and_a_withdrawn_one_does_not() -> None:
    run = act(Run.new("nothing_wrong", 1), Act("report", "oil_over"))
    wrong = score(act(run, Act("finish")))
    right = score(act(act(run, Act("withdraw", "oil_over")), Act("finish")))
    assert _mark(wrong, "False alarms") == 0.5
    assert _mark(right, "False alarms") == 1.0
    assert wrong.total < right.total


def test_missing_safety_looks_before_the_start_costs_order() -> None:
    run = Run.new("nothing_wrong", 1)
    for deed in (Act("unlock"), Act("switch", "on"), Act("wait", value=5.0)):
        run = act(run, deed)
    hasty = score(run)
    careful = score(work(Run.new("nothing_wrong", 1)))
    assert _mark(careful, "Order of work") == 1.0
    order = _mark(hasty, "Order of work")
    assert order is not None and order < 0.5


def test_a_look_after_the_start_is_too_late() -> None:
    run = Run.new("nothing_wrong", 1)
    for deed in (Act("unlock"), Act("switch", "on"), Act("wait", value=5.0)):
        run = act(run, deed)
    for place in ("plate.tank", "relief.stamp", "relief.path", "hose.print", "overload.dial"):
        run, _ = run.look("eye", place)
    order = _mark(score(run), "Order of work")
    assert order is not None and order < 0.5


def test_starting_with_a_listed_safety_defect_breaks_order() -> None:
    run = work(Run.new("first_day", 1))
    kept_back = tuple(e for e in run.log if not (e.kind == "repair" and e.what == "oil_low"))
    from dataclasses import replace

    told = "\n".join(debrief(replace(run, log=kept_back)))
    assert "Safety defects put right before the first turn: not kept" in told


def _noted(steps: float, key: str = "tank") -> Run:
    run = Run.new("nothing_wrong", 2)
    for deed in (Act("unlock"), Act("switch", "on"), Act("wait", value=40.0)):
        run = act(run, deed)
    run, sight = run.look("test gauge", "tank.test_port")
    assert sight.shown is not None
    what = {"tank": "test gauge at tank.test_port", "item": "running.pressure"}[key]
    return act(run, Act("note", what, sight.shown.value + steps * sight.shown.step))


@pytest.mark.parametrize("key", ["tank", "item"])
@pytest.mark.parametrize(
    ("steps", "share"), [(0.0, 1.0), (1.0, 1.0), (-1.0, 1.0), (2.0, 0.5), (3.0, 0.0), (-9.0, 0.0)]
)
def test_readings_are_marked_in_steps_of_the_instrument(
    steps: float, share: float, key: str
) -> None:
    run = _noted(steps, key)
    (taken,) = readings(run)
    assert taken.steps == pytest.approx(abs(steps), abs=1e-6)
    assert _mark(score(run), "Readings") == share


def _lifted(psi: float) -> Run:
    """The lift pressure written down as so many psi above what the gauge showed."""
    run = _noted(0.0)
    run, sight = run.look("test gauge", "tank.test_port")
    assert sight.shown is not None
    return act(run, Act("note", "lift.pressure", sight.shown.value + psi * PSI, "lift.pressure"))


def test_a_false_reading_on_a_safety_item_cannot_pass() -> None:
    honest = act(_lifted(1.0), Act("finish"))
    false = act(_lifted(8.0), Act("finish"))
    assert _mark(score(honest), "Safety") == 1.0
    assert _mark(score(false), "Safety") == 0.0
    assert score(false).total <= BARRED < PASSED
    told = "\n".join(debrief(false))
    assert "A false reading on a safety item: Tank pressure for the lift test" in told
    assert "lift.pressure" not in told and "Nobody was put at risk" not in told


def test_a_false_reading_that_was_corrected_is_forgiven() -> None:
    run = _lifted(8.0)
    run, sight = run.look("test gauge", "tank.test_port")
    assert sight.shown is not None
    run = act(run, Act("note", "lift.pressure", sight.shown.value, "lift.pressure"))
    assert false_readings(run) == ()


@pytest.mark.parametrize(
    ("left", "most"),
    [
        ("open, safety", BARRED),
        ("failed, safety", BARRED),
        ("failed, handover", BARRED),
        ("open, handover", OPEN_ENDED),
    ],
)
def test_what_is_left_at_the_handover_is_named_and_weighs(left: str, most: int) -> None:
    run = work(Run.new("first_day", 1))
    assert score(run).total > most
    left_so = run.logged("left", "gauge.test_at_cut_out", left)
    assert score(left_so).total == most
    ask = procedure().items["gauge.test_at_cut_out"].ask
    assert any(ask in line for line in debrief(left_so))


def test_a_reading_that_passed_is_held_against_the_look_that_showed_it() -> None:
    run = _noted(0.0)
    run, sight = run.look("test gauge", "tank.test_port")
    assert sight.shown is not None
    run = act(run, Act("wait", value=60.0))
    run, _ = run.look("test gauge", "tank.test_port")
    cut_out = act(run, Act("note", "switch.cut_out", sight.shown.value, "switch.cut_out"))
    pressed = act(run, Act("note", "lift.pressure", sight.shown.value, "lift.pressure"))
    assert readings(cut_out)[-1].steps == pytest.approx(0.0)
    assert readings(pressed)[-1].steps > 5


def test_a_time_by_another_clock_is_no_reading_of_the_stopwatch() -> None:
    run, _ = Run.new("nothing_wrong", 2).look("stopwatch", "stopwatch")
    run = act(run, Act("note", "start.unloaded_time", 1820.0, "start.unloaded_time"))
    assert readings(run) == ()


def test_a_note_without_a_look_is_no_reading() -> None:
    run = act(Run.new("nothing_wrong", 2), Act("note", "running.pressure", 5e5))
    assert readings(run) == ()
    assert _mark(score(run), "Readings") is None


def test_time_over_the_plan_costs_a_little() -> None:
    quick = work(Run.new("first_day", 1))
    slow = Run.new("first_day", 1)
    for _ in range(2):
        slow = act(slow, Act("wait", value=4 * 3600.0))
    slow = work(slow)
    assert _mark(score(quick), "Time") == 1.0
    assert _mark(score(slow), "Time") == pytest.approx(0.0)
    assert score(slow).total == score(quick).total - 6


def test_skills_count_chances() -> None:
    run = act(act(Run.new("first_day", 1), Act("report", "oil_low")), Act("finish"))
    skills = score(run).skills
    assert skills["oil"] == (1.0, 1.0)
    assert skills["mounting"] == (0.0, 1.0)
    assert skills["safe working"] == (1.0, 1.0)
