"""Answers by the command line: saved, refused, corrected, past no hold."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.command import FAILED, GOOD, HELD, ROOT, UNREADABLE, one_sentence, run
from wizard.procedure import procedure
from wizard.recent import known
from wizard.store import read_job


def test_an_answer_is_saved_and_its_finding_printed() -> None:
    run("new", "J1")
    status, out, err = run("enter", "J1.toml", "motor.phases=three", "motor.voltage=460 V")
    assert (status, err) == (GOOD, "")
    assert "motor.voltage: PASS" in out
    answers = read_job(Path("J1.toml"), procedure()).job.answers
    assert answers["motor.voltage"].value == 460.0
    assert answers["motor.voltage"].by == "Tess Tester"


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        (("motor.voltage=9 kA",), UNREADABLE, "units V, mV, kV"),
        (("motor.voltage=",), UNREADABLE, "given nothing"),
        (("motor.volts=460",), UNREADABLE, "motor.voltage"),
        (("motor.voltage",), UNREADABLE, "KEY=VALUE"),
        (
            ("motor.voltage=460", "motor.voltage=480"),
            UNREADABLE,
            "given no reason, accepted --reason TEXT",
        ),
        (
            ("motor.current=1e99",),
            UNREADABLE,
            "accepted a number written out, as 0.001 or 1200, in A",
        ),
        (("pump.bore=21 mm",), UNREADABLE, "pump.bore: 21 mm is outside what is usual"),
        (("--na", "lock.on"), UNREADABLE, "KEY=VALUE"),
        (("--note", "motor.voltage="), UNREADABLE, "1 to 400 characters"),
    ],
)
def test_a_refused_answer_is_one_sentence(words: tuple[str, ...], status: int, said: str) -> None:
    run("new", "J1")
    found, _, err = run("enter", "J1.toml", *words)
    assert found == status
    assert said in one_sentence(err)


@pytest.mark.parametrize(
    "words",
    [
        ("J1.toml", "motor.phases=three", "motor.voltage=460 V", "--by", "Ann", "--confirm"),
        ("J1.toml", "--by", "Ann", "motor.phases=three", "--confirm", "motor.voltage=460 V"),
        ("--by", "Ann", "J1.toml", "motor.phases=three", "--confirm", "motor.voltage=460 V"),
    ],
)
def test_options_may_stand_anywhere_among_the_answers(place: Path, words: tuple[str, ...]) -> None:
    run("new", "J1")
    assert run("enter", *words)[0] == GOOD
    answers = read_job(place / "J1.toml", procedure()).job.answers
    assert {k: a.by for k, a in answers.items()} == {"motor.phases": "Ann", "motor.voltage": "Ann"}


@pytest.mark.parametrize("words", [("--start", "recheck", "--by", "Ann"), ()])
def test_a_visit_takes_options_before_its_answers(place: Path, words: tuple[str, ...]) -> None:
    shutil.copy(ROOT / "demo_jobs" / "DEMO-5HP.toml", place)
    if not words:
        run("visit", "DEMO-5HP.toml", "--start", "recheck")
    run("visit", "DEMO-5HP.toml", *words, "belt.condition=yes", "--note", "dry", "guard.off=yes")
    visit = read_job(place / "DEMO-5HP.toml", procedure()).job.visits[1]
    assert set(visit.answers) == {"belt.condition", "guard.off"} and len(visit.notes) == 1


def test_what_was_accepted_before_a_refusal_stays() -> None:
    run("new", "J1")
    assert run("enter", "J1.toml", "motor.phases=three", "motor.voltage=x")[0] == UNREADABLE
    assert set(read_job(Path("J1.toml"), procedure()).job.answers) == {"motor.phases"}


def test_nothing_is_answered_past_a_hold(place: Path) -> None:
    shutil.copy(HELD, "DEMO-15HP.toml")
    status, out, err = run("enter", "DEMO-15HP.toml", "handover.statement=yes")
    assert (status, out) == (FAILED, "")
    assert "Held in phase 11" in one_sentence(err)


def test_a_correction_wants_a_reason_and_keeps_the_old_value() -> None:
    run("new", "J1")
    run("enter", "J1.toml", "motor.voltage=460")
    status, _, _ = run("enter", "J1.toml", "motor.voltage=480", "--reason", "misread")
    assert status == GOOD
    last = read_job(Path("J1.toml"), procedure()).job.events[-1]
    assert (last.data["was"], last.data["reason"]) == ("460", "misread")


def test_a_copy_under_another_name_is_refused_with_the_way_to_open_it() -> None:
    run("new", "J1")
    shutil.copy("J1.toml", "J2.toml")
    for command in ("check", "enter", "report", "review"):
        status, _, err = run(
            command, "J2.toml", *(["motor.phases=three"] if command == "enter" else [])
        )
        assert status == UNREADABLE
        assert "rename it to J1.toml" in one_sentence(err)
    assert [k.path.name for k in known(Path())] == ["J1.toml"]


def test_a_hold_is_not_lifted_by_not_applicable() -> None:
    run("new", "J1")
    assert run("enter", "J1.toml", "motor.phases=three", "energy.dead_between=0 0 120")[0] == FAILED
    status, _, err = run("enter", "J1.toml", "--na", "motor.phases=no plate")
    assert status == FAILED
    assert "holds the job until a new reading passes" in one_sentence(err)
    assert read_job(Path("J1.toml"), procedure()).job.state == "held"
