"""What to bring and what to expect, from plate and site data alone, before leaving the shop.

Invariant: pure; every number comes from a registered formula and keeps its working; a number
whose data is missing is left out and the missing data is named, never guessed in silence.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from wizard import calc
from wizard.answer import si_value
from wizard.errors import InputError
from wizard.formula import FORMULAS, Step, work
from wizard.job import Job
from wizard.quantities import Quantity, to_si
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

SLING_ANGLE = math.radians(60.0)
WARM_ROOM = to_si(20.0, "temperature", "°C")
RISE = to_si(15.0, "temperature difference", "°F (diff)")
BUSY_LEVEL = 85.0


@dataclass(frozen=True, slots=True)
class Bring:
    """One thing to bring; `least` is the size or rating it must have."""

    group: str
    what: str
    least: Quantity | None = None
    text: str = ""
    step: Step | None = None
    sources: tuple[Source, ...] = (COMMON_PRACTICE,)


@dataclass(frozen=True, slots=True)
class Expect:
    """One number to expect on site, as a value or a band."""

    what: str
    low: Quantity | None
    high: Quantity | None
    step: Step | None
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The preparation sheet of one job."""

    bring: tuple[Bring, ...]
    expect: tuple[Expect, ...]
    missing: tuple[str, ...]


class _Plates:
    """The plate answers of a job as SI, with a list of what was wanted and is missing."""

    def __init__(self, job: Job) -> None:
        self.job, self.missing = job, dict[str, str]()

    def __getitem__(self, key: str) -> Any:
        value = self.get(key)
        if value is None:
            self.missing[key] = self.job.procedure.items[key].ask
            raise KeyError(key)
        return value

    def get(self, key: str) -> Any:
        answer = self.job.answers.get(key)
        return None if answer is None else si_value(self.job.procedure.items[key], answer)


def prepare(job: Job) -> Sheet:
    """The sheet for a job whose plates and site have been written down."""
    calc.load()
    plates = _Plates(job)
    bring = tuple(_each(plates, _BRING))
    expect = tuple(_each(plates, _EXPECT))
    return Sheet(bring, expect, tuple(plates.missing.values()))


def _each(plates: _Plates, makers: tuple[Callable[[_Plates], Iterator[Any]], ...]) -> Iterator[Any]:
    for make in makers:
        try:
            yield from make(plates)
        except KeyError:
            continue
        except InputError as problem:
            plates.missing[make.__name__] = str(problem)


def _worked(name: str, /, **inputs: Any) -> tuple[Any, Step, tuple[Source, ...]]:
    spec = FORMULAS[name]
    value, step = work(spec.function, **inputs)
    return value, step, spec.sources


def _value(what: str, name: str, kind: str, /, **inputs: Any) -> Expect:
    value, step, sources = _worked(name, **inputs)
    quantity = Quantity(float(value), kind)
    return Expect(what, quantity, quantity, step, sources)


# -- what to bring ---------------------------------------------------------------------


def _lifting(p: _Plates) -> Iterator[Bring]:
    weight = p["machine.mass"]
    tension, step, sources = _worked("leg_tension", weight=weight, credited=2, angle=SLING_ANGLE)
    group = "lifting"
    yield Bring(
        group,
        "slings, each leg at 60° from horizontal, two legs credited",
        Quantity(tension / 0.75, "mass"),
        "working load limit, used to three quarters",
        step,
        (*sources, OUR_JUDGEMENT),
    )
    yield Bring(
        group,
        "shackles, tag readable",
        Quantity(tension, "mass"),
        "working load limit",
        step,
        sources,
    )
    yield Bring(
        group,
        "crane, hoist or truck with its load chart",
        Quantity(weight, "mass"),
        "at the reach or load centre in use, rigging added",
    )


def _anchoring(p: _Plates) -> Iterator[Bring]:
    yield Bring(
        "anchoring",
        "anchors with approval sheet, one a foot, 3/8 in (M10) or as the book",
        None,
        "drill, brush, blow-out pump, pads, shims, lock nuts",
    )
    yield Bring(
        "anchoring",
        "torque wrench",
        Quantity(to_si(10.0, "torque", "lbf·ft"), "torque"),
        "in the middle of its range",
    )


def _hose(p: _Plates) -> Iterator[Bring]:
    setting = p["relief.plate_set"]
    yield Bring(
        "air",
        "hose between tank and pipe, marked",
        Quantity(setting, "gauge pressure"),
        "working pressure at its temperature, at least the relief valve setting; "
        "burst four times its working pressure",
    )
    yield Bring(
        "air", "thread sealant for hot air lines, leak solution without ammonia, two wrenches"
    )


def _gauge(p: _Plates) -> Iterator[Bring]:
    setting = p["relief.plate_set"]
    yield Bring(
        "instruments",
        "test gauge 0.25 % with snubber",
        Quantity(1.25 * setting, "gauge pressure"),
        "full scale, so that the relief setting is on the dial",
    )
    for what in (
        "two-pole tester with proving unit, true-RMS voltmeter CAT III 600 V or better",
        "clamp meter with inrush",
        "insulation tester 500 V DC, milliohm meter",
        "thermocouple thermometer with surface and air probe",
        "sound level meter class 2",
        "vibration meter, velocity rms",
        "torque screwdriver for terminals",
    ):
        yield Bring("instruments", what, None, "calibration in date")
    yield Bring("instruments", "tachometer, belt force gauge or frequency meter, stopwatch")
    yield Bring("instruments", "barometer, hygrometer, feeler gauges, machinist level, tape")


def _wiring(p: _Plates) -> Iterator[Bring]:
    if p.job.header.settings.practice != "US":
        yield Bring(
            "electrical",
            "cable and protective device",
            None,
            "sized by the licensed electrician from the IEC tables in force",
        )
        return
    current, step, sources = _worked(
        "full_load_current",
        power=p["motor.power"],
        phases=p["motor.phases"],
        voltage=p["motor.voltage"],
    )
    size, size_step, size_sources = _worked(
        "minimum_conductor",
        current=current,
        insulation="75 °C",
        terminal="75 °C",
        ambient=max(p["site.ambient_max"], to_si(30.0, "temperature", "°C")),
    )
    device, device_step, device_sources = _worked(
        "short_circuit_device", current=current, device="inverse-time breaker"
    )
    ground, ground_step, ground_sources = _worked("ground_size", rating=device.basic_rating)
    group, who = "electrical", "by the licensed electrician"
    yield Bring(
        group,
        "current for sizing, from the code table",
        Quantity(current, "current"),
        who,
        step,
        sources,
    )
    yield Bring(
        group,
        f"copper wire, {size:.0f} AWG or larger, 75 °C wire and terminals",
        None,
        f"larger on a long run; {who}",
        size_step,
        size_sources,
    )
    yield Bring(
        group,
        "inverse-time breaker, at most",
        Quantity(device.basic_rating, "current"),
        who,
        device_step,
        device_sources,
    )
    yield Bring(
        group,
        f"equipment ground, {ground:.0f} AWG or larger",
        None,
        who,
        ground_step,
        ground_sources,
    )


def _oil(p: _Plates) -> Iterator[Bring]:
    yield Bring(
        "oil",
        "oil of the builder's grade and type, one fill and the first change",
        None,
        "non-detergent compressor oil; quantity from the book, about 0.5 L to 1.5 L a "
        "cylinder where the book is silent",
        None,
        (COMMON_PRACTICE,),
    )
    coldest = p["site.ambient_min"]
    yield Bring(
        "oil",
        "oil that still splashes when the room is at its coldest, or a sump heater",
        Quantity(coldest, "temperature"),
        "coldest start",
        None,
        (OUR_JUDGEMENT,),
    )


def _safety(p: _Plates) -> Iterator[Bring]:
    for what in (
        "eye, ear, foot and hand protection for everybody",
        "one lock and tag for each worker, hasp, valve lock",
        "barriers and signs for the first pressurisation",
        "drain bucket and absorbent",
    ):
        yield Bring("protection", what)


# -- what to expect ---------------------------------------------------------------------


def _supply(p: _Plates) -> Iterator[Expect]:
    band, step, sources = _worked("voltage_band", nameplate=p["motor.voltage"])
    yield Expect(
        "line voltage at the starter, every pair",
        Quantity(band.low, "voltage"),
        Quantity(band.high, "voltage"),
        step,
        sources,
    )
    factor = p.get("motor.service_factor") or 1.0
    limit, step, sources = _worked(
        "current_limit", full_load=p["motor.current"], service_factor=factor
    )
    yield Expect("highest running current, loaded", None, Quantity(limit, "current"), step, sources)


def _pressures(p: _Plates) -> Iterator[Expect]:
    cut_out, setting = p["switch.plate_cut_out"], p["relief.plate_set"]
    for what, value in (("cut-in", p["switch.plate_cut_in"]), ("cut-out", cut_out)):
        quantity = Quantity(value, "gauge pressure")
        yield Expect(f"{what}, from the plate", quantity, quantity, None, ())
    yield _value(
        "stop by hand at",
        "hand_stop_pressure",
        "gauge pressure",
        expected_cut_out=cut_out,
        relief_set=setting,
    )
    yield _value(
        "lift the relief valve from", "lift_pressure", "gauge pressure", relief_set=setting
    )
    yield _value(
        "energy in the full tank",
        "stored_energy_isentropic",
        "energy",
        pressure=cut_out,
        volume=p["receiver.volume"],
    )


def _ambient(p: _Plates) -> float:
    return float(_worked("standard_atmosphere", elevation=p["site.elevation"])[0].pressure)


def _pump_up(p: _Plates) -> Iterator[Expect]:
    ambient, stages = _ambient(p), 2 if p["pump.stages"] == "two" else 1
    for what, start in (
        ("pump-up time, empty to cut-out", 0.0),
        ("pump-up time, cut-in to cut-out", p["switch.plate_cut_in"]),
    ):
        yield _value(
            what,
            "pumpup_time_falling",
            "time",
            volume=p["receiver.volume"],
            start=start + ambient,
            end=p["switch.plate_cut_out"] + ambient,
            rated_flow=p["pump.rated_flow"],
            rated_pressure=p["pump.rated_pressure"] + ambient,
            suction=ambient,
            ambient=ambient,
            stages=stages,
        )


def _temperatures(p: _Plates) -> Iterator[Expect]:
    ambient, stages = _ambient(p), 2 if p["pump.stages"] == "two" else 1
    ratio = ((p["switch.plate_cut_out"] + ambient) / ambient) ** (1 / stages)
    ends = [
        _worked("stage_temperature", inlet_temperature=WARM_ROOM, ratio=ratio, exponent=n)
        for n in (1.25, 1.40)
    ]
    low, high = (Quantity(float(e[0]), "temperature") for e in ends)
    yield Expect(
        "discharge air of each stage, 20 °C (68 °F) at the intake",
        low,
        high,
        ends[1][1],
        ends[1][2],
    )
    if stages == 2:
        final = p["switch.plate_cut_out"] + ambient
        between, step, sources = _worked("interstage_equal_work", suction=ambient, final=final)
        gauge = Quantity(between - ambient, "gauge pressure")
        yield Expect("interstage pressure at cut-out", gauge, gauge, step, sources)


def _room(p: _Plates) -> Iterator[Expect]:
    efficiency = p.get("motor.efficiency")
    if efficiency is None:
        efficiency = _worked("assumed_efficiency", power=p["motor.power"])[0]
    heat, _, _ = _worked("input_from_shaft", shaft=p["motor.power"], efficiency=efficiency)
    density, _, _ = _worked(
        "ventilation_air_density", elevation=p["site.elevation"], temperature=p["site.ambient_max"]
    )
    flow, step, sources = _worked("cooling_air", heat=heat, density=density, rise=RISE)
    yield Expect(
        "ventilation air, 15 °F (8.3 K) warmer out than in",
        Quantity(flow, "flow"),
        None,
        step,
        sources,
    )


def _water(p: _Plates) -> Iterator[Expect]:
    ambient = _ambient(p)
    water, step, sources = _worked(
        "water_balance",
        flow=p["pump.rated_flow"],
        ambient=ambient,
        temperature=p["site.ambient_max"],
        humidity=p["site.humidity"],
        tank_pressure=p["switch.plate_cut_out"],
        tank_temperature=p["site.ambient_max"],
    )
    daily = Quantity(water.dropped * p["use.hours_per_day"], "mass")
    yield Expect("water in the tank on the hottest day", None, daily, step, sources)


def _noise(p: _Plates) -> Iterator[Expect]:
    yield _value(
        "time a day at 85 dBA without protection, NIOSH", "niosh_hours", "time", level=BUSY_LEVEL
    )
    low, high = Quantity(78.0, "sound level"), Quantity(92.0, "sound level")
    yield Expect(
        "sound of a bare piston machine at 1 m (3 ft)",
        low,
        high,
        None,
        (Source("common for bare machines, no source", "memory"),),
    )


_BRING: tuple[Callable[[_Plates], Iterator[Bring]], ...] = (
    _safety,
    _lifting,
    _anchoring,
    _wiring,
    _hose,
    _gauge,
    _oil,
)
_EXPECT: tuple[Callable[[_Plates], Iterator[Expect]], ...] = (
    _supply,
    _pressures,
    _pump_up,
    _temperatures,
    _room,
    _water,
    _noise,
)
