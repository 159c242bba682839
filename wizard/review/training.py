"""A learner's training record among the jobs: shown apart, never taken for a machine's record.

Invariant: it is known by its first two lines alone, and what is read of it is safe to show and
small, whoever wrote the file.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from wizard.errors import RecordDamaged
from wizard.record.guard import parse
from wizard.review.row import TRAINING, Row
from wizard.text import show

if TYPE_CHECKING:
    from wizard.practice.record import TrainingRecord

_MARK = b"\xef\xbb\xbf"
_FIRST = re.compile(rb'practice = true\r?\nformat = "practice training record"\r?\n')


def is_training(data: bytes) -> bool:
    """Whether these are the first bytes of a training record."""
    return _FIRST.match(data.removeprefix(_MARK)) is not None


def row(data: bytes, file: str) -> Row:
    """The row of a training record; RecordDamaged or RecordNewer where it cannot be used."""
    from wizard.practice.record import advice  # deferred: it loads the machine, jobs need none

    record = _record(data, file)
    times = [done.at for done in record.runs] + [lesson.at for lesson in record.lessons]
    runs, lessons = _many(len(record.runs), "practice run"), _many(len(record.lessons), "lesson")
    return Row(
        show(file),
        state=TRAINING,
        practice=True,
        technician=show(record.learner),
        day=max((str(at.date()) for at in times), default=str(record.begun)),
        practised=f"{runs}, {lessons}; next: {show(advice(record).scenario)}",
    )


def lines(data: bytes, file: str) -> tuple[str, ...]:
    """The record on one page; RecordDamaged or RecordNewer where it cannot be used."""
    from wizard.practice.record import summary  # deferred: as above

    return tuple(show(line) for line in summary(_record(data, file)))


def _record(data: bytes, file: str) -> TrainingRecord:
    from wizard.practice.record import loaded  # deferred: as above

    data = data.removeprefix(_MARK)
    try:
        parse(data, show(file))
    except RecordDamaged as problem:
        said = f"this training record is damaged: {problem.what}"
        raise RecordDamaged(said, problem.file, problem.where) from None
    return loaded(data.decode())


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"
