"""A sheet of a job, and the text of its sections."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from wizard.job import Job
from wizard.report.blocks import (
    Sheet,
)
from wizard.report.proof import Evidence
from wizard.report.sheet import sheet
from wizard.report.txt import text

MADE = datetime(2026, 4, 1, 12, 0, tzinfo=UTC)
EVIDENCE = Evidence("BASE.toml", "a" * 64, 7, 500, "b" * 64, (), ())


def of(job: Job, **more: str) -> Sheet:
    return sheet(job, EVIDENCE, MADE, **more)


def section(made: Sheet, title: str) -> str:
    """All text of a section."""
    (found,) = (s for s in made.sections if s.title == title)
    return text(replace(made, warnings=(), sections=(found,)))
