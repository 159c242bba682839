"""Everything that must be green: style, types and tests.  python -m tests"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]

STEPS = (
    ("ruff", "check", "."),
    ("ruff", "format", "--check", "."),
    ("mypy",),
    ("pytest", "-n", "2", "-m", "not slow"),
)


def main() -> int:
    """Run each step; the status of the first that fails."""
    for step in STEPS:
        print(f"== {' '.join(step)}", flush=True)
        status = subprocess.run([sys.executable, "-m", *step], cwd=ROOT).returncode
        if status:
            return status
    return 0


if __name__ == "__main__":
    sys.exit(main())
