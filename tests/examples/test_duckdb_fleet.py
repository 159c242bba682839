"""The engine answers as the review does, from the lines that the review writes."""

from __future__ import annotations

import io
import json
import random
from collections.abc import Iterator
from contextlib import redirect_stdout
from pathlib import Path

import pytest

from tests.demo.fleet import copied_from, edited, sibling
from tests.examples.duckdb_fleet import COPIED, OUTLIERS, USUAL, WAITING, load
from wizard.cli import main
from wizard.fleet import spread
from wizard.job import Job
from wizard.record import dumps
from wizard.review.compare import comparable, entry
from wizard.review.folder import Review
from wizard.store import now


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Twelve jobs of two machines, one leaking, one copied, one edited, and a file that is none."""
    place = tmp_path_factory.mktemp("jobs")
    rng = random.Random(11)
    jobs = [sibling(("five_hp", "fifteen_hp")[n % 2], n, rng) for n in range(1, 12)]
    jobs.append(copied_from(jobs[2], 12, rng))
    for job in jobs:
        (place / f"{job.header.id}.toml").write_bytes(dumps(_leaking(job), 1))
    (place / "F005.toml").write_bytes(edited(jobs[4]))
    (place / "CUT.toml").write_bytes(b"nothing")
    return place


def _leaking(job: Job) -> Job:
    """F007 with a package hold that falls more than anywhere else."""
    if job.header.id != "F007":
        return job
    from dataclasses import replace

    events = []
    for event in job.events:
        data = dict(event.data)
        if event.key == "leak.package":
            first = data["value"][0][1]
            rows = [[t, round(first - 2.5 * t / 1800, 2)] for t, _ in data["value"]]
            raw = "; ".join(f"{t:g} {v}" for t, v in rows) + " psi"
            data |= {"value": rows, "raw": raw}
        events.append(replace(event, data=data))
    return Job.replay(job.header, job.procedure, events)


@pytest.fixture(scope="module")
def lines(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """What `review --jsonl` writes."""
    place, told = tmp_path_factory.mktemp("lead"), io.StringIO()
    with pytest.MonkeyPatch.context() as patch:
        for name in ("STATE", "CACHE", "CONFIG"):
            patch.setenv(f"XDG_{name}_HOME", str(place / name.lower()))
        with redirect_stdout(told):
            main(["review", str(folder), "--jsonl"])
        path = place / "fleet.jsonl"
        path.write_text(told.getvalue())
        yield path


def test_every_line_is_one_file(lines: Path) -> None:
    assert len([json.loads(line) for line in lines.read_text().splitlines()]) == 13
    fleet = load(lines)
    assert fleet.sql("SELECT count(*) FROM jobs").fetchall() == [(13,)]
    bad = fleet.sql("SELECT file FROM jobs WHERE error IS NOT NULL ORDER BY file").fetchall()
    assert bad == [("CUT.toml",), ("F005.toml",)]


def test_distributions_are_those_of_the_review(lines: Path, folder: Path) -> None:
    review = Review(folder, now())
    rows = comparable(list(review.run()))
    for model, metric, jobs, least, middle, most, mad, _ in load(lines).sql(USUAL).fetchall():
        alike = [e for e in map(entry, rows) if e.model == model]
        found = spread(alike, metric)
        assert found is not None and len(found.values) == jobs
        assert (least, most) == (found.values[0][0], found.values[-1][0])
        assert abs(middle - found.middle) < 1e-12 and abs(mad - found.mad) < 1e-12


def test_the_leaking_machine_stands_out(lines: Path) -> None:
    found = load(lines).sql(OUTLIERS).fetchall()
    assert ("F007.toml", "leak rate") in {(file, metric) for file, metric, *_ in found}
    reviewed = {
        (job["file"], metric)
        for job in map(json.loads, lines.read_text().splitlines())
        for metric in job["outliers"]
    }
    assert {(file, metric) for file, metric, *_ in found} == reviewed


def test_copied_readings_are_found(lines: Path) -> None:
    (pair,) = load(lines).sql(COPIED).fetchall()
    assert pair[1:3] == ("F003.toml", "F012.toml") and pair[3] == pair[4] > 40


def test_technicians_are_told_apart(lines: Path) -> None:
    found = load(lines).sql(WAITING).fetchall()
    assert sum(jobs for _, jobs, *_ in found) == 12
    assert sum(not_sound for *_, not_sound, _ in found) == 1
