"""What to bring: tools, instruments with range, lifting gear, anchors, hose, wire, oil."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from wizard.preparation.sheet import Bring, Plates, worked
from wizard.quantities import Quantity, to_si
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT

SLING_ANGLE = math.radians(60.0)


def _lifting(p: Plates) -> Iterator[Bring]:
    weight = p["machine.mass"]
    tension, step, sources = worked("leg_tension", weight=weight, credited=2, angle=SLING_ANGLE)
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


def _anchoring(p: Plates) -> Iterator[Bring]:
    size = "M10" if p.metric else "3/8 in"
    yield Bring(
        "anchoring",
        f"anchors with approval sheet, one a foot, {size} or as the book",
        None,
        "drill, brush, blow-out pump, pads, shims, lock nuts",
    )
    yield Bring(
        "anchoring",
        "torque wrench",
        Quantity(to_si(10.0, "torque", "lbf·ft"), "torque"),
        "in the middle of its range",
    )


def _hose(p: Plates) -> Iterator[Bring]:
    setting = p.highest_relief
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


def _gauge(p: Plates) -> Iterator[Bring]:
    setting = p.highest_relief
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


def _wiring(p: Plates) -> Iterator[Bring]:
    if not p.american:
        yield Bring(
            "electrical",
            "cable and protective device",
            None,
            "sized by the licensed electrician from the IEC tables in force",
        )
        return
    current, step, sources = worked(
        "full_load_current",
        power=p["motor.power"],
        phases=p["motor.phases"],
        voltage=p["motor.voltage"],
    )
    size, size_step, size_sources = worked(
        "minimum_conductor",
        current=current,
        insulation="75 °C",
        terminal="75 °C",
        ambient=max(p["site.ambient_max"], to_si(30.0, "temperature", "°C")),
    )
    device, device_step, device_sources = worked(
        "short_circuit_device", current=current, device="inverse-time breaker"
    )
    ground, ground_step, ground_sources = worked("ground_size", rating=device.basic_rating)
    # No code wants the ground larger than the phase conductors; the larger number is thinner.
    ground = max(ground, size)
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
        f"larger where the wire is made larger; {who}",
        ground_step,
        ground_sources,
    )


def _oil(p: Plates) -> Iterator[Bring]:
    yield Bring(
        "oil",
        "oil of the builder's grade and type, one fill and the first change",
        None,
        "non-detergent compressor oil; quantity from the book, about "
        f"{'0.5 L to 1.5 L' if p.metric else '1/2 qt to 1 1/2 qt'} a cylinder where the book is "
        "silent",
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


def _safety(p: Plates) -> Iterator[Bring]:
    for what in (
        "eye, ear, foot and hand protection for everybody",
        "one lock and tag for each worker, hasp, valve lock",
        "barriers and signs for the first pressurisation",
        "drain bucket and absorbent",
    ):
        yield Bring("protection", what)


BRING: tuple[Callable[[Plates], Iterator[Bring]], ...] = (
    _safety,
    _lifting,
    _anchoring,
    _wiring,
    _hose,
    _gauge,
    _oil,
)
