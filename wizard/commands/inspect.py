"""`wizard review FILE`: one job read as a lead reads it, or a training record on its page."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path

from wizard.commands.output import print_folded, print_json, print_lines
from wizard.commands.review import row_json, settings, status
from wizard.procedure import procedure
from wizard.review import training
from wizard.review.compare import Comparison
from wizard.review.inspection import sections
from wizard.review.last_seen import LastSeen
from wizard.review.look import Lens, Look, alone, look
from wizard.review.table import state_text
from wizard.review.trust import Trust
from wizard.store import now
from wizard.store.files import Folder
from wizard.text import show


def one(path: Path, args: argparse.Namespace) -> int:
    """Print what there is to say of one job, or a training record."""
    with Folder(path.parent) as folder:
        data, _ = folder.read(path.name)
    if training.is_training(data):
        return _training(data, path.name, args)
    return _job(data, path, args)


def _training(data: bytes, file: str, args: argparse.Namespace) -> int:
    row, told = training.row(data, file), training.lines(data, file)
    if args.json or args.jsonl:
        detail = {"Training record": list(told)}
        print_json(row_json(row, (), Comparison()) | {"inspection": detail})
    else:
        print_lines(told)
    return status(row)


def _job(data: bytes, path: Path, args: argparse.Namespace) -> int:
    seen = LastSeen.load()
    folder = str(path.parent.resolve())
    chosen = settings(args.setting)
    lens = Lens(now(), Trust.own(), seen.known(), chosen, seen.places(), folder)
    found = alone(look(data, path.name, procedure(), lens), path)
    row = found.row
    seen.note(row, folder)
    seen.save()
    if args.json or args.jsonl:
        detail = {s.title: list(s.lines) for s in sections(found)}
        print_json(row_json(row, tuple(procedure().items), Comparison()) | {"inspection": detail})
        return status(row)
    print_folded(_told(found, path))
    return status(row)


def _told(found: Look, path: Path) -> Iterator[str]:
    row = found.row
    practice = "  PRACTICE, not a machine" if row.practice else ""
    yield f"{row.job}  {state_text(row).upper()}{practice}  ({show(path.name)})"
    yield f"  {row.machine or 'no machine named'}; {row.site or 'no place named'}"
    yield f"  {row.technician or 'nobody'}, {row.day}; {row.answered} answered, {row.open} open"
    for section in sections(found):
        yield f"{section.title}{'  DO NOT RELY ON IT' if section.grave else ''}"
        yield from (f"  {line}" for line in section.lines)
