"""A new job, with or without a file of plates."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from tests.cli.command import GOOD, UNREADABLE, one_sentence, run
from wizard.commands import new
from wizard.errors import InputError, StoreError
from wizard.procedure import procedure
from wizard.store import read_job


def test_new_makes_one_file_and_never_overwrites(place: Path) -> None:
    status, out, err = run("new", "J1", "--units", "metric", "--practice", "IEC")
    assert (status, out) == (GOOD, "")
    assert "J1.toml is made" in one_sentence(err)
    before = Path("J1.toml").read_bytes()
    status, out, err = run("new", "J1")
    assert (status, out) == (UNREADABLE, "")
    assert "exists already" in one_sentence(err)
    assert Path("J1.toml").read_bytes() == before
    header = read_job(Path("J1.toml"), procedure()).job.header
    assert (header.units, header.settings.practice) == ("metric", "IEC")


@pytest.mark.parametrize("name", ["", "j1", "../J1", "J 1", "J1\x1b[31m", "J" * 65, "J1/x"])
def test_a_bad_job_number_is_one_sentence_and_no_file(place: Path, name: str) -> None:
    status, out, err = run("new", name)
    assert (status, out) == (UNREADABLE, "")
    one_sentence(err)
    assert not list(place.glob("*.toml"))


MACHINE = 'format = "wizard-machine"\nunits = "metric"\npractice = "IEC"\n[answers]\n'


def test_a_machine_file_answers_the_plates() -> None:
    Path("m.toml").write_text(MACHINE + '"motor.voltage" = "400 V"\n"job.site" = "Hall 4"\n')
    status, _, err = run("new", "J1", "--machine", "m.toml")
    assert status == GOOD
    assert "2 of its items are answered" in err
    job = read_job(Path("J1.toml"), procedure()).job
    assert job.header.units == "metric"
    assert job.answers["motor.voltage"].value == 400.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("x = \ny = 1\n", "line 1"),
        ("x = 1", "neither a machine file"),
        (MACHINE.replace("metric", "yards"), "us or metric"),
        (MACHINE.replace("IEC", "XX"), "US or IEC"),
        (MACHINE + '"nothing.known" = "1"', "keys of phase 1"),
        (MACHINE + '"motor.voltage" = "9 kA"', "motor.voltage"),
        (MACHINE.replace("[answers]\n", "answers = 1"), "no [answers]"),
    ],
)
def test_a_bad_machine_file_is_one_sentence_and_no_job(text: str, words: str) -> None:
    Path("m.toml").write_text(text)
    status, out, err = run("new", "J1", "--machine", "m.toml")
    assert (status, out) == (UNREADABLE, "")
    assert words in one_sentence(err)
    assert not Path("J1.toml").exists()


@pytest.mark.parametrize(("units", "practice"), [("metric", "IEC"), ("us", "US")])
def test_the_practice_goes_with_the_units_and_is_said(
    place: Path, units: str, practice: str
) -> None:
    _, _, err = run("new", "J1", "--units", units)
    assert f"{units} units and {practice} electrical practice" in one_sentence(err)
    header = read_job(Path("J1.toml"), procedure()).job.header
    assert header.settings.practice == practice


@pytest.mark.parametrize(
    ("typed", "practice"), [("\n", "IEC"), ("us\n", "US"), ("x\nU\n", "US"), ("x\n", "")]
)
def test_somebody_at_a_terminal_is_asked_for_the_practice(
    place: Path, monkeypatch: pytest.MonkeyPatch, typed: str, practice: str
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    monkeypatch.setattr(new, "attended", lambda: True)
    _, _, err = run("new", "J1", "--units", "metric")
    assert ("accepted US or IEC" in err) == typed.startswith("x")
    assert Path("J1.toml").exists() == bool(practice)
    if not practice:
        return
    header = read_job(Path("J1.toml"), procedure()).job.header
    assert header.settings.practice == practice


def test_a_number_that_is_taken_is_refused_before_anything_else_is_asked(place: Path) -> None:
    new.free("J1", place)
    run("new", "J1")
    with pytest.raises(StoreError, match="exists already"):
        new.free("J1", place)
    with pytest.raises(InputError, match="capital letter or digit"):
        new.free("../J1", place)
