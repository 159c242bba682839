"""What a person can do to the machine.

Invariant: everything a learner does goes through `act`; a dangerous act ends the run and says what
it was, an impossible one is refused with a sentence and changes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from wizard.errors import InputError, Refused
from wizard.practice.faults import faults
from wizard.practice.run import WARM, Run, Stopwatch
from wizard.practice.state import Turning
from wizard.practice.tools import tools
from wizard.practice.view import FEET, JOINTS
from wizard.quantities import parse_quantity

PRESSED = 10e3
"""Pa in the tank above which a joint is under pressure."""
LONGEST_WAIT = 4 * 3600.0
LIFT_SHARE = 0.75
"""Of the relief set pressure, for a lift test."""
COOLING = 7200.0
BUMP = 0.7


@dataclass(frozen=True, slots=True)
class Act:
    """One act: a verb, what it is done to, and an amount where one is needed (SI).

    `item` is the item of the procedure that a reading is written down for.
    """

    verb: str
    what: str = ""
    value: float | None = None
    item: str = ""


@dataclass(frozen=True, slots=True)
class Verb:
    """A verb as a screen offers it; `seconds` of work with the hands."""

    title: str
    whats: tuple[str, ...]
    seconds: float
    do: Callable[[Run, Act], Run]
    energises: bool = False


def act(run: Run, deed: Act, holds: Sequence[str] = ()) -> Run:
    """The run after the act; `holds` are the holds of the job that bar power."""
    verb = VERBS.get(deed.verb)
    if verb is None:
        raise InputError("act", deed.verb, ", ".join(VERBS))
    if run.ended:
        raise Refused("This run has ended. Read the debrief and start another.")
    if verb.whats and deed.what not in verb.whats:
        raise InputError(verb.title, deed.what or "nothing", ", ".join(verb.whats))
    if not run.placed and deed.verb not in ("lift", "report", "withdraw", "set", "finish"):
        raise Refused("The machine still stands on the truck. It has to be lifted to its place.")
    done = run.logged("act", deed.verb, deed.what, deed.value)
    if holds and verb.energises and _power_comes(done, deed):
        return done.finished("energised_under_hold")
    done = replace(done, handled=done.handled + verb.seconds)
    return verb.do(done, deed)


def _power_comes(run: Run, deed: Act) -> bool:
    """Whether the act brings power to what had none: a start tried with the lock on does not."""
    if deed.verb == "unlock":
        return run.state.locked
    return not run.state.locked and not run.state.switched_on and deed.what != "off"


def _lift(run: Run, deed: Act) -> Run:
    if run.placed:
        raise Refused("The machine stands on its feet already.")
    if deed.what == "motor eye bolt":
        return run.finished("lifted_by_eye_bolt")
    if deed.what == "pump":
        return run.finished("lifted_by_pump")
    return replace(run, placed=True)


def _lock(run: Run, deed: Act) -> Run:
    state = run.state
    if state.turning is not Turning.STILL:
        run = run.logged("remark", "disconnect used to stop the machine")
    return replace(run, state=replace(state, locked=True, switched_on=False)).after(0.01)


def _unlock(run: Run, deed: Act) -> Run:
    if not run.state.guard_on:
        return run.finished("guard_off_start")
    return replace(run, state=replace(run.state, locked=False)).after(0.01)


def _switch(run: Run, deed: Act) -> Run:
    on = deed.what == "on"
    if on and run.state.locked:
        run = run.logged("told", "start tried with the lock on: nothing moves")
        return replace(run, state=replace(run.state, switched_on=False))
    if on and not run.state.guard_on:
        return run.finished("guard_off_start")
    return replace(run, state=replace(run.state, switched_on=on)).after(0.01)


def _bump(run: Run, deed: Act) -> Run:
    started = _switch(run, Act("switch", "on"))
    if started.ended or started.state.locked:
        return started
    return _switch(started.after(BUMP), Act("switch", "off"))


def _outlet(run: Run, deed: Act) -> Run:
    opened, cracked = deed.what == "open", deed.what == "cracked"
    return replace(run, state=replace(run.state, outlet_open=opened, bleeding=cracked))


def _drain(run: Run, deed: Act) -> Run:
    return replace(run, state=replace(run.state, drain_open=deed.what == "open"))


def _ring(run: Run, deed: Act) -> Run:
    """The relief valve pulled open for three seconds."""
    low = run.gauge < LIFT_SHARE * run.machine.protection.relief_set
    if low:
        run = run.logged("remark", "relief valve lifted below 75 % of its set pressure")
    pulled = replace(run, state=replace(run.state, ring_pulled=True)).after(3.0)
    blows = not run.machine.protection.relief_shut and run.gauge > PRESSED
    pulled = pulled.logged("told", "relief valve blows freely" if blows else "nothing blows")
    return replace(pulled, state=replace(pulled.state, ring_pulled=False))


def _wait(run: Run, deed: Act) -> Run:
    if deed.value is None or not 0 < deed.value <= LONGEST_WAIT:
        raise InputError("wait", f"{deed.value} s", "more than 0 s, up to 4 h")
    return run.after(deed.value)


def _set(run: Run, deed: Act) -> Run:
    name, _, value = deed.what.partition("=")
    tool, _, knob = name.strip().partition(".")
    known = tools().get(tool)
    if known is None or knob not in known.knobs:
        raise InputError("setting", deed.what, ", ".join(run.knobs))
    if value.strip() not in known.knobs[knob]:
        raise InputError(name, value.strip(), ", ".join(known.knobs[knob]))
    return replace(run, knobs={**run.knobs, name.strip(): value.strip()})


def _stopwatch(run: Run, deed: Act) -> Run:
    now = run.state.time
    watch = {
        "start": Stopwatch(now),
        "stop": replace(run.watch, stopped=now),
        "reset": Stopwatch(),
    }[deed.what]
    return replace(run, watch=watch)


def _tighten(run: Run, deed: Act) -> Run:
    """A foot tightened with the wrench as it is set."""
    run = _by_hand(run)
    number = int(deed.what.rsplit(".", 1)[1])
    torque = parse_quantity(run.knobs["torque wrench.set"], "torque").si
    feet = tuple(torque if n == number else t for n, t in enumerate(run.feet, 1))
    if torque > 1.5 * run.machine.mounting.snug:
        run = run.logged("remark", "foot tightened far beyond snug")
    if run.machine.mounting.foot_gap > 0.0005 and number == run.view.high_foot:
        run = run.logged("remark", "a foot that stands clear pulled down")
    return replace(run, feet=feet)


def _back_off(run: Run, deed: Act) -> Run:
    run = _by_hand(run)
    number = int(deed.what.rsplit(".", 1)[1])
    if run.feet[number - 1] <= 0:
        raise Refused("That foot is loose. First all feet are made snug, then one is backed off.")
    return replace(run, backed_off=number)


def _by_hand(run: Run) -> Run:
    """Hands go to the machine: it has to be still."""
    if run.state.turning is not Turning.STILL:
        raise Refused("The machine runs. Stop it and lock it off first.")
    if not run.state.locked:
        return run.logged("remark", "hands on the machine without a lock")
    if run.gauge > PRESSED:
        return run.logged("remark", "bolts and nuts turned with pressure in the tank")
    return run


def _turn(run: Run, deed: Act) -> Run:
    """The flywheel by its rim, through the opening of the guard."""
    if run.state.turning is not Turning.STILL or not run.state.locked:
        return run.finished("hands_in_drive")
    if run.gauge > PRESSED:
        run = run.logged("remark", "flywheel turned by hand with pressure in the tank")
    blocked = run.view.gauged.line_gauge(run.state) > PRESSED
    return run.logged("told", "flywheel pushes back" if blocked else "flywheel turns freely")


def _guard(run: Run, deed: Act) -> Run:
    off = deed.what == "off"
    if off and (not run.state.locked or run.state.turning is not Turning.STILL):
        return run.finished("hands_in_drive")
    return replace(run, state=replace(run.state, guard_on=not off))


def _undo(run: Run, deed: Act) -> Run:
    if run.gauge > PRESSED:
        return run.finished("joint_under_pressure")
    return _by_hand(run)


def _open_panel(run: Run, deed: Act) -> Run:
    return run.finished("live_panel")


def _report(run: Run, deed: Act) -> Run:
    return run.logged("report", deed.what)


def _withdraw(run: Run, deed: Act) -> Run:
    if deed.what not in reported(run):
        raise Refused("That is not on the defect list.")
    return run.logged("withdraw", deed.what)


def _repair(run: Run, deed: Act) -> Run:
    """What is on the defect list put right; a sound part is changed for another sound one."""
    fault = faults()[deed.what]
    if deed.what not in reported(run):
        raise Refused("Write it on the defect list first, so that others know of it.")
    if deed.what in put_right(run):
        raise Refused("That has been put right already. Look again, and answer its item anew.")
    if fault.needs_dead:
        run = _dead(run, electrician=fault.hands == "electrician", belts=fault.skill == "belts")
        if run.ended:
            return run
    if deed.what == WARM:
        run = run.after(COOLING)
    left = {name: value for name, value in run.present.items() if name != deed.what}
    return replace(run, present=left).logged("repair", deed.what)


def _dead(run: Run, electrician: bool, belts: bool) -> Run:
    """A repair wants the machine locked off and empty."""
    if not run.state.locked or run.state.turning is not Turning.STILL:
        if electrician:
            raise Refused("The electrician does not touch it before the lock is on.")
        if belts:
            return run.finished("hands_in_drive")
        run = _by_hand(run)
    if run.gauge > PRESSED:
        if electrician:
            raise Refused("The electrician does not touch it before the tank is empty.")
        return run.finished("joint_under_pressure")
    return run


def _note(run: Run, deed: Act) -> Run:
    if deed.value is None:
        raise InputError("note", "nothing", "a number")
    return run.logged("note", deed.what, deed.item, deed.value)


def _finish(run: Run, deed: Act) -> Run:
    return run.finished("handed over")


def reported(run: Run) -> tuple[str, ...]:
    """What stands on the defect list, in order."""
    listed: dict[str, None] = {}
    for entry in run.log:
        if entry.kind == "report":
            listed[entry.what] = None
        elif entry.kind == "withdraw":
            listed.pop(entry.what, None)
    return tuple(listed)


def put_right(run: Run) -> frozenset[str]:
    """What has been put right since it was written on the defect list."""
    done: set[str] = set()
    for entry in run.log:
        if entry.kind == "repair":
            done.add(entry.what)
        elif entry.kind == "report":
            done.discard(entry.what)
    return frozenset(done)


_FEET = tuple(f"foot.{n}" for n in range(1, FEET + 1))
_NAMES = tuple(faults())
VERBS: dict[str, Verb] = {
    "lift": Verb("Lift the machine at", ("skid points", "motor eye bolt", "pump"), 1800, _lift),
    "lock": Verb("Lock and tag the disconnect", (), 120, _lock),
    "unlock": Verb("Take your lock off, close the disconnect", (), 60, _unlock, energises=True),
    "switch": Verb("Switch at the machine", ("on", "off"), 5, _switch, energises=True),
    "bump": Verb("Bump: on for less than a second", (), 10, _bump, energises=True),
    "outlet": Verb("Outlet valve of the tank", ("open", "cracked", "shut"), 10, _outlet),
    "drain": Verb("Drain valve of the tank", ("open", "shut"), 10, _drain),
    "ring": Verb("Pull the ring of the relief valve for 3 s", (), 20, _ring),
    "wait": Verb("Wait", (), 0, _wait),
    "set": Verb("Set a knob of an instrument", (), 5, _set),
    "stopwatch": Verb("Stopwatch", ("start", "stop", "reset"), 1, _stopwatch),
    "tighten": Verb("Tighten a foot with the torque wrench", _FEET, 60, _tighten),
    "back off": Verb("Back a foot off a quarter turn, lock its nut", _FEET, 60, _back_off),
    "turn": Verb("Turn the flywheel two full turns by hand", (), 60, _turn),
    "guard": Verb("Belt guard", ("off", "on"), 300, _guard),
    "undo": Verb("Undo a joint", tuple(f"joint.{n}" for n in range(1, JOINTS + 1)), 120, _undo),
    "open panel": Verb("Open the starter panel yourself", (), 60, _open_panel),
    "report": Verb("Write on the defect list", _NAMES, 60, _report),
    "withdraw": Verb("Strike off the defect list", _NAMES, 10, _withdraw),
    "repair": Verb("Have it put right", _NAMES, 900, _repair),
    "note": Verb("Write down a reading", (), 10, _note),
    "finish": Verb("Hand over, and hear the debrief", (), 0, _finish),
}
"""Every verb, in the order that a screen offers them."""
