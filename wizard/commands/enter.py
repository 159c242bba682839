"""`wizard enter`: answers without a screen, through the same gate."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

from wizard import actions
from wizard.actions import Hand, NeedsConfirmation, NeedsReason, item_of
from wizard.commands.output import FAILED, GOOD, UNFINISHED, narrate
from wizard.commands.people import hand, host, who
from wizard.errors import InputError, StoreError
from wizard.finding import Finding
from wizard.job import Job
from wizard.logger_file import read_log
from wizard.procedure import procedure
from wizard.render import finding_lines, units_for, value_text
from wizard.store import Session, open_job
from wizard.store.files import Folder
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Take the answers given, or ask one question at a time."""
    with open_job(Path(args.job), procedure(), who(args.by), host()) as session:
        if session.read_only:
            raise StoreError(session.read_only)
        for warning in session.warnings:
            narrate(warning)
        if not (args.answers or args.na or args.note):
            from wizard.commands.dialogue import ask_all  # deferred: only for a conversation

            return ask_all(session, args)
        return _enter(session, args)


def _enter(session: Session, args: argparse.Namespace) -> int:
    worst = GOOD
    for word in args.na:
        key, reason = pair(word)
        session.save(actions.waive(session.job, key, reason, hand(args.by)))
    for word in args.answers:
        key, text = pair(word)
        job = give(session.job, key, text, hand(args.by), args)
        session.save(job)
        worst = max(worst, report(job, key))
    for word in args.note:
        key, text = pair(word)
        session.save(actions.note(session.job, key, text, hand(args.by)))
    return max(worst, FAILED if session.job.holds() else GOOD)


def pair(word: str) -> tuple[str, str]:
    """KEY=VALUE in its two parts."""
    key, equals, text = word.partition("=")
    if not equals:
        raise InputError("answer", show(word) or "nothing", "KEY=VALUE")
    return key.strip(), text


def give(job: Job, key: str, text: str, by: Hand, args: argparse.Namespace) -> Job:
    """The job with one answer; `@FILE` reads a logger's file into a series."""
    item = item_of(job, key)
    try:
        if item.kind == "series" and text.startswith("@"):
            return _logged(job, key, text[1:], by, args)
        return actions.answer(
            job,
            key,
            text,
            by,
            instrument=args.instrument,
            reason=args.reason,
            confirmed=args.confirm,
        )
    except NeedsConfirmation as doubt:
        raise NeedsConfirmation(f"{key}: {doubt} If it is right, answer with --confirm.") from None
    except NeedsReason as missing:
        was = show(value_text(item, job.answers[key]))
        what = f"change of “{item.ask}” [{key}] from {was}"
        raise InputError(what, "no reason", "--reason TEXT") from missing


def _logged(job: Job, key: str, name: str, by: Hand, args: argparse.Namespace) -> Job:
    path = Path(name)
    with Folder(path.parent) as folder:
        data, _ = folder.read(path.name)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(show(name), "bytes that are not UTF-8", "a CSV text file") from None
    units = dict(u.partition("=")[::2] for u in args.unit)
    logged = read_log(job.procedure.items[key], text, show(path.name), job.header.units, units)
    for remark in logged.remarks:
        narrate(f"{show(path.name)}: {remark}")
    job = actions.answer_parsed(
        job,
        key,
        logged.parsed,
        by,
        instrument=args.instrument,
        reason=args.reason,
        confirmed=args.confirm,
    )
    if logged.remarks:
        job = actions.note(job, key, " ".join(logged.remarks), by)
    return job


def report(job: Job, key: str, say: Callable[[str], None] = print) -> int:
    """Print the findings of an item just answered; the exit status they mean."""
    item, answer = job.procedure.items[key], job.answers.get(key)
    units = units_for(item, answer, job.header.units)
    findings: tuple[Finding, ...] = job.findings.get(key, ())
    for finding in findings:
        say(f"{key}: " + "\n  ".join(finding_lines(finding, units)))
    if any(f.holds or f.blocks_handover for f in findings):
        return FAILED
    return UNFINISHED if any(f.verdict.value in ("ADVISORY", "OPEN") for f in findings) else GOOD
