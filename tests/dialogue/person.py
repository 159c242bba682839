"""Somebody who types prepared lines."""

from __future__ import annotations

import argparse
from pathlib import Path

import pytest

from tests.small import small_procedure
from wizard.actions import Hand
from wizard.commands.dialogue import ask_all
from wizard.job import Job
from wizard.store import now, open_job, read_job

SMALL = small_procedure()
PLATES = ("three", "460", "compressor 4", "y", "1", "4")
"""Answers up to the strict phase."""


class Person:
    """Types prepared lines; at their end the input ends."""

    def __init__(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.path, self._capsys = path, capsys
        self.prompts: list[str] = []

    def type(self, *lines: str) -> str:
        """A conversation with these lines; what was said."""
        waiting = iter(lines)

        def line(prompt: str) -> str:
            self.prompts.append(prompt)
            try:
                return next(waiting)
            except StopIteration:
                raise EOFError from None

        args = argparse.Namespace(by="Tess Tester", instrument="")
        with open_job(self.path, SMALL, "Tess Tester", "box") as session:
            self.status = ask_all(session, args, line)
        return self._capsys.readouterr().out

    @property
    def job(self) -> Job:
        """The record as it is on the disk."""
        return read_job(self.path, SMALL).job

    def save(self, change: object) -> None:
        """Something done to the record by somebody else."""
        with open_job(self.path, SMALL, "Lee Lead", "box") as session:
            assert callable(change)
            session.save(change(session.job))


def hand() -> Hand:
    """Somebody acting now."""
    return Hand("Lee Lead", now())
