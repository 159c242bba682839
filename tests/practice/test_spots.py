"""The same procedure in practice: every reading can be taken, and faults hold the job."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from functools import cache

import pytest

from tests.practice.apprentice import Apprentice, begin, work_through
from wizard.answer import parse
from wizard.errors import Refused
from wizard.finding import Verdict
from wizard.practice.acts import Act, act
from wizard.practice.places import places
from wizard.practice.plates import machine, machine_names
from wizard.practice.spots import PAPERS, Spot, keys, look_up, paper, spots_of, written
from wizard.practice.tools import tools
from wizard.procedure import procedure
from wizard.procedure.item import Item

ITEMS = procedure().items
READ = [i for i in ITEMS.values() if i.measured or i.kind == "count"]


@pytest.mark.parametrize("item", READ, ids=lambda i: i.key)
def test_every_measured_item_can_be_read_somewhere(item: Item) -> None:
    found = spots_of(item.key)
    assert found, "nowhere in the simulated machine"
    assert len(found) in (1, len(item.labels) or 1)
    for spot in found:
        if spot.tool == PAPERS:
            continue
        place = places()[spot.place]
        assert spot.tool in place.tools
        tool = tools()[spot.tool]
        if item.measured and tool.quantity:
            assert tool.quantity == item.quantity


def test_spots_name_only_items_that_exist() -> None:
    assert keys() <= set(ITEMS)


@cache
def _through(name: str) -> Apprentice:
    who = begin(procedure(), name)
    work_through(who)
    return who


@pytest.mark.parametrize("name", machine_names())
def test_a_sound_machine_is_commissioned_by_its_instruments_alone(name: str) -> None:
    who = _through(name)
    assert who.run.machine == machine(name)
    assert not who.job.holds()
    assert not who.job.open_items()
    failed = {k for k, found in who.job.findings.items() if any(f.blocks_handover for f in found)}
    assert failed == set()
    assert not [e for e in who.run.log if e.kind == "remark"]
    assert not who.run.ended


@pytest.mark.parametrize(
    ("fault", "key", "holds"),
    [
        ("relief_high", "relief.set", True),
        ("relief_small", "relief.capacity", True),
        ("weak_hose", "hose.working_pressure", True),
        ("oil_low", "oil.level_glass", True),
        ("oil_over", "oil.level_glass", False),
        ("low_supply", "supply.voltage", True),
        ("overload_high", "overload.setting", True),
        ("foot_stressed", "foot.gap_four", False),
        ("belt_loose", "belt.force", False),
    ],
)
def test_a_fault_fails_the_item_that_reads_it(fault: str, key: str, holds: bool) -> None:
    who = begin(procedure(), "us_seven_two", fault)
    try:
        work_through(who, key)
    except Refused:
        assert who.job.holds()
    failed = {k: f for k, found in who.job.findings.items() for f in found if f.blocks_handover}
    assert key in failed, failed
    assert failed[key].verdict is Verdict.FAIL
    assert bool(who.job.holds()) == holds


def test_power_under_a_hold_ends_the_run() -> None:
    who = begin(procedure(), "us_seven_two", "relief_high")
    with suppress(Refused):
        work_through(who, "relief.set")
    held = [h.finding.text for h in who.job.holds()]
    assert held
    assert act(who.run, Act("unlock"), held).ended == "energised_under_hold"


def test_a_plate_and_a_paper_are_shown_on_a_card() -> None:
    who = begin(procedure(), "iec_seven_two")
    sight = look_up(who.run, ITEMS["relief.set"])
    assert any("11 bar(g)" in line for line in sight.lines)
    assert paper(who.run, ITEMS["lift.weight"]) == "345 kg"
    assert paper(who.run, ITEMS["conductor.size"]) == "4 mm²"


@pytest.mark.parametrize("name", machine_names())
def test_what_the_papers_say_is_accepted_as_it_stands(name: str) -> None:
    who = _through(name)
    papers = [key for key in who.job.findings if (Spot(PAPERS, key),) == spots_of(key)]
    told = [key for key in papers if who.job.applies(key)]
    assert len(told) > 100
    for key in told:
        parse(ITEMS[key], paper(who.run, ITEMS[key]), who.run.units)


def test_what_no_paper_states_is_left_blank() -> None:
    who = begin(procedure(), "us_seven_two")
    item = ITEMS["belt.stiffness"]
    assert item.optional and paper(who.run, item) == written(who.run, item) == ""
    assert "leave it blank" in "\n".join(look_up(who.run, item).lines)


def test_papers_come_in_the_units_of_the_machine() -> None:
    us, metric = (begin(procedure(), name).run for name in ("us_five_one", "iec_four_one"))
    item = ITEMS["place.wall_pump"]
    assert paper(us, item).endswith(" in") and paper(metric, item).endswith(" mm")
    inches, millimetres = (float(paper(r, item).split()[0]) for r in (us, metric))
    assert inches * 25.4 == pytest.approx(millimetres, rel=1e-3)


def test_written_is_what_the_instrument_shows() -> None:
    who = begin(procedure(), "us_seven_two")
    shown = who.run.see("multimeter", "supply.L2-L3").shown
    text = written(who.run, ITEMS["supply.voltage"])
    assert shown and text.split()[1] == f"{shown.value:.6g}" and text.endswith(" V")
    assert written(who.run, replace(ITEMS["supply.voltage"], key="not.known")) == ""
