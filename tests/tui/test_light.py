"""Until the first paint nothing heavy is loaded."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = (
    "pydantic_core",
    "pint",
    "wizard.job",
    "wizard.procedure",
    "wizard.record",
    "tomli_w",
    "numpy",
)


@pytest.mark.parametrize("module", ["wizard.tui.app", "wizard.tui.doors", "wizard.tui.base"])
def test_a_first_frame_needs_only_textual(module: str) -> None:
    code = f"import sys, {module}; print(*[m for m in {HEAVY!r} if m in sys.modules])"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert loaded.returncode == 0, loaded.stderr
    assert loaded.stdout.split() == []
