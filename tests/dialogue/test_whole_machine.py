"""Whole machines by piped input, and what a pipe may bring."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.demo.maker import Scenario, scenario, text_for
from tests.dialogue.person import hand
from tests.small import START_TIME
from wizard import actions
from wizard.actions import NeedsConfirmation
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.settings import settings_from
from wizard.store import create_job, read_job

ROOT = Path(__file__).parents[2]


def lines_for(name: str) -> Iterator[str]:
    """What is typed for a scenario from the first item on: answers, yes to doubts, notes."""
    given = scenario(name)
    header = Header(
        "W1",
        "1" * 32,
        START_TIME,
        given.units,
        settings=settings_from({"practice": given.practice}),
    )
    job = Job.new(header, procedure())
    noted: list[str] = []
    while (item := job.next_item()) is not None and not job.holds():
        text = text_for(item, given)
        yield text
        try:
            job = actions.answer(job, item.key, text, hand())
        except NeedsConfirmation:
            yield "y"
            job = actions.answer(job, item.key, text, hand(), confirmed=True)
        if item.key in given.notes and job.next_item():
            noted.append(item.key)
            yield f"g {item.key}" if _commands_are_free(job) else f"/g {item.key}"
            yield f"/n {given.notes[item.key]}"
            yield ""
            job = actions.note(job, item.key, given.notes[item.key], hand())


def _commands_are_free(job: Job) -> bool:
    following = job.next_item()
    return following is not None and following.kind not in ("write", "choose")


def piped(folder: Path, given: Scenario, lines: list[str], **environment: str) -> tuple[int, str]:
    """The program with all its input in a pipe."""
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    variables = {
        "PATH": os.environ["PATH"],
        "HOME": str(folder),
        "PYTHONPATH": str(ROOT),
        "TERM": "dumb",
        "LANG": "C.UTF-8",
        **environment,
    }
    new = ("new", "W1", "--units", given.units, "--practice", given.practice)
    for words, typed in ((new, ""), (("open", "W1.toml", "--by", "Tess"), "\n".join(lines))):
        told = subprocess.run(
            [sys.executable, "-c", code, *words],
            input=typed.encode() + b"\n",
            capture_output=True,
            env=variables,
            cwd=folder,
        )
    encoding = "ascii" if variables["LANG"] == "C" else "utf-8"
    assert b"Traceback" not in told.stderr
    return told.returncode, told.stdout.decode(encoding)


@pytest.mark.parametrize(
    ("name", "state", "language"),
    [
        ("five_hp", "finished", "C.UTF-8"),
        ("metric_7_5_kw", "finished", "C"),
        ("fifteen_hp_held", "held", "C.UTF-8"),
    ],
)
def test_a_whole_machine_is_answered_by_a_pipe(
    tmp_path: Path, name: str, state: str, language: str
) -> None:
    given = scenario(name)
    status, told = piped(tmp_path, given, list(lines_for(name)), LANG=language)
    job = read_job(tmp_path / "W1.toml", procedure()).job
    assert job.state == state, told[-3000:]
    assert status == {"finished": 1 if job.advisories() else 0, "held": 2}[state]
    assert "\x1b" not in told
    assert told.rstrip().endswith(f"W1: {state}, {len(job.open_items())} items open.")
    assert job.header.units == given.units
    expected = {
        k: text for k, text in given.answers.items() if k in job.answers and job.answers[k].raw
    }
    assert all(job.answers[k].raw == " ".join(text.split()) for k, text in expected.items())
    assert len(job.answers) > 100
    if language == "C":
        assert told.isascii()
        assert "degC" in told
        assert not (tmp_path / "W1.toml").read_text("utf-8").isascii()


def test_bytes_that_are_no_text_are_refused_and_not_raised(tmp_path: Path) -> None:
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    variables = {"PATH": os.environ["PATH"], "HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}
    for words, typed in (
        (("new", "W1"), b""),
        (("enter", "W1.toml"), b"\xff\xfe\nok\x00\x1b[31m\n"),
    ):
        told = subprocess.run(
            [sys.executable, "-c", code, *words],
            input=typed,
            capture_output=True,
            env=variables,
            cwd=tmp_path,
        )
    assert b"Traceback" not in told.stderr
    assert b"\x1b" not in told.stdout
    raws = [a.raw for a in read_job(tmp_path / "W1.toml", procedure()).job.answers.values()]
    assert all(r.isprintable() for r in raws)


def test_a_second_person_is_told_who_has_the_job(tmp_path: Path) -> None:
    header = Header("T1", "0" * 32, START_TIME)
    with create_job(tmp_path / "T1.toml", header, procedure(), "Tess Tester", "box"):
        code = "import sys; from wizard.cli import main; sys.exit(main(['enter', 'T1.toml']))"
        told = subprocess.run(
            [sys.executable, "-c", code], input="", capture_output=True, text=True, cwd=tmp_path
        )
    assert told.returncode == 3
    assert "Tess Tester" in told.stderr
    assert re.search(r"\.$", told.stderr.strip())
