"""`wizard self-check`: what a bug report needs to say."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping
from typing import Any

from wizard.commands.output import GOOD, UNFINISHED, print_json, print_lines
from wizard.self_check import facts, remarks
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Print what is found; the status says whether something is to be looked at."""
    found = facts()
    said = remarks(found)
    if args.json:
        print_json({**found, "remarks": said})
    else:
        print_lines(_lines(found))
        print()
        print_lines([f"! {show(s)}" for s in said] or ["Nothing to remark."])
    return UNFINISHED if said else GOOD


def _lines(found: Mapping[str, Mapping[str, Any]]) -> Iterator[str]:
    for section, values in found.items():
        yield section
        for name, value in values.items():
            if name != "warnings":
                yield f"  {name:<22} {_text(value)}"


def _text(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{k} {_text(v)}" for k, v in value.items()) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return " ".join(map(_text, value))
    return "none" if value is None else show(value)
