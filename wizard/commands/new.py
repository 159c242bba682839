"""`wizard new`: a new record, plate data optionally from a machine file or an earlier job."""

from __future__ import annotations

import argparse
import uuid
from pathlib import Path

from wizard.actions import Hand
from wizard.commands import screen
from wizard.commands.check import status
from wizard.commands.output import narrate
from wizard.commands.people import host, who
from wizard.commands.site import site
from wizard.job import Header
from wizard.machine_file import prefill, read_machine
from wizard.procedure import procedure
from wizard.recent import remember
from wizard.record import check_id, file_of
from wizard.store import Session, create_job, now
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Make the record; with --open, work on it at once."""
    with make(
        args.id,
        Path(args.folder),
        who(args.by),
        units=args.units or "",
        practice=args.practice or "",
        machine=args.machine or "",
    ) as session:
        job, path = session.job, session.path
    narrate(f"{show(path)} is made; {len(job.answers)} of its items are answered.")
    if args.open:
        args.job = str(path)
        return screen.run(args)
    return status(job)


def make(
    job_id: str,
    folder: Path,
    person: str,
    *,
    units: str = "",
    practice: str = "",
    machine: str = "",
) -> Session:
    """A new job in `folder`, with the plate data of a machine file or an earlier job.

    Units and practice are the machine file's where none are given, else those of the settings.
    """
    source = Path(machine).expanduser()
    plates = read_machine(source) if machine else None
    units = units or (plates.units if plates else site().units or "us")
    practice = practice or (plates.practice if plates else "")
    rules = site().settings(**({"practice": practice} if practice else {}))
    header = Header(check_id(job_id), uuid.uuid4().hex, now(), units, settings=rules)
    session = create_job(folder / file_of(header.id), header, procedure(), person, host())
    try:
        if plates:
            hand = Hand(person, now())
            session.save(prefill(session.job, plates, hand, show(source.name)))
    except BaseException:
        session.close()
        session.path.unlink()
        raise
    remember(session.path)
    return session
