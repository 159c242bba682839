"""The jobs of a folder side by side: what is usual for a machine, what stands out, what is copied.

Invariant: an outlier and a likeness are places to look, by the stated rules of the comparison.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from wizard.fleet import FEWEST, METRICS, Copied, Entry, Spread, alike, copied, spread, strip
from wizard.quantities import Quantity
from wizard.render import Units
from wizard.review.metrics import split
from wizard.review.row import Row

KINDS = {
    "pump-up ratio": "number",
    "leak rate": "ratio",
    "voltage unbalance": "ratio",
    "discharge temperature": "temperature",
}


@dataclass(frozen=True)
class Comparison:
    """What the jobs of a folder say of each other, by file."""

    outliers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    copied: Mapping[str, tuple[Copied, ...]] = field(default_factory=dict)


def entry(row: Row, measured: Sequence[str] = ()) -> Entry:
    """A row as comparison takes it, with its readings where `measured` names them."""
    model = " ".join(row.machine.casefold().split())
    site = " ".join(row.site.casefold().split())
    readings = dict(split(row.prints, tuple(measured))) if measured else {}
    return Entry(row.file, row.job, row.technician, site, model, row.metrics, readings)


def comparable(rows: Iterable[Row]) -> list[Row]:
    """The rows of machines: what holds no job, and practice, is left out; a job counts once."""
    out: dict[str, Row] = {}
    for row in rows:
        if row.is_job and row.verified and not row.practice:
            out.setdefault(row.uuid, row)
    return list(out.values())


def compare(rows: Iterable[Row], measured: Sequence[str]) -> Comparison:
    """Outliers among the same machines, and likenesses within one technician."""
    jobs = comparable(rows)
    outliers: dict[str, list[str]] = {}
    for group in _groups(jobs, "machine"):
        entries = [entry(row) for row in group]
        for metric in METRICS:
            found = spread(entries, metric)
            for _, odd in found.outliers() if found else ():
                outliers.setdefault(odd.file, []).append(metric)
    likenesses: dict[str, list[Copied]] = {}
    for group in _groups(jobs, "technician"):
        for pair in copied([entry(row, measured) for row in group]):
            for file in (pair.first, pair.second):
                likenesses.setdefault(file, []).append(pair)
    return Comparison(
        {file: tuple(names) for file, names in outliers.items()},
        {file: tuple(pairs) for file, pairs in likenesses.items()},
    )


def _groups(rows: Iterable[Row], by: str) -> Iterator[list[Row]]:
    groups: dict[str, list[Row]] = {}
    for row in rows:
        name = " ".join(str(getattr(row, by)).casefold().split())
        groups.setdefault(name, []).append(row)
    return (group for name, group in groups.items() if name and len(group) > 1)


def lines(
    rows: Iterable[Row], mine: Row, by: str, units: Units, ascii_only: bool = False
) -> Iterator[str]:
    """The metrics of one job among the others with the same "model" or "site", drawn."""
    own = entry(mine)
    others = alike([entry(row) for row in comparable(rows)], own, by)
    if len(others) < 2:
        yield f"No other job of the same {by}."
        return
    yield f"{len(others)} jobs of the same {by}"
    for metric, about in METRICS.items():
        found = spread(others, metric)
        if found is None:
            continue
        kind = KINDS[metric]
        low, high = found.values[0][0], found.values[-1][0]
        ends = f"{_text(low, kind, units):>9} {strip(found, own, 40, ascii_only)}"
        yield f"{metric:<22}{ends} {_text(high, kind, units)}"
        yield f"{'':<22}{_standing(found, own, kind, units)} ({about})"


def _standing(found: Spread, own: Entry, kind: str, units: Units) -> str:
    """Where this job is in the distribution, in words."""
    middle = f"median {_text(found.middle, kind, units)}"
    if found.metric not in own.metrics:
        return f"not measured here; {middle}"
    value = own.metrics[found.metric]
    said = f"here {_text(value, kind, units)}, {middle}"
    if len(found.values) < FEWEST:
        return f"{said}; too few jobs to name an outlier"
    odd = any(e.file == own.file for _, e in found.outliers())
    return f"{said}; OUTLIER" if odd else f"{said}; usual"


def _text(value: float, kind: str, units: Units) -> str:
    return units.text(Quantity(value, kind), 3)
