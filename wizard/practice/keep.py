"""A run as plain values and back, so that it can be left and resumed.

Invariant: the first words are "practice = true", and a file without them is refused; a run that
was kept and resumed goes on exactly as one that was not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields, replace
from math import isfinite
from typing import Any

from wizard.errors import InputError, RecordDamaged, RecordNewer
from wizard.practice.faults import faults
from wizard.practice.run import Entry, Run, Stopwatch
from wizard.practice.state import SIZE, At, State, from_plain, to_plain
from wizard.practice.tools import first_settings

FORMAT = "practice run"
VERSION = 1


def kept(run: Run) -> dict[str, Any]:
    """The run as plain TOML or JSON values."""
    return {
        "practice": True,
        "format": FORMAT,
        "version": VERSION,
        "scenario": run.scenario.name,
        "seed": run.seed,
        "ended": run.ended,
        "placed": run.placed,
        "handled": run.handled,
        "backed_off": run.backed_off,
        "feet": list(run.feet),
        "present": dict(run.present),
        "knobs": dict(run.knobs),
        "watch": {k: v for k, v in asdict(run.watch).items() if v is not None},
        "state": to_plain(run.state),
        "log": [{k: v for k, v in asdict(e).items() if v not in (None, "")} for e in run.log],
    }


def resumed(plain: Mapping[str, Any]) -> Run:
    """The run that `kept` wrote; RecordDamaged or RecordNewer where it cannot be used."""
    if plain.get("practice") is not True or plain.get("format") != FORMAT:
        raise RecordDamaged("This is not a practice run.")
    if not isinstance(version := plain.get("version"), int) or version > VERSION:
        raise RecordNewer(f"This practice run was written by a newer version ({version}).")
    try:
        return _resumed(plain)
    except (KeyError, TypeError, ValueError, AttributeError, InputError) as problem:
        raise RecordDamaged(f"This practice run is damaged: {problem}") from problem


def _resumed(plain: Mapping[str, Any]) -> Run:
    run = Run.new(str(plain["scenario"]), int(plain["seed"]))
    present = {str(name): float(value) for name, value in plain["present"].items()}
    if unknown := sorted(set(present) - set(faults())):
        raise ValueError(f"no fault is called {unknown[0]}")
    knobs = {**first_settings(), **{str(k): str(v) for k, v in plain["knobs"].items()}}
    feet = tuple(float(t) for t in plain["feet"])
    if len(feet) != len(run.feet):
        raise ValueError(f"{len(run.feet)} feet are expected")
    return replace(
        run,
        state=_state(plain["state"]),
        present=present,
        placed=bool(plain["placed"]),
        feet=feet,
        backed_off=int(plain["backed_off"]),
        knobs=knobs,
        watch=Stopwatch(**{k: float(v) for k, v in plain["watch"].items()}),
        handled=float(plain["handled"]),
        log=tuple(_entry(e) for e in plain["log"]),
        ended=str(plain["ended"]),
    )


def _state(plain: Mapping[str, Any]) -> State:
    state = from_plain(plain)
    if len(state.y) != SIZE:
        raise ValueError(f"a state has {SIZE} values")
    if not all(isfinite(v) for v in (*state.y, state.time, state.started, state.stopped)):
        raise ValueError("a value of the state is not a number")
    if min(state.y[At.TANK_MASS], state.y[At.TANK_ENERGY], state.y[At.SHELL]) <= 0:
        raise ValueError("a tank holds air")
    return state


def _entry(plain: Mapping[str, Any]) -> Entry:
    known = {f.name for f in fields(Entry)}
    return Entry(**{name: value for name, value in plain.items() if name in known})
