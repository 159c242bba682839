"""A command run in this process, and what it says."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest

from wizard import calc, checks
from wizard.cli import main

ROOT = Path(__file__).parents[2]
HELD = ROOT / "demo_jobs" / "DEMO-15HP.toml"
CALCULATIONS = {**calc.load(), **checks.load()}
GOOD, UNFINISHED, FAILED, UNREADABLE, USAGE = 0, 1, 2, 3, 64


def run(*words: str) -> tuple[int, str, str]:
    """Exit status, stdout and stderr; wrong usage ends the parser by itself."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status = main(words)
        except SystemExit as end:
            status = int(end.code or 0)
    return status, out.getvalue(), err.getvalue()


def data(*words: str) -> Any:
    """The JSON value on stdout."""
    return json.loads(run(*words)[1], parse_constant=lambda word: pytest.fail(word))


def one_sentence(err: str) -> str:
    """Stderr, which must be one line that ends like a sentence and carries no control character."""
    assert err.endswith("\n")
    line = err[:-1]
    assert line.isprintable(), line
    assert line[-1] in ".?!”", line
    return line
