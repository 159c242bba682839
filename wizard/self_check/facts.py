"""All that is found out about terminal, locale, versions, folders, disk, keys and clock."""

from __future__ import annotations

import locale
import os
import platform
import shutil
import sys
from collections.abc import Mapping
from contextlib import suppress
from importlib.metadata import PackageNotFoundError, version
from importlib.util import cache_from_source
from pathlib import Path
from typing import Any, TypeAlias

from wizard import __version__
from wizard.memo import cache_home
from wizard.procedure.loader import VERSION
from wizard.self_check.trials import agent_keys, disk, signs, tried, write_in
from wizard.settings_file import config_home, read_settings, settings_path
from wizard.store.clock import monotonic, now
from wizard.store.state import state_home
from wizard.text import wants_ascii

Facts: TypeAlias = dict[str, dict[str, Any]]

PACKAGES = ("textual", "rich", "pint", "pydantic", "tomli", "tomli-w")
PACKAGE = Path(__file__).parents[1]


def facts(environment: Mapping[str, str] | None = None, folder: Path | None = None) -> Facts:
    """All that is found out; `folder` is where jobs would be kept."""
    given = os.environ if environment is None else environment
    here = folder or Path.cwd()
    return {
        "tool": _tool(),
        "terminal": _terminal(given),
        "locale": _locale(given),
        "folders": _folders(here),
        "disk": disk(here),
        "keys": _keys(given),
        "clock": _clock(),
        "settings": _settings(),
    }


def _tool() -> dict[str, Any]:
    named = {name: _version(name) for name in PACKAGES}
    return {
        "wizard": __version__,
        "procedure": VERSION,
        "installed in": str(PACKAGE),
        "compiled": Path(cache_from_source(__file__)).is_file(),
        "python": f"{platform.python_version()} {platform.python_implementation()}",
        "system": f"{platform.system()} {platform.release()} {platform.machine()}",
        **named,
    }


def _version(package: str) -> str | None:
    try:
        return version(package)
    except PackageNotFoundError:
        return None


def _terminal(environment: Mapping[str, str]) -> dict[str, Any]:
    size = _size()
    return {
        "TERM": environment.get("TERM"),
        "COLORTERM": environment.get("COLORTERM"),
        "NO_COLOR": "NO_COLOR" in environment,
        "colours": _colours(environment),
        "columns": size[0],
        "rows": size[1],
        "stdin is a terminal": _is_terminal(0),
        "stdout is a terminal": _is_terminal(1),
        "over SSH": "SSH_CONNECTION" in environment,
        "multiplexer": next(
            (n for n, v in (("tmux", "TMUX"), ("screen", "STY")) if v in environment), None
        ),
    }


def _size() -> tuple[int | None, int | None]:
    for number in (1, 2, 0):
        with suppress(OSError):
            return tuple(os.get_terminal_size(number))  # type: ignore[return-value]
    return None, None


def _is_terminal(number: int) -> bool:
    with suppress(OSError):
        return os.isatty(number)
    return False


def _colours(environment: Mapping[str, str]) -> int | None:
    """How many colours the terminal says it has; None where it is not known."""
    if environment.get("COLORTERM") in ("truecolor", "24bit"):
        return 2**24
    try:
        import curses  # deferred: not in every Python
    except ImportError:
        return None
    try:
        curses.setupterm(environment.get("TERM") or "dumb", 1)
        return max(0, curses.tigetnum("colors"))
    except (curses.error, OSError, TypeError, ValueError):
        return None


def _locale(environment: Mapping[str, str]) -> dict[str, Any]:
    named = {name: environment.get(name) for name in ("LC_ALL", "LC_CTYPE", "LANG")}
    return {
        **named,
        "encoding": locale.getencoding(),
        "stdout encoding": getattr(sys.stdout, "encoding", None),
        "shown in": "ASCII" if wants_ascii(environment) else "the characters of the encoding",
    }


def _folders(here: Path) -> dict[str, Any]:
    paths = {
        "settings": config_home(),
        "state": state_home(),
        "cache": cache_home(),
        "current": here,
    }
    return {name: _folder(path) for name, path in paths.items()}


def _folder(path: Path) -> dict[str, Any]:
    nearest = next((p for p in (path, *path.parents) if p.is_dir()), path)
    return {
        "path": str(path),
        "exists": path.is_dir(),
        "writable": tried(lambda: write_in(nearest)) is None,
        "free MB": _free(nearest),
        "file system": _file_system(nearest),
    }


def _free(folder: Path) -> int | None:
    with suppress(OSError):
        return shutil.disk_usage(folder).free // 1_000_000
    return None


def _file_system(folder: Path) -> str | None:
    """The kind of file system, from the longest mount point above the folder."""
    with suppress(OSError, ValueError):
        real = folder.resolve()
        found = ("", "")
        for row in Path("/proc/mounts").read_text("utf-8", "replace").splitlines():
            _, point, kind, *_ = row.split(" ")
            above = Path(point.replace("\\040", " "))
            if real.is_relative_to(above) and len(point) >= len(found[0]):
                found = (point, kind)
        return found[1] or None
    return None


def _keys(environment: Mapping[str, str]) -> dict[str, Any]:
    keygen = shutil.which("ssh-keygen")
    return {
        "ssh-keygen": keygen,
        "signing": signs(keygen) if keygen else "no ssh-keygen",
        "agent": "SSH_AUTH_SOCK" in environment,
        "keys in the agent": agent_keys() if "SSH_AUTH_SOCK" in environment else None,
    }


def _clock() -> dict[str, Any]:
    moment, going = now(), monotonic()
    newest = max(p.stat().st_mtime for p in PACKAGE.glob("*.py"))
    return {
        "now": moment.isoformat(),
        "zone": moment.tzname(),
        "boot known": bool(going["boot"]),
        "behind the program": moment.timestamp() < newest - 86_400,
    }


def _settings() -> dict[str, Any]:
    own = read_settings()
    return {
        "file": str(settings_path()) if settings_path().is_file() else None,
        "look": own.look,
        "mouse": own.mouse,
        "units": own.units or None,
        "rules": dict(own.rules),
        "keys": {name: list(keys) for name, keys in own.keys.items()},
        "warnings": list(own.warnings),
    }
