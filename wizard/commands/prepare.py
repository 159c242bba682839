"""`wizard prepare`: the sheet of what to bring and what to expect."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wizard.commands.output import GOOD, UNFINISHED, print_json, print_lines
from wizard.preparation import Bring, Doubt, Expect, Sheet, prepare
from wizard.procedure import procedure
from wizard.render import Units, finding_json, limit_text, quantity_json, working_lines
from wizard.store import read_job
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Print the sheet; 1 where plate data is missing."""
    job = read_job(Path(args.job), procedure()).job
    sheet, units = prepare(job), Units(job.header.units)
    if args.json:
        print_json(
            {
                "job": job.header.id,
                "doubts": [finding_json(d.key, d.finding, units) for d in sheet.doubts],
                "bring": [_bring_json(b, units) for b in sheet.bring],
                "expect": [_expect_json(e, units) for e in sheet.expect],
                "missing": list(sheet.missing),
            }
        )
    else:
        label = job.answers.get("machine.label")
        print(f"Preparation for {job.header.id}" + (f", {show(label.raw)}" if label else ""))
        print_lines(_lines(sheet, units))
    return UNFINISHED if sheet.missing else GOOD


def _lines(sheet: Sheet, units: Units) -> Iterator[str]:
    if sheet.doubts:
        yield "\nSettle before you set out"
    for doubt in sheet.doubts:
        yield from _doubt(doubt, units)
    yield "\nBring"
    group = ""
    for row in sheet.bring:
        if row.group != group:
            group = row.group
            yield f"  {group}"
        size = f": {units.text(row.least)}" if row.least else ""
        about = f" ({row.text})" if row.text else ""
        yield f"    [ ] {row.what}{size}{about}"
    yield "\nExpect on site"
    for number in sheet.expect:
        yield f"  {number.what}: {_band(number, units)}"
        if number.step:
            yield from (f"      {line}" for line in working_lines(number.step, units))
        yield from (f"      source: {s}" for s in number.sources)
    if sheet.missing:
        yield "\nMissing on the plates, or not to be worked out from them"
        yield from (f"  {text}" for text in sheet.missing)


def _doubt(doubt: Doubt, units: Units) -> Iterator[str]:
    found, limit = doubt.finding, limit_text(doubt.finding.limit, units)
    value = f" ({units.text(found.value)}, limit {limit})" if found.value and limit else ""
    yield f"  {doubt.what}{value}: {found.text}"
    yield from (f"      {line}" for line in (found.danger, found.clears) if line)


def _band(number: Expect, units: Units) -> str:
    low = units.text(number.low) if number.low else ""
    high = units.text(number.high) if number.high else ""
    if low == high:
        return low
    if low and high:
        return f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}"


def _bring_json(row: Bring, units: Units) -> dict[str, Any]:
    return {
        "group": row.group,
        "what": row.what,
        "least": quantity_json(row.least, units),
        "text": row.text,
        "source": {"text": "; ".join(s.text for s in row.sources), "mark": row.sources[0].mark},
    }


def _expect_json(number: Expect, units: Units) -> dict[str, Any]:
    source = (
        {"text": "; ".join(s.text for s in number.sources), "mark": number.sources[0].mark}
        if number.sources
        else None
    )
    return {
        "what": number.what,
        "low": quantity_json(number.low, units),
        "high": quantity_json(number.high, units),
        "working": working_lines(number.step, units) if number.step else [],
        "source": source,
    }
