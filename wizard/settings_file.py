"""The settings of a person or site: $XDG_CONFIG_HOME/wizard/settings.toml.

Invariant: whatever the file holds, the tool starts. A line that cannot be used is left out and
said in one sentence; a choice between codes is one of those in `settings`, none of which loosens
a safety limit, and a job keeps the choices it was started with.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

import tomli

from wizard import keys
from wizard.errors import InputError, StoreError
from wizard.settings import CHOICES, Settings, as_mapping, settings_from, usual_practice
from wizard.text import show

MAX_BYTES = 64_000
MAX_NAME = 80
MAX_WARNINGS = 20
LOOKS = ("default", "contrast", "terminal")
UNITS = ("us", "metric")

_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")


@dataclass(frozen=True)
class Site:
    """What a settings file says; `warnings` has a sentence for all that it says in vain.

    `rules` are the choices between codes that new jobs take, `keys` other keys for commands.
    """

    name: str = ""
    units: str = ""
    look: str = "default"
    mouse: bool = True
    rules: Mapping[str, Any] = field(default_factory=dict)
    keys: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()

    def practice_for(self, units: str) -> str:
        """The electrical practice of new jobs: as set here, else the one usual with the units."""
        return str(self.rules.get("practice") or usual_practice(units))

    def settings(self, **over: Any) -> Settings:
        """The choices for a new job, with some of them made otherwise."""
        return settings_from({**self.rules, **over})


ABOUT = {
    "name": "who works here, for the record; empty takes the login name",
    "units": "units of new jobs, us or metric; empty asks, or takes us",
    "look": "default, contrast for bright light, or terminal for the terminal's own 16 colours",
    "mouse": "false leaves the mouse to the terminal",
}
"""The plain settings and what each decides."""


def config_home(environment: Mapping[str, str] | None = None) -> Path:
    """Where the settings are."""
    given = (os.environ if environment is None else environment).get("XDG_CONFIG_HOME", "")
    return (Path(given) if given.startswith("/") else Path("~/.config").expanduser()) / "wizard"


def settings_path() -> Path:
    """The settings file."""
    return config_home() / "settings.toml"


def read_settings(path: Path | None = None) -> Site:
    """What the file says; the defaults where there is none."""
    path = path or settings_path()
    try:
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        return Site()
    except (OSError, ValueError) as problem:
        why = problem.strerror if isinstance(problem, OSError) else "not a path"
        return Site(warnings=(f"{show(path)} cannot be read, {why}; the defaults are used.",))
    if len(data) > MAX_BYTES:
        said = f"{show(path)} is larger than {MAX_BYTES} bytes; the defaults are used."
        return Site(warnings=(said,))
    return site_from(data.decode("utf-8", "replace"), path.name)


def site_from(text: str, name: str) -> Site:
    """The settings in `text`; `name` is what its warnings call the file."""
    warnings: list[str] = []
    tables = _tables(text, name, warnings)
    said = _Said(text, name, warnings)
    plain = {key: tables.pop(key) for key in tuple(tables) if key in ABOUT}
    rules = said.table(tables, "rules")
    wanted = said.table(tables, "keys")
    for key in tables:
        said.of(key, "is not a setting and is left out")
    return Site(
        **{key: value for key, value in plain.items() if _usable(key, value, said)},
        rules={k: v for k, v in rules.items() if _rule(k, v, said)},
        keys=_keys(wanted, said),
        warnings=tuple(warnings),
    )


def _tables(text: str, name: str, warnings: list[str]) -> dict[str, Any]:
    """The tables, without the lines that cannot be read."""
    lines = text.splitlines()
    for _ in range(MAX_WARNINGS):
        try:
            return tomli.loads("\n".join(lines))
        except (ValueError, RecursionError) as problem:
            place = _PLACE.search(str(problem))
            number = int(place[1]) if place and place[1] else len(lines)
            while number > 1 and not lines[number - 1].strip():
                number -= 1
            shown = show(lines[number - 1].strip()[:60])
            warnings.append(f"{name}, line {number} is left out, it cannot be read: {shown}.")
            lines[number - 1] = ""
    warnings.append(f"{name} is not used, too many of its lines cannot be read.")
    return {}


class _Said:
    """Collects warnings, each with the line that it is about."""

    def __init__(self, text: str, name: str, warnings: list[str]) -> None:
        self._lines, self._name, self._warnings = text.splitlines(), name, warnings

    def of(self, key: str, problem: str) -> None:
        """Say that a setting is left out and why."""
        entry = re.compile(rf"""\s*\[*\s*["']?{re.escape(key)}["']?\s*[=\]]""")
        number = next((n for n, line in enumerate(self._lines, 1) if entry.match(line)), 0)
        where = f"{self._name}, line {number}" if number else self._name
        self._warnings.append(f"{where}: {show(key)[:60]} {problem}.")

    def table(self, tables: dict[str, Any], key: str) -> dict[str, Any]:
        """A table of the file; empty where it is none."""
        found = tables.pop(key, {})
        if not isinstance(found, dict):
            self.of(key, "is not a table and is left out")
            return {}
        return found


def _usable(key: str, value: Any, said: _Said) -> bool:
    accepted: tuple[Any, ...] = {"units": ("", *UNITS), "look": LOOKS, "mouse": (True, False)}.get(
        key, ()
    )
    if key == "name":
        fits = isinstance(value, str) and len(value) <= MAX_NAME and value.isprintable()
        words = f"text of at most {MAX_NAME} characters"
    else:
        fits = any(value == a and type(value) is type(a) for a in accepted)
        words = " or ".join(map(_toml, accepted))
    if not fits:
        said.of(key, f"is {_shown(value)}, which is not {words}, and is left out")
    return fits


def _rule(key: str, value: Any, said: _Said) -> bool:
    if key not in CHOICES:
        said.of(key, "is not a choice between codes and is left out")
        return False
    try:
        settings_from({key: value})
    except InputError:
        accepted = " or ".join(map(_toml, CHOICES[key].values))
        said.of(key, f"is {_shown(value)}, which is not {accepted}, and is left out")
        return False
    return True


def _keys(wanted: Mapping[str, Any], said: _Said) -> dict[str, tuple[str, ...]]:
    asked: dict[str, tuple[str, ...]] = {}
    for name, value in wanted.items():
        listed = [value] if isinstance(value, str) else value
        if isinstance(listed, list) and all(isinstance(k, str) for k in listed):
            asked[name] = tuple(listed)
        else:
            said.of(
                name, f"is {_shown(value)}, which is not a key or a list of keys, and is left out"
            )
    taken, problems = keys.chosen(asked)
    for problem in problems:
        name, _, why = problem.partition(": ")
        said.of(name, f"keeps its keys, {why.rstrip('.')}")
    return taken


def _shown(value: Any) -> str:
    return show(_toml(value) if isinstance(value, str | bool | int | float) else str(value))[:60]


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{value}"' if isinstance(value, str) else str(value)


def settings_text(site: Site) -> str:
    """A settings file with comments that says what `site` says."""
    lines = ["# Settings of wizard. A line that cannot be used is left out with a warning.", ""]
    for key, about in ABOUT.items():
        lines += [f"# {about}", f"{key} = {_toml(getattr(site, key))}", ""]
    lines += [
        "# Choices between codes, for new jobs; a job keeps those it was started with.",
        "# None of them loosens a safety limit.",
        "[rules]",
    ]
    chosen = {**as_mapping(Settings()), **site.rules}
    for rule in fields(Settings):
        choice = CHOICES[rule.name]
        accepted = " or ".join(map(_toml, choice.values))
        lines += [f"# {choice.about}: {accepted}", f"{rule.name} = {_toml(chosen[rule.name])}"]
    lines += [
        "",
        '# Other keys for commands, as  note = "f11"  or  search = ["slash", "7"]; the way to',
        "# quit keeps its own keys beside those given here. The keys as they come:",
        "[keys]",
    ]
    for command in keys.COMMANDS:
        listed = ", ".join(map(_toml, site.keys.get(command.name, command.keys)))
        mark = "" if command.name in site.keys else "# "
        lines.append(f"{mark}{command.name} = [{listed}]")
    return "\n".join(lines) + "\n"


def write_settings(site: Site, path: Path | None = None) -> Path:
    """Write a settings file where there is none yet; StoreError where it cannot be written."""
    path = path or settings_path()
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(settings_text(site))
    except FileExistsError:
        raise StoreError(f"{show(path)} exists already; change it there.") from None
    except OSError as problem:
        raise StoreError(f"{show(path)} cannot be written, {problem.strerror}.") from None
    return path
