"""Many jobs side by side: what is usual, what stands out, whose readings look copied.

Invariant: pure; an outlier is named by a stated robust rule and never judged as a failure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from statistics import fmean, median

from wizard.sources import Source

OUTLIER_SCORE = 3.5
FEWEST = 5
OUTLIER_RULE = Source(
    "modified z-score 0.6745 (x - median) / MAD beyond 3.5 with at least 5 jobs, the mean "
    "deviation times 1.2533 in its place where the MAD is nothing, Iglewicz and Hoaglin 1993",
    "memory",
)
COPIED_SHARE = 0.7
COPIED_FEWEST = 8
"""Two jobs of one technician look copied when so many readings, and this share, are the same."""
COPIED_MANY = 20
"""A reading that more jobs than this share is compared between neighbours only."""

METRICS = {
    "pump-up ratio": "measured pump-up time over predicted",
    "leak rate": "leak over rated delivery",
    "voltage unbalance": "largest deviation from the mean",
    "discharge temperature": "final stage, as measured",
}


@dataclass(frozen=True, slots=True)
class Entry:
    """What comparison needs of one job; `metrics` are SI, `readings` the text as typed by key."""

    file: str
    job: str
    technician: str
    site: str
    model: str
    metrics: Mapping[str, float] = field(default_factory=dict)
    readings: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Spread:
    """One metric over a group of jobs: the values in order, their median and MAD.

    `mean` is the mean deviation from the median, which stands in where more than half of the
    jobs have one and the same value and the MAD is nothing.
    """

    metric: str
    values: tuple[tuple[float, Entry], ...]
    middle: float
    mad: float
    mean: float = 0.0

    def score(self, value: float) -> float:
        """The modified z-score of a value; 0 where the group has no spread and it fits."""
        if self.mad:
            return 0.6745 * (value - self.middle) / self.mad
        if self.mean:
            return (value - self.middle) / (1.253314 * self.mean)
        return 0.0 if value == self.middle else float("inf")

    def outliers(self) -> tuple[tuple[float, Entry], ...]:
        """The entries that the rule names; none in a group that is too small."""
        if len(self.values) < FEWEST:
            return ()
        return tuple(v for v in self.values if abs(self.score(v[0])) > OUTLIER_SCORE)


def spread(entries: Sequence[Entry], metric: str) -> Spread | None:
    """The spread of one metric; None where no job has it.

    >>> jobs = [Entry(str(n), "J", "T", "S", "M", {"leak rate": v})
    ...         for n, v in enumerate((0.010, 0.011, 0.012, 0.011, 0.010, 0.045))]
    >>> [entry.file for _, entry in spread(jobs, "leak rate").outliers()]
    ['5']
    """
    values = sorted(
        ((e.metrics[metric], e) for e in entries if metric in e.metrics),
        key=lambda v: (v[0], v[1].file),
    )
    if not values:
        return None
    middle = median(v for v, _ in values)
    away = [abs(v - middle) for v, _ in values]
    return Spread(metric, tuple(values), middle, median(away), fmean(away))


def alike(entries: Sequence[Entry], to: Entry, by: str) -> tuple[Entry, ...]:
    """The entries with the same "model" or "site" as `to`."""
    wanted = getattr(to, by)
    return tuple(e for e in entries if getattr(e, by) == wanted and wanted)


def strip(of: Spread, mine: Entry, width: int = 48, ascii_only: bool = False) -> str:
    """The distribution as one line: a mark a job, this job's mark different, the median a bar."""
    dot, several, own, bar = (".", ":", "X", "|") if ascii_only else ("·", "∶", "◆", "│")
    low, high = of.values[0][0], of.values[-1][0]
    size = (high - low) or 1.0

    def column(value: float) -> int:
        return round((value - low) / size * (width - 1))

    cells = [" "] * width
    cells[column(of.middle)] = bar
    for value, entry in of.values:
        at = column(value)
        if entry.file == mine.file:
            cells[at] = own
        elif cells[at] != own:
            cells[at] = dot if cells[at] in (" ", bar) else several
    return "".join(cells)


@dataclass(frozen=True, slots=True)
class Copied:
    """Two jobs of one technician whose readings are too much alike."""

    technician: str
    first: str
    second: str
    same: int
    shared: int


def copied(entries: Sequence[Entry]) -> Iterator[Copied]:
    """Pairs of jobs of one technician on different machines with the same readings."""
    groups: dict[str, list[Entry]] = {}
    for entry in entries:
        groups.setdefault(entry.technician, []).append(entry)
    for technician, group in groups.items():
        for one, other in _candidates(group):
            shared = [k for k in one.readings if k in other.readings]
            same = sum(one.readings[k] == other.readings[k] for k in shared)
            if same >= COPIED_FEWEST and same >= COPIED_SHARE * len(shared):
                yield Copied(technician, one.file, other.file, same, len(shared))


def _candidates(group: Sequence[Entry]) -> Iterator[tuple[Entry, Entry]]:
    """Pairs that share enough readings to be compared.

    A reading that many jobs share ties each of them to the next one only, so that the work grows
    with the number of jobs and one sheet written into all of them is found all the same.
    """
    holders: dict[tuple[str, str], list[int]] = {}
    for number, entry in enumerate(group):
        for reading in entry.readings.items():
            holders.setdefault(reading, []).append(number)
    ties: Counter[tuple[int, int]] = Counter()
    for numbers in holders.values():
        few = len(numbers) <= COPIED_MANY
        ties.update(combinations(numbers, 2) if few else pairwise(numbers))
    for (one, other), count in sorted(ties.items()):
        if count >= COPIED_FEWEST:
            yield group[one], group[other]
