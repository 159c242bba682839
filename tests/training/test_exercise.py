"""A run and its practice record: what is filled in, what is noted, what is kept."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.practice.apprentice import good_answer
from wizard import actions
from wizard.commands import exercise
from wizard.commands.exercise import Exercise, Look
from wizard.commands.shelf import Shelf, records
from wizard.errors import RecordDamaged, RecordNewer, Refused
from wizard.finding import Finding, Severity, Verdict
from wizard.history import FAST_RUN, FROM_PAPERS, doubts
from wizard.job import Hold
from wizard.practice.record import Lesson
from wizard.practice.scenario import scenario_names
from wizard.practice.scoring import readings
from wizard.practice.spots import PAPERS, spots_of, written
from wizard.procedure import procedure
from wizard.record import file_of
from wizard.record.about import about
from wizard.store import now, read_job

ROOT = Path(__file__).parents[2]


def begun(name: str = "first_day", seed: int = 1, learner: str = "Ada Prentice") -> Exercise:
    """A fresh exercise."""
    return exercise.begin(Shelf(learner), name, seed)


def answered(one: Exercise, key: str, text: str) -> None:
    """An item answered and saved, as the screen does."""
    hand = actions.Hand("Ada Prentice", now())
    one.save(actions.answer(one.job, key, text, hand, confirmed=True))


# -- the record -------------------------------------------------------------------


def test_the_record_says_practice_in_its_first_lines() -> None:
    one = begun()
    path = records() / file_of(one.held.record)
    one.close()
    lines = path.read_text("utf-8").splitlines()
    assert lines[0] == 'format = "wizard-practice"' and "practice = true" in lines[:3]
    assert read_job(path, procedure()).job.header.practice_run


def test_a_run_in_hand_says_practice_in_its_first_line(state_home: Path) -> None:
    one = begun()
    one.close()
    kept = state_home / "practice-runs" / f"{one.held.record}.toml"
    assert kept.read_text("utf-8").startswith("practice = true\n")


@pytest.mark.parametrize("name", scenario_names())
def test_the_papers_fill_in_what_nobody_can_see_and_never_what_an_eye_can(name: str) -> None:
    one = begun(name)
    job = one.job
    for key, answer in job.answers.items():
        assert answer.by == FROM_PAPERS, key
        item = job.procedure.items[key]
        seen = [s for s in spots_of(key) if s.tool != PAPERS]
        assert not seen or item.phase <= 2, key
    assert not job.holds()
    assert {i.key for i in job.failures()} <= {"room.outdoor"}, "only an icy room is in the papers"
    early = [i for i in job.open_items() if i.phase < 12]
    assert 20 < len(early) < 100
    one.close()


def test_the_technician_of_a_practice_record_is_the_learner() -> None:
    one = begun()
    assert about(one.job).technician == ""
    answered(one, "energy.isolated", "yes")
    assert about(one.job).technician == "Ada Prentice"
    one.close()


@pytest.mark.parametrize("name", ["first_day", "ice_on_the_yard"])
def test_what_the_papers_fill_in_at_once_raises_no_doubt_and_haste_does(name: str) -> None:
    one = begun(name)
    assert len(one.job.answers) > 100 and doubts(one.job) == ()
    for _ in range(FAST_RUN):
        left = (i for i in one.job.open_items() if i.kind == "confirm")
        answered(one, next(i.key for i in left if i.key not in one.job.answers), "yes")
    assert [d.rule for d in doubts(one.job)] == ["too fast"]
    one.close()


def test_plates_of_the_order_do_not_give_a_fault_away() -> None:
    one = begun("the_stamp")
    assert "relief_high" in one.run.present
    ordered = one.job.answers["relief.plate_set"]
    stamped = one.look(Look("eye", "relief.stamp")).lines
    assert not any(f" {ordered.raw.split()[0]} psi" in row for row in stamped if "set" in row)
    one.close()


def test_what_the_papers_can_say_by_now_is_filled_in_with_every_answer() -> None:
    one = begun()
    hand = actions.Hand("Ada Prentice", now())
    one.save(actions.withdraw(one.job, "lift.rigging_weight", "misread", hand))
    assert one.job.answers["lift.rigging_weight"].by == FROM_PAPERS
    one.close()


# -- notes and acts ---------------------------------------------------------------


def test_a_reading_is_scored_against_what_the_instrument_showed() -> None:
    one = begun()
    one.look(Look("eye", "overload.dial"))
    shown = one.glance(Look("eye", "overload.dial")).shown
    assert shown is not None
    answered(one, "overload.setting", f"{shown.value + 10 * shown.step:.3f} A")
    (taken,) = readings(one.run)
    assert taken.what == "overload.setting" and taken.steps == pytest.approx(10, abs=0.1)
    one.close()


def test_power_on_under_a_hold_ends_the_run_once_in_the_training_record() -> None:
    one = begun()
    answered(one, "relief.set", "300 psi")
    assert one.job.finding("relief.set").verdict is Verdict.FAIL  # type: ignore[union-attr]
    one.do("unlock")
    assert one.run.ended == "energised_under_hold"
    with pytest.raises(Refused):
        one.do("lock")
    one.close()
    runs = Shelf("Ada Prentice").training().runs
    assert [run.ended for run in runs] == ["energised_under_hold"]
    assert Shelf("Ada Prentice").in_hand() == []


def up_to_the_bump() -> Exercise:
    """A machine that turns the wrong way, bumped, and the answer that holds the job."""
    one = begun("which_way_round")
    for fault in set(one.run.present) - {"swapped_rotation"}:
        one.do("report", fault)
        one.do("repair", fault)
    one.do("set", "torque wrench.set=10 lbf·ft")
    for number in (1, 3, 2, 4):
        one.do("tighten", f"foot.{number}")
    one.do("back off", "foot.2")
    one.do("guard", "off")
    for item in one.job.procedure.items.values():
        if item.key == "start.rotation":
            break
        if one.job.applies(item.key) and item.key not in one.job.answers:
            if item.key == "start.lock_removed":
                one.do("guard", "on")
                one.do("unlock")
            read = spots_of(item.key) and item.kind not in ("confirm", "write", "date")
            answered(one, item.key, (written(one.run, item) if read else "") or good_answer(item))
    one.do("bump")
    answered(one, "start.rotation", "against the arrow")
    assert [hold.key for hold in one.job.holds()] == ["start.rotation"]
    return one


def test_switching_on_under_a_hold_ends_the_run_wherever_the_lock_is_already_off() -> None:
    one = up_to_the_bump()
    assert not one.run.state.locked
    one.do("bump")
    assert one.run.ended == "energised_under_hold"
    one.close()


def test_what_was_found_under_power_is_looked_at_again_once_it_is_put_right() -> None:
    one = up_to_the_bump()
    one.do("lock")
    one.do("report", "swapped_rotation")
    one.do("repair", "swapped_rotation")
    one.do("unlock")
    one.do("bump")
    assert not one.run.ended
    hand = actions.Hand("Ada Prentice", now())
    one.save(
        actions.answer(one.job, "start.rotation", "as the arrow", hand, reason="leads swapped")
    )
    assert not one.job.holds()
    one.do("switch", "on")
    assert not one.run.ended
    one.close()


def test_unlocking_before_it_is_put_right_still_ends_the_run() -> None:
    one = up_to_the_bump()
    one.do("lock")
    one.do("unlock")
    assert one.run.ended == "energised_under_hold"
    one.close()


@pytest.mark.parametrize(
    ("key", "verdict", "scenario", "bars"),
    [
        ("lift.pressure", Verdict.INCONCLUSIVE, "which_way_round", False),
        ("lift.pressure", Verdict.FAIL, "which_way_round", False),
        ("running.current", Verdict.FAIL, "which_way_round", False),
        ("start.switch_opened", Verdict.FAIL, "nothing_wrong", False),
        ("start.rotation", Verdict.FAIL, "nothing_wrong", False),
        ("start.rotation", Verdict.FAIL, "which_way_round", True),
        ("start.exclusion", Verdict.FAIL, "nothing_wrong", True),
        ("start.guard", Verdict.FAIL, "nothing_wrong", True),
        ("supply.voltage", Verdict.INCONCLUSIVE, "nothing_wrong", True),
        ("relief.set", Verdict.FAIL, "nothing_wrong", True),
    ],
)
def test_power_comes_where_the_answer_is_taken_again_under_power_and_nowhere_else(
    key: str, verdict: Verdict, scenario: str, bars: bool
) -> None:
    one = begun(scenario)
    item = one.job.procedure.items[key]
    hold = Hold(key, item.phase, Finding(verdict, "It holds.", Severity.SAFETY))
    assert one._bars_power(hold) is bars
    one.close()


def test_the_handover_puts_what_is_left_into_the_log() -> None:
    one = begun()
    one.do("finish")
    left = [e for e in one.run.log if e.kind == "left"]
    assert any(e.where == "open, safety" for e in left)
    assert {e.what for e in left} <= {i.key for i in one.job.open_items() + one.job.failures()}
    one.close()
    (done,) = Shelf("Ada Prentice").training().runs
    assert done.total <= 50


def test_time_that_changes_nothing_is_known() -> None:
    one = begun("nothing_wrong")
    assert not one.alive
    one.do("unlock")
    assert one.alive
    one.do("switch", "on")
    told = one.pass_time(5.0)
    assert "up to speed" in [e.what for e in told]
    one.do("switch", "off")
    one.do("lock")
    assert not one.alive
    one.do("drain", "open")
    assert one.alive
    one.close()


# -- the shelf --------------------------------------------------------------------


def test_a_run_is_resumed_exactly_where_it_was_left() -> None:
    one = begun("tired_supply", 5)
    one.do("set", "multimeter.range=60 V")
    one.look(Look("multimeter", "supply.L1-L2"))
    one.do("drain", "open")
    answered(one, "energy.gauge", "0 bar")
    one.close()
    shelf = Shelf("Ada Prentice")
    (held,) = shelf.in_hand()
    again = exercise.resume(shelf, held)
    assert again.run == one.run
    assert again.job.answers == one.job.answers
    again.close()


def test_a_run_that_ended_before_the_debrief_is_debriefed_when_resumed() -> None:
    one = begun()
    one.do("open panel")
    shelf = Shelf("Ada Prentice")
    shelf.keep(one.held)
    one.close()
    (held,) = shelf.in_hand()
    exercise.resume(shelf, held).close()
    exercise.resume(shelf, held).close()
    assert len(shelf.training().runs) == 1


def test_learners_do_not_see_each_other(state_home: Path) -> None:
    begun(learner="Ada Prentice").close()
    begun(learner="ada-prentice").close()
    assert len(Shelf("Ada Prentice").in_hand()) == 1
    lesson = Lesson(at=now(), item="x", right=True)
    for name in ("Ada Prentice", "ada prentice", "Ada/Prentice", "..", "Ö" * 80):
        Shelf(name).learned(lesson)
    files = list((state_home / "training").glob("*.toml"))
    assert len(files) == 4 and all(f.parent == state_home / "training" for f in files)
    assert len(Shelf("ADA PRENTICE").training().lessons) == 2


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("practice = true\nformat = ", RecordDamaged),
        ('practice = true\nformat = "practice training record"\nversion = 99\n', RecordNewer),
        ('format = "wizard-job"\n', RecordDamaged),
        ("\x00\x01", RecordDamaged),
    ],
)
def test_a_damaged_training_record_is_said_and_never_overwritten(
    state_home: Path, text: str, problem: type[Exception]
) -> None:
    shelf = Shelf("Ada Prentice")
    shelf.learned(Lesson(at=now(), item="x", right=True))
    (file,) = (state_home / "training").glob("*.toml")
    file.write_text(text)
    with pytest.raises(problem):
        shelf.training()
    with pytest.raises(problem):
        shelf.learned(Lesson(at=now(), item="y", right=True))
    assert file.read_text() == text


def test_unreadable_runs_are_left_and_the_others_offered(state_home: Path) -> None:
    begun().close()
    folder = state_home / "practice-runs"
    (folder / "BROKEN.toml").write_text("practice = true\nformat = ")
    (folder / "OTHER.toml").write_text('practice = true\nformat = "practice run"\nversion = 1\n')
    (folder / "JOB.toml").write_text('format = "wizard-job"\n')
    assert len(Shelf("Ada Prentice").in_hand()) == 1


KILLED = """
import sys
from wizard import actions
from wizard.commands import exercise
from wizard.commands.exercise import Look
from wizard.commands.shelf import Shelf
from wizard.store import now
one = exercise.begin(Shelf("Ada Prentice"), "first_day", 1)
texts = {"relief.set": "150 psi", "hose.working_pressure": "300 psi", "lift.weight": "520 lb"}
for key, text in texts.items():
    one.look(Look("eye", "oil.glass"))
    one.save(actions.answer(one.job, key, text, actions.Hand("Ada Prentice", now())))
    one.do("report", "oil_low")
    print(key, flush=True)
print("done", flush=True)
sys.stdin.read()
"""


@pytest.mark.parametrize("after", [1, 2, 4])
def test_a_killed_program_loses_nothing_that_was_accepted(state_home: Path, after: int) -> None:
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_STATE_HOME": str(state_home.parent)}
    program = subprocess.Popen(
        [sys.executable, "-c", KILLED], stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=env,
        text=True,
    )  # fmt: skip
    assert program.stdin is not None and program.stdout is not None
    told = [program.stdout.readline().strip() for _ in range(after)]
    program.send_signal(signal.SIGKILL)
    program.wait()
    program.stdin.close()
    program.stdout.close()
    time.sleep(0.05)
    shelf = Shelf("Ada Prentice")
    (held,) = shelf.in_hand()
    one = exercise.resume(shelf, held)
    assert {key for key in told if key != "done"} <= set(one.job.answers)
    assert sum(e.kind == "report" for e in one.run.log) >= min(after, 3)
    one.do("lock")
    one.close()
