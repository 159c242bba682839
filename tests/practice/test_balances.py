"""Mass, water and energy balances close for every machine, whatever is wrong with it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.practice.bench import SEA, made, on, run
from wizard.practice.design import Design
from wizard.practice.faults import badness, faults
from wizard.practice.plates import machine, machine_names
from wizard.practice.state import At, Gauged, Site, State

HILL = Site(1500.0, 84556.0, 303.15, 0.7)


def _closes(design: Design, before: State, after: State) -> None:
    gauged = Gauged(design.machine, design.site)
    a, b = before.y, after.y

    def moved(place: At) -> float:
        return b[place] - a[place]

    air = gauged.stored_air(after) - gauged.stored_air(before)
    assert air == pytest.approx(moved(At.MASS_IN) - moved(At.MASS_OUT), abs=1e-10)
    water = moved(At.WATER_IN) - moved(At.WATER_OUT)
    assert moved(At.WATER) == pytest.approx(water, abs=1e-10)
    stored = gauged.stored_energy(after) - gauged.stored_energy(before)
    crossed = moved(At.ENERGY_IN) + moved(At.FLOW_IN) - moved(At.FLOW_OUT) - moved(At.HEAT_OUT)
    turned_over = moved(At.ENERGY_IN) + moved(At.FLOW_IN)
    assert stored == pytest.approx(crossed, abs=1e-9 * max(turned_over, 1e5))


@pytest.mark.parametrize("site", [SEA, HILL], ids=["sea", "hill"])
@pytest.mark.parametrize("name", machine_names())
def test_balances_close_over_cycles_with_a_demand(name: str, site: Site) -> None:
    tank = machine(name).tank
    design = made(name, site)
    design = made(name, site) if tank.leak_bore else design
    start = on(design)
    after = run(design, start, 400.0)
    _closes(design, start, after)
    using = replace(after, outlet_open=True)
    drained = run(design, using, 30.0)
    _closes(design, start, drained)
    rest = run(design, replace(drained, outlet_open=False, switched_on=False), 900.0)
    _closes(design, start, rest)
    empty = run(design, replace(rest, drain_open=True), 600.0)
    _closes(design, start, empty)
    assert empty.y[At.ENERGY_IN] > 1e5, "the motor took energy"


@pytest.mark.parametrize("fault", sorted(faults()))
def test_balances_close_with_any_fault(fault: str) -> None:
    for name in machine_names():
        if not faults()[fault].fits(machine(name)):
            continue
        design = made(name, present={fault: badness(fault, 5)})
        start = on(design, 3e5)
        after = run(design, start, 300.0)
        _closes(design, start, after)


def test_a_start_stop_and_coast_keeps_the_energy_of_what_turns() -> None:
    design = made("us_seven_two")
    start = on(design)
    going = run(design, start, 2.0)
    assert going.y[At.SPIN] > 1000.0
    _closes(design, start, going)
    stopped = run(design, replace(going, switched_on=False), 5.0)
    assert stopped.y[At.SPIN] == 0.0
    _closes(design, start, stopped)
