"""Which numbers to expect on site: bands, pressures, times, temperatures, air, water, sound."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from wizard.preparation.sheet import Expect, Plates, worked
from wizard.quantities import Quantity, to_si
from wizard.sources import COMMON_PRACTICE, Source

WARM_ROOM = to_si(20.0, "temperature", "°C")
RISE = {True: 8.0, False: to_si(15.0, "temperature difference", "°F (diff)")}
"""How much warmer the air may leave the room, in a metric job and in another."""

BUSY_LEVEL = 85.0
BAND_IEC = Source("IEC 60034-1 7.3, zone B, ±10 %", "memory")
CURRENT_IEC = Source("rated current on the plate, IEC 60034-1", "memory")
NOISE_IEC = Source(
    "Directive 2003/10/EC, upper action value 85 dBA over 8 h, halved for 3 dB more", "memory"
)
"""Where the same numbers come from outside US practice."""


def _value(what: str, name: str, kind: str, /, **inputs: Any) -> Expect:
    value, step, sources = worked(name, **inputs)
    quantity = Quantity(float(value), kind)
    return Expect(what, quantity, quantity, step, sources)


def _supply(p: Plates) -> Iterator[Expect]:
    band, step, sources = worked("voltage_band", nameplate=p["motor.voltage"])
    yield Expect(
        "line voltage at the starter, every pair",
        Quantity(band.low, "voltage"),
        Quantity(band.high, "voltage"),
        step,
        sources if p.american else (BAND_IEC,),
    )
    factor = p.get("motor.service_factor") or 1.0
    limit, step, sources = worked(
        "current_limit", full_load=p["motor.current"], service_factor=factor
    )
    sources = sources if p.american else (CURRENT_IEC,)
    yield Expect("highest running current, loaded", None, Quantity(limit, "current"), step, sources)


def _pressures(p: Plates) -> Iterator[Expect]:
    cut_out = p["switch.plate_cut_out"]
    for what, value in (("cut-in", p["switch.plate_cut_in"]), ("cut-out", cut_out)):
        quantity = Quantity(value, "gauge pressure")
        yield Expect(f"{what}, from the plate", quantity, quantity, None, ())
    yield _value(
        "energy in the full tank",
        "stored_energy_isentropic",
        "energy",
        pressure=cut_out,
        volume=p["receiver.volume"],
    )
    setting = p.relief_setting
    yield _value(
        "stop by hand at",
        "hand_stop_pressure",
        "gauge pressure",
        expected_cut_out=cut_out,
        relief_set=setting,
    )
    lift = _value(
        "lift the relief valve from", "lift_pressure", "gauge pressure", relief_set=setting
    )
    yield lift if p.american else replace(lift, sources=(COMMON_PRACTICE,))


def _ambient(p: Plates) -> float:
    return float(worked("standard_atmosphere", elevation=p["site.elevation"])[0].pressure)


def _pump_up(p: Plates) -> Iterator[Expect]:
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


def _temperatures(p: Plates) -> Iterator[Expect]:
    ambient, stages = _ambient(p), 2 if p["pump.stages"] == "two" else 1
    ratio = ((p["switch.plate_cut_out"] + ambient) / ambient) ** (1 / stages)
    ends = [
        worked("stage_temperature", inlet_temperature=WARM_ROOM, ratio=ratio, exponent=n)
        for n in (1.25, 1.40)
    ]
    low, high = (Quantity(float(e[0]), "temperature") for e in ends)
    yield Expect(
        f"discharge air{' of each stage' if stages == 2 else ''}, "
        f"{'20 °C' if p.metric else '68 °F'} at the intake",
        low,
        high,
        ends[1][1],
        ends[1][2],
    )
    if stages == 2:
        final = p["switch.plate_cut_out"] + ambient
        between, step, sources = worked("interstage_equal_work", suction=ambient, final=final)
        gauge = Quantity(between - ambient, "gauge pressure")
        yield Expect("interstage pressure at cut-out", gauge, gauge, step, sources)


def _room(p: Plates) -> Iterator[Expect]:
    efficiency = p.get("motor.efficiency")
    if efficiency is None:
        efficiency = worked("assumed_efficiency", power=p["motor.power"])[0]
    heat, _, _ = worked("input_from_shaft", shaft=p["motor.power"], efficiency=efficiency)
    density, _, _ = worked(
        "ventilation_air_density", elevation=p["site.elevation"], temperature=p["site.ambient_max"]
    )
    flow, step, sources = worked("cooling_air", heat=heat, density=density, rise=RISE[p.metric])
    yield Expect(
        f"ventilation air, {'8 K' if p.metric else '15 °F'} warmer out than in",
        Quantity(flow, "flow"),
        None,
        step,
        sources,
    )


def _water(p: Plates) -> Iterator[Expect]:
    ambient = _ambient(p)
    water, step, sources = worked(
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


def _noise(p: Plates) -> Iterator[Expect]:
    hours = _value(
        f"time a day at 85 dBA without protection, {'NIOSH' if p.american else '2003/10/EC'}",
        "niosh_hours",
        "time",
        level=BUSY_LEVEL,
    )
    yield hours if p.american else replace(hours, sources=(NOISE_IEC,))
    low, high = Quantity(78.0, "sound level"), Quantity(92.0, "sound level")
    yield Expect(
        f"sound of a bare piston machine at {'1 m' if p.metric else '3 ft'}",
        low,
        high,
        None,
        (Source("common for bare machines, no source", "memory"),),
    )


EXPECT: tuple[Callable[[Plates], Iterator[Expect]], ...] = (
    _supply,
    _pressures,
    _pump_up,
    _temperatures,
    _room,
    _water,
    _noise,
)
