"""`wizard items`: the procedure as data."""

from __future__ import annotations

import argparse
from typing import Any

from wizard import checks
from wizard.commands.output import GOOD, print_json, print_lines
from wizard.procedure import Item, procedure


def run(args: argparse.Namespace) -> int:
    """Print every item; `--json` with checks, sources and explanations."""
    if args.json:
        print_json({"items": [_json(item) for item in procedure().items.values()]})
        return GOOD
    for phase in procedure().phases:
        print(f"{phase.number:2d}  {phase.title}")
        print_lines(f"      {i.key:<34} {i.kind:<8} {i.severity:<9} {i.ask}" for i in phase.items)
    return GOOD


def _json(item: Item) -> dict[str, Any]:
    return {
        "phase": item.phase,
        "key": item.key,
        "kind": item.kind,
        "ask": item.ask,
        "unit": item.unit or None,
        "quantity": item.quantity or None,
        "labels": list(item.labels),
        "options": list(item.options),
        "severity": item.severity.value,
        "when": {k: list(v) for k, v in item.when.items()},
        "checks": [
            {
                "name": b.rule,
                "source": {
                    "text": "; ".join(s.text for s in spec.sources),
                    "mark": spec.sources[0].mark,
                },
            }
            for b in item.checks
            for spec in [checks.load()[b.rule]]
        ],
        "why": item.why,
        "how": item.how,
        "mistake": item.mistake,
        "caution": item.caution,
    }
