"""A scripted technician who only uses instruments, plates and the project's own checks.

The expert looks everywhere, reads what a careful reader reads and lets the checks judge. The
careless hand is the same person in a hurry, who leaves out what the seed says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from wizard import checks
from wizard.finding import Verdict
from wizard.practice.acts import Act, act
from wizard.practice.faults import faults
from wizard.practice.run import Run
from wizard.practice.seed import share
from wizard.practice.view import FEET, JOINTS
from wizard.quantities import parse_quantity

PSI = 6894.757293168
RULES = checks.load()


def fails(rule: str, **inputs: object) -> bool:
    """Whether the check says FAIL."""
    return RULES[rule].function(**inputs).verdict is Verdict.FAIL


@dataclass
class Hand:
    """Somebody working through a run; `skips` is the share of steps left out."""

    run: Run
    skips: float = 0.0
    plates: dict[str, float] = field(default_factory=dict)

    def does(self, step: str) -> bool:
        """Whether the step is done by this person."""
        return share(self.run.seed, "skip", step) >= self.skips

    def act(self, verb: str, what: str = "", value: float | None = None) -> None:
        if not self.run.ended:
            self.run = act(self.run, Act(verb, what, value))

    def text(self, tool: str, place: str) -> str:
        self.run, sight = self.run.look(tool, place)
        return "\n".join(sight.lines)

    def read(self, tool: str, place: str) -> float:
        self.run, sight = self.run.look(tool, place)
        assert sight.shown is not None, (tool, place, sight.lines)
        return sight.shown.value

    def plate(self, place: str, line: str, kind: str) -> float:
        """A figure stamped on a plate, from the text of the plate."""
        found = re.search(rf"\| {re.escape(line)} +(.*\S) +\|", self.text("eye", place))
        assert found, (place, line)
        return parse_quantity(found[1], kind).si

    def report(self, name: str) -> None:
        self.act("report", name)


def work(run: Run, skips: float = 0.0) -> Run:
    """The whole job, to handing over or to an end."""
    hand = Hand(run, skips)
    if not run.placed:
        hand.act("lift", "skid points")
    _plates(hand)
    _dead(hand)
    _supply(hand)
    _put_right(hand)
    _first_turn(hand)
    _first_rise(hand)
    _under_pressure(hand)
    hand.act("finish")
    return hand.run


def _plates(hand: Hand) -> None:
    read, us = hand.plates, hand.run.units
    read["mawp"] = hand.plate("plate.tank", "maximum allowable working pressure", "gauge pressure")
    read["volume"] = hand.plate("plate.tank", "volume", "volume")
    read["amps"] = hand.plate("plate.motor", "full-load current", "current")
    read["volts"] = hand.plate("plate.motor", "voltage, as connected", "voltage")
    read["factor"] = hand.plate("plate.motor", "service factor", "number")
    read["motor speed"] = hand.plate("plate.motor", "speed", "rotational speed")
    read["power"] = hand.plate("plate.motor", "power", "power")
    read["flow"] = hand.plate("plate.pump", "free air delivered", "flow")
    read["speed"] = hand.plate("plate.pump", "speed", "rotational speed")
    read["highest speed"] = hand.plate("plate.pump", "highest speed", "rotational speed")
    read["cut-out"] = hand.plate("switch.label", "cut-out", "gauge pressure")
    read["cut-in"] = hand.plate("switch.label", "cut-in", "gauge pressure")
    read["relief"] = hand.plate("relief.stamp", "set", "gauge pressure")
    line = "capacity, air 60 °F, 14.696 psia"
    read["capacity"] = hand.plate("relief.stamp", line, "flow")
    assert us in ("us", "metric")


def _dead(hand: Hand) -> None:
    """Everything that can be seen with the lock on and no pressure."""
    read = hand.plates
    if hand.does("relief") and fails(
        "relief_set_pressure", set_pressure=read["relief"], mawp=read["mawp"]
    ):
        hand.report("relief_high")
    room = hand.read("thermometer", "room.air")
    pressure = hand.read("barometer", "room.pressure")
    if hand.does("capacity") and fails(
        "relief_capacity", delivery=read["flow"], coldest_intake=room, certified=read["capacity"],
        rated_speed=read["speed"], highest_speed=read["highest speed"], intake_pressure=pressure,
    ):  # fmt: skip
        hand.report("relief_small")
    if hand.does("path") and "lever" in hand.text("eye", "relief.path"):
        hand.report("relief_shut")
    if hand.does("hose") and _hose_fails(hand, room):
        hand.report("weak_hose")
    _oil(hand)
    if hand.does("blocks") and "blocks" in hand.text("eye", "pump.mounts"):
        hand.report("blocks_in")
    if hand.does("feet"):
        gaps = tuple(hand.read("feeler gauge", f"foot.{n}") for n in range(1, FEET + 1))
        if fails("foot_gap", gaps=gaps):
            hand.report("foot_stressed")
    if hand.does("belt"):
        _belt(hand)
    if hand.does("filter") and "grey" in hand.text("eye", "filter.element"):
        hand.report("filter_blocked")
    if hand.does("warm") and hand.read("thermometer", "tank.skin") - room > 4.0:
        hand.report("tank_warm")


def _hose_fails(hand: Hand, room: float) -> bool:
    printed = re.search(r"PRESSURE (.+?) ===", hand.text("eye", "hose.print"))
    assert printed
    working = parse_quantity(printed[1].lower(), "gauge pressure").si
    kind = "rubber or plastic air hose"
    return fails(
        "hose_rating", working_pressure=working, relief_set=hand.plates["relief"], kind=kind,
        temperature=max(room, 293.15), marked_temperature=373.15,
    )  # fmt: skip


def _oil(hand: Hand) -> None:
    if hand.does("oil"):
        level = hand.read("eye", "oil.glass")
        if fails("oil_level", indicator=hand.run.machine.oil.indicator, level=level):
            hand.report("oil_low" if level < 0.5 else "oil_over")
    if hand.does("cold"):
        grade = re.search(r"ISO VG \d+", hand.text("eye", "oil.drum"))
        index = hand.plate("oil.drum", "viscosity index", "number")
        assert grade
        sump = hand.read("thermometer", "pump.sump")
        if fails("cold_start", filled=grade[0], temperature=sump, index=index):
            hand.report("oil_thick")


def _belt(hand: Hand) -> None:
    drive = hand.run.machine.drive
    hand.act("guard", "off")
    force = hand.read("force gauge", "belt.middle")
    hand.act("guard", "on")
    from wizard.practice.view import test_deflection

    if fails(
        "belt_force", force=(force, force), deflection=test_deflection(hand.run.machine),
        centre_distance=drive.centre_distance, pump_sheave=drive.pump_sheave,
        motor_sheave=drive.motor_sheave, motor_speed=hand.plates["motor speed"],
        power=hand.plates["power"], belts=drive.belts, mass=drive.belt_mass, state="run in",
    ):  # fmt: skip
        hand.report("belt_loose")


def _supply(hand: Hand) -> None:
    three = hand.run.machine.motor.phases == 3
    pairs = ("L1-L2", "L2-L3", "L3-L1") if three else ("L1-L2",)
    if hand.does("volts"):
        volts = tuple(hand.read("multimeter", f"supply.{pair}") for pair in pairs)
        mean = sum(volts) / len(volts)
        if fails("supply_voltage", nameplate=hand.plates["volts"], measured=(mean,)):
            hand.report("low_supply")
        if three and fails("voltage_unbalance", voltages=volts, nameplate=hand.plates["volts"]):
            hand.report("unbalanced_supply")
    if hand.does("overload") and fails(
        "overload_setting", full_load=hand.plates["amps"], dial="motor current",
        setting=hand.read("eye", "overload.dial"), service_factor=hand.plates["factor"],
    ):  # fmt: skip
        hand.report("overload_high")
    if three and hand.does("links") and hand.text("eye", "motor.links").count("o---o---o") == 2:
        hand.report("wrong_tap")


def _put_right(hand: Hand) -> None:
    from wizard.practice.acts import reported

    for name in reported(hand.run):
        if not any(e.kind == "repair" and e.what == name for e in hand.run.log):
            hand.act("repair", name)


def _stopped_dead(hand: Hand) -> None:
    hand.act("switch", "off")
    hand.act("lock")
    hand.act("drain", "open")
    hand.act("wait", value=900.0)
    hand.act("drain", "shut")


def _first_turn(hand: Hand) -> None:
    hand.act("unlock")
    if hand.run.machine.motor.phases == 3 and hand.does("bump"):
        hand.act("bump")
        if "against" in hand.text("eye", "flywheel"):
            hand.report("swapped_rotation")
            _stopped_dead(hand)
            _put_right(hand)
            hand.act("unlock")


def _first_rise(hand: Hand) -> None:
    """Up to cut-out with a finger on the stop button, reading on the way."""
    run = hand.run
    cut_out = hand.plates["cut-out"]
    stop_at = min(cut_out + 5 * PSI, hand.plates["relief"] - 5 * PSI)
    near = False
    hand.act("switch", "on")
    for _ in range(600):
        hand.act("wait", value=2.0 if hand.run.gauge > 0.9 * cut_out else 8.0)
        if hand.run.ended or not hand.run.view.turning:
            return
        if hand.run.gauge < 0.8 * cut_out:
            continue  # Nothing is decided by a reading so far below.
        now = hand.read("test gauge", "tank.test_port")
        if now > 0.90 * cut_out and not near:
            near = True
            _loaded(hand, now)
        if now > stop_at:
            hand.act("switch", "off")
            hand.report("switch_stuck")
            return
    assert run


def _loaded(hand: Hand, final: float) -> None:
    pump = hand.run.machine.pump
    if pump.stages == 2 and hand.does("interstage"):
        stage = hand.read("interstage gauge", "pump.interstage")
        normal = hand.plate("plate.pump", "interstage, normal", "gauge pressure")
        ambient = hand.read("barometer", "room.pressure")
        if fails("interstage_pressure", measured=stage, final=final, ambient=ambient,
                 normal=normal):  # fmt: skip
            hand.report("lp_valve_worn" if stage < normal else "hp_valve_worn")


def _under_pressure(hand: Hand) -> None:
    if hand.run.ended:
        return
    if hand.does("gauge"):
        test = hand.read("test gauge", "tank.test_port")
        panel = hand.read("panel gauge", "tank.panel")
        if fails("panel_gauge", panel=panel, test=test):
            hand.report("panel_gauge_off")
    hand.act("switch", "off")
    hand.act("wait", value=45.0)
    if hand.does("unloader") and "hiss" in hand.text("ear", "unloader"):
        hand.report("check_leaks")
    if hand.does("soap"):
        soaped = [hand.text("soap", f"joint.{n}") for n in range(1, JOINTS + 1)]
        if any("Bubbles grow" in s for s in soaped):
            hand.report("joint_leaks")


def known() -> set[str]:
    """Every fault that there is."""
    return set(faults())
