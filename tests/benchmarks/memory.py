"""Memory of the working screen on the main job over a bare Textual app, and after many keys.

python -m tests.benchmarks.memory [KEYS]
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.benchmarks.first_paint import BARE
from tests.demo.maker import commission, scenario
from tests.tui.terminal import KEYS, Terminal
from wizard.record import dumps

MOST, MOST_GROWTH = 20.0, 1.0
ROUND = ("2", "3", "backspace", "backspace", "pgdn", "pgup", "f1", "f1", "tab", "f8", "down", "esc")


def resident(terminal: Terminal) -> float:
    """MiB of the program that are in memory."""
    status = Path(f"/proc/{terminal.pid}/status").read_text("ascii")
    line = next(row for row in status.splitlines() if row.startswith("VmRSS"))
    return int(line.split()[1]) / 1024


def main() -> int:
    """Print the three numbers; 1 where one is too large."""
    keys = int(sys.argv[1]) if len(sys.argv) > 1 else 1200
    with tempfile.TemporaryDirectory() as home:
        file = Path(home) / "J1.toml"
        file.write_bytes(dumps(commission("J1", scenario("fifteen_hp_held")), 1))
        env = {"HOME": home, "XDG_STATE_HOME": home}
        bare = Terminal(["-c", BARE], env=env)
        bare.wait_for("ready to go")
        least = resident(bare)
        bare.close()
        ours = Terminal(["-m", "wizard", "open", str(file)], env=env)
        ours.wait_for("HELD in phase")
        first = resident(ours)
        for _ in range(keys // len(ROUND)):
            ours.send("".join(KEYS.get(k, k) for k in ROUND))
            ours.settle(0.05)
        ours.settle(1.0)
        last = resident(ours)
        ours.close()
    print(f"bare app {least:.1f} MiB, ours {first:.1f} MiB, {first - least:.1f} MiB more")
    print(f"after {keys} keys {last:.1f} MiB, {last - first:+.1f} MiB")
    return int(first - least > MOST or last - first > MOST_GROWTH)


if __name__ == "__main__":
    sys.exit(main())
