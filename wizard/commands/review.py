"""`wizard review`: the lead's look over a folder of jobs, or at one file of it."""

from __future__ import annotations

import argparse
import json
import shlex
import sys
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from wizard.commands.output import (
    FAILED,
    GOOD,
    UNFINISHED,
    UNREADABLE,
    columns,
    narrate,
    print_folded,
    print_json,
    print_lines,
)
from wizard.commands.rows import table_lines
from wizard.commands.screen import plain_terminal
from wizard.commands.site import site
from wizard.csv_file import Cell, csv_text
from wizard.errors import InputError, QuantityError
from wizard.quantities import from_si, parse_number, show_typed
from wizard.render import Units
from wizard.review.compare import KINDS, Comparison, compare, lines
from wizard.review.folder import Review
from wizard.review.metrics import split
from wizard.review.row import Row, keys_of
from wizard.review.table import COLUMNS, chosen, doubts_of, others_text
from wizard.settings import CHOICES, Settings, settings_from
from wizard.store import now
from wizard.text import show

EVERY = "all"
"""Stands for every missing file."""
FEW = 6
"""So many folders are named that were not looked into."""


def run(args: argparse.Namespace) -> int:
    """Show the folder: as a screen on a terminal, as lines or data where asked for."""
    path = Path(args.folder)
    forgets = bool(args.forget)
    lines = args.plain or args.json or args.jsonl or args.csv or forgets or plain_terminal()
    if path.is_file() and lines and not forgets:
        from wizard.commands.inspect import one  # deferred: a folder needs no single job

        return one(path, args)
    if not lines:
        return _screen(path, args)
    review = Review(path, now(), settings(args.setting), args.processes, args.fresh)
    _look(review)
    if forgets:
        return _forget(review, args.forget)
    against = compare(review.rows.values(), review.cache.measured)
    rows = chosen(review.rows.values(), args.only, args.search, args.sort, against)
    _print(review, rows, against, args)
    for name in review.missing:
        narrate(f"{name} was here when you looked last, and is not here now.")
    if review.missing:
        narrate("What was taken away on purpose is missed no longer after --forget FILE.")
    for problem in review.problems:
        narrate(problem)
    return max((status(row) for row in rows), default=GOOD)


def _look(review: Review) -> None:
    """Look over the folder, and say how far it is where somebody sees it."""
    shown = sys.stderr.isatty()
    for row in review.run():
        if shown and row:
            _progress(review)
    if shown:
        print("\r\x1b[K", end="", file=sys.stderr)


def _forget(review: Review, file: str) -> int:
    """Miss a file no longer, or every one; InputError for one that is not missed."""
    name, missing = show(Path(file).name), review.missing
    if not missing or name not in (*missing, EVERY):
        gone = ", ".join(missing) or "there is none"
        raise InputError("--forget", show_typed(name), f"a file that was here and is gone: {gone}")
    given_up = missing if name == EVERY else [name]
    review.forget(given_up)
    print_lines(
        f"{one} is not missed any more; its history stays known, should it come back."
        for one in given_up
    )
    return GOOD


def _progress(review: Review) -> None:
    done, total = len(review.rows), len(review.entries)
    if done % 16 == 0:
        print(f"\r{done} of {total} ", end="", file=sys.stderr, flush=True)


def settings(words: Sequence[str]) -> Settings | None:
    """The choices of this site, and those given as NAME=VALUE; None where there are none."""
    values: dict[str, Any] = dict(site().rules)
    for word in words:
        name, _, text = word.partition("=")
        accepted = CHOICES[name].values if name in CHOICES else ()
        values[name] = next((a for a in accepted if _means(text, a)), text)
    return settings_from(values) if values else None


def _means(text: str, value: Any) -> bool:
    """Whether a typed text stands for a value of a setting."""
    if str(value).casefold() == text.casefold():
        return True
    with suppress(QuantityError):
        return type(value) is float and parse_number(text) == value
    return False


def _screen(path: Path, args: argparse.Namespace) -> int:
    from wizard.commands.people import who
    from wizard.commands.reviewing import Reviewing, file_door, folder_door
    from wizard.tui import app  # deferred: Textual loads only where a screen is opened

    person, own, chosen_too = who(args.by), site(), settings(args.setting)

    def way() -> Any:
        if path.is_file():
            return file_door(Reviewing(path.parent, person, chosen_too), path.name)()
        return folder_door(Reviewing(path, person, chosen_too))()

    return app.run(
        person,
        opening=way,
        look=args.look or own.look,
        mouse=own.mouse and not args.no_mouse,
        keys=own.keys,
        words=show(path),
        remark=own.warnings[0] if own.warnings else "",
    )


def _print(review: Review, rows: list[Row], against: Comparison, args: argparse.Namespace) -> None:
    keys, measured = review.cache.keys, review.cache.measured
    if args.json:
        jobs = [row_json(row, keys, against) for row in rows]
        beside = {"others": review.others, "folders": list(review.folders)}
        print_json({"jobs": jobs, "missing": review.missing, **beside})
    elif args.jsonl:
        for row in rows:
            entry = row_json(row, keys, against) | {"readings": dict(split(row.prints, measured))}
            print(json.dumps(entry, ensure_ascii=False, allow_nan=False))
    elif args.csv:
        print(csv_text(CSV_HEAD, (_csv(row, against) for row in rows)), end="")
    else:
        wide = columns() if sys.stdout.isatty() else 0
        print_folded(table_lines(rows, against, wide))
        print_folded(_beside(review))
        if args.compare:
            _print_comparison(review, rows, args.compare)


def _beside(review: Review) -> Iterator[str]:
    """What of the folder has no row; a folder in it is reviewed by itself."""
    if said := others_text(review.others, len(review.folders)):
        yield said
    for name in review.folders[:FEW]:
        yield f"  wizard review {shlex.quote(str(review.path / name))}"
    if len(review.folders) > FEW:
        yield f"  and so on for {len(review.folders) - FEW} more"


def row_json(row: Row, keys: Sequence[str], against: Comparison) -> dict[str, Any]:
    """One file as `review --json` gives it."""
    return {
        "file": row.file,
        "job": row.job or None,
        "state": row.state,
        "holds": list(row.holds),
        "open": keys_of(row.open_bits, keys),
        "failures": list(row.failures),
        "advisories": list(row.advisories),
        "error": row.error or None,
        "uuid": row.uuid or None,
        "units": row.units or None,
        "practice": row.practice,
        "training": row.practised or None,
        "revision": row.revision,
        "machine": row.machine or None,
        "site": row.site or None,
        "technician": row.technician or None,
        "day": row.day or None,
        "answered": row.answered,
        "corrected": row.corrected,
        "differences": row.differences,
        "doubts": [{"rule": r, "key": k or None, "text": t} for r, k, t in row.doubts],
        "doubtful": row.doubtful,
        "remarks": row.remarks,
        "decision": row.decision or None,
        "signed": [
            {"role": r, "principal": p, "decision": d, "good": good, "text": text}
            for r, p, d, good, text in row.signed
        ],
        "visits": [{"number": n, "kind": k, "closed": closed} for n, k, closed in row.visits],
        "metrics": dict(row.metrics),
        "outliers": list(against.outliers.get(row.file, ())),
        "copied": [
            {"file": p.second if p.first == row.file else p.first, "same": p.same, "of": p.shared}
            for p in against.copied.get(row.file, ())
        ],
    }


CSV_METRICS = (
    ("pump_up_ratio", "pump-up ratio", "", 3),
    ("leak_rate_percent", "leak rate", "%", 2),
    ("voltage_unbalance_percent", "voltage unbalance", "%", 2),
    ("discharge_temperature_C", "discharge temperature", "°C", 1),
)
"""A heading with its unit, the metric, the unit, and to how many places it is rounded. They are
metric whatever the units of a job, because a column has one unit."""
CSV_HEAD = (
    "file",
    *(c.name for c in COLUMNS if c.title),
    "decision",
    "practice",
    "remarks",
    "corrected",
    "differences",
    *(title for title, _, _, _ in CSV_METRICS),
    "error",
    "why",
)


def _csv(row: Row, against: Comparison) -> list[Cell]:
    counts: list[Cell] = [None] * 5
    if row.is_job:
        counts = [len(row.holds), len(row.failures), len(row.advisories), row.open, row.concerns]
    return [
        row.file,
        row.job,
        row.machine,
        row.site,
        row.technician,
        row.day,
        row.state,
        *counts,
        row.decision,
        *(
            ("yes" if row.practice else "no", row.remarks, row.corrected, row.differences)
            if row.is_job
            else ("yes" if row.practice else None, None, None, None)
        ),
        *(_figure(row, name, unit, places) for _, name, unit, places in CSV_METRICS),
        row.error,
        " ".join(doubts_of(row, against)),
    ]


def _figure(row: Row, name: str, unit: str, places: int) -> float | None:
    """A metric of a job in a unit, rounded."""
    value = row.metrics.get(name)
    if value is None:
        return None
    return round(from_si(value, KINDS[name], unit) if unit else value, places)


def _print_comparison(review: Review, rows: list[Row], by: str) -> None:
    for row in rows:
        if row.is_job:
            print(f"\n{row.job}: {row.machine or 'no machine named'}, {row.site}")
            print_lines(
                f"  {line}" for line in lines(review.rows.values(), row, by, Units(row.units))
            )


def status(row: Row) -> int:
    """The exit status that a row means."""
    if row.is_training:
        return GOOD
    if not row.is_job:
        return UNREADABLE
    if row.error or row.holds or row.failures:
        return FAILED
    return UNFINISHED if row.state != "finished" or row.advisories else GOOD
