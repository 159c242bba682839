"""What a review costs, as ratios on one machine in one run.

    python -m tests.benchmarks.review             a few minutes
    python -m tests.benchmarks.review --fleet N   N records of 40 kB, 1 % of them hostile

Every ratio is beside the bare parser of the standard library on the same bytes, on processor
time where one process does the work and on the wall clock where several share it.
"""

from __future__ import annotations

import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from tests.demo.fleet import MACHINES, finished, sibling
from tests.store.hostile import endless, unsound
from wizard.job import Job
from wizard.procedure import procedure
from wizard.record import dumps
from wizard.review.folder import Review
from wizard.review.look import Lens, look
from wizard.review.work import alone

NOW = datetime(2026, 12, 1, tzinfo=UTC)
ROUNDS = 15
SMALL = 40_000


def spent(*tasks: Callable[[], object]) -> list[float]:
    """Median processor milliseconds of each task; they take turns and share the noise."""
    times: list[list[float]] = [[] for _ in tasks]
    for _ in range(ROUNDS):
        for task, took in zip(tasks, times, strict=True):
            begun = time.process_time()
            task()
            took.append(1000 * (time.process_time() - begun))
    return [statistics.median(took) for took in times]


def part(job: Job, size: int) -> Job:
    """The job up to the event where its record is about so large."""
    low, high = 1, len(job.events)
    while low < high:
        middle = (low + high) // 2
        cut = Job.replay(job.header, job.procedure, job.events[:middle])
        low, high = (middle + 1, high) if len(dumps(cut, 1)) < size else (low, middle)
    return Job.replay(job.header, job.procedure, job.events[:low])


def one_record() -> None:
    """Seal, history and recomputation of every check against the bare parser."""
    whole = finished("fifteen_hp")
    for job in (part(whole, SMALL), whole):
        data = dumps(job, 1)
        parsed, looked = spent(
            lambda data=data: tomllib.loads(data.decode()),  # type: ignore[misc]
            lambda data=data: look(data, "BASE.toml", procedure(), Lens(NOW)),  # type: ignore[misc]
        )
        print(
            f"one record of {len(data) / 1000:4.0f} kB  {looked:6.1f} ms  "
            f"{looked / parsed:5.2f} x tomllib (at most 2)"
        )


def made(folder: Path, count: int, size: int = 0) -> None:
    """A folder of records, of about `size` bytes where that is given."""
    rng = random.Random(4)
    bases = [sibling(machine, n, rng) for n, machine in enumerate(MACHINES * 3)]
    if size:
        bases = [part(job, size) for job in bases]
    for number in range(count):
        base = bases[number % len(bases)]
        header = replace(base.header, id=f"J{number:05d}", uuid=f"{number:032x}")
        job = Job.replay(header, base.procedure, base.events)
        (folder / f"{header.id}.toml").write_bytes(dumps(job, 1))


def timed(folder: Path, **options: int | bool) -> tuple[float, Review]:
    """Seconds by the wall clock of a review of the folder."""
    begun = time.perf_counter()
    review = Review(folder, NOW, **options)  # type: ignore[arg-type]
    for _ in review.run():
        pass
    return time.perf_counter() - begun, review


def parse_all(paths: Sequence[str]) -> None:
    """The bare parser over some files."""
    for path in paths:
        tomllib.loads(Path(path).read_text("utf-8"))


def folders(count: int = 300) -> None:
    """Two processors against one, and an unchanged folder again."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        made(folder, count, SMALL)
        names = [path.name for path in sorted(folder.iterdir())]
        list(alone(folder, names[:20], Lens(NOW)))
        begun, worked = time.perf_counter(), time.process_time()
        list(alone(folder, names, Lens(NOW)))
        one, one_worked = time.perf_counter() - begun, time.process_time() - worked
        begun = time.perf_counter()
        with ProcessPoolExecutor(2) as pool:
            paths = [str(folder / n) for n in names]
            list(pool.map(parse_all, [paths[::2], paths[1::2]]))
        bare = time.perf_counter() - begun
        start, few = _two(folder, 16)
        two, both = _two(folder, count)
        own, children = (b - f for b, f in zip(both, few, strict=True))
        again, review = timed(folder, processes=2)
        print(
            f"{count} records: one process {one:.1f} s, two {two:.1f} s, of it {start:.1f} s to "
            f"begin\n"
            f"  two against one        {(two - start) / one:5.2f} by the clock (at most 0.6), "
            f"{(own + children / 2) / one_worked:.2f} by processor time\n"
            f"  two against the parser {two / bare:5.2f} on the same two processors\n"
            f"  unchanged again        {again / two:6.4f} (at most 0.02), {review.looked} looked at"
        )


def _two(folder: Path, count: int) -> tuple[float, tuple[float, float]]:
    """A review of so many of the files by two processes: seconds, and processor time of its own
    and of the processes."""
    with tempfile.TemporaryDirectory() as place:
        few = Path(place) if count < len(list(folder.iterdir())) else folder
        if few is not folder:
            for path in sorted(folder.iterdir())[:count]:
                (few / path.name).write_bytes(path.read_bytes())
        before = os.times()
        seconds, _ = timed(few, processes=2, fresh=True)
        after = os.times()
    own = after.user + after.system - before.user - before.system
    children = after.children_user + after.children_system
    return seconds, (own, children - before.children_user - before.children_system)


MEMORY = """
import resource, sys
from pathlib import Path
from tests.benchmarks.review import timed
timed(Path(sys.argv[1]), processes=2, fresh=True)
own = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print(own, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


def memory(counts: Sequence[int] = (50, 500)) -> None:
    """The largest size of the review and of its processes, for few and for many files."""
    for count in counts:
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place)
            made(folder, count, SMALL)
            done = subprocess.run(
                [sys.executable, "-c", MEMORY, place], capture_output=True, text=True, check=True
            )
            own, child = (int(n) / 1024 for n in done.stdout.split())
            print(f"{count:6d} records: {own:5.0f} MiB the review, {child:5.0f} MiB a process")


def fleet(count: int) -> None:
    """Thousands of records with 1 % hostile ones: all bad ones listed, the others unharmed."""
    bad = [data for _, data in (*endless(), *unsound()) if len(data) < 8_000_000]
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        made(folder, count, SMALL)
        clean, _ = timed(folder, fresh=True)
        step = 100
        for number in range(0, count, step):
            (folder / f"J{number:05d}.toml").write_bytes(bad[number // step % len(bad)])
        seconds, review = timed(folder, fresh=True)
        wrong = sum(1 for row in review.rows.values() if row.error)
        again, _ = timed(folder)
        own = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"{count} records in {seconds:.0f} s ({seconds / clean:.2f} x without the bad ones), "
            f"{wrong} of {len(range(0, count, step))} bad ones listed, again {again:.2f} s "
            f"({again / seconds:.4f}), {own:.0f} MiB"
        )


def main(words: Sequence[str]) -> None:
    """All of it, or one large folder."""
    with tempfile.TemporaryDirectory() as home:
        for name in ("STATE", "CACHE", "CONFIG"):
            os.environ[f"XDG_{name}_HOME"] = f"{home}/{name}"
        if words[:1] == ["--fleet"]:
            fleet(int(words[1]))
            return
        one_record()
        folders()
        memory()


if __name__ == "__main__":
    main(sys.argv[1:])
