"""`wizard practise`: a simulated machine, on the screen or in plain lines; guided training.

Modules are imported where they are needed, so that the first frame is there at once.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wizard.commands.output import GOOD, print_lines
from wizard.commands.people import who
from wizard.commands.site import site
from wizard.errors import InputError

if TYPE_CHECKING:
    from wizard.commands.exercise import Exercise
    from wizard.commands.shelf import InHand, Shelf
    from wizard.tui.doors import Door

HIGHEST_SEED = 10**9


def run(args: argparse.Namespace) -> int:
    """List the scenarios, or practise."""
    if args.list:
        from wizard.practice.scenario import listing

        print_lines(listing())
        return GOOD
    from wizard.commands.screen import plain_terminal

    learner = who(args.learner or args.by)
    if plain_terminal():
        from wizard.commands import practise_lines

        return practise_lines.run(learner, args.scenario, seed_from(args.seed), args.resume)
    from wizard.tui import app  # deferred: Textual loads only where a screen is opened

    own = site()
    return app.run(
        learner,
        opening=chooser(learner, args.scenario, seed_from(args.seed), args.resume),
        look=args.look or own.look,
        mouse=own.mouse and not args.no_mouse,
        keys=own.keys,
        words="Practice",
        remark=own.warnings[0] if own.warnings else "",
    )


def seed_from(text: str) -> int | None:
    """The seed as typed; None where there is none."""
    if not text:
        return None
    if not text.isascii() or not text.isdecimal() or int(text[:12]) > HIGHEST_SEED:
        raise InputError("seed", text[:20], f"a whole number from 0 to {HIGHEST_SEED}")
    return int(text)


def chooser(
    learner: str,
    name: str = "",
    seed: int | None = None,
    resume: bool = False,
    home: Door | None = None,
) -> Door:
    """Leads to the choice of a scenario, to one's briefing, or to the run left last."""
    if name:
        from wizard.practice.scenario import check_name

        check_name(name)

    def way() -> Any:
        from wizard.commands.shelf import Shelf
        from wizard.memo import warm_apart

        warm_apart()
        shelf, back = Shelf(learner), chooser(learner, home=home)
        if resume:
            return _latest(shelf, name, back)()
        return _choice(shelf, name, seed, back, home)

    return way


def _latest(shelf: Shelf, name: str, back: Door) -> Door:
    """Leads to the run that was left last, of a scenario where one is named."""
    from wizard.commands import exercise

    held = [one for one in shelf.in_hand() if not name or one.run.scenario.name == name]
    if not held:
        raise InputError("--resume", "no run in hand", "a run that was left")
    return _site(shelf.learner, lambda: exercise.resume(shelf, held[0]), back)


def _choice(shelf: Shelf, name: str, seed: int | None, back: Door, home: Door | None) -> Any:
    """What makes the screen of the scenarios, with one's briefing open where it is named."""
    from wizard.commands import exercise
    from wizard.keys import table
    from wizard.practice.scenario import ENDLESS
    from wizard.tui.practise_choose import ChooseScreen, Ways

    record, held = shelf.training(), shelf.in_hand()

    def seed_of(scenario: str) -> int:
        return exercise.next_seed(record, scenario) if seed is None else seed

    def begin(scenario: str, of: int) -> Door:
        return _site(shelf.learner, lambda: exercise.begin(shelf, scenario, of), back)

    def go_on(one: InHand) -> Door:
        return _site(shelf.learner, lambda: exercise.resume(shelf, one), back)

    wanted = name or (ENDLESS if seed is not None else "")
    first = (wanted, seed_of(wanted)) if wanted else None
    ways = Ways(seed_of, begin, go_on, home)
    return lambda: ChooseScreen(table(site().keys), ways, record, held, first)


def _site(learner: str, take: Callable[[], Exercise], back: Door) -> Door:
    """Leads to the site with a run, made or taken up in the thread of the door."""

    def way() -> Any:
        from wizard.keys import table
        from wizard.tui.parts import default_parts
        from wizard.tui.practise import PractiseScreen

        one = take()
        parts, commands = default_parts(), table(site().keys)
        return lambda: PractiseScreen(commands, one, learner, parts, back)

    return way


def guided(path: Path, learner: str) -> Door:
    """Leads to a real job with its explanation open and limits asked first."""

    def way() -> Any:
        from wizard.commands.screen import opening
        from wizard.commands.shelf import Shelf
        from wizard.keys import table
        from wizard.tui.guided import GuidedScreen
        from wizard.tui.parts import default_parts

        shelf = Shelf(learner)
        shelf.training()
        session, parts = opening(path, learner)(), default_parts()
        return lambda: GuidedScreen(table(site().keys), session, learner, parts, shelf.learned)

    return way
