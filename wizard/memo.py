"""What was worked out once and is kept in the user's cache folder, to start sooner.

Invariant: a memo never decides. It is used only where it is whole, the user's own, and made from
exactly this program and these files; anything else is worked out anew, and where nothing can be
written nothing is kept.
"""

from __future__ import annotations

import json
import os
import stat
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from functools import cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wizard import __version__, calc, checks, quantities

if TYPE_CHECKING:
    from wizard.procedure.item import Procedure

PACKAGE = Path(__file__).parent
DAMAGED = (LookupError, TypeError, ValueError, AttributeError)
"""What comes of values that are not as they were written."""

_READ = os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC
_CREATE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC


def cache_home(environment: Mapping[str, str] | None = None) -> Path:
    """Where memos are kept."""
    given = (os.environ if environment is None else environment).get("XDG_CACHE_HOME", "")
    return (Path(given) if given.startswith("/") else Path("~/.cache").expanduser()) / "wizard"


@cache
def warm() -> None:
    """Let this start use what an earlier one worked out, or work it out for the next ones.

    What is kept is the conversion factors and where each calculation is defined.
    """
    if not _recall(_read("start.json", _program())) and _can_write():
        known = {
            "conversions": quantities.conversions(),
            "formulas": {n: _module(s.function) for n, s in calc.load().items()},
            "checks": {n: _module(s.function) for n, s in checks.load().items()},
        }
        _write("start.json", _program(), known)


@cache
def warm_apart() -> None:
    """As `warm_procedure`, for a program that stays: what no earlier start has worked out is
    worked out by a process of its own, which takes the memory for it along when it ends."""
    if _read("start.json", _program()) is None and _can_write():
        import subprocess  # deferred: 5 ms that every other start does without

        code = f"import {__name__} as m, wizard.procedure as p; m.warm_procedure(); p.procedure()"
        command = [sys.executable, "-P", "-c", code]  # -P: nothing of the folder of jobs is run
        quiet = subprocess.DEVNULL
        with suppress(OSError):
            subprocess.run(command, stdin=quiet, stdout=quiet, stderr=quiet, check=False)
    warm_procedure()


@cache
def warm_procedure() -> None:
    """As `warm`, and take the procedure as it was verified by an earlier start."""
    from wizard.procedure import keep_on  # deferred: 6 ms that a calculation does without

    warm()
    keep_on(_Shelf())


def _recall(known: Any) -> bool:
    try:
        quantities.recall(known["conversions"])
        calc.recall(known["formulas"])
        checks.recall(known["checks"])
    except DAMAGED:
        return False
    return True


def _module(function: Callable[..., Any]) -> str:
    return function.__module__.rpartition(".")[2]


class _Shelf:
    """Verified procedures, by the digest of their files and of the program."""

    def take(self, sha256: str) -> Procedure | None:
        """The procedure of these files, if this program verified them."""
        from wizard.procedure.plain import from_plain  # deferred, as above

        with suppress(*DAMAGED):
            return from_plain(_read("procedure.json", _program() + sha256))
        return None

    def put(self, procedure: Procedure) -> None:
        """Keep a verified procedure."""
        from wizard.procedure.plain import to_plain  # deferred, as above

        _write("procedure.json", _program() + procedure.sha256, to_plain(procedure))


@cache
def _program() -> str:
    """What tells this program from any other: its files and their times, and pint's version."""
    found = find_spec("pint")
    pint = Path(found.origin).parent if found and found.origin else PACKAGE
    versions = sorted(p.name for p in pint.parent.glob("pint-*.dist-info"))
    said = [__version__, str(PACKAGE), *versions, *_times(pint), *_sources(PACKAGE)]
    return sha256("\n".join(said).encode()).hexdigest()


def _sources(package: Path) -> Iterator[str]:
    for name in ("", "calc", "checks", "procedure"):
        yield from _times(package / name)


def _times(folder: Path) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in sorted(entries, key=lambda e: e.name):
            if entry.name.endswith((".py", ".txt", ".toml")):
                state = entry.stat()
                yield f"{entry.name} {state.st_size} {state.st_mtime_ns}"


def _read(name: str, key: str) -> Any:
    """What was kept under this name and key; None where it is not there, not whole or not ours."""
    with suppress(OSError, ValueError):
        fd = os.open(cache_home() / name, _READ)
        with os.fdopen(fd, "rb") as file:
            state = os.fstat(fd)
            sound = stat.S_ISREG(state.st_mode) and not state.st_mode & 0o022
            if not sound or state.st_uid != os.geteuid():
                return None
            head, _, body = file.read().partition(b"\n")
        if head.decode() == _seal(key, body):
            return json.loads(body)
    return None


def _seal(key: str, body: bytes) -> str:
    return sha256(key.encode() + body).hexdigest()


def _can_write() -> bool:
    """Whether there is a cache folder, made where it is missing, that can be written."""
    folder = cache_home()
    with suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return os.access(folder, os.W_OK | os.X_OK)


def _write(name: str, key: str, data: Any) -> None:
    """Keep `data`; that it cannot be kept is no loss."""
    if not _can_write():
        return
    body = json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode()
    path = cache_home() / name
    temp = path.with_name(f".{name}.{os.urandom(6).hex()}")
    with suppress(OSError):
        try:
            with os.fdopen(os.open(temp, _CREATE, 0o600), "wb") as file:
                file.write(_seal(key, body).encode() + b"\n" + body)
            temp.replace(path)
        finally:
            temp.unlink(missing_ok=True)
