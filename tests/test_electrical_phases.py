"""Three whole machines through plates, electrical supply and running checks."""

from __future__ import annotations

from functools import cache
from importlib import resources

import pytest

from wizard.answer import Parsed, parse
from wizard.finding import Finding, Severity, Verdict, worst
from wizard.judge import Evidence, judge_all
from wizard.procedure.item import Item, Procedure
from wizard.procedure.loader import build
from wizard.settings import Settings

FILES = ("01_machine.toml", "08_electrical.toml", "13a_running_electrical.toml")

COMMON = {
    "motor.dual": "single rated voltage",
    "motor.frequency": "60",
    "motor.poles": "4",
    "motor.start": "direct on line",
    "start.failed": "none recorded",
    "supply.frequency": "60",
    "wiring.colours_match": "as the diagram",
    "overload.kind": "separate overload relay",
    "overload.dial": "motor current",
    "overload.reset": "manual",
    "conductor.material": "copper",
    "ground.path": "copper wire",
    "ground.length": "12 m",
    "bond.motor": "0.05",
    "bond.tank": "0.06",
    "bond.panel": "0.03",
    "bond.guard": "0.08",
    "insulation.temperature": "20 °C",
    "insulation.test_voltage": "500",
    "terminal.basis": "label on the equipment, used",
    "terminal.label_torque": "35 lbf·in",
    "terminal.applied": "36 lbf·in",
    "run.feeder": "1 %",
    "run.length": "30 m",
    "running.frequency": "59.98",
    "running.motor_air": "30 °C",
    "motor.plate_duty": "not stated",
    "running.control": "starts and stops",
    "running.run_time": "5:00",
    "running.off_time": "10:00",
    "site.elevation": "120 m",
    "use.hours_per_day": "8",
    "starter.sccr": "10 kA",
    "supply.transformer": "112.5 kVA",
    "supply.transformer_impedance": "4 %",
    "receiver.plate": "read in full",
    "relief.plate_set": "150 psig",
    "pump.stages": "two",
}
US_THREE = {
    "motor.power": "10 hp",
    "motor.phases": "three",
    "motor.voltage": "460",
    "motor.current": "12.4",
    "motor.service_factor": "1.15",
    "motor.efficiency": "89.5",
    "motor.power_factor": "0.82",
    "motor.code_letter": "H",
    "supply.nominal": "480",
    "supply.voltage": "478 480 476",
    "supply.to_ground": "277",
    "supply.sequence": "clockwise, L1-L2-L3",
    "device.rating": "35",
    "device.kind": "inverse-time breaker",
    "overload.setting": "12.4",
    "overload.elements": "3",
    "conductor.size": "12 AWG",
    "conductor.insulation": "90 °C",
    "conductor.ambient": "86 °F",
    "conductor.count": "3",
    "conductor.terminal": "75 °C",
    "disconnect.distance": "12 ft",
    "disconnect.rating": "30",
    "ground.size": "12 AWG",
    "bond.loop": "0.4",
    "run.conduit": "steel",
    "insulation.resistance": "600 620 590",
    "running.voltage": "470 472 469",
    "running.start_voltage": "441",
    "running.current": "11.6 11.9 11.4",
    "running.power_factor": "0.81",
    "control.coil_rating": "120",
    "running.coil_voltage": "112",
}
US_SINGLE = {
    "motor.power": "5 hp",
    "motor.phases": "single",
    "motor.voltage": "230",
    "motor.current": "22",
    "motor.service_factor": "1.15",
    "motor.efficiency": "82",
    "motor.power_factor": "0.92",
    "motor.code_letter": "G",
    "supply.nominal": "240",
    "supply.voltage_single": "239",
    "supply.to_ground": "120",
    "device.rating": "60",
    "device.kind": "inverse-time breaker",
    "overload.setting": "22",
    "conductor.size": "10 AWG",
    "conductor.insulation": "75 °C",
    "conductor.ambient": "30 °C",
    "conductor.count": "2",
    "conductor.terminal": "75 °C",
    "disconnect.distance": "6 ft",
    "disconnect.rating": "60",
    "ground.size": "10 AWG",
    "run.conduit": "PVC or aluminium",
    "run.length": "40 ft",
    "supply.transformer_impedance": "5 %",
    "insulation.resistance_single": "OL",
    "running.voltage_single": "234",
    "running.current_single": "20.1",
}
IEC_THREE = {
    "job.jurisdiction": "European Union",
    "motor.power": "7.5 kW",
    "motor.phases": "three",
    "motor.voltage": "400",
    "motor.frequency": "50",
    "motor.current": "14.6",
    "motor.efficiency": "90.1",
    "motor.power_factor": "0.84",
    "motor.code_letter": "none",
    "motor.start": "star-delta",
    "supply.frequency": "50.01",
    "supply.nominal": "400",
    "supply.voltage": "402 401 404",
    "supply.to_ground": "232",
    "supply.sequence": "clockwise, L1-L2-L3",
    "device.rating": "25",
    "device.kind_iec": "gG fuse",
    "overload.place": "inside the delta",
    "overload.setting": "8.4",
    "overload.elements": "3",
    "conductor.size": "4 mm²",
    "conductor.capacity": "26",
    "ground.size": "4 mm²",
    "bond.trip_current": "180",
    "bond.loop_iec": "0.6",
    "insulation.resistance": "150 160 155",
    "start.locked_rotor": "104",
    "running.frequency": "50",
    "running.voltage": "398 397 400",
    "running.current": "13.1 13.4 13.2",
}
MACHINES = {
    "US three-phase": (US_THREE, Settings(), "us"),
    "US single-phase": (US_SINGLE, Settings(), "us"),
    "IEC three-phase": (
        IEC_THREE,
        Settings(practice="IEC", overload_dial="motor current"),
        "metric",
    ),
}
FILLERS = {"write": "as read", "count": "1", "confirm": "yes"}


@cache
def phases() -> Procedure:
    """The procedure of these phases alone."""
    folder = resources.files("wizard.procedure").joinpath("phases")
    return build({name: folder.joinpath(name).read_text("utf-8") for name in FILES})


def text_for(item: Item, given: dict[str, str]) -> str | None:
    """What is typed for an item: given, a filler, or None where it is left out."""
    if item.key in given:
        return given[item.key]
    if item.optional:
        return ""
    if item.kind == "choose":
        return item.options[0]
    if item.kind in FILLERS:
        return str(int(item.accept[0])) if item.accept else FILLERS[item.kind]
    if item.likely and not item.labels and not item.checks:
        return item.usual_in(item.unit).partition(" to ")[2]
    return None


def judged(machine: str, **changed: str) -> dict[str, Finding]:
    """The deciding finding of every item of a machine that applies."""
    own, settings, units = MACHINES[machine]
    given = {**COMMON, **own, **{k.replace("__", "."): v for k, v in changed.items()}}
    answers: dict[str, Parsed] = {}
    for key, item in phases().items.items():
        if (text := text_for(item, given)) is not None:
            answers[key] = parse(item, text, units)
    evidence = Evidence(phases(), settings, answers, {}, {})
    findings = judge_all(evidence, tuple(phases().items), {})
    return {k: decided for k, f in findings.items() if (decided := worst(f)) is not None}


@pytest.mark.parametrize("machine", list(MACHINES))
def test_a_sound_machine_gets_through(machine: str) -> None:
    bad = {
        key: f"{f.verdict} {f.text}"
        for key, f in judged(machine).items()
        if f.verdict not in (Verdict.PASS, Verdict.ADVISORY)
    }
    assert bad == {}


@pytest.mark.parametrize("machine", list(MACHINES))
def test_items_of_the_other_kind_of_machine_are_not_asked(machine: str) -> None:
    found = judged(machine)
    single = machine == "US single-phase"
    assert ("supply.voltage_single" in found) == ("capacitor.discharged" in found) == single
    assert ("supply.voltage" in found) == ("overload.elements" in found) == (not single)
    iec = machine.startswith("IEC")
    assert ("conductor.capacity" in found) == ("bond.loop_iec" in found) == iec
    assert ("conductor.terminal" in found) == ("device.kind" in found) == (not iec)


@pytest.mark.parametrize(
    ("machine", "change", "key"),
    [
        ("US three-phase", {"supply__voltage": "277 278 276"}, "supply.voltage"),
        ("US three-phase", {"conductor__count": "12"}, "conductor.terminal"),
        ("US three-phase", {"overload__setting": "17.4"}, "overload.setting"),
        ("US three-phase", {"overload__elements": "2"}, "overload.elements"),
        ("US three-phase", {"ground__size": "14 AWG"}, "ground.size"),
        ("US three-phase", {"bond__tank": "open"}, "bond.tank"),
        ("US three-phase", {"insulation__resistance": "1.2 3 3"}, "insulation.resistance"),
        ("US three-phase", {"insulation__test_voltage": "1000"}, "insulation.resistance"),
        ("US three-phase", {"supply__transformer": ""}, "starter.sccr"),
        ("US three-phase", {"running__current": "14.4 14.3 14.2"}, "running.current"),
        ("US three-phase", {"running__voltage": "480 478 210"}, "running.voltage"),
        ("US single-phase", {"supply__voltage_single": "120"}, "supply.voltage_single"),
        ("US single-phase", {"running__current_single": "26"}, "running.current_single"),
        ("IEC three-phase", {"overload__setting": "14.6"}, "overload.setting"),
        ("IEC three-phase", {"bond__loop_iec": "1.4"}, "bond.loop_iec"),
        ("IEC three-phase", {"conductor__capacity": "14"}, "conductor.capacity"),
        ("IEC three-phase", {"motor__frequency": "60"}, "supply.frequency"),
    ],
)
def test_what_can_hurt_holds_the_job(machine: str, change: dict[str, str], key: str) -> None:
    finding = judged(machine, **change)[key]
    assert finding.severity is Severity.SAFETY and finding.holds, finding.text
    assert finding.clears


def test_a_wrong_plate_is_judged_again_wherever_it_counts() -> None:
    found = judged("US three-phase", motor__voltage="230")
    held = {k for k, f in found.items() if f.holds}
    assert {"supply.nominal", "supply.voltage", "running.voltage"} <= held


def test_a_wrong_input_is_named_by_its_question() -> None:
    found = judged("US three-phase", supply__plate_high="250")["supply.nominal"]
    assert found.holds
    assert found.text.startswith("Motor plate: upper end of a rated voltage range: given 250 V")
