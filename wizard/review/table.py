"""Rows put in order, chosen and written as columns, for the screen and for scripts.

Invariant: what needs a lead's attention comes first unless another order is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from wizard.review.compare import Comparison
from wizard.review.row import Row

NONE = Comparison()
ALIKE = 3
"""So many jobs with the same readings are named."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its title, what it shows, and what it is sorted by."""

    name: str
    title: str
    text: Callable[[Row], str]
    order: Callable[[Row], Any]


def _counted(name: str, title: str, count: Callable[[Row], int]) -> Column:
    return Column(name, title, lambda r: str(count(r)) if r.is_job else "", lambda r: -count(r))


def _named(name: str, title: str, text: Callable[[Row], str]) -> Column:
    return Column(name, title, text, lambda r: (not text(r), text(r).casefold()))


def attention(row: Row) -> tuple[int, ...]:
    """What comes first: what cannot be relied on, what is held, what is no record, what failed.

    Then what is doubtful; of the jobs in work those come last that are hardly begun.
    """
    if not row.is_job:
        return (2,)
    if row.error:
        return (0,)
    if row.holds:
        return (1, -len(row.holds))
    if row.failures:
        return (3, -len(row.failures))
    if row.concerns:
        return (4, -row.concerns)
    return (5 + (row.state == "finished") + (row.decision == "accepted"), row.open)


def state_text(row: Row) -> str:
    """The state in words, with what the lead decided."""
    if not row.is_job:
        return row.state
    said = "sent back, replied to" if row.decision == "answered" else row.decision
    return f"{row.state}, {said}" if said else row.state


COLUMNS: tuple[Column, ...] = (
    Column("attention", "", lambda r: "", attention),
    _named("job", "Job", lambda r: r.job or r.file),
    _named("machine", "Machine", lambda r: r.machine),
    _named("site", "Place", lambda r: r.site),
    _named("technician", "Technician", lambda r: r.technician),
    Column("day", "Date", lambda r: r.day, lambda r: (not r.day, _backwards(r.day))),
    _named("state", "State", state_text),
    _counted("holds", "Holds", lambda r: len(r.holds)),
    _counted("failures", "Failures", lambda r: len(r.failures)),
    _counted("advisories", "Advisories", lambda r: len(r.advisories)),
    _counted("open", "Open", lambda r: r.open),
    _counted("doubts", "Doubts", lambda r: r.concerns),
)
BY_NAME: Mapping[str, Column] = {c.name: c for c in COLUMNS}


def _backwards(day: str) -> tuple[int, ...]:
    """So that the newest day comes first."""
    return tuple(-ord(c) for c in day)


FILTERS: Mapping[str, tuple[str, Callable[[Row, Comparison], bool]]] = {
    "all": ("all files", lambda r, a: True),
    "attention": (
        "held, failed, doubtful or damaged",
        lambda r, a: bool(r.error or r.holds or r.failures or doubts_of(r, a)),
    ),
    "held": ("held or failed", lambda r, a: bool(r.holds or r.failures)),
    "doubts": ("with doubts", lambda r, a: bool(doubts_of(r, a))),
    "damaged": ("not to be relied on", lambda r, a: bool(r.error)),
    "finished": ("finished, waiting for you", lambda r, a: waits(r)),
    "returned": ("sent back", lambda r, a: r.decision in ("returned", "answered")),
    "accepted": ("accepted", lambda r, a: r.decision == "accepted"),
    "practice": ("practice runs and training records", lambda r, a: r.practice),
    "training": ("training records", lambda r, a: r.is_training),
}


def others_text(count: int, folders: int = 0) -> str:
    """What of a folder has no row: files that do not claim to be a job, and folders, in one line.

    >>> others_text(1), others_text(3), others_text(0, 1), others_text(2, 4)
    ('1 other file', '3 other files', '1 folder not looked into', \
'2 other files, 4 folders not looked into')
    """
    said = [f"{count} other file{'' if count == 1 else 's'}"] if count else []
    if folders:
        said.append(f"{folders} folder{'' if folders == 1 else 's'} not looked into")
    return ", ".join(said)


def waits(row: Row) -> bool:
    """Whether a finished job waits for the lead to accept it or send it back."""
    finished = row.state == "finished" and row.decision != "accepted"
    return finished and not row.error and not row.practice


def chosen(
    rows: Iterable[Row],
    only: str = "all",
    word: str = "",
    by: str = "attention",
    against: Comparison = NONE,
) -> list[Row]:
    """The rows of a filter that contain a word, in order; practice runs come after the others.

    Training records come last: they are of people, not of machines.
    """
    keep = FILTERS[only][1]
    folded = word.casefold()
    order = BY_NAME[by].order
    found = [r for r in rows if keep(r, against) and (not folded or folded in _searched(r))]
    return sorted(found, key=lambda r: (r.practice + r.is_training, order(r), r.file))


def _searched(row: Row) -> str:
    parts = (row.file, row.job, row.machine, row.site, row.technician, state_text(row), row.error)
    return " ".join(parts).casefold()


def doubts_of(row: Row, against: Comparison = NONE) -> list[str]:
    """Every reason to look twice, as sentences; what other jobs say of it included."""
    said = [f"{text} ({key})" if key else text for _, key, text in row.doubts]
    if row.doubtful > len(row.doubts):
        said.append(f"{row.doubtful - len(row.doubts)} more doubts of these kinds.")
    if row.differences:
        many = "items are" if row.differences > 1 else "item is"
        said.append(f"{row.differences} {many} judged differently from what was seen.")
    return said + across(row, against)


def across(row: Row, against: Comparison) -> list[str]:
    """What the other jobs of the folder say of this one."""
    odd = against.outliers.get(row.file, ())
    said = [f"Its {name} stands out among the same machines." for name in odd]
    for pair in against.copied.get(row.file, ())[:ALIKE]:
        other = pair.second if pair.first == row.file else pair.first
        said.append(f"{pair.same} of {pair.shared} readings are the same as in {other}.")
    return said
