"""`wizard report`: the handover sheet, and the maintenance plan for a calendar."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

from wizard.calendar_file import calendar
from wizard.commands.output import FAILED, GOOD, narrate
from wizard.errors import InputError, Refused, StoreError
from wizard.job import Job
from wizard.procedure import procedure
from wizard.record.plan import first_day
from wizard.report.blocks import Sheet
from wizard.report.html import html
from wizard.report.md import markdown
from wizard.report.proof import Evidence
from wizard.report.sheet import sheet
from wizard.report.txt import text
from wizard.review.last_seen import LastSeen
from wizard.review.look import Lens, Look, look
from wizard.review.trust import Trust
from wizard.service import due
from wizard.store import now
from wizard.store.files import Folder, sentence
from wizard.text import show

WRITERS: Mapping[str, Callable[[Sheet], str]] = {"md": markdown, "html": html, "txt": text}
FORMATS = (*WRITERS, "ics")


def run(args: argparse.Namespace) -> int:
    """Write the sheet where it is asked for, else print it.

    A sheet of an unfinished job is a sheet; one of a job that is held or not sound warns.
    """
    form = form_of(args.format, args.output, terminal=sys.stdout.isatty())
    path = Path(args.job)
    with Folder(path.parent) as folder:
        data, _ = folder.read(path.name)
    seen, place = LastSeen.load(), str(path.parent.resolve())
    lens = Lens(now(), Trust.own(), seen.known(), None, seen.places(), place)
    found = look(data, path.name, procedure(), lens)
    made = dates(found.job, show(path.name)) if form == "ics" else written(found, form, args.units)
    if args.output:
        save(Path(args.output), made)
        narrate(f"{show(args.output)} is written.")
    elif sys.stdout.isatty():
        sys.stdout.write(made.decode())
    else:
        sys.stdout.buffer.write(made)
        sys.stdout.buffer.flush()
    return FAILED if found.row.error or found.job.holds() else GOOD


def form_of(asked: str | None, output: str, *, terminal: bool = False) -> str:
    """The format asked for, else that of the name, else text to read on a terminal or Markdown."""
    ending = os.path.splitext(output)[1].removeprefix(".").casefold()  # noqa: PTH122
    known = {"markdown": "md", "htm": "html"}.get(ending, ending)
    if asked is None and output and known not in FORMATS:
        raise InputError("-o", show(output), f"a name that ends in .{', .'.join(FORMATS)}")
    return asked or (known if output else "txt" if terminal else "md")


def written(found: Look, form: str, system: str | None) -> bytes:
    """The sheet in a format."""
    loaded, row = found.loaded, found.row
    problems = [str(p) for p in loaded.grave] or ([row.error] if row.error else [])
    evidence = Evidence(
        row.file,
        loaded.sha256,
        loaded.revision,
        row.seq,
        row.chain,
        found.checked,
        problems,
        found.older,
    )
    return WRITERS[form](sheet(found.job, evidence, now(), system or "")).encode()


def dates(job: Job, file: str) -> bytes:
    """The maintenance plan as an iCalendar file, from what was done at visits on."""
    tasks, start = due(job, rounds=True), first_day(job)
    if not tasks or start is None:
        raise Refused(f"{file} has no maintenance dates yet: its first day of use is open.")
    label = job.answers.get("machine.label")
    machine = show(label.raw) if label else job.header.id
    return calendar(tasks, machine, job.header.uuid, start, now())


def save(path: Path, data: bytes) -> None:
    """Put a file in its place whole; never in the place of a record."""
    if path.suffix == ".toml" or path.name.endswith((".toml.bak", ".lock")):
        raise InputError("-o", show(path.name), "a name that is not that of a job file")
    with Folder(path.parent) as folder:
        try:
            folder.replace(path.name, data, None)
        except OSError as problem:
            said = f"{show(path)} is not written: {sentence(problem)}."
            raise StoreError(said) from None
