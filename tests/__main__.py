"""Everything that must be green: style, types and tests.  python -m tests"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
WORKERS = (os.cpu_count() or 1) + 1
"""One more than there are processors: many tests wait for a terminal to come to rest."""

STEPS = (
    ("ruff", "check", "."),
    ("ruff", "format", "--check", "."),
    ("mypy",),
    ("pytest", "-n", f"{WORKERS}", "--dist", "worksteal", "-m", "not slow"),
)


def main() -> int:
    """Run each step; the status of the first that fails."""
    # The tests start some hundred programs, and what is compiled is to be kept for the next.
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    for step in STEPS:
        print(f"== {' '.join(step)}", flush=True)
        status = subprocess.run([sys.executable, "-m", *step], cwd=ROOT, env=environment).returncode
        if status:
            return status
    return 0


if __name__ == "__main__":
    sys.exit(main())
