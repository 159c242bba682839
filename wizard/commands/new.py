"""`wizard new`: a new record, plate data optionally from a machine file or an earlier job."""

from __future__ import annotations

import argparse
import uuid
from pathlib import Path

from wizard.commands.check import status
from wizard.commands.output import narrate
from wizard.commands.people import hand, host, who
from wizard.job import Header
from wizard.machine_file import prefill, read_machine
from wizard.procedure import procedure
from wizard.record import check_id, file_of
from wizard.settings import settings_from
from wizard.store import create_job, now
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Make the record; with --open, work on it at once."""
    machine = read_machine(Path(args.machine)) if args.machine else None
    units = args.units or (machine.units if machine else "us")
    practice = args.practice or (machine.practice if machine else "US")
    header = Header(
        check_id(args.id),
        uuid.uuid4().hex,
        now(),
        units,
        settings=settings_from({"practice": practice}),
    )
    path = Path(args.folder) / file_of(header.id)
    with create_job(path, header, procedure(), who(args.by), host()) as session:
        if machine:
            job = prefill(session.job, machine, hand(args.by), show(Path(args.machine).name))
            session.save(job)
        made = session.job
    narrate(f"{show(path)} is made; {len(made.answers)} of its items are answered.")
    if args.open:
        from wizard.commands import screen  # deferred: screens load only where one is opened

        args.job, args.guided = str(path), False
        return screen.run(args)
    return 1 if status(made) == 1 else status(made)
