"""Compute of one key press on a job: judge the text, lay out what depends on it.

python -m tests.benchmarks.rejudge [SCENARIO]
"""

from __future__ import annotations

import statistics
import sys
import time

from tests.demo.maker import commission, scenario
from tests.tui.fake import FakeClock, FakeSession
from wizard.job import Job
from wizard.pictures.choice import picture
from wizard.pictures.scene import Scene
from wizard.tui.desk import Desk
from wizard.tui.spans import line
from wizard.tui.views.explain import explain
from wizard.tui.views.verdict import BelowField

MOST = 0.005
WIDTH, HEIGHT = 73, 14


def key_press(desk: Desk, text: str) -> float:
    """Seconds of compute for the text after one more key, with the explanation open."""
    start = time.perf_counter()
    state = desk.judged(text)
    drawn = [line(r) for r in picture(Scene(desk.job, desk.item, state.parsed), WIDTH, HEIGHT)]
    BelowField().lines(state, WIDTH, HEIGHT, picture=drawn)
    explain(desk.job, desk.item, state, WIDTH)
    return time.perf_counter() - start


def measure(job: Job) -> dict[str, float]:
    """The slowest key press of each item of the job, as the median of three passes."""
    desk = Desk(FakeSession(job), "Tess Tester", FakeClock())
    found: dict[str, list[float]] = {}
    for _ in range(3):
        for item in job.applicable:
            desk.go(item.key)
            answer = job.answers.get(item.key)
            text = answer.raw if answer and answer.raw else "1"
            slowest = max(key_press(desk, text[:end]) for end in range(1, len(text) + 1))
            found.setdefault(item.key, []).append(slowest)
    return {key: statistics.median(times) for key, times in found.items()}


def main() -> int:
    """Print the slowest items; 1 where one takes too long."""
    job = commission("J1", scenario(sys.argv[1] if len(sys.argv) > 1 else "fifteen_hp"))
    found = sorted(measure(job).items(), key=lambda pair: -pair[1])
    for key, seconds in found[:10]:
        print(f"{seconds * 1e3:6.2f} ms  {key}")
    print(f"{statistics.median(s for _, s in found) * 1e3:6.2f} ms  median of {len(found)} items")
    return int(found[0][1] > MOST)


if __name__ == "__main__":
    sys.exit(main())
