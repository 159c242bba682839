"""Settings: what a file may say, what it says in vain, and that the way out cannot be lost."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard import keys
from wizard.cli import main
from wizard.commands import screen
from wizard.commands.people import who
from wizard.commands.site import site
from wizard.errors import StoreError
from wizard.keys import COMMANDS, EVERYWHERE, QUIT, chosen, table
from wizard.procedure import procedure
from wizard.settings import CHOICES, Settings, as_mapping
from wizard.settings_file import (
    MAX_BYTES,
    Site,
    read_settings,
    settings_path,
    settings_text,
    site_from,
    write_settings,
)
from wizard.store import read_job


@pytest.fixture
def config(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The settings file of a person who works in an empty folder; not there yet."""
    for name in ("CONFIG", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    monkeypatch.delenv("WIZARD_NAME", raising=False)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "state" / "wizard").mkdir(parents=True)
    site.cache_clear()
    path = settings_path()
    path.parent.mkdir(parents=True)
    return path


def one_warning(text: str) -> str:
    """The only thing that is said of a file."""
    warnings = site_from(text, "settings.toml").warnings
    assert len(warnings) == 1, warnings
    return warnings[0]


def test_without_a_file_the_defaults_hold(config: Path) -> None:
    assert read_settings() == Site()
    assert read_settings().settings() == Settings()


def test_every_setting_is_taken() -> None:
    own = site_from(
        'name = "Tess Example"\nunits = "metric"\nlook = "contrast"\nmouse = false\n'
        '[rules]\npractice = "IEC"\nnoise_trigger = 90\nvoltage_drop_strict = true\n'
        '[keys]\nnote = "f11"\nsearch = ["slash", "7"]\n',
        "settings.toml",
    )
    assert own.warnings == ()
    assert (own.name, own.units, own.look, own.mouse) == (
        "Tess Example",
        "metric",
        "contrast",
        False,
    )
    assert own.settings() == Settings(practice="IEC", noise_trigger=90.0, voltage_drop_strict=True)
    assert own.keys == {"note": ("f11",), "search": ("slash", "7")}


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('look = "pink"', 1, "pink"),
        ("\n\nlook = 3", 3, "look"),
        ('mouse = "no"', 1, "true or false"),
        ("mouse = 1", 1, "true or false"),
        ('units = "imperial"', 1, "us"),
        (f'name = "{"x" * 81}"', 1, "80"),
        (r'name = "a\u001bb"', 1, "name"),
        ("name = 7", 1, "text"),
        ('colour = "red"', 1, "not a setting"),
        ("rules = 4", 1, "not a table"),
        ('[rules]\npractice = "XX"', 2, "US"),
        ("[rules]\nnoise_trigger = 95", 2, "85"),
        ("[rules]\nsling_legs_credited = 4", 2, "2 or 3"),
        ("[rules]\nsling_legs_credited = true", 2, "2 or 3"),
        ("[rules]\nrelief_margin = 0", 2, "not a choice between codes"),
        ('[keys]\nfly = "f11"', 2, "no such command"),
        ('[keys]\nnote = "x"', 2, "not a key"),
        ("[keys]\nnote = 4", 2, "not a key or a list of keys"),
        ("[keys]\nnote = []", 2, "without a key"),
        ('[keys]\nnote = "f10"', 2, "F10 is already quit"),
        ('[keys]\nnote = "ctrl+q"', 2, "not a key"),
        ('[keys]\nquit = "q"', 2, "not a key"),
        ('[keys]\nback = "f10"', 2, "F10 is already quit"),
        ("look = contrast", 1, "cannot be read"),
        ("what is this", 1, "cannot be read"),
        ("[rules\npractice = 1", 1, "cannot be read"),
    ],
)
def test_a_bad_line_is_one_sentence_with_its_line(text: str, line: int, words: str) -> None:
    first, *more = site_from(text, "settings.toml").warnings
    assert first.startswith(f"settings.toml, line {line}")
    assert words in first
    assert first.endswith(".")
    assert "\x1b" not in first
    assert len(more) <= 1


def test_what_is_beside_a_bad_line_is_taken() -> None:
    own = site_from('look = "contrast"\nthis is no line\nmouse = false\n', "settings.toml")
    assert (own.look, own.mouse) == ("contrast", False)
    assert len(own.warnings) == 1
    own = site_from('[rules]\npractice = "IEC"\nnoise_trigger = 95\n', "settings.toml")
    assert own.settings() == Settings(practice="IEC")


def test_a_file_of_nonsense_is_given_up_soon() -> None:
    own = site_from("nonsense\n" * 30_000, "settings.toml")
    assert own == Site(warnings=own.warnings)
    assert len(own.warnings) < 30


@given(st.text(max_size=300) | st.text(alphabet="[]=\"'\n#. abkeyslook", max_size=200))
def test_no_text_stops_the_start(text: str) -> None:
    own = site_from(text, "settings.toml")
    assert own.look in ("default", "contrast", "terminal")
    assert all(w.isprintable() for w in own.warnings)
    assert own.settings()


@pytest.mark.parametrize("data", [b"\xff\xfe\x00", b"\x00", b"look = \xe9", b"\xef\xbb\xbflook"])
def test_bytes_that_are_no_text_are_said(config: Path, data: bytes) -> None:
    config.write_bytes(data)
    own = read_settings()
    assert own.look == "default"
    assert own.warnings


def test_a_file_too_large_or_not_readable_is_one_sentence(config: Path) -> None:
    config.write_text("#" * (MAX_BYTES + 1))
    assert read_settings().warnings == (
        f"{config} is larger than {MAX_BYTES} bytes; the defaults are used.",
    )
    config.unlink()
    config.mkdir()
    (said,) = read_settings().warnings
    assert said.endswith("the defaults are used.")


def test_a_link_in_the_settings_folder_is_followed(config: Path, tmp_path: Path) -> None:
    kept = tmp_path / "dotfiles.toml"
    kept.write_text('look = "contrast"\n')
    config.symlink_to(kept)
    assert read_settings().look == "contrast"


# -- no choice loosens a safety limit ---------------------------------------------


@given(
    st.sampled_from(sorted(CHOICES)),
    st.one_of(st.floats(), st.integers(), st.text(max_size=12), st.booleans()),
)
def test_a_rule_is_one_of_its_choices_or_the_default(name: str, value: object) -> None:
    typed = {True: "true", False: "false"}.get(value) if isinstance(value, bool) else repr(value)
    own = site_from(f"[rules]\n{name} = {typed}\n", "settings.toml")
    assert as_mapping(own.settings())[name] in CHOICES[name].values


# -- keys -------------------------------------------------------------------------

KEYS = st.sampled_from(
    [
        *(f"f{n}" for n in range(14)),
        *(f"ctrl+{c}" for c in "abchijlmnopqrsuvxyz"),
        *"aqonpr5",
        "slash",
        "escape",
        "enter",
        "tab",
        "pageup",
        "",
        "ctrl+",
        "é",
    ]
)
WANTED = st.dictionaries(
    st.sampled_from([*(c.name for c in COMMANDS), "fly"]), st.lists(KEYS, max_size=3).map(tuple)
)


@given(WANTED)
def test_quit_keeps_its_keys_whatever_is_wanted(wanted: dict[str, tuple[str, ...]]) -> None:
    taken, _ = chosen(wanted)
    for place in EVERYWHERE:
        here = [c for c in table(taken) if place in c.places]
        for key in QUIT.keys:
            assert [c.name for c in here if key in c.keys] == ["quit"]


@given(WANTED)
def test_no_key_means_two_things_in_one_place(wanted: dict[str, tuple[str, ...]]) -> None:
    taken, problems = chosen(wanted)
    assert len(taken) + len(problems) == len(wanted)
    for place in EVERYWHERE:
        used = [k for c in table(taken) if place in c.places for k in set(c.keys)]
        assert len(used) == len(set(used))


@given(WANTED)
def test_a_field_is_never_robbed_of_a_letter_or_an_editing_key(
    wanted: dict[str, tuple[str, ...]],
) -> None:
    taken, _ = chosen(wanted)
    for command in table(taken):
        if "work" in command.places:
            assert not {"q", "5", "enter", "tab", "ctrl+u", "ctrl+a", "é"} & set(command.keys)


def test_two_commands_may_change_their_keys_for_each_other() -> None:
    wanted = {"waive": ("f3",), "note": ("f2",)}
    assert chosen(wanted) == (wanted, [])


def test_the_keys_as_they_come_have_no_clash() -> None:
    assert keys.chosen({c.name: c.keys for c in COMMANDS if c.keys})[1] == []


# -- writing and showing ----------------------------------------------------------


def test_the_file_written_reads_back_and_names_every_choice_and_command(config: Path) -> None:
    own = Site(name="Tess", units="metric", rules={"practice": "IEC"}, keys={"note": ("f11",)})
    assert write_settings(own) == config
    read = read_settings()
    assert read.warnings == ()
    assert (read.name, read.units, read.keys) == ("Tess", "metric", {"note": ("f11",)})
    assert read.settings() == own.settings()
    text = config.read_text("utf-8")
    for name, choice in CHOICES.items():
        assert f"{name} = " in text
        assert choice.about in text
    for command in COMMANDS:
        assert f"\n# {command.name} = [" in text or f"\n{command.name} = [" in text


def test_every_line_of_keys_can_be_taken_up(config: Path) -> None:
    text = settings_text(Site())
    head, _, listed = text.partition("[keys]\n")
    taken_up = head + "[keys]\n" + listed.replace("# ", "")
    wanted = tomllib.loads(taken_up)["keys"]
    own = site_from(taken_up, "settings.toml")
    assert set(own.keys) == {name for name, its in wanted.items() if its}
    assert all("without a key" in w for w in own.warnings)


def test_a_file_that_is_there_is_never_overwritten(config: Path) -> None:
    config.write_text("mouse = false\n")
    with pytest.raises(StoreError, match="exists already"):
        write_settings(Site())
    assert config.read_text() == "mouse = false\n"


def test_the_command_shows_and_writes(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["settings"]) == 0
    told = capsys.readouterr()
    assert tomllib.loads(told.out)["look"] == "default"
    assert "--write" in told.err
    assert main(["settings", "--write"]) == 0
    assert config.is_file()
    assert main(["settings", "--write"]) == 3
    assert "exists already" in capsys.readouterr().err


def test_the_command_says_what_is_bad(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    config.write_text('look = "pink"\n')
    assert main(["settings"]) == 1
    assert "line 1" in capsys.readouterr().err


# -- used -------------------------------------------------------------------------


def test_a_new_job_takes_the_settings_and_keeps_them(
    config: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    config.write_text('units = "metric"\n[rules]\npractice = "IEC"\nnoise_trigger = 90\n')
    assert main(["new", "J1"]) == 0
    header = read_job(Path("J1.toml"), procedure()).job.header
    assert header.units == "metric"
    assert header.settings == Settings(practice="IEC", noise_trigger=90.0)
    config.unlink()
    assert read_job(Path("J1.toml"), procedure()).job.header.settings == header.settings


def test_options_and_machine_files_go_before_settings(config: Path) -> None:
    config.write_text('units = "metric"\n[rules]\npractice = "IEC"\n')
    Path("m.toml").write_text(
        'format = "wizard-machine"\nunits = "us"\npractice = "US"\n[answers]\n"job.site" = "Yard"\n'
    )
    assert main(["new", "J1", "--machine", "m.toml"]) == 0
    assert main(["new", "J2", "--units", "us", "--practice", "US"]) == 0
    for name in ("J1", "J2"):
        header = read_job(Path(f"{name}.toml"), procedure()).job.header
        assert (header.units, header.settings.practice) == ("us", "US")


def test_a_bad_line_warns_and_the_work_goes_on(tmp_path: Path) -> None:
    folder = tmp_path / "config" / "wizard"
    folder.mkdir(parents=True)
    (folder / "settings.toml").write_text('look = "pink"\n[rules]\npractice = "IEC"\n')
    environment = {**os.environ, "HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    done = subprocess.run(
        [sys.executable, "-c", code, "new", "J1"],
        capture_output=True,
        text=True,
        env=environment,
        cwd=tmp_path,
    )
    assert done.returncode == 0
    assert done.stderr.count("settings.toml, line 1: look") == 1
    assert 'practice = "IEC"' in (tmp_path / "J1.toml").read_text("utf-8")


def test_the_name_is_taken_where_none_is_given(
    config: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    config.write_text('name = "Tess of the settings"\n')
    assert who() == "Tess of the settings"
    assert who("Given") == "Given"
    monkeypatch.setenv("WIZARD_NAME", "Of the environment")
    assert who() == "Of the environment"


def test_the_screens_get_look_mouse_keys_and_what_was_said_in_vain(
    config: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    config.write_text('look = "contrast"\nmouse = false\nunits = 4\n[keys]\nnote = "f11"\n')
    told: dict[str, Any] = {}
    monkeypatch.setattr(screen, "plain_terminal", lambda: False)
    monkeypatch.setattr("wizard.tui.app.run", lambda who, **words: told.update(words) or 0)
    assert main([]) == 0
    assert (told["look"], told["mouse"], told["keys"]) == ("contrast", False, {"note": ("f11",)})
    assert "line 3" in told["remark"]
    assert main(["--look", "terminal", "open", "J1.toml"]) == 0
    assert told["look"] == "terminal"
    assert main(["open", "J1.toml", "--look", "default"]) == 0
    assert told["look"] == "default"
