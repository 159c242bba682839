"""Practice and guided training where only lines can be shown."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from wizard.commands.shelf import Shelf
from wizard.practice.scenario import scenario_names

ROOT = Path(__file__).parents[2]


def wizard(*words: str, typed: str = "", home: Path) -> subprocess.CompletedProcess[str]:
    """The command on a dumb terminal."""
    return subprocess.run(
        [sys.executable, "-m", "wizard", *words],
        input=typed,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={
            "PATH": "/usr/bin",
            "TERM": "dumb",
            "HOME": str(home),
            "XDG_STATE_HOME": str(home),
            "XDG_CACHE_HOME": os.environ["XDG_CACHE_HOME"],
        },
    )


def test_a_scenario_a_line_and_no_screen_library_for_it(tmp_path: Path) -> None:
    done = wizard("practise", "--list", home=tmp_path)
    names = [line.split()[0] for line in done.stdout.splitlines()]
    assert names == [*scenario_names(), "endless"]
    assert done.stdout.splitlines()[-1].endswith("  An unknown machine")
    assert done.returncode == 0


def test_without_a_name_the_scenarios_are_told(tmp_path: Path) -> None:
    done = wizard("practise", home=tmp_path)
    assert "first_day" in done.stdout and "Name one of them" in done.stderr
    assert done.returncode == 1


def test_a_run_is_walked_read_left_and_taken_up(tmp_path: Path, state_home: Path) -> None:
    home = state_home.parent
    first = wizard(
        "practise", "first_day", "--learner", "Bo", home=home,
        typed="go\ngo 16\nitem relief.set\nlook\n= 150 psi\nreport\nreport 9\nrepair 1\nquit\n",
    )  # fmt: skip
    out = first.stdout
    assert out.startswith("PRACTICE, no machine's record. First day")
    assert "16 Oil level  (eye)" in out and "Sight glass" in out
    assert "relief.set: Set pressure stamped on the relief valve as fitted [psig]" in out
    assert "read at “Stamp on the relief valve” with eye" in out and "PASS" in out
    assert first.returncode == 1
    (held,) = Shelf("Bo").in_hand()
    assert "oil_low" not in held.run.present
    second = wizard(
        "practise", "--resume", "--learner", "Bo", home=home,
        typed="do 5\ny\n",
    )  # fmt: skip
    assert "Open the starter panel yourself. Do it? (y/n)" in second.stdout
    assert "THE RUN HAS ENDED: Live panel opened by hand" in second.stdout
    assert "Next: First day." in second.stdout and "first_day" in second.stdout.splitlines()[-1]
    assert second.returncode == 2
    assert [run.ended for run in Shelf("Bo").training().runs] == ["live_panel"]


SENSELESS = (
    "", "?", "fly", "go 99", "go x", "look", "set", "set a=b", "do 0", "wait", "wait 9 h",
    "item no.such", "= ", "report 999", "repair 1", "stop",
)  # fmt: skip


def test_commands_that_make_no_sense_are_answered_in_a_sentence(state_home: Path) -> None:
    typed = "".join(f"{line}\n" for line in SENSELESS)
    words = ("practise", "first_day", "--learner", "Bo")
    done = wizard(*words, typed=typed, home=state_home.parent)
    out = done.stdout
    assert "No command “fly”; ? lists them." in out
    assert out.count("accepted") >= 8
    assert "The run is kept; “wizard practise --resume” goes on at" in out
    assert "Traceback" not in done.stderr


def test_bad_words_on_the_command_line(tmp_path: Path) -> None:
    for words in (["tuesday"], ["first_day", "--seed", "x"], ["--resume"]):
        done = wizard("practise", *words, home=tmp_path)
        assert done.returncode == 3 and "accepted" in done.stderr, words
        assert "Traceback" not in done.stderr
