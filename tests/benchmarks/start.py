"""Commands without a screen against `import pydantic, tomllib`: python -m tests.benchmarks.start

A job just begun has the bound; a full record of 250 kB is measured beside it.

By turns, with compiled modules as an installed package has them; the median of the wall clock
and the least processor time are compared.
"""

from __future__ import annotations

import contextlib
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

MOST = 2.0
ROUNDS = 15
ROOT = Path(__file__).parents[2]
JOB = str(max((ROOT / "demo_jobs").glob("*.toml"), key=lambda p: p.stat().st_size))
BARE = ("-c", "import pydantic, tomllib")
WIZARD = ("-m", "wizard")
COMMANDS = {
    "wizard --help": (*WIZARD, "--help"),
    "wizard check, job begun": (*WIZARD, "check", "BEGUN-1.toml"),
    "wizard calc": (*WIZARD, "calc", "supply_voltage", "nameplate=230 V", "measured=238 V"),
}
BESIDE = {
    "wizard check, full record": (*WIZARD, "check", JOB),
    "wizard items": (*WIZARD, "items"),
    "python -c pass": ("-c", "pass"),
}
"""Measured for comparison; no bound."""


def once(words: Sequence[str], environment: Mapping[str, str]) -> tuple[float, float]:
    """Wall and processor seconds of one run."""
    quiet = os.open(os.devnull, os.O_RDWR)
    start = time.perf_counter()
    to_quiet = [(os.POSIX_SPAWN_DUP2, quiet, number) for number in (0, 1, 2)]
    command = [sys.executable, *words]
    pid = os.posix_spawn(sys.executable, command, environment, file_actions=to_quiet)
    _, _, used = os.wait4(pid, 0)
    os.close(quiet)
    return time.perf_counter() - start, used.ru_utime + used.ru_stime


def measure(
    commands: Mapping[str, Sequence[str]], rounds: int = ROUNDS
) -> dict[str, tuple[float, float]]:
    """(median wall, least processor time) of each command and of `bare`, by turns."""
    told: dict[str, list[tuple[float, float]]] = {name: [] for name in ("bare", *commands)}
    with tempfile.TemporaryDirectory() as home, contextlib.chdir(home):
        environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        environment |= {
            "PYTHONPYCACHEPREFIX": f"{home}/compiled",
            "XDG_CACHE_HOME": f"{home}/cache",
            "PYTHONPATH": str(ROOT),
        }
        every = {"bare": BARE, **commands}
        once((*WIZARD, "new", "BEGUN-1", "--by", "Bench"), environment)
        for words in every.values():
            once(words, environment)
        for _ in range(rounds):
            for name, words in every.items():
                told[name].append(once(words, environment))
    return {
        name: (statistics.median(w for w, _ in runs), min(c for _, c in runs))
        for name, runs in told.items()
    }


def main() -> int:
    """Print the comparison; 1 where a command is over the bound."""
    found = measure({**COMMANDS, **BESIDE})
    wall, used = found.pop("bare")
    print(f"{'import pydantic, tomllib':<40} {wall * 1e3:4.0f} ms")
    over = 0
    for name, (its_wall, its_used) in found.items():
        ratio = its_wall / wall
        over |= name in COMMANDS and ratio > MOST
        bound = f"at most {MOST:g}" if name in COMMANDS else ""
        print(
            f"{name:<40} {its_wall * 1e3:4.0f} ms, {ratio:5.2f} times "
            f"(processor time {its_used / used:5.2f})  {bound}"
        )
    return int(over)


if __name__ == "__main__":
    sys.exit(main())
