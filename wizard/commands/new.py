"""`wizard new`: a new record, plate data optionally from a machine file or an earlier job."""

from __future__ import annotations

import argparse
import sys
import uuid
from pathlib import Path

from wizard.actions import Hand
from wizard.commands import screen
from wizard.commands.output import GOOD, narrate
from wizard.commands.people import host, who
from wizard.commands.site import site
from wizard.errors import InputError, StoreError
from wizard.job import Header
from wizard.machine_file import prefill, read_machine
from wizard.procedure import procedure
from wizard.recent import remember
from wizard.record import check_id, file_of
from wizard.settings import one_of
from wizard.store import Session, create_job, now
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Make the record; with --open, work on it at once.

    Somebody at a terminal who names no practice and takes no plates over is asked for it.
    """
    units = args.units or ("" if args.machine else site().units or "us")
    practice = args.practice or ""
    if units and not practice and not args.machine and attended():
        free(args.id, Path(args.folder))
        practice = _asked(site().practice_for(units))
    with make(
        args.id,
        Path(args.folder),
        who(args.by),
        units=units,
        practice=practice,
        machine=args.machine or "",
    ) as session:
        job, path = session.job, session.path
    rules = f"{job.header.units} units and {job.header.settings.practice} electrical practice"
    narrate(f"{show(path)} is made for {rules}; {len(job.answers)} of its items are answered.")
    if args.open:
        args.job = str(path)
        return screen.run(args)
    return GOOD


def attended() -> bool:
    """Whether somebody sees a question and can answer it."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def _asked(proposed: str) -> str:
    """The electrical practice that somebody types; Enter takes the one proposed.

    InputError where the input ends: nothing is made of a question that was left.
    """
    while True:
        try:
            typed = input(f"Electrical practice of the place, US or IEC [{proposed}]: ")
        except EOFError:
            raise InputError("Practice", "nothing", "US or IEC") from None
        try:
            return one_of("Practice", typed.strip() or proposed, ("US", "IEC"))
        except InputError as problem:
            narrate(str(problem))


def free(job_id: str, folder: Path) -> None:
    """InputError where the id cannot name a job, StoreError where its file is there already."""
    path = folder / file_of(job_id)
    if path.exists():
        raise StoreError(f"{show(path.name)} exists already; it is not overwritten.")


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

    Units and practice are the machine file's where none are given, else those of the settings;
    where those name no practice, it is the one that goes with the units.
    """
    source = Path(machine).expanduser()
    plates = read_machine(source) if machine else None
    units = units or (plates.units if plates else site().units or "us")
    practice = practice or (plates.practice if plates else site().practice_for(units))
    rules = site().settings(practice=practice)
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
