"""What a save costs, as ratios on one machine in one run.  python -m tests.benchmarks.save"""

from __future__ import annotations

import os
import re
import secrets
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import tomli_w

from tests.store.jobs import answered, create, long_job
from wizard import record, store
from wizard.procedure import procedure
from wizard.record import Writer
from wizard.store.files import Folder

ROUNDS = 60
DEMO = Path(__file__).parents[2] / "demo_jobs"


def median(*tasks: Callable[[], object]) -> list[float]:
    """Median milliseconds of each task; the tasks take turns, so that they share the noise."""
    times: list[list[float]] = [[] for _ in tasks]
    for _ in range(ROUNDS):
        for task, spent in zip(tasks, times, strict=True):
            begun = time.perf_counter()
            task()
            spent.append(1000 * (time.perf_counter() - begun))
    return [statistics.median(spent) for spent in times]


def bare(folder: Path, data: bytes) -> None:
    """The least that is durable: temp, fsync, rename, fsync of the folder."""
    temp = folder / secrets.token_hex(6)
    fd = os.open(temp, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o640)
    os.write(fd, data)
    os.fsync(fd)
    os.close(fd)
    temp.rename(folder / "bare.toml")
    fd = os.open(folder, os.O_RDONLY)
    os.fsync(fd)
    os.close(fd)


def durable(folder: Folder, data: bytes) -> None:
    """What a session does with the bytes: read again, compare, replace, keep the copy."""
    old = folder.read("T1.toml")
    sha256(old[0]).hexdigest()
    folder.replace("T1.toml", data, old)


def measure(items: int, at: Path) -> None:
    """Print the ratios for a job with this many answers."""
    job = long_job(items)
    with create(at, job) as session, Folder(at) as folder:
        data = (at / "T1.toml").read_bytes()
        tables = tomllib.loads(data.decode())
        bare_ms, durable_ms = median(lambda: bare(at, data), lambda: durable(folder, data))
        session.close()
    with store.open_job(at / "T1.toml", job.procedure, "Tess", "box") as session:

        def save() -> None:
            session.save(answered(session.job, session.revision % items))

        save()
        apply_ms, save_ms, dump_ms, first_ms, load_ms, parse_ms = median(
            lambda: answered(session.job, session.revision % items),
            save,
            lambda: tomli_w.dumps(tables),
            lambda: Writer().dumps(job, 1),
            lambda: record.loads(data, job.procedure, "T1.toml"),
            lambda: tomllib.loads(data.decode()),
        )
    save_ms -= apply_ms
    print(f"{items} answers, {len(data) / 1000:.0f} kB")
    print(
        f"  durable write  {durable_ms:6.2f} ms   {durable_ms / bare_ms:5.2f} x bare (at most 1.6)"
    )
    print(f"  whole save     {save_ms:6.2f} ms   {save_ms / dump_ms:5.2f} x tomli_w (at most 2.0)")
    print(f"  first text     {first_ms:6.2f} ms   {first_ms / dump_ms:5.2f} x tomli_w")
    print(
        f"  load           {load_ms:6.2f} ms   {load_ms / parse_ms:5.2f} x tomllib (at most 1.35)"
    )


def loaded(path: Path) -> None:
    """Print the size of a record, and what it costs to load and to judge."""
    data, asked = path.read_bytes(), procedure()
    job = record.loads(data, asked, path.name).job
    load_ms, parse_ms, judge_ms = median(
        lambda: record.loads(data, asked, path.name),
        lambda: tomllib.loads(data.decode()),
        lambda: job.judged(tuple(asked.items)),
    )
    print(f"{path.name}, {len(data) / 1000:.0f} kB")
    print(
        f"  load           {load_ms:6.2f} ms   {load_ms / parse_ms:5.2f} x tomllib, "
        f"of which {judge_ms / parse_ms:.2f} to judge"
    )


ONE_SAVE = """
import sys
from pathlib import Path
from tests.store.jobs import answered, create, long_job
session = create(Path(sys.argv[1]), long_job(5))
job = answered(session.job, 3, "229 V")
Path(sys.argv[1], "marker").exists()
session.save(job)
"""


def flushes(at: Path) -> int:
    """How often one save flushes, counted by strace."""
    log = at / "strace.log"
    calls = "trace=fsync,fdatasync,sync,newfstatat,stat"
    run: list[str | Path] = ["strace", "-f", "-qq", "-e", calls, "-o", log]
    subprocess.run([*run, sys.executable, "-c", ONE_SAVE, at], check=True)
    after = log.read_text().partition("/marker")[2]
    return len(re.findall(r" (?:fsync|fdatasync|sync)\(", after))


def main() -> None:
    """All sizes, the demo jobs, then the flushes."""
    for items in (60, 200, 700):
        with tempfile.TemporaryDirectory() as at:
            measure(items, Path(at))
    for path in sorted(DEMO.glob("*.toml")):
        loaded(path)
    if shutil.which("strace"):
        with tempfile.TemporaryDirectory() as at:
            print(f"flushes in one save: {flushes(Path(at))} (exactly 2)")


if __name__ == "__main__":
    main()
