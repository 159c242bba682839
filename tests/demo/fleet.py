"""Many jobs of invented machines in one folder, a few of them tampered with, a few careless.

Each is a finished job of a scenario with its own readings, day, technician and place; the same
seed makes the same folder.  python -m tests.demo.fleet FOLDER [COUNT]
"""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from tests.demo.maker import START, commission, scenario
from tests.test_record import sealed
from wizard.actions import Hand
from wizard.job import Act, Event, Job
from wizard.procedure import procedure
from wizard.record import dumps
from wizard.review.metrics import measured_keys
from wizard.signing import sign_off

MACHINES = ("fifteen_hp", "five_hp")
PEOPLE = ("Tess Example", "Noor Example", "Ivo Example", "Ada Example")
PLACES = ("Alder Mill", "Birch Yard", "Cedar Works", "Dune Garage", "Elm Depot")
SPREAD, APART = 0.015, 0.002
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


@dataclass(frozen=True)
class Fleet:
    """What was made: every job by file, and why some of them are not to be trusted."""

    jobs: Mapping[str, Job]
    tampered: Mapping[str, str]
    careless: Mapping[str, str]


@cache
def finished(machine: str) -> Job:
    """A job of a scenario, finished."""
    job = commission("BASE", scenario(machine))
    assert job.state == "finished", (machine, [i.key for i in job.failures()])
    return job


def sibling(machine: str, number: int, rng: random.Random, person: str = "") -> Job:
    """Another machine like that one, with readings of its own that pass as well."""
    base = finished(machine)
    job_id, uuid = f"F{number:03d}", f"{rng.getrandbits(128):032x}"
    moved = timedelta(days=number // 3, minutes=rng.randrange(300))
    header = replace(base.header, id=job_id, uuid=uuid, created=base.header.created + moved)
    by = person or PEOPLE[number % len(PEOPLE)]
    place = f"{PLACES[number % len(PLACES)]} (invented)"
    keys = set(measured_keys(base.procedure))
    given = {e.key: _varied(e, rng) for e in base.events if e.key in keys and "raw" in e.data}
    while True:
        events = tuple(_moved(e, moved, by, given, place) for e in base.events)
        job = Job.replay(header, base.procedure, events)
        spoilt = _spoilt(base, job, given)
        if not spoilt:
            return job
        given = {key: data for key, data in given.items() if key not in spoilt}


def _spoilt(base: Job, job: Job, given: Mapping[str, Any]) -> set[str]:
    """Varied readings whose item, or one that depends on it, is judged otherwise than before."""
    out: set[str] = set()
    for key in job.procedure.items:
        before, after = base.finding(key), job.finding(key)
        if before and after and before.verdict is not after.verdict:
            out |= {k for k in given if k == key or key in job.procedure.dependents[k]}
    return out


def _moved(
    event: Event, by: timedelta, who: str, given: Mapping[str, Mapping[str, Any]], place: str
) -> Event:
    data = dict(event.data)
    if event.act in (Act.ANSWERED, Act.CORRECTED) and event.key in given:
        data |= given[event.key]
    if event.key == "job.site" and "raw" in data:
        data |= {"raw": place, "value": place}
    return replace(event, at=event.at + by, by=who, data=data)


def _varied(event: Event, rng: random.Random) -> dict[str, Any]:
    """The reading a little off, in as many decimals; a set keeps together, a series its times."""
    data = event.data
    factor = 1 + rng.uniform(-SPREAD, SPREAD)

    def shifted(number: str, least: int = 0) -> str:
        decimals = max(least, len(number.partition(".")[2]))
        return f"{float(number) * factor * (1 + rng.uniform(-APART, APART)):.{decimals}f}"

    if ";" in data["raw"]:
        pairs = [p.split(maxsplit=2) for p in data["raw"].split(";")]
        rows = [(p[0], f"{float(p[1]) * factor:.1f}") for p in pairs]
        raw = "; ".join(f"{t} {v}" for t, v in rows) + "".join(f" {u}" for u in pairs[-1][2:])
        return {"raw": raw, "value": [[float(t), float(v)] for t, v in rows]}
    raw = NUMBER.sub(lambda match: shifted(match[0]), data["raw"])
    numbers = [float(n) for n in NUMBER.findall(raw)]
    value = data.get("value")
    if isinstance(value, list) and len(numbers) >= len(value):
        return {"raw": raw, "value": numbers[: len(value)]}
    return {"raw": raw, "value": numbers[0]} if isinstance(value, float) else {}


# -- what is not to be trusted ---------------------------------------------------------


def edited(job: Job) -> bytes:
    """A reading changed in the file, in entry and history, and the seal made anew."""
    answer = job.answers["relief.set"]
    text = dumps(job, 1).decode()
    return sealed(text.replace(f'"{answer.raw}"', f'"9{answer.raw}"'))


def rewritten(job: Job) -> bytes:
    """A signed job with a reading changed and its whole history made anew."""
    answer = job.answers["relief.set"]
    value = 2 * float(str(answer.value))
    doubled = {"raw": f"{value:g} {answer.unit}", "value": value}
    events = (
        replace(e, data={**e.data, **doubled}) if e.seq == answer.seq else e for e in job.events
    )
    return dumps(Job.replay(job.header, job.procedure, events), 2)


def hasty(job: Job) -> Job:
    """The same answers, each a second after the one before."""
    start = job.events[0].at
    return _timed(job, lambda n: start + timedelta(seconds=n))


def _timed(job: Job, at: Callable[[int], datetime]) -> Job:
    events = tuple(replace(e, at=at(n)) for n, e in enumerate(job.events))
    return Job.replay(job.header, job.procedure, events)


def copied_from(other: Job, number: int, rng: random.Random) -> Job:
    """A job whose readings are those of another machine."""
    made = sibling("five_hp", number, rng, other.events[0].by)
    given = {k: {"raw": a.raw, "value": _listed(a.value)} for k, a in other.answers.items()}
    keys = set(measured_keys(other.procedure))
    events = tuple(
        replace(e, data={**e.data, **given[e.key]})
        if e.key in keys and e.key in given and e.act is Act.ANSWERED
        else e
        for e in made.events
    )
    return Job.replay(made.header, made.procedure, events)


def _listed(value: Any) -> Any:
    return [_listed(v) for v in value] if isinstance(value, tuple) else value


def make(folder: Path, count: int = 100, seed: int = 7) -> Fleet:
    """A folder of `count` jobs: three tampered with, of which one waits for `put_back`."""
    rng = random.Random(seed)
    jobs: dict[str, Job] = {}
    for number in range(1, count - 1):
        job = sibling(MACHINES[number % len(MACHINES)], number, rng)
        jobs[f"{job.header.id}.toml"] = job
    careless = {
        "hasty": hasty(sibling("five_hp", count - 1, rng)),
        "copied": copied_from(jobs["F003.toml"], count, rng),
    }
    for job in careless.values():
        jobs[f"{job.header.id}.toml"] = job
    for name, job in jobs.items():
        (folder / name).write_bytes(dumps(job, 1))
    (folder / "F005.toml").write_bytes(edited(jobs["F005.toml"]))
    signed = sign_off(jobs["F008.toml"], "technician", "complete", "tess", after(jobs["F008.toml"]))
    (folder / "F008.toml").write_bytes(rewritten(signed))
    return Fleet(
        jobs,
        {"F005.toml": "edited", "F008.toml": "rewritten", "F011.toml": "put back"},
        {f"{job.header.id}.toml": why for why, job in careless.items()},
    )


def after(job: Job) -> Hand:
    """Whoever gave the last answer, a minute later."""
    last = job.events[-1]
    return Hand(last.by, last.at + timedelta(minutes=1))


def put_back(folder: Path, fleet: Fleet) -> None:
    """The record of F011 as it was a hundred events ago, after somebody has seen it whole."""
    job = fleet.jobs["F011.toml"]
    earlier = Job.replay(job.header, job.procedure, job.events[:-100])
    (folder / "F011.toml").write_bytes(dumps(earlier, 1))


def main(words: Iterable[str]) -> None:
    """Make a folder and say what is in it."""
    place, *rest = words
    folder = Path(place)
    folder.mkdir(parents=True, exist_ok=True)
    fleet = make(folder, int(rest[0]) if rest else 100)
    print(f"{len(fleet.jobs)} jobs from {START:%Y-%m-%d} on; {fleet.tampered} {fleet.careless}")
    print(f"procedure {procedure().version}")


if __name__ == "__main__":
    main(sys.argv[1:])
