"""Bytes over the link for every item of a job: each key typed, each answer accepted.

python -m tests.benchmarks.link_bytes [SCENARIO]
"""

from __future__ import annotations

import asyncio
import statistics
import sys
from datetime import UTC, datetime

from tests.demo.maker import Scenario, scenario, text_for
from tests.tui.counting import A_KEY, AN_ITEM, counting
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.settings import settings_from

Cost = tuple[int, str, str]


def new_job(given: Scenario) -> Job:
    """A job of the scenario with nothing answered."""
    settings = settings_from({"practice": given.practice})
    start = datetime(2026, 3, 2, 8, tzinfo=UTC)
    return Job.new(Header("J1", "0" * 32, start, given.units, settings=settings), procedure())


async def measure(given: Scenario, most: int = 10_000) -> tuple[list[Cost], list[Cost]]:
    """Bytes of each key and of each accepted answer, with item and key, to the first hold."""
    keys: list[Cost] = []
    items: list[Cost] = []
    async with counting(new_job(given)) as (walk, app):
        while len(items) < most and not walk.job.holds() and walk.job.open_items():
            item = walk.work.desk.item
            text = text_for(item, given)
            app.count()
            for char in text:
                await walk.type(char)
                keys.append((app.count(), item.key, char))
            await walk.press("enter")
            if walk.screen.status.asking:
                await walk.type("y", "enter")
            items.append((app.count(), item.key, text))
            if item.key not in walk.job.answers:
                raise AssertionError(f"{item.key} does not take {text!r}:\n{walk.text}")
    return keys, items


def main() -> int:
    """Print the dearest; 1 where one is over its budget."""
    name = sys.argv[1] if len(sys.argv) > 1 else "fifteen_hp"
    keys, items = asyncio.run(measure(scenario(name)))
    for what, costs, most in (("key", keys, A_KEY), ("item", items, AN_ITEM)):
        sizes = [c[0] for c in costs]
        print(f"{len(sizes)} {what}s: median {statistics.median(sizes):.0f} B, budget {most} B")
        for size, key, text in sorted(costs, reverse=True)[:12]:
            print(f"  {size:5} B  {key}  {text!r}")
    return int(max(keys)[0] > A_KEY or max(items)[0] > AN_ITEM)


if __name__ == "__main__":
    sys.exit(main())
