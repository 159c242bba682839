"""The numbers of a job that can be held against those of other jobs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from zlib import crc32

from wizard.job import Job
from wizard.procedure.item import Procedure

METRICS: Mapping[str, tuple[str, str, tuple[str, ...]]] = {
    "pump-up ratio": ("pumpup_time", "ratio", ("pumpup.end_temperature", "pumpup.series")),
    "leak rate": ("leak_decay", "share", ("leak.package_end_temperature", "leak.package")),
    "voltage unbalance": (
        "voltage_unbalance",
        "unbalance",
        ("running.voltage", "supply.voltage"),
    ),
    "discharge temperature": (
        "discharge_temperature",
        "air",
        ("discharge.second_stage", "discharge.single_stage"),
    ),
}
"""Name to the check, its result, and the items where it is looked for, the best first."""

FIRST_PHASE, LAST_PHASE = 5, 14
SAME_ANYWAY = ("length", "torque", "frequency", "angle", "mass", "ratio", "volume", "area", "level")
"""Quantities that are the same on machines of one kind, or are set to one value."""
NONE = "0" * 8


def metrics(job: Job) -> dict[str, float]:
    """The metrics that the job has, SI."""
    return {name: value for name in METRICS if (value := _metric(job, name)) is not None}


def _metric(job: Job, name: str) -> float | None:
    check, result, keys = METRICS[name]
    for key in keys:
        for finding in job.findings.get(key, ()):
            if finding.check == check and result in finding.results:
                return float(finding.results[result])
    return None


def measured_keys(procedure: Procedure) -> tuple[str, ...]:
    """The items that are measured afresh and come out otherwise on every machine, in order."""
    return tuple(
        item.key
        for item in procedure.items.values()
        if FIRST_PHASE <= item.phase <= LAST_PHASE
        and item.measured
        and item.quantity not in SAME_ANYWAY
        and (item.instrument or item.kind in ("time", "series"))
    )


def prints(job: Job, keys: tuple[str, ...]) -> str:
    """A fingerprint of each reading as typed, so that equal ones can be counted."""
    return "".join(_print(job, key) for key in keys)


def _print(job: Job, key: str) -> str:
    answer = job.answers.get(key)
    return f"{crc32(answer.raw.encode()) or 1:08x}" if answer and answer.raw else NONE


def split(packed: str, keys: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """Items and their fingerprints, those without a reading left out."""
    for number, key in enumerate(keys):
        one = packed[8 * number : 8 * number + 8]
        if one and one != NONE:
            yield key, one
