"""The preparation sheet: from plates alone, each number with its working, gaps named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.demo.maker import commission, scenario
from wizard import actions
from wizard.actions import Hand, NeedsConfirmation
from wizard.answer import si_value
from wizard.commands.prepare import _lines
from wizard.job import Job
from wizard.preparation import Expect, prepare
from wizard.quantities import from_si
from wizard.render import Units
from wizard.settings import Settings


@pytest.fixture(scope="module")
def plates() -> Job:
    return commission("P1", scenario("fifteen_hp"), until="hose.plate_pressure")


def expected(job: Job, what: str) -> Expect:
    return next(e for e in prepare(job).expect if e.what.startswith(what))


def test_names_gear_and_sizes_from_the_plates(plates: Job) -> None:
    sheet = prepare(plates)
    slings = next(b for b in sheet.bring if b.what.startswith("slings"))
    assert slings.least and from_si(slings.least.value, "mass", "lb") == pytest.approx(
        1250 / (2 * 0.8660254) / 0.75
    )
    wire = next(b for b in sheet.bring if b.what.startswith("copper wire"))
    assert "10 AWG" in wire.what
    hose = next(b for b in sheet.bring if b.what.startswith("hose"))
    assert hose.least and from_si(hose.least.value, "gauge pressure", "psig") == pytest.approx(200)
    assert sheet.missing == ()


def test_predicts_what_will_be_read_on_site(plates: Job) -> None:
    band = expected(plates, "line voltage")
    assert band.low and band.high
    assert band.low.value == pytest.approx(414.0)
    assert band.high.value == pytest.approx(506.0)
    stop = expected(plates, "stop by hand").low
    assert stop and from_si(stop.value, "gauge pressure", "psig") == pytest.approx(180.0)
    assert expected(plates, "pump-up time").step is not None


def test_what_the_plates_do_not_say_is_named_and_left_out() -> None:
    job = commission("P2", scenario("fifteen_hp"), until="motor.voltage")
    sheet = prepare(job)
    assert "Motor plate: full-load amperes at that voltage" in sheet.missing
    assert not any(e.what.startswith("pump-up") for e in sheet.expect)


def test_a_metric_iec_job_leaves_wire_sizes_to_the_electrician() -> None:
    job = commission("P3", scenario("metric_7_5_kw"), until="hose.plate_pressure")
    sheet = prepare(job)
    assert not any("AWG" in b.what for b in sheet.bring)
    assert any("licensed electrician" in b.text for b in sheet.bring)


def told(job: Job) -> str:
    """Every word of the sheet, with sources and working."""
    sheet = prepare(job)
    rows = [f"{b.what} {b.text} {b.sources}" for b in sheet.bring]
    rows += [f"{e.what} {e.sources} {e.step and e.step.equation}" for e in sheet.expect]
    return "\n".join(rows)


def test_a_metric_iec_job_is_told_its_own_units_and_sources() -> None:
    job = commission("P4", scenario("metric_7_5_kw"), until="hose.plate_pressure")
    text = told(job)
    for foreign in ("NIOSH", "NEMA", "CCR", "°F", "3/8 in", " qt"):
        assert foreign not in text
    rise = expected(job, "ventilation air, 8 K warmer")
    assert rise.low and "2003/10/EC" in text and "IEC 60034-1" in text


def test_a_us_job_is_told_us_units_and_sources(plates: Job) -> None:
    text = told(plates)
    assert "NEMA" in text and "15 °F warmer" in text and "M10" not in text
    assert "discharge air of each stage, 68 °F" in text


def test_one_stage_is_not_several_and_its_ground_is_no_larger_than_its_wire() -> None:
    job = commission("P5", scenario("three_hp_208"), until="hose.plate_pressure")
    text = told(job)
    assert "each stage" not in text
    assert "copper wire, 12 AWG" in text and "equipment ground, 12 AWG" in text


def test_what_no_table_holds_is_one_readable_sentence() -> None:
    job = commission("P6", scenario("metric_7_5_kw"), until="hose.plate_pressure")
    header = replace(job.header, settings=Settings(practice="US"))
    left_out = prepare(Job.replay(header, job.procedure, job.events)).missing
    assert len(left_out) == 1
    assert left_out[0].startswith("Left out, wiring: voltage of the table is 400 V; it can be")


def stamped(machine: str, setting: str) -> Job:
    """The plates of a machine whose relief valve is stamped otherwise."""
    given = scenario(machine)
    answers = {**given.answers, "relief.plate_set": setting}
    return commission("P7", replace(given, answers=answers), until="hose.plate_pressure")


@pytest.mark.parametrize(
    ("machine", "setting", "printed"),
    [
        ("metric_7_5_kw", "12 bar", "(12 bar(g), limit at most 11 bar(g))"),
        ("fifteen_hp", "300 psig", "(300 psig, limit at most 200 psig)"),
    ],
)
def test_a_relief_valve_above_the_receiver_comes_first_and_is_not_prepared_for(
    machine: str, setting: str, printed: str
) -> None:
    job = stamped(machine, setting)
    sheet, units = prepare(job), Units(job.header.units)
    lines = list(_lines(sheet, units))
    assert lines[0] == "\nSettle before you set out"
    assert lines[1].startswith(f"  Relief valve stamp: set pressure {printed}: The relief valve")
    assert "tank can burst" in lines[2]
    assert "Do not fit this valve" in lines[3]
    assert "maker or supplier" in lines[3] and "pressure-vessel inspector" in lines[3]
    hose = next(b for b in sheet.bring if b.what.startswith("hose"))
    limit = si_value(job.procedure.items["receiver.mawp"], job.answers["receiver.mawp"])
    assert hose.least and hose.least.value == pytest.approx(limit)
    assert not any("relief valve" in e.what or "stop by hand" in e.what for e in sheet.expect)
    assert any("the limit of the receiver" in text for text in sheet.missing)


def test_a_valve_stamped_above_the_receiver_is_asked_about_when_it_is_typed() -> None:
    job = commission("P8", scenario("metric_7_5_kw"), until="parts.relief")
    hand = Hand("Tess Example", job.events[-1].at)
    with pytest.raises(NeedsConfirmation, match="above the receiver's limit"):
        actions.answer(job, "relief.plate_set", "11.1 bar", hand)
    assert actions.answer(job, "relief.plate_set", "11 bar", hand).answers["relief.plate_set"]


def test_plates_that_agree_leave_nothing_to_settle() -> None:
    for machine in ("fifteen_hp", "five_hp", "metric_7_5_kw"):
        job = commission("P9", scenario(machine), until="hose.plate_pressure")
        assert prepare(job).doubts == (), machine
