"""What makes or writes something exits with 0; what only reads tells what is left."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.cli.command import FAILED, GOOD, HELD, UNFINISHED, run
from tests.demo.fleet import finished
from wizard import service
from wizard.actions import Hand
from wizard.commands.visit import visit_lines
from wizard.record import dumps


def test_a_new_job_is_made_and_the_next_command_goes_on(place: Path) -> None:
    assert run("new", "J1")[0] == GOOD
    assert run("check", "J1.toml")[0] == UNFINISHED


def test_a_remark_that_is_written_is_good_and_one_that_waits_is_told_when_read(
    place: Path,
) -> None:
    run("new", "J1")
    status, out, _ = run("remark", "J1.toml", "machine.label=Photo, please")
    assert status == GOOD and "OPEN" in out
    assert run("remark", "J1.toml")[0] == UNFINISHED
    assert run("remark", "J1.toml", "--reply", "machine.label=Sent")[0] == GOOD
    assert run("remark", "J1.toml")[0] == GOOD


def test_a_sheet_that_is_written_is_good_and_that_of_a_held_job_warns(place: Path) -> None:
    run("new", "J1")
    assert run("report", "J1.toml", "-o", "sheet.md")[0] == GOOD
    assert Path("sheet.md").read_text()
    Path("DEMO-15HP.toml").write_bytes(HELD.read_bytes())
    assert run("report", "DEMO-15HP.toml", "-o", "held.md")[0] == FAILED


def test_a_visit_that_is_begun_is_good_and_left_open_is_told_when_read(place: Path) -> None:
    Path("BASE.toml").write_bytes(dumps(finished("five_hp"), 1))
    assert run("visit", "BASE.toml", "--start", "recheck")[0] == GOOD
    assert run("visit", "BASE.toml")[0] == UNFINISHED


@pytest.mark.parametrize("more", [0.0, 400.0])
def test_a_machine_that_stood_is_said_not_to_have_run(more: float) -> None:
    job = finished("five_hp")
    hand = Hand("Tess", job.events[-1].at + timedelta(days=40))
    job = service.open_visit(job, "recheck", hand)
    first = job.answers["visit.hour_meter"].value
    assert isinstance(first, float)
    read = f"{first + more:.1f} h"
    job = service.answer_visit(job, "visit.hour_meter", read, hand, confirmed=True)
    said = "\n".join(visit_lines(job, hand.at.date()))
    stood = "It has not run since the handover: tasks by hours are dated from the day on which"
    assert (stood in said) == (more == 0)
    assert ("the dates below go by the hour meter" in said) == (more > 0)
    assert "It runs 0" not in said


def test_help_says_how_the_man_page_is_read_and_what_1_means_for_check() -> None:
    shown = " ".join(run("man", "--help")[1].split())
    assert "wizard man | man -l -" in shown
    assert "wizard man | man -l -" in " ".join(run("--help")[1].split())
    assert "A job that is not finished is no error" in " ".join(run("check", "--help")[1].split())
