"""What a lead needs to know of one file, small enough to keep ten thousand of them.

Invariant: every file of a folder gets a row, whatever it is; a row that cannot be relied on says
so in one sentence.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields
from typing import Any

UNREADABLE, TRAINING = "unreadable", "training record"
"""States of a file that holds no job."""
FEW = 12
"""Doubts and sentences kept of one record; their number is kept in full."""


@dataclass(frozen=True, slots=True)
class Row:
    """One file. `error` is why it cannot be relied on, `shaky` that it was read all the same.

    `open_bits` are the open items as bits in the order of the procedure, `prints` a fingerprint
    of eight characters for each measured item, `doubts` rule, item and sentence, `practised` what a
    training record comes to.
    """

    file: str
    job: str = ""
    state: str = UNREADABLE
    error: str = ""
    uuid: str = ""
    units: str = ""
    practice: bool = False
    revision: int = 0
    seq: int = 0
    chain: str = ""
    machine: str = ""
    site: str = ""
    technician: str = ""
    day: str = ""
    holds: tuple[str, ...] = ()
    failures: tuple[str, ...] = ()
    advisories: tuple[str, ...] = ()
    open_bits: int = 0
    answered: int = 0
    doubts: tuple[tuple[str, str, str], ...] = ()
    doubtful: int = 0
    differences: int = 0
    corrected: int = 0
    remarks: int = 0
    decision: str = ""
    signed: tuple[tuple[str, str, str, bool | None, str], ...] = ()
    visits: tuple[tuple[int, str, bool], ...] = ()
    metrics: Mapping[str, float] = field(default_factory=dict)
    prints: str = ""
    practised: str = ""
    verified: bool = True

    @property
    def is_job(self) -> bool:
        """Whether there is a job in the file."""
        return self.state not in (UNREADABLE, TRAINING)

    @property
    def is_training(self) -> bool:
        """Whether a learner's training record is in the file."""
        return self.state == TRAINING

    @property
    def open(self) -> int:
        """How many items are open."""
        return self.open_bits.bit_count()

    @property
    def trusted(self) -> bool:
        """Whether the file was verified and nothing says that it was changed outside the tool."""
        return self.verified and self.is_job and not self.error

    @property
    def concerns(self) -> int:
        """Doubts, and differences from what was seen."""
        return self.doubtful + bool(self.differences)


NAMES = tuple(f.name for f in fields(Row))


def plain(row: Row) -> list[Any]:
    """The row as a list that JSON takes; `row_of` reads it."""
    return [getattr(row, name) for name in NAMES]


def row_of(given: Sequence[Any]) -> Row:
    """The row that `plain` wrote."""
    values = dict(zip(NAMES, given, strict=True))
    for name in ("holds", "failures", "advisories"):
        values[name] = tuple(values[name])
    for name in ("doubts", "signed", "visits"):
        values[name] = tuple(tuple(one) for one in values[name])
    return Row(**values)


def keys_of(bits: int, keys: Sequence[str]) -> list[str]:
    """The items whose bits are set.

    >>> keys_of(0b101, ["a", "b", "c"])
    ['a', 'c']
    """
    return [key for number, key in enumerate(keys) if bits >> number & 1]


def bits_of(wanted: Sequence[str], places: Mapping[str, int]) -> int:
    """The bits of some items by their place in the procedure."""
    bits = 0
    for key in wanted:
        bits |= 1 << places[key]
    return bits
