"""One job checked, and many."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.cli.command import FAILED, HELD, UNREADABLE, data, one_sentence, run
from tests.demo.fleet import finished
from wizard.job import Act, Job
from wizard.procedure import procedure
from wizard.record import dumps


def test_check_of_a_held_job() -> None:
    status, out, err = run("check", str(HELD))
    assert (status, err) == (FAILED, "")
    assert out.startswith("DEMO-15HP  HELD")
    found = data("check", "--json", str(HELD))
    assert {"job", "state", "holds", "open", "findings"} <= set(found)
    assert (found["job"], found["state"]) == ("DEMO-15HP", "held")
    assert found["holds"] == ["hose.working_pressure"]
    for finding in found["findings"]:
        named = {"key", "check", "verdict", "severity", "value", "unit", "limit", "working"}
        assert {*named, "source"} <= set(finding)
        if finding["limit"]:
            assert set(finding["limit"]) == {"low", "high", "unit"}
        if finding["source"]:
            assert set(finding["source"]) == {"text", "mark"}


def test_check_of_many_is_the_worst_and_goes_on_after_a_bad_one(place: Path) -> None:
    run("new", "J1")
    Path("J2.toml").write_text("not a job")
    status, out, err = run("check", "J2.toml", "J1.toml", str(HELD))
    assert status == UNREADABLE
    assert "J1  IN PROGRESS" in out
    assert "DEMO-15HP  HELD" in out
    assert one_sentence(err).startswith("J2.toml")
    found = data("check", "--json", "J2.toml", "J1.toml")
    assert [f["state"] for f in found] == ["unreadable", "in progress"]
    assert found[0]["error"]


@pytest.mark.parametrize("name", ["missing.toml", "nowhere/J1.toml", "own", "J1", "\x1b[31m.toml"])
def test_a_job_that_cannot_be_read_is_one_sentence(name: str) -> None:
    for command in ("check", "enter"):
        status, out, err = run(command, name, *(["job.site=x"] if command == "enter" else []))
        assert (status, out) == (UNREADABLE, "")
        one_sentence(err)


@pytest.mark.parametrize("name", ["demo.toml", "DEMO-15HP copy.toml", "site/DEMO-15HP (1).toml"])
def test_a_sound_job_under_a_bad_name_says_once_which_file_and_what_to_rename_it_to(
    name: str,
) -> None:
    Path("site").mkdir()
    Path(name).write_bytes(HELD.read_bytes())
    status, out, err = run("check", name)
    assert (status, out) == (UNREADABLE, "")
    said = one_sentence(err)
    assert said.startswith(f"{name}: the file holds job DEMO-15HP; rename it to DEMO-15HP.toml")
    assert said.count(Path(name).name) == 1 and "a capital letter or digit" in said


@pytest.mark.parametrize("command", ["open", "check", "report"])
def test_a_file_that_is_not_there_is_said_to_be_missing_whatever_its_name(
    command: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "dumb")
    status, _, err = run(command, "nix.toml")
    assert (status, one_sentence(err)) == (UNREADABLE, "nix.toml: there is no such file.")


def test_items_are_named_by_their_question_with_the_key_behind_it() -> None:
    _, out, _ = run("check", str(HELD))
    ask = procedure().items["hose.working_pressure"].ask
    assert f"HOLD in phase 11: {ask} [hose.working_pressure]\n" in out
    first = data("check", "--json", str(HELD))["open"][0]
    assert f"the next is: {procedure().items[first].ask} [{first}]\n" in out


def test_what_wants_a_note_is_a_question_a_line(place: Path) -> None:
    job = finished("five_hp")
    (item,) = job.advisories()
    events = [e for e in job.events if (e.act, e.key) != (Act.NOTED, item.key)]
    renumbered = [replace(e, seq=n) for n, e in enumerate(events, 1)]
    silent = Job.replay(job.header, job.procedure, renumbered)
    Path("BASE.toml").write_bytes(dumps(silent, 1))
    _, out, _ = run("check", "BASE.toml")
    assert f"\n  wants a note: {item.ask} [{item.key}]\n" in out
