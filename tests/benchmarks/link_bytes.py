"""Bytes over the link for every item of a job: each key typed, each answer accepted.

python -m tests.benchmarks.link_bytes [JOB.toml]

Without a record a new job is answered on the way.
"""

from __future__ import annotations

import asyncio
import statistics
import sys
from datetime import UTC, datetime
from pathlib import Path

from tests.tui.counting import CountingApp
from tests.tui.fake import FakeClock, FakeDrafts, FakeSession
from tests.tui.robot import good_text
from tests.tui.walk import Walk, arrived
from wizard.job import Header, Job
from wizard.pictures.choice import picture
from wizard.procedure import procedure
from wizard.store import read_job
from wizard.tui.parts import Parts, dates_of

A_KEY, AN_ITEM = 400, 1500
Cost = tuple[int, str, str]


async def measure(job: Job, most: int = 10_000) -> tuple[list[Cost], list[Cost]]:
    """Bytes of each key and of each accepted answer, with item and key."""
    session = FakeSession(job)
    parts = Parts(FakeClock(), FakeDrafts(), picture, dates_of)
    app = CountingApp("Tess Tester", opening=lambda: session, parts=parts)
    keys: list[Cost] = []
    items: list[Cost] = []
    async with app.run_test(size=(80, 24)) as pilot:
        walk = Walk(app, session, pilot)
        await arrived(walk)
        for _ in range(most):
            item = session.job.next_item(walk.work.desk.key)
            if item is None or session.job.holds():
                break
            if item.key != walk.work.desk.key:
                await walk.go(item.key)
            text = good_text(session.job, item)
            app.count()
            for char in text:
                await walk.type(char)
                keys.append((app.count(), item.key, char))
            await walk.press("enter")
            if walk.screen.status.asking:
                await walk.type("y", "enter")
            items.append((app.count(), item.key, text))
            if item.key not in session.job.answers:
                print(f"stopped at {item.key} with {text!r}:\n{walk.text}")
                break
    return keys, items


def main() -> int:
    """Print the dearest; 1 where one is over its budget."""
    if len(sys.argv) > 1:
        job = read_job(Path(sys.argv[1]), procedure()).job
    else:
        job = Job.new(Header("J1", "0" * 32, datetime(2026, 3, 2, 8, tzinfo=UTC)), procedure())
    keys, items = asyncio.run(measure(job))
    for name, costs, most in (("key", keys, A_KEY), ("item", items, AN_ITEM)):
        sizes = [c[0] for c in costs]
        print(f"{len(sizes)} {name}s: median {statistics.median(sizes):.0f} B, budget {most} B")
        for size, key, text in sorted(costs, reverse=True)[:12]:
            print(f"  {size:5} B  {key}  {text!r}")
    return int(max(keys)[0] > A_KEY or max(items)[0] > AN_ITEM)


if __name__ == "__main__":
    sys.exit(main())
