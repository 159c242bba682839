"""The order of work that a mentor looks for: what comes before the first turn of the motor.

Invariant: order is read from the log alone, so that the same log gives the same judgement.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wizard.practice.faults import faults
from wizard.practice.run import Entry, Run


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of order: whom it concerns, and whether it was kept."""

    said: str
    concerns: Callable[[Run], bool]
    kept: Callable[[Run], bool]


def before_start(run: Run) -> tuple[Entry, ...]:
    """The log up to the first turn of the motor, a bump included."""
    for number, entry in enumerate(run.log):
        if entry.what == "motor starts":
            return run.log[:number]
    return run.log


def started(run: Run) -> bool:
    """Whether the motor ever turned."""
    return any(e.what == "motor starts" for e in run.log)


def _looked(*places: str) -> Callable[[Run], bool]:
    def kept(run: Run) -> bool:
        seen = {e.where for e in before_start(run) if e.kind == "look"}
        return set(places) <= seen

    return kept


def _three_phase(run: Run) -> bool:
    return started(run) and run.scenario.plant.motor.phases == 3


def _bumped(run: Run) -> bool:
    acts = [e for e in run.log if e.kind == "act" and e.what in ("switch", "bump")]
    going = [e for e in acts if e.what == "bump" or e.where == "on"]
    return not going or going[0].what == "bump"


def _repaired_first(run: Run) -> bool:
    """Safety defects on the list are put right before anything turns."""
    listed: set[str] = set()
    for entry in before_start(run):
        if entry.kind == "report":
            listed.add(entry.what)
        elif entry.kind in ("repair", "withdraw"):
            listed.discard(entry.what)
    return not any(faults()[name].severity == "safety" for name in listed)


RULES: tuple[Rule, ...] = (
    Rule(
        "Receiver plate, relief stamp and the way to the relief valve before the first turn",
        started,
        _looked("plate.tank", "relief.stamp", "relief.path"),
    ),
    Rule("Hose print before the first turn", started, _looked("hose.print")),
    Rule("Oil level before the first turn", started, _looked("oil.glass")),
    Rule("Supply voltage before the first turn", started, _looked("supply.L1-L2")),
    Rule("Overload dial before the first turn", started, _looked("overload.dial")),
    Rule(
        "Under the pump, for shipping blocks, before the first turn",
        started,
        _looked("pump.mounts"),
    ),
    Rule("Safety defects put right before the first turn", started, _repaired_first),
    Rule("A bump for rotation before the first run", _three_phase, _bumped),
)
