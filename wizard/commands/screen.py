"""`wizard` and `wizard open`: the screens, or plain questions where only lines can be shown."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wizard.commands.output import USAGE, narrate
from wizard.commands.people import host, who
from wizard.commands.site import site
from wizard.text import show

if TYPE_CHECKING:
    from wizard.store import Session
    from wizard.tui.doors import Doors


def run(args: argparse.Namespace) -> int:
    """Open the working screen on a job, or the start screen."""
    path = Path(args.job) if getattr(args, "job", "") else None
    guided = getattr(args, "guided", False)
    if plain_terminal():
        if guided:
            narrate("Guided training needs a screen; these are the plain questions, ? explains.")
        return _plain(path, args)
    from wizard.commands import practise
    from wizard.tui import app  # deferred: Textual loads only where a screen is opened

    person, own = who(args.by), site()
    way = practise.guided if guided else opening
    return app.run(
        person,
        opening=way(path, person) if path else None,
        doors=None if path else _doors(person),
        look=args.look or own.look,
        mouse=own.mouse and not args.no_mouse,
        keys=own.keys,
        words=show(path.name) if path else "",
        remark=own.warnings[0] if own.warnings else "",
    )


def plain_terminal() -> bool:
    """Whether the terminal can only take lines."""
    return os.environ.get("TERM", "dumb") == "dumb" or not (
        sys.stdin.isatty() and sys.stdout.isatty()
    )


def opening(path: Path, person: str) -> Callable[[], Session]:
    """Opens the job when called, and remembers it."""

    def open_it() -> Session:
        from wizard.memo import warm_apart  # deferred: after the first paint
        from wizard.procedure import procedure
        from wizard.recent import remember
        from wizard.store import open_job

        warm_apart()
        session = open_job(path, procedure(), person, host())
        remember(path)
        return session

    return open_it


def _plain(path: Path | None, args: argparse.Namespace) -> int:
    if path is None:
        narrate(
            "This terminal shows plain lines only: name a job, as “wizard open JOB.toml”, or "
            "start one with “wizard new ID”."
        )
        return USAGE
    from wizard.commands import enter
    from wizard.memo import warm_procedure

    warm_procedure()
    args.answers, args.na, args.note = [], [], []
    args.instrument = ""
    return enter.run(args)


def _doors(person: str) -> Doors:
    from wizard.commands import practise
    from wizard.commands.reviewing import review_door
    from wizard.tui.doors import Doors, Recent

    def recent() -> list[Recent]:
        from wizard.recent import known

        return [
            Recent(str(k.path), show(k.summary.id), _about(k.summary.state, k.summary.open))
            for k in known(Path.cwd())
        ]

    def create(job_id: str, units: str, practice: str, machine: str) -> Session:
        from wizard.commands.new import make
        from wizard.memo import warm_apart

        warm_apart()
        return make(job_id, Path.cwd(), person, units=units, practice=practice, machine=machine)

    def vet(job_id: str) -> None:
        from wizard.commands.new import free

        free(job_id, Path.cwd())

    def home() -> Any:
        from wizard.keys import table
        from wizard.tui.start import StartScreen

        found = list(doors.recent())
        return lambda: StartScreen(table(site().keys), doors, found)

    doors = Doors(
        recent=recent,
        open=lambda path: opening(Path(path), person)(),
        create=create,
        review=review_door(Path.cwd(), person),
        who=person,
        units=site().units or "us",
        practice=site().practice_for,
        vet=vet,
        practise=practise.chooser(person, home=home),
    )
    return doors


def _about(state: str, left: int) -> str:
    return f"{show(state)}, {left} open" if left else show(state)
