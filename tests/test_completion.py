"""Completion and the man page: they offer what the parser takes, in the real shells."""

from __future__ import annotations

import os
import pty
import re
import select
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pyte
import pytest

from wizard.cli import main, parser
from wizard.commands.usage import usage_of
from wizard.commands.words import words_for
from wizard.keys import COMMANDS, key_text
from wizard.practice.scenario import ENDLESS, scenario_names
from wizard.procedure import procedure
from wizard.procedure.visits import visit_kinds
from wizard.settings import CHOICES
from wizard.signing import ROLES

ROOT = Path(__file__).parents[1]
TOP, USAGES = usage_of(parser())
BY_NAME = {usage.name: usage for usage in USAGES}
PATIENCE = 30.0


def needs(program: str) -> pytest.MarkDecorator:
    """A mark that skips where a program is not installed."""
    return pytest.mark.skipif(not shutil.which(program), reason=f"{program} is not installed")


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with files to complete, a `wizard` on the path, and the three scripts."""
    folder = tmp_path_factory.mktemp("completion")
    for name in ("J1.toml", "J 2.toml", "notes.txt", "plates.toml"):
        (folder / "work" / name).parent.mkdir(exist_ok=True)
        (folder / "work" / name).touch()
    (folder / "work" / "more").mkdir()
    (folder / "bin").mkdir()
    program = folder / "bin" / "wizard"
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -m wizard "$@"\n')
    program.chmod(0o755)
    for shell in ("bash", "zsh", "fish"):
        told = subprocess.run(
            [program, "completion", shell], capture_output=True, text=True, env=environment(folder)
        )
        assert told.stderr == ""
        (folder / f"wizard.{shell}").write_text(told.stdout)
    return folder


def environment(folder: Path) -> dict[str, str]:
    """An environment with nothing of the person who runs the tests."""
    return {
        "PATH": f"{folder / 'bin'}:{os.environ['PATH']}",
        "HOME": str(folder),
        "XDG_CACHE_HOME": os.environ["XDG_CACHE_HOME"],
        "PYTHONPATH": str(ROOT),
        "LANG": "C.UTF-8",
        "TERM": "xterm",
    }


def bash(place: Path, *words: str) -> list[str]:
    """What bash offers for the last of these words."""
    script = (
        f'source {place}/wizard.bash; compopt() {{ :; }}; COMP_WORDS=("$@"); '
        "COMP_CWORD=$(($# - 1)); _wizard; printf '%s\\n' \"${COMPREPLY[@]}\""
    )
    told = subprocess.run(
        ["bash", "--norc", "-c", script, "bash", *words],
        capture_output=True,
        text=True,
        env=environment(place),
        cwd=place / "work",
    )
    assert told.stderr == ""
    return sorted(filter(None, told.stdout.splitlines()))


def fish(place: Path, line: str) -> list[str]:
    """What fish offers at the end of this line."""
    told = subprocess.run(
        ["fish", "--no-config", "-c", f"source {place}/wizard.fish; complete -C '{line}'"],
        capture_output=True,
        text=True,
        env=environment(place),
        cwd=place / "work",
    )
    assert told.stderr == ""
    return sorted(row.split("\t")[0] for row in told.stdout.splitlines())


class Shell:
    """A shell in a pty, at its prompt."""

    def __init__(self, place: Path, command: list[str], start: str) -> None:
        self.screen = pyte.Screen(110, 40)
        self.stream = pyte.ByteStream(self.screen)
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.chdir(place / "work")
            os.execvpe(command[0], command, {**environment(place), "PS1": "> ", "PROMPT": "> "})
        self.type(start + "\n")
        self.type("printf 'rea%s\\n' dy\n")
        self.until("ready")

    def type(self, text: str) -> None:
        """Send keys."""
        os.write(self.fd, text.encode())

    def until(self, text: str) -> str:
        """Read until a text is on the screen; all that is on it then."""
        end = time.monotonic() + PATIENCE
        while text not in self.shown and time.monotonic() < end:
            if select.select([self.fd], [], [], 0.1)[0]:
                self.stream.feed(os.read(self.fd, 65536))
        assert text in self.shown, self.shown
        return self.shown

    @property
    def shown(self) -> str:
        """The screen as text."""
        return "\n".join(self.screen.display)

    def close(self) -> None:
        """End the shell."""
        os.close(self.fd)
        os.waitpid(self.pid, 0)


@pytest.fixture
def zsh(place: Path) -> Iterator[Shell]:
    """An interactive zsh with the script loaded."""
    start = f"autoload -Uz compinit; compinit -D -u; source {place}/wizard.zsh"
    shell = Shell(place, ["zsh", "-f", "-i"], start)
    yield shell
    shell.close()


# -- the model --------------------------------------------------------------------


def test_every_command_option_and_word_says_what_it_is() -> None:
    for usage in (TOP, *USAGES):
        assert usage.about, usage.name
        for argument in (*usage.options, *usage.words):
            assert argument.about, f"{usage.name} {argument.name}"


def test_everything_that_is_a_file_a_key_or_a_name_is_completed() -> None:
    for usage in USAGES:
        for argument in (*usage.options, *usage.words):
            if re.search(r"JOB|FILE|FOLDER|DIR|KEY|PARAM|SCENARIO", argument.takes):
                assert argument.place, f"{usage.name} {argument.takes}"


def test_the_words_are_those_of_the_program() -> None:
    assert list(words_for("keys")) == [f"{key}=" for key in procedure().items]
    assert list(words_for("parameters", "supply_voltage"))[:2] == ["nameplate=", "measured="]
    assert list(words_for("parameters", "nothing_known")) == []
    assert "supply_voltage" in set(words_for("calculations"))
    assert "field" in set(words_for("guides"))
    assert list(words_for("scenarios")) == [*scenario_names(), ENDLESS]
    assert list(words_for("roles")) == list(ROLES)
    assert set(words_for("decisions")) == {"complete", "accepted", "returned"}
    assert list(words_for("visits")) == list(visit_kinds())
    assert list(words_for("settings")) == [f"{name}=" for name in CHOICES]
    assert {"belts", "oil"} & set(words_for("tasks", str(ROOT / "demo_jobs" / "DEMO-5HP.toml")))
    assert list(words_for("tasks", "absent.toml")) == []
    assert list(words_for("unknown")) == []


# -- bash -------------------------------------------------------------------------


@needs("bash")
def test_bash_offers_every_command_and_every_option(place: Path) -> None:
    assert bash(place, "wizard", "") == sorted(BY_NAME)
    assert bash(place, "wizard", "-") == sorted(f for o in TOP.options for f in o.flags)
    for name, usage in BY_NAME.items():
        flags = sorted(f for o in usage.options for f in o.flags)
        assert bash(place, "wizard", name, "-") == flags


@needs("bash")
@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (("ca",), ["calc"]),
        (("calc", "supply_volt"), ["supply_voltage"]),
        (("calc", "supply_voltage", ""), ["measured=", "nameplate=", "nameplate_high="]),
        (("calc", "supply_voltage", "nameplate", "=", "230", "me"), ["measured="]),
        (("calc", "--units", ""), ["metric", "us"]),
        (("calc", "--units", "us", "supply_volt"), ["supply_voltage"]),
        (("--look", "t"), ["terminal"]),
        (("--by", "Tess", "op"), ["open"]),
        (("open", ""), ["J 2.toml", "J1.toml", "more", "plates.toml"]),
        (("open", "J1"), ["J1.toml"]),
        (("check", "J1.toml", "p"), ["plates.toml"]),
        (("enter", "J1.toml", "supply.volt"), ["supply.voltage=", "supply.voltage_single="]),
        (("enter", "J1.toml", "job.site", "=", "x", "job.j"), ["job.jurisdiction="]),
        (("enter", "J1.toml", "job.site", "="), []),
        (("new", "J9", "--machine", "n"), ["notes.txt"]),
        (("new", "J9", "--folder", ""), ["more"]),
        (("review", ""), ["J 2.toml", "J1.toml", "more", "plates.toml"]),
        (("review", "--sort", "da"), ["day"]),
        (("review", "more", "--only", "ac"), ["accepted"]),
        (("review", "--setting", "noise"), ["noise_trigger="]),
        (("sign", "J1.toml", "--role", ""), ["electrician", "lead", "technician"]),
        (("sign", "--decision", ""), ["accepted", "complete", "returned"]),
        (("visit", "J1.toml", "--start", ""), ["recheck", "yearly"]),
        (("visit", str(ROOT / "demo_jobs" / "DEMO-5HP.toml"), "--did", "bel"), ["belts"]),
        (("practise", "first"), ["first_day"]),
        (("practise", "end"), ["endless"]),
        (("guide", "fi"), ["field"]),
        (("completion", ""), ["bash", "fish", "zsh"]),
        (("items", ""), []),
        (("--by", ""), []),
    ],
)
def test_bash_offers_what_fits(place: Path, words: tuple[str, ...], offered: list[str]) -> None:
    assert bash(place, "wizard", *words) == offered


@needs("bash")
def test_bash_completes_at_the_keyboard(place: Path) -> None:
    shell = Shell(place, ["bash", "--norc", "-i"], f"source {place}/wizard.bash")
    shell.type("wizard enter J1.toml job.juris\t")
    shell.until("wizard enter J1.toml job.jurisdiction=")
    shell.type("\x15wizard open J\\ \t")
    shell.until("wizard open J\\ 2.toml")
    shell.close()


# -- zsh --------------------------------------------------------------------------


@needs("zsh")
@pytest.mark.parametrize(
    ("typed", "completed"),
    [
        ("wizard pra", "wizard practise"),
        ("wizard --lo", "wizard --look"),
        ("wizard --by Tess self", "wizard --by Tess self-check"),
        ("wizard calc supply_voltage nam", "wizard calc supply_voltage nameplate"),
        ("wizard calc supply_voltage mea", "wizard calc supply_voltage measured="),
        ("wizard calc --units me", "wizard calc --units metric"),
        ("wizard open J1", "wizard open J1.toml"),
        ("wizard enter J1.toml job.juris", "wizard enter J1.toml job.jurisdiction="),
        ("wizard check J1.toml pla", "wizard check J1.toml plates.toml"),
        ("wizard new J9 --machine not", "wizard new J9 --machine notes.txt"),
        ("wizard review mo", "wizard review more/"),
        ("wizard review J1", "wizard review J1.toml"),
        ("wizard review --sort da", "wizard review --sort day"),
        ("wizard sign J1.toml --role tech", "wizard sign J1.toml --role technician"),
        ("wizard practise first", "wizard practise first_day"),
        ("wizard guide fie", "wizard guide field"),
    ],
)
def test_zsh_completes_at_the_keyboard(zsh: Shell, typed: str, completed: str) -> None:
    zsh.type(f"{typed}\t")
    zsh.until(completed)


@needs("zsh")
def test_zsh_says_what_each_command_does(zsh: Shell) -> None:
    zsh.type("wizard \t")
    zsh.until("recompute a job")
    for usage in USAGES:
        assert re.search(rf"^{usage.name}\s+-- {re.escape(usage.about[:40])}", zsh.shown, re.M)


# -- fish -------------------------------------------------------------------------


@needs("fish")
@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("wizard ca", ["calc"]),
        ("wizard --by Tess ope", ["open"]),
        ("wizard calc supply_volt", ["supply_voltage"]),
        ("wizard calc supply_voltage ", ["measured=", "nameplate=", "nameplate_high="]),
        ("wizard calc --units us supply_voltage nameplate=230 me", ["measured="]),
        ("wizard calc --units ", ["metric", "us"]),
        ("wizard --look t", ["terminal"]),
        ("wizard open J1", ["J1.toml"]),
        ("wizard enter J1.toml supply.volt", ["supply.voltage=", "supply.voltage_single="]),
        ("wizard new J9 --machine not", ["notes.txt"]),
        ("wizard review mo", ["more/"]),
        ("wizard review J1", ["J1.toml"]),
        ("wizard review --sort da", ["day"]),
        ("wizard sign J1.toml --role ", ["electrician", "lead", "technician"]),
        ("wizard practise end", ["endless"]),
        ("wizard practise first", ["first_day"]),
        ("wizard guide fi", ["field"]),
        ("wizard completion ", ["bash", "fish", "zsh"]),
        ("wizard items ", []),
    ],
)
def test_fish_offers_what_fits(place: Path, line: str, offered: list[str]) -> None:
    assert fish(place, line) == offered


@needs("fish")
def test_fish_offers_every_command_and_every_option(place: Path) -> None:
    assert fish(place, "wizard ") == sorted(BY_NAME)
    for name, usage in BY_NAME.items():
        offered = fish(place, f"wizard {name} --")
        assert offered == sorted(f for o in usage.options for f in o.flags if f.startswith("--"))


# -- the man page -----------------------------------------------------------------


@pytest.fixture
def page(capsys: pytest.CaptureFixture[str]) -> str:
    """The page in roff."""
    assert main(["man"]) == 0
    return capsys.readouterr().out


def shown(page: str) -> str:
    """The page as a reader sees it."""
    told = subprocess.run(
        ["groff", "-k", "-man", "-Tascii", "-ww", "-rLL=200n", "-P-cbou"],
        input=page,
        capture_output=True,
        text=True,
    )
    assert told.stderr == ""
    return told.stdout


@needs("groff")
def test_groff_has_nothing_to_say_and_shows_everything(page: str) -> None:
    text = shown(page)
    for usage in USAGES:
        assert re.search(rf"^ +wizard {usage.name}\b", text, re.M)
        for argument in usage.options:
            assert argument.flags[-1] in text
    for command in COMMANDS:
        for key in command.keys:
            assert key_text(key) in text
        assert command.about in " ".join(text.split())
    for section in ("NAME", "SYNOPSIS", "COMMANDS", "KEYS", "EXIT STATUS", "ENVIRONMENT", "FILES"):
        assert f"\n{section}\n" in text
    assert "wizard enter J1042.toml supply.voltage='462 463 455 V'" in text


@needs("mandoc")
def test_mandoc_finds_no_error(page: str) -> None:
    told = subprocess.run(
        ["mandoc", "-T", "lint", "-W", "warning"], input=page, capture_output=True, text=True
    )
    assert [r for r in told.stdout.splitlines() if "missing date" not in r] == []


@needs("man")
def test_man_shows_it(page: str, tmp_path: Path) -> None:
    path = tmp_path / "wizard.1"
    path.write_text(page)
    told = subprocess.run(
        ["man", "-l", str(path)],
        capture_output=True,
        text=True,
        env={**os.environ, "MANPAGER": "cat", "MANWIDTH": "80"},
    )
    assert "wizard - commissioning of a piston air compressor" in told.stdout


def test_no_line_of_the_page_is_a_request_by_accident(page: str) -> None:
    for line in page.splitlines():
        assert line
        assert not line.startswith("'")
        if line.startswith("."):
            assert re.match(r"\.(TH|SH|SS|TP|B|br)\b", line)
    assert page.isascii()
