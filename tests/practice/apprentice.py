"""Somebody who goes through the whole procedure on a sound simulated machine.

Every reading comes from the instrument, plate or paper that the item is mapped to; the machine is
brought to where the item wants it. Where nothing is simulated the good answer is given.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

from wizard import actions
from wizard.actions import Hand
from wizard.errors import Refused
from wizard.job import Header, Job
from wizard.practice.acts import Act, act
from wizard.practice.faults import badness
from wizard.practice.run import Run
from wizard.practice.scenario import scenario
from wizard.practice.spots import spots_of, written
from wizard.practice.state import resting
from wizard.procedure import Procedure
from wizard.procedure.item import Item
from wizard.settings import Settings

AT = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
PSI = 6894.757293168


@dataclass
class Apprentice:
    """A job and a run side by side."""

    job: Job
    run: Run
    minutes: int = 0
    kept: dict[str, str] = field(default_factory=dict)

    def does(self, verb: str, what: str = "", value: float | None = None) -> None:
        self.run = act(self.run, Act(verb, what, value), [h.finding.text for h in self.job.holds()])

    def up_to(self, gauge: float) -> None:
        """The machine run until the tank stands at a pressure, and stopped there."""
        self.does("switch", "on")
        for _ in range(4000):
            if self.run.gauge >= gauge or not self.run.view.turning:
                break
            self.does("wait", value=1.0)
        self.does("switch", "off")

    def until(self, happening: str, limit: int = 4000) -> None:
        """The machine watched second by second until something happens."""
        count = sum(e.what == happening for e in self.run.log)
        for _ in range(limit):
            if sum(e.what == happening for e in self.run.log) > count:
                return
            self.does("wait", value=1.0)
        raise AssertionError(happening)


Stage = Callable[[Apprentice, Item], str]


def begin(procedure: Procedure, machine: str, *present: str) -> Apprentice:
    """A practice job with a machine on its feet, sound but for the faults named."""
    set_up = replace(scenario("nothing_wrong"), machine=machine, faults=present)
    there = {name: badness(name, 4) for name in present}
    run = replace(Run.new("nothing_wrong", 4), scenario=set_up, present=there)
    run = replace(run, state=resting(set_up.plant, run.site))
    practice = "US" if machine.startswith("us") else "IEC"
    units = "us" if machine.startswith("us") else "metric"
    header = Header("PRACTICE", "0" * 32, AT, units, True, Settings(practice=practice))
    return Apprentice(Job.new(header, procedure), run)


def good_answer(item: Item) -> str:
    """The answer that passes, where the item is not read in the machine."""
    if item.kind == "confirm":
        return "yes"
    if item.kind == "choose":
        return next(o for o in item.options if o not in (*item.bad, *item.advise))
    if item.kind == "date":
        return "2027-03-01" if ".due_" in item.key else "2026-03-02"
    return "as found" if item.kind == "write" else ""


def answer(who: Apprentice, item: Item, text: str) -> None:
    """The item answered, unlikely values confirmed."""
    who.minutes += 1
    hand = Hand("Ada Prentice", AT + timedelta(minutes=who.minutes))
    who.job = actions.answer(who.job, item.key, text, hand, confirmed=True)


def text_for(who: Apprentice, item: Item) -> str:
    """What is written down for an item, after the machine is where it has to be."""
    if item.key in BLANK:
        return ""
    stage = STAGES.get(item.key)
    if stage and (told := stage(who, item)):
        return told
    read = spots_of(item.key) and item.kind not in ("confirm", "write", "date")
    return (written(who.run, item) if read else "") or good_answer(item)


def work_through(who: Apprentice, last: str = "") -> None:
    """Every item of the job in order, up to and with `last`; Refused where the gate holds."""
    for key, item in who.job.procedure.items.items():
        if who.job.applies(key):
            if reason := who.job.refusal(key):
                raise Refused(reason)
            answer(who, item, text_for(who, item))
        if key == last:
            return


def _feet(who: Apprentice, item: Item) -> str:
    who.does("set", "torque wrench.set=10 lbf·ft")
    for number in (1, 3, 2, 4):
        who.does("tighten", f"foot.{number}")
    who.does("back off", "foot.2")
    return ""


def _guard_off(who: Apprentice, item: Item) -> str:
    """No gauge reaches the belts through the guard."""
    who.does("guard", "off")
    text = written(who.run, item)
    who.does("guard", "on")
    return text


def _released(who: Apprentice, item: Item) -> str:
    who.does("unlock")
    return ""


def _bumped(who: Apprentice, item: Item) -> str:
    who.does("bump")
    seen = "\n".join(who.run.see("eye", "flywheel").lines)
    return "as the arrow" if "same way" in seen else "against the arrow"


def _unloaded(who: Apprentice, item: Item) -> str:
    who.does("outlet", "open")
    who.does("drain", "open")
    who.does("switch", "on")
    who.does("wait", value=1800.0)
    return "30 min"


def _first_hold(who: Apprentice, item: Item) -> str:
    who.does("switch", "off")
    who.does("outlet", "shut")
    who.does("drain", "shut")
    who.up_to(27 * PSI)
    return ""


def _share(share: float) -> Stage:
    def to(who: Apprentice, item: Item) -> str:
        who.up_to(share * who.run.machine.protection.cut_out)
        return ""

    return to


def _lift(who: Apprentice, item: Item) -> str:
    who.up_to(0.785 * who.run.machine.protection.relief_set)
    return ""


def _first_rise(who: Apprentice, item: Item) -> str:
    who.does("ring")
    who.does("switch", "on")
    who.until("switch opens")
    return ""


def _cut_outs(who: Apprentice, item: Item) -> str:
    """Three cycles by bleeding at the drain; the cut-ins are kept for their own item."""
    outs, ins = [], []
    one = replace(item, labels=())
    for _ in range(3):
        who.does("drain", "open")
        who.until("switch closes")
        ins.append(written(who.run, one).split()[0])
        who.does("drain", "shut")
        who.until("switch opens")
        outs.append(written(who.run, one).split()[0])
    unit = written(who.run, one).split()[1]
    who.kept["switch.cut_in"] = f"{' '.join(ins)} {unit}"
    who.kept["handover.cut_in"] = f"{ins[1]} {unit}"
    who.kept["handover.cut_out"] = f"{outs[1]} {unit}"
    return f"{' '.join(outs)} {unit}"


def _hold(who: Apprentice, item: Item) -> str:
    """Twenty minutes to cool, then ten minutes of hold."""
    who.does("switch", "off")
    who.does("wait", value=1800.0)
    items = who.job.procedure.items
    pressure = replace(items["check_valve.pressures"], labels=())
    warmth = replace(items["check_valve.temperatures"], labels=())
    first = written(who.run, pressure).split(), written(who.run, warmth).split()
    who.does("wait", value=600.0)
    last = written(who.run, pressure).split(), written(who.run, warmth).split()
    for key, a, b in zip(("pressures", "temperatures"), first, last, strict=True):
        who.kept[f"check_valve.{key}"] = f"{a[0]} {b[0]} {a[1]}"
    return "10 min"


def _loaded(who: Apprentice, item: Item) -> str:
    """Running, just below cut-out, with the outlet cracked."""
    who.does("outlet", "cracked")
    who.does("switch", "on")
    if not who.run.view.turning:
        who.until("switch closes")
    who.does("wait", value=420.0)
    return ""


def _warm(who: Apprentice, item: Item) -> str:
    _loaded(who, item)
    who.does("wait", value=1200.0)
    return "27 min"


def _cold_tank(who: Apprentice, item: Item) -> str:
    """Stopped, drained to the start of the test, and left until the tank is at rest."""
    who.does("switch", "off")
    who.does("outlet", "shut")
    who.does("drain", "open")
    while who.run.gauge > 0.3 * who.run.machine.protection.cut_out:
        who.does("wait", value=1.0)
    who.does("drain", "shut")
    who.does("wait", value=3 * 3600.0)
    return ""


def _series(who: Apprentice, item: Item) -> str:
    """Laps every ten seconds to nearly cut-out, once it is up to speed."""
    who.does("switch", "on")
    who.does("wait", value=8.0)
    laps = []
    begun = who.run.state.time
    plain = replace(item, kind="measure")
    while who.run.view.turning and who.run.gauge < 0.97 * who.run.machine.protection.cut_out:
        figure, unit = written(who.run, plain).split()
        laps.append(f"{who.run.state.time - begun:.1f} {figure}")
        who.does("wait", value=10.0)
    who.does("switch", "off")
    return "; ".join(laps) + f" {unit}"


def _settled(who: Apprentice, item: Item) -> str:
    who.does("wait", value=3 * 3600.0)
    return ""


def _package(who: Apprentice, item: Item) -> str:
    """Cooled at normal pressure; then half an hour with everything shut."""
    who.does("outlet", "shut")
    who.does("switch", "off")
    who.does("wait", value=3 * 3600.0)
    return ""


def _decay(who: Apprentice, item: Item) -> str:
    plain = replace(item, kind="measure")
    first = written(who.run, plain).split()
    who.does("wait", value=1800.0)
    last = written(who.run, plain).split()
    return f"0 {first[0]}; 1800 {last[0]} {last[1]}"


def _kept(who: Apprentice, item: Item) -> str:
    return who.kept[item.key]


def _said(text: str) -> Stage:
    return lambda who, item: text


BLANK = {
    "relief.other_capacity", "supply.plate_high", "supply.plate_usable", "pumpup.second_series",
    "delivery.metered", "delivery.meter_uncertainty", "power.input", "power.contract",
    "leak.duty_cycles", "leak.duty_on", "leak.duty_off",
}  # fmt: skip
"""Items that this machine has nothing to say to."""
STAGES: dict[str, Stage] = {
    "foot.torque_four": _feet,
    "belt.force": _guard_off,
    "belt.frequency": _guard_off,
    "start.lock_removed": _released,
    "start.rotation": _bumped,
    "start.unloaded_time": _unloaded,
    "start.hold_pressure": _first_hold,
    "start.half_pressure": _share(0.5),
    "start.three_quarter_pressure": _share(0.75),
    "lift.pressure": _lift,
    "start.highest": _first_rise,
    "unloader.hiss_time": _said("5 s"),
    "unloader.vent_time": _said("6 s"),
    "switch.cut_out": _cut_outs,
    "switch.cut_in": _kept,
    "check_valve.time": _hold,
    "check_valve.pressures": _kept,
    "check_valve.temperatures": _kept,
    "running.pressure": _loaded,
    "running.run_time": _said("150 s"),
    "running.off_time": _said("400 s"),
    "pumpup.start_temperature": _cold_tank,
    "running.pump_speed": _loaded,
    "pumpup.series": _series,
    "pumpup.settled": _settled,
    "pumpup.settled_again": _settled,
    "running.loaded_time": _warm,
    "leak.package_start_temperature": _package,
    "leak.package": _decay,
    "belt.motor_speed_running": _loaded,
    "drain.interval": _said("2 h"),
    "handover.cut_in": _kept,
    "handover.cut_out": _kept,
    "handover.recheck_date": _said("2026-03-09"),
    "handover.hours_per_day": _said("6 h"),
    "drain.open_time": _said("6 s"),
}
