"""Help and wrong usage; the program as a process."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.cli.command import GOOD, ROOT, UNREADABLE, USAGE, one_sentence, run


@pytest.mark.parametrize("words", [("--help",), ("--version",), ("calc", "--help")])
def test_help_is_data_and_good(words: tuple[str, ...]) -> None:
    status, out, err = run(*words)
    assert (status, err) == (GOOD, "")
    assert "wizard" in out


@pytest.mark.parametrize(
    "words",
    [("fly",), ("check",), ("new",), ("new", "J1", "--units", "yards"), ("items", "--xml")],
)
def test_wrong_usage_is_64_with_nothing_on_stdout(words: tuple[str, ...]) -> None:
    status, out, err = run(*words)
    assert (status, out) == (USAGE, "")
    assert err.startswith("usage: wizard")


def test_open_on_a_terminal_of_lines_wants_a_job(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "dumb")
    status, out, err = run()
    assert (status, out) == (USAGE, "")
    assert "wizard open" in one_sentence(err)


def process(*words: str, **more: Any) -> subprocess.CompletedProcess[bytes]:
    """The program by itself."""
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **more.pop("env", {})}
    command = [sys.executable, "-c", code, *words]
    return subprocess.run(command, stderr=subprocess.PIPE, env=environment, **more)


def test_a_reader_that_goes_away_is_no_error() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = process("calc", "--list", stdout=writing)
    os.close(writing)
    assert done.returncode == UNREADABLE
    assert done.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_disk_under_stdout_is_one_sentence() -> None:
    with Path("/dev/full").open("wb") as full:
        done = process("calc", "--list", stdout=full)
    assert done.returncode == UNREADABLE
    assert "no space left" in one_sentence(done.stderr.decode())


def test_json_is_json_in_every_locale() -> None:
    for language in ("C", "C.UTF-8"):
        done = process("items", "--json", stdout=subprocess.PIPE, env={"LC_ALL": language})
        assert done.stderr == b""
        assert json.loads(done.stdout)["items"][0]["key"] == "job.site"
