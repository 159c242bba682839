"""What self-check tells, and what it says is wrong."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from copy import deepcopy
from pathlib import Path

import pytest

from wizard import __version__
from wizard.cli import main
from wizard.self_check import Facts, facts, remarks

GOOD: Facts = {
    "tool": {"compiled": True},
    "terminal": {
        "TERM": "xterm-256color",
        "columns": 80,
        "rows": 24,
        "stdin is a terminal": True,
        "stdout is a terminal": True,
        "over SSH": False,
        "multiplexer": None,
    },
    "locale": {"encoding": "UTF-8", "shown in": "the characters of the encoding"},
    "folders": {
        name: {"path": f"/home/tess/{name}", "writable": True, "file system": "ext4"}
        for name in ("settings", "state", "cache", "current")
    },
    "disk": {"flush ms": 1.4, "locks": True, "links": True, "problem": None},
    "keys": {"signing": "works"},
    "clock": {"boot known": True, "behind the program": False},
    "settings": {"warnings": []},
}


def test_nothing_is_remarked_where_all_is_well() -> None:
    assert remarks(GOOD) == []


@pytest.mark.parametrize(
    ("section", "values", "said"),
    [
        ("terminal", {"TERM": "dumb"}, "plain lines"),
        ("terminal", {"TERM": None}, "plain lines"),
        ("terminal", {"stdout is a terminal": False}, "no terminal"),
        ("terminal", {"columns": 59}, "60 by 20"),
        ("terminal", {"rows": 19}, "60 by 20"),
        ("terminal", {"over SSH": True}, "tmux"),
        ("locale", {"encoding": "ANSI_X3.4-1968"}, "ASCII"),
        ("disk", {"flush ms": 0.019}, "suspiciously fast"),
        ("disk", {"flush ms": 501.0}, "501 ms"),
        ("disk", {"locks": False}, "two people"),
        ("keys", {"signing": "no ssh-keygen"}, "Sign-offs"),
        ("clock", {"behind the program": True}, "clock"),
        ("clock", {"boot known": False}, "stopwatch"),
        ("tool", {"compiled": False}, "slower"),
        ("settings", {"warnings": ["line 3 is left out."]}, "line 3"),
    ],
)
def test_what_will_not_work_is_said_in_one_sentence(
    section: str, values: dict[str, object], said: str
) -> None:
    found = deepcopy(GOOD)
    found[section].update(values)
    told = remarks(found)
    assert len(told) == 1
    assert said in told[0]
    assert told[0].endswith(".")


@pytest.mark.parametrize(
    ("section", "values"),
    [
        ("terminal", {"columns": 60, "rows": 20}),
        ("terminal", {"over SSH": True, "multiplexer": "tmux"}),
        ("disk", {"flush ms": 0.02}),
        ("disk", {"flush ms": 500.0}),
        ("disk", {"flush ms": None, "locks": None, "links": None}),
    ],
)
def test_at_the_edge_nothing_is_said(section: str, values: dict[str, object]) -> None:
    found = deepcopy(GOOD)
    found[section].update(values)
    assert remarks(found) == []


def test_a_folder_in_memory_is_named_however_slow_it_is() -> None:
    found = deepcopy(GOOD)
    found["folders"]["current"]["file system"] = "tmpfs"
    assert "tmpfs" in remarks(found)[0]


def test_each_folder_says_what_is_lost_without_it() -> None:
    for name in GOOD["folders"]:
        found = deepcopy(GOOD)
        found["folders"][name]["writable"] = False
        told = remarks(found)
        assert len(told) == 1
        assert f"/home/tess/{name} is not writable" in told[0]


def test_everything_is_tried_and_nothing_left_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("CONFIG", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    found = facts(folder=tmp_path)
    assert list(tmp_path.iterdir()) == []
    assert found["folders"]["current"]["path"] == str(tmp_path)
    assert found["folders"]["current"]["writable"] is True
    assert found["disk"]["flush ms"] > 0
    assert found["disk"]["locks"] is True
    assert found["tool"]["wizard"] == __version__
    assert re.fullmatch(r"8\.2\.\d+", found["tool"]["textual"])


def test_locks_that_are_given_twice_are_noticed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fcntl.flock", lambda fd, how: None)
    assert facts(folder=tmp_path)["disk"]["locks"] is False


def test_a_folder_that_is_gone_is_a_fact_and_no_error(tmp_path: Path) -> None:
    found = facts(folder=tmp_path / "gone")
    assert found["disk"]["problem"] == "No such file or directory"
    assert found["disk"]["flush ms"] is None


def test_an_ssh_keygen_that_fails_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keygen = tmp_path / "ssh-keygen"
    keygen.write_text("#!/bin/sh\nexit 1\n")
    keygen.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}:{os.environ['PATH']}")
    assert facts(folder=tmp_path)["keys"]["signing"].startswith("fails")


def test_without_ssh_keygen_that_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    found = facts(folder=tmp_path)
    assert found["keys"]["ssh-keygen"] is None
    assert any("ssh-keygen" in remark for remark in remarks(found))


def test_the_command_prints_for_a_bug_report(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TERM", "xterm-256color")
    assert main(["self-check"]) == 1
    text = capsys.readouterr().out
    for word in ("TERM", "textual", "pydantic", "pint", "flush ms", str(tmp_path), "! Input"):
        assert word in text
    assert main(["self-check", "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["disk"]["links"] is True
    assert data["remarks"]


def test_nothing_of_the_network_or_of_keys_is_told(tmp_path: Path) -> None:
    environment = {
        **os.environ,
        "SSH_CONNECTION": "203.0.113.7 50000 203.0.113.9 22",
        "SSH_AUTH_SOCK": str(tmp_path / "agent.1234"),
        "HOME": str(tmp_path),
    }
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    told = subprocess.run(
        [sys.executable, "-c", code, "self-check"],
        capture_output=True,
        text=True,
        env=environment,
        cwd=tmp_path,
    )
    assert "203.0.113" not in told.stdout
    assert "agent.1234" not in told.stdout
    assert "over SSH               yes" in told.stdout
    assert told.stderr == ""


def test_no_screen_library_is_loaded() -> None:
    code = (
        "import sys; from wizard.cli import main\n"
        "main(['self-check'])\n"
        "assert not {'textual', 'rich'} & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
