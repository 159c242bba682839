"""Guides: complete, true to the program, and readable on any terminal."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.proof.evidence import table
from wizard.cli import main, parser
from wizard.commands.usage import usage_of
from wizard.guide import about, names, plain, text
from wizard.keys import COMMANDS, key_text
from wizard.review.table import BY_NAME, FILTERS

ROOT = Path(__file__).parents[1]
GUIDES = names()
_, USAGES = usage_of(parser())
FLAGS = {u.name: {f for o in u.options for f in o.flags} for u in USAGES}


def commands_in(name: str) -> list[str]:
    """Every `wizard ...` of a guide, from its code."""
    code = re.findall(r"`([^`\n]+)`", text(name))
    code += [
        line
        for block in re.findall(r"```\n(.*?)```", text(name), re.S)
        for line in block.splitlines()
    ]
    return [c[c.index("wizard ") :] for c in code if re.search(r"(^|\s)wizard ", c)]


def cells(row: str) -> list[str]:
    """The cells of a row of the table, without the difference that was measured."""
    return [c.strip() for c in row.strip("|").split(" | ")][:4]


def test_the_guides_that_the_readme_links_to_are_here() -> None:
    assert {"field", "lead", "apprentice", "changes", "proof"} <= set(GUIDES)
    readme = (ROOT / "README.md").read_text("utf-8")
    for path in re.findall(r"\((wizard/guide/\w+\.md)\)", readme):
        assert (ROOT / path).is_file(), path
    for name in ("field", "lead", "apprentice"):
        assert f"wizard/guide/{name}.md" in readme


@pytest.mark.parametrize("name", GUIDES)
def test_a_guide_reads_in_order(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["guide", name]) == 0
    shown = capsys.readouterr().out
    assert shown.startswith(about(name).upper())
    assert "`" not in shown.replace("``", "")
    assert "**" not in shown
    code = {
        line.strip()
        for block in re.findall(r"```\n(.*?)```", text(name), re.S)
        for line in block.splitlines()
    }
    for line in shown.splitlines():
        assert len(line) <= 78 or line.strip() in code or " " not in line.strip(), line


@pytest.mark.parametrize("name", GUIDES)
@pytest.mark.parametrize("width", [40, 60, 78, 92, 200])
def test_no_word_is_lost_at_any_width(name: str, width: int) -> None:
    bare = re.sub(r"!?\[([^\]]*)\]\(([^)]*)\)", r"\1 \2", text(name))
    told = set(re.findall(r"\w{4,}", bare.casefold()))
    shown = " ".join(plain(text(name), width)).casefold()
    assert told <= set(re.findall(r"\w{4,}", shown))


@given(st.text(alphabet="ab |`*#-\n[]()0123.", max_size=200), st.integers(20, 90))
def test_no_text_breaks_the_reader(markdown: str, width: int) -> None:
    list(plain(markdown, width))


def test_without_a_name_they_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["guide"]) == 0
    rows = capsys.readouterr().out.splitlines()
    assert [row.split()[0] for row in rows] == list(GUIDES)
    assert rows[0].endswith("In the field")


def test_an_unknown_guide_is_one_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["guide", "../changes"]) == 3
    assert capsys.readouterr().err.startswith("guide: given ../changes, accepted field")


def test_they_are_plain_where_only_ascii_can_be_shown() -> None:
    code = "import sys; from wizard.cli import main; sys.exit(main(['guide', 'apprentice']))"
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, env={"LC_ALL": "C", "PATH": "/bin"}
    )
    assert told.returncode == 0
    assert told.stdout.decode("ascii")
    assert told.stderr == b""


@pytest.mark.parametrize("name", [n for n in GUIDES if n != "proof"])
def test_every_command_in_a_guide_exists_with_its_options(name: str) -> None:
    found = commands_in(name)
    for command in found:
        words = shlex.split(command.split(",")[0])
        if len(words) > 1 and not words[1].startswith("-"):
            assert words[1] in FLAGS, command
            for word in words[2:]:
                if word.startswith("--"):
                    assert word in FLAGS[words[1]], command


def test_the_keys_in_the_guides_are_those_of_the_table() -> None:
    table_of = {key_text(k): c for c in COMMANDS for k in c.keys if "work" in c.places}
    for name in ("field", "apprentice"):
        for key in re.findall(r"\b(F\d+|Ctrl-[A-Z])\b", text(name)):
            assert key in table_of or key in ("F12", "Ctrl-A", "Ctrl-B"), f"{name}: {key}"
    rows = re.findall(r"^\| (F\d+) \| (.*) \|$", text("apprentice"), re.M)
    assert {key: table_of[key].name for key, _ in rows} == {
        "F1": "help",
        "F6": "next",
        "F7": "undo",
        "F8": "list",
        "F5": "watch",
        "F9": "more",
        "F10": "quit",
    }


def test_the_keys_in_the_guide_of_the_lead_are_those_of_the_review() -> None:
    here = {key_text(k): c.name for c in COMMANDS for k in c.keys if "review" in c.places}
    rows = re.findall(r"^\| (\S{1,2}) \| (.*) \|$", text("lead"), re.M)
    assert {here[key] for key, _ in rows} == set(here.values()) - {"repaint", "back", "quit"}
    inside = {key_text(k): c.name for c in COMMANDS for k in c.keys if "case" in c.places}
    said = re.search(r"^Inside a job .*$", text("lead"), re.M)
    assert said
    named = [inside[key] for key in re.findall(r"\bF\d+\b", said[0])]
    assert named == ["doubts", "remark", "beside", "accept", "send_back"]


def test_every_filter_of_the_review_is_in_the_guide() -> None:
    for name in FILTERS:
        assert name in text("lead"), name
    assert "--sort day" in text("lead") and "day" in BY_NAME


def test_the_change_log_ends_with_the_version_that_is_shipped() -> None:
    from wizard import __version__

    versions = re.findall(r"^## (\S+)$", text("changes"), re.M)
    assert versions[0] == __version__


def test_the_proof_table_is_the_one_that_the_tests_make() -> None:
    shipped = [r for r in text("proof").splitlines() if r.startswith("| ")]
    fresh = [r for r in table() if r.startswith("| ")]
    assert [cells(r) for r in shipped] == [cells(r) for r in fresh]


def test_the_differences_in_the_proof_table_are_small() -> None:
    rows = [r for r in text("proof").splitlines() if r.startswith("| ")][1:]
    assert all(float(row.strip("| ").rsplit(" | ", 1)[1]) < 0.2 for row in rows)
