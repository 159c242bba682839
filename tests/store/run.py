"""Runs `tests.store.faults` and `.limits` in a process of its own and reads what it counted."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def run(*words: object) -> dict[str, int]:
    """The counts; they are printed too, so that `pytest -rP` shows them."""
    module = "faults" if words[0] in ("kills", "calls", "writers") else "limits"
    done = subprocess.run(
        [sys.executable, "-m", f"tests.store.{module}", *map(str, words)],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    counted: dict[str, int] = json.loads(done.stdout)
    print(words[0], words[2:], counted)
    return counted
