"""One question at a time in plain lines, for a dumb terminal or a screen reader."""

from __future__ import annotations

import argparse
import sys

from wizard import actions
from wizard.actions import NeedsConfirmation, NeedsReason
from wizard.commands.check import status
from wizard.commands.enter import report
from wizard.commands.people import hand
from wizard.errors import InputError, Refused, StoreError, WizardError
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.store import Session
from wizard.text import show

HELP = (
    "Commands: ? why and how; n NOTE; x REASON not applicable; g KEY go to an item; "
    "s skip; l what is left; q quit."
)


class Leave(Exception):
    """The person wants to stop."""


def ask_all(session: Session, args: argparse.Namespace) -> int:
    """Ask from the next open item on until nothing is left or the person quits."""
    print(HELP)
    skipped: set[str] = set()
    item = session.job.next_item()
    try:
        while item is not None:
            after = _ask(session, item, args)
            skipped.add(item.key) if after == "skip" else skipped.discard(item.key)
            item = _next(session.job, item, after, skipped)
    except (Leave, EOFError, KeyboardInterrupt):
        print()
    job = session.job
    print(f"{job.header.id}: {job.state}, {len(job.open_items())} items open.")
    return status(job)


def _next(job: Job, item: Item, after: str, skipped: set[str]) -> Item | None:
    if after in job.procedure.items:
        return job.procedure.items[after]
    if job.holds() and job.next_item() is not item:
        return job.next_item()
    left = [i for i in job.open_items() if not job.refusal(i.key) and i.key not in skipped]
    return next((i for i in left if i.place > item.place), left[0] if left else None)


def _ask(session: Session, item: Item, args: argparse.Namespace) -> str:
    """Ask one item until it is answered; "" then, "skip", or the key to go to."""
    _present(session.job, item)
    while True:
        text = _line("> ")
        word, _, rest = text.partition(" ")
        if word in ("q", "s", "l", "?", "g", "n", "x") and not (
            item.kind in ("write", "choose") and word not in ("q", "?", "s")
        ):
            done = _command(session, item, word, rest.strip(), args)
            if done is not None:
                return done
            continue
        try:
            job = _answered(session.job, item, text, args)
            session.save(job)
        except (InputError, Refused, StoreError) as problem:
            print(problem)
            continue
        report(job, item.key)
        _say_holds(job)
        return ""


def _answered(job: Job, item: Item, text: str, args: argparse.Namespace) -> Job:
    reason, confirmed = "", False
    while True:
        try:
            return actions.answer(
                job,
                item.key,
                text,
                hand(args.by),
                reason=reason,
                confirmed=confirmed,
                instrument=args.instrument,
            )
        except NeedsConfirmation as doubt:
            if _line(f"{doubt} Is {show(text)} right? (y/n) ").casefold() not in ("y", "yes"):
                raise InputError(item.ask, "a value taken back", "the reading again") from None
            confirmed = True
        except NeedsReason:
            before = job.answers[item.key].raw
            reason = _line(f"It was {show(before)}. Why is it corrected? ")
            if not reason:
                raise


def _command(
    session: Session, item: Item, word: str, rest: str, args: argparse.Namespace
) -> str | None:
    """Do a command; what to do next, or None to ask again."""
    if word == "q":
        raise Leave
    if word == "s":
        return "skip"
    if word == "?":
        _explain(item)
    elif word == "l":
        for left in session.job.open_items():
            print(f"  {left.phase:2d} {left.key}  {left.ask}")
    elif word == "g":
        if rest in session.job.procedure.items:
            return rest
        print(f"No item {show(rest)}; “l” lists what is left.")
    else:
        act = actions.note if word == "n" else actions.waive
        try:
            session.save(act(session.job, item.key, rest, hand(args.by)))
        except WizardError as problem:
            print(problem)
            return None
        return "" if word == "x" else None
    return None


def _present(job: Job, item: Item) -> None:
    phase = job.procedure.phase_of(item.key)
    left = sum(i.phase == item.phase for i in job.open_items())
    print(
        f"\nPhase {phase.number} of {len(job.procedure.phases)}, {phase.title}: "
        f"{left} open here, {len(job.open_items())} in all."
    )
    if phase.person:
        print(f"To be done by: {phase.person}.")
    if item.caution:
        print(f"Caution: {item.caution}")
    if why_not := job.refusal(item.key):
        print(why_not)
    unit = f" [{item.unit_in(job.header.units)}]" if item.measured else ""
    labels = f" ({', '.join(item.labels)})" if item.labels else ""
    print(f"{item.ask}{labels}{unit}")
    for number, option in enumerate(item.options, 1):
        print(f"  {number} {option}" if item.numbered else f"  {option}")
    if before := job.answers.get(item.key):
        print(f"Answered before: {show(before.raw)}")


def _explain(item: Item) -> None:
    for name in ("caution", "why", "how", "mistake"):
        if text := getattr(item, name):
            print(f"{name.capitalize()}: {text}")
    print(HELP)


def _say_holds(job: Job) -> None:
    for hold in job.holds():
        held = job.procedure.items[hold.key]
        print(
            f"HELD in phase {hold.phase} by {hold.key}, “{held.ask}”: {hold.finding.text} "
            f"{hold.finding.clears}"
        )


def _line(prompt: str) -> str:
    print(prompt, end="", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line.strip()
